"""Answers about evidence as plain objects, with the stable keys that scripts and the web rely on."""

import math
from typing import Any

from lengthwise.evidence.assessment import Assessment
from lengthwise.evidence.bayes import BayesianPool
from lengthwise.evidence.comparison import Finding
from lengthwise.evidence.effect_table import EffectTable, TablePool, Trouble
from lengthwise.evidence.judging import StudyBias
from lengthwise.evidence.moderators import MetaRegression
from lengthwise.evidence.next_trial import NextTrial
from lengthwise.evidence.pooling import PooledEffect
from lengthwise.evidence.synthesis import Answer

Object = dict[str, Any]


def plain(value: float | None) -> float | None:
    """A number that JSON can hold: what is infinite or unknown becomes null."""
    return value if value is not None and math.isfinite(value) else None


def span(pair: tuple[float, float] | None) -> list[float | None] | None:
    """An interval as a list, or null."""
    return None if pair is None else [plain(pair[0]), plain(pair[1])]


def answer_object(a: Answer) -> Object:
    """One way of adding the evidence up."""
    return {
        "k": a.k,
        "estimate": a.estimate,
        "se": a.se,
        "ci": span(a.ci),
        "tau2": a.tau2,
        "i2": a.i2,
        "q": a.q,
        "prediction": span(a.prediction),
        "convention": a.convention,
        "n_study": a.n_study,
        "df": plain(a.df),
        "basis": a.basis,
        "scale": a.scale,
        "sources": list(a.sources),
        "weights": list(a.weight),
    }


_NOTHING: Object = {
    "k": 0, "estimate": None, "se": None, "ci": None, "tau2": None, "i2": None, "q": None, "prediction": None,
    "convention": "no effect size with a standard error: only directions are known", "n_study": 0, "df": None,
    "basis": "directions", "scale": "", "sources": [], "weights": [],
}  # fmt: skip


def pooled_object(p: PooledEffect) -> Object:
    """A one-level pool."""
    return {
        "k": p.k,
        "estimate": p.estimate,
        "se": p.se,
        "ci": span(p.ci),
        "tau2": p.tau2,
        "i2": p.i2,
        "q": p.q,
        "prediction": span(p.prediction),
        "convention": p.convention.sentence(p.k),
        "df": plain(p.df),
        "p": plain(p.p),
        "q_p": p.q_p,
        "tau2_ci": span(p.tau2_ci),
        "prediction_hts": span(p.prediction_hts),
        "weights": p.weight.tolist(),
    }


def bayesian_object(b: BayesianPool) -> Object:
    """A Bayesian pool."""
    return {
        "mean": b.mean,
        "sd": b.sd,
        "interval": span(b.interval),
        "above_zero": b.above_zero,
        "tau": b.tau_median,
        "tau_interval": span(b.tau_interval),
        "prediction": span(b.prediction),
        "prior": f"flat for the mean, half-normal with scale {b.prior_scale:g} for τ",
    }


def table_object(table: EffectTable, result: TablePool) -> Object:
    """What a table of effects adds up to."""
    answer = answer_object(result.answer)
    one = pooled_object(result.single)
    found = {**answer, "warnings": list(table.warnings)}
    if result.robust is None:
        return {**found, **{key: one[key] for key in ("p", "q_p", "tau2_ci", "prediction_hts", "convention")}}
    r = result.robust
    robust = {"se": float(r.se[0]), "df": float(r.df[0]), "ci": r.interval()[0].tolist(), "p": float(r.p_value()[0])}
    return {**found, "robust": robust, "tau2_between": result.between, "tau2_within": result.within, "tau2_above": result.above}


def trouble_object(trouble: Trouble) -> Object:
    """What makes a pool shaky."""
    out = trouble.left_out
    found: Object = {}
    if trouble.asymmetry is not None:
        a = trouble.asymmetry
        found["asymmetry"] = {"slope": a.slope, "se": a.se, "df": a.df, "p": plain(a.p), "limit": a.limit, "caution": a.caution}
    if trouble.filled is not None:
        f = trouble.filled
        found["trim_and_fill"] = {
            "missing": f.missing, "side": f.side, "estimate": f.pooled.estimate, "ci": span(f.pooled.ci), "caution": f.caution,
        }  # fmt: skip
    if trouble.precise is not None:
        p = trouble.precise
        found["pet_peese"] = {
            "used": p.used,
            "estimate": p.estimate,
            "se": p.se,
            "p": plain(p.p),
            "pet_p": plain(p.pet_p),
            "caution": p.caution,
        }
    if trouble.rank is not None:
        found["rank_test"] = {"tau": plain(trouble.rank[0]), "p": plain(trouble.rank[1])}
    if out is not None:
        ci = [list(pair) for pair in zip(out.ci_low.tolist(), out.ci_high.tolist(), strict=True)]
        found["leave_one_out"] = {"estimate": out.estimate.tolist(), "ci": ci, "tau2": out.tau2.tolist()}
    return found


def regression_object(m: MetaRegression) -> Object:
    """How effects depend on moderators."""
    return {
        "names": list(m.names),
        "estimate": m.beta.tolist(),
        "se": m.se.tolist(),
        "ci": m.ci.tolist(),
        "p": m.p.tolist(),
        "tau2": m.tau2,
        "i2": m.i2,
        "q": m.q,
        "qm": m.qm,
        "qm_p": m.qm_p,
        "r2": m.r2,
    }


def next_object(n: NextTrial) -> Object:
    """What one more trial could change."""
    rests = n.resting
    return {
        "chance": n.chance, "decisions": rests.decisions, "orders": rests.orders, "week": rests.week, "value": n.value,
    }  # fmt: skip


def _finding_object(f: Finding) -> Object:
    size = None if f.effect is None else {
        "estimate": f.effect.estimate, "se": f.effect.se, "scale": f.effect.scale, "notes": list(f.effect.notes),
    }  # fmt: skip
    return {
        "study": f.study.id,
        "cite": f.study.cite,
        "contrast": f.label,
        "muscle": f.muscle,
        "site": f.site,
        "n": f.n,
        "direction": f.direction,
        "effect": size,
        "ln_growth_ratio": f.ratio,
        "from_memory": f.from_memory,
        "note": f.note,
    }


def bias_object(b: StudyBias) -> Object:
    """The risk of bias of a study: overall, how the report was obtained, and each judgement with its reason."""
    return {
        "study": b.study.id,
        "overall": b.overall,
        "report": b.reading,
        "domains": [{"domain": d.domain, "judgement": d.judgement, "why": d.why} for d in b.domains],
    }


def _summary(a: Assessment) -> Object:
    d = a.directions
    return {
        "id": a.claim.id,
        "claim": a.claim.id,
        "statement": a.claim.statement,
        "population": a.claim.population,
        "feeds": list(a.claim.feeds),
        "practice": a.claim.practice,
        "verdict": a.verdict.word,
        "verdict_rests_on": a.verdict.reason,
        "grade": a.certainty.grade,
        "reasons": list(a.certainty.reasons),
        "certainty": {"level": a.certainty.grade, "reasons": list(a.certainty.reasons)},
        "next_trial": next_object(a.next_trial),
        "directions": {
            "favours": list(d.favours),
            "against": list(d.against),
            "neither": list(d.neither),
            "unknown": list(d.unknown),
            "p": d.p,
        },
        "contradicts": list(a.claim.contradicts),
        "caution": a.claim.caution,
        "would_change": a.would_change,
        "left_out": a.left_out,
    }


def claim_object(a: Assessment) -> Object:
    """A claim in short: verdict, headline number, directions."""
    return {**_summary(a), "headline": None if a.headline is None else answer_object(a.headline)}


def assessment_object(a: Assessment) -> Object:
    """A claim pooled: the headline's numbers on top, everything else below."""
    headline = dict(_NOTHING) if a.headline is None else answer_object(a.headline)
    return {
        **headline,
        **_summary(a),
        "answers": [answer_object(x) for x in a.answers],
        "findings": [_finding_object(f) for f in a.findings],
        "bias": [bias_object(b) for b in a.bias],
        "published": [p.model_dump() for p in a.published],
        "sensitivity": [{"correlation": r, "estimate": e, "ci": span(ci)} for r, e, ci in a.sensitivity],
    }


def pooled_claim_object(a: Assessment, anew: PooledEffect | None, few: BayesianPool | None) -> Object:
    """A claim pooled, its headline's numbers replaced by those of its studies pooled anew where that was asked."""
    found = assessment_object(a)
    if anew is not None:
        found |= {**pooled_object(anew), "basis": "studies, one effect a study"}
    if few is not None:
        found["bayesian"] = bayesian_object(few)
    return found
