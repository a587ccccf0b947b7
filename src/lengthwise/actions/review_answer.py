"""A review as the machine-readable answer."""

from dataclasses import asdict
from typing import Any

import numpy as np

from lengthwise.evidence.claims import starter_library
from lengthwise.training.findings import LiftFinding
from lengthwise.training.growth import Growth
from lengthwise.training.proposal import Proposal
from lengthwise.training.response import PersonalResponse
from lengthwise.training.review import Review
from lengthwise.training.trend import Estimate
from lengthwise.training.volume import Done, WeekVolume


def review_answer(found: Review) -> dict[str, Any]:
    """Everything a review found, with its proposals numbered from 1."""
    kept = found.kept
    return {
        "person": found.name,
        "as_of": found.as_of.isoformat(),
        "lifts": [lift_answer(f) for f in found.lifts],
        "measurements": [growth_answer(g) for g in found.growth],
        "proposals": [proposal_answer(p, n) for n, p in enumerate(found.proposals, 1)],
        "weeks": [_week(w) for w in found.weeks],
        "kept": {
            "weeks": kept.weeks,
            "share": kept.share,
            "visits": {"planned": kept.visits[0], "done": kept.visits[1]},
            "sets": {"planned": kept.sets[0], "done": kept.sets[1]},
            "minutes": {"planned": kept.minutes[0], "done": kept.minutes[1]},
            "skipped": [
                {"lift": k[0], "range": k[1], "planned": p, "done": d} for k, (p, d) in kept.lifts.items() if p and d / p < 0.5
            ],
        },
        "pain": {
            "joints": [
                {
                    "joint": j.joint,
                    "visits": j.visits,
                    "of_visits": j.of_visits,
                    "first": j.first.isoformat(),
                    "last": j.last.isoformat(),
                    "lifts": [{"lift": k[0], "range": k[1], "painful_sets": hurt, "sets": n} for k, hurt, n in j.lifts],
                    "see_clinician": j.persists,
                }
                for j in found.pain.joints
            ],
            "weeks": [
                {"monday": w.monday.isoformat(), "joint": w.joint, "painful_sets": w.painful_sets, "sets": w.sets}
                for w in found.pain.weeks
            ],
            "warnings": [{"day": w.day.isoformat(), "word": w.word, "note": w.note} for w in found.pain.warnings],
        },
        "readiness": found.readiness,
        "response": response_answer(found.response),
        "left_out": dict(found.left_out),
        "notes": list(found.notes),
    }


def _pair(e: Estimate) -> list[float]:
    return [e.low, e.high]


def lift_answer(f: LiftFinding) -> dict[str, Any]:
    """A lift of a review: estimated 1RM, trend, state, and its course visit by visit."""
    t = f.trend
    return {
        "lift": f.key[0],
        "range": f.key[1],
        "e1rm_kg": t.e1rm.value,
        "e1rm_interval": _pair(t.e1rm),
        "line_interval": _pair(t.line),
        "p_rising": t.p_rising,
        "p_worthwhile": t.p_worthwhile,
        "percent_per_week": t.per_week.value,
        "percent_per_week_interval": _pair(t.per_week),
        "in_four_weeks_kg": t.ahead.value,
        "in_four_weeks_interval": _pair(t.ahead),
        "state": f.state,
        "since": f.since.isoformat() if f.since else None,
        "muscle": f.muscle,
        "sets_per_week": f.sets_per_week,
        "reserve": f.reserve,
        "kept": f.kept,
        "body_kg_moved": t.history.offset_kg,
        "records": [{"kind": r.kind, "day": r.day.isoformat(), "value": r.value, "unit": r.unit} for r in t.records],
        "course": [
            {
                "day": d.day.isoformat(),
                "e1rm_kg": d.kg,
                "error": d.error,
                "line_kg": line.value,
                "line_interval": _pair(line),
                "counts": counts,
                "p_rising": known.p_rising,
                "load_kg": d.best.load_kg,
                "repetitions": d.best.repetitions,
                "reserve": d.best.reserve,
            }
            for d, line, counts, known in zip(t.history.days, t.level_kg, t.counts, t.known, strict=True)
        ],
    }


def growth_answer(g: Growth) -> dict[str, Any]:
    """A measure's change against its error; nothing where one visit cannot tell."""
    told = np.isfinite(g.smallest)
    return {
        "kind": g.kind,
        "site": g.site,
        "side": g.side,
        "days": [d.isoformat() for d in g.days],
        "means": list(g.means),
        "change": g.change if told else None,
        "interval": list(g.interval) if told else None,
        "smallest_detectable": g.smallest if told else None,
        "weeks": g.weeks,
        "method": g.method,
        "verdict": g.verdict,
        "expected": g.expected,
        "expected_of_two_thirds": list(g.expected_people) if g.expected_people else None,
        "weeks_to_tell": g.weeks_to_tell,
        "error": {
            "repeat": g.typical.repeat,
            "day": g.typical.day,
            "own_repeats": g.typical.own_repeats,
            "source": g.typical.source,
        },
    }


def proposal_answer(p: Proposal, number: int) -> dict[str, Any]:
    """A proposal with its number, the claim behind it in words, and what it would change."""
    claims = starter_library().claims
    return {
        "number": number,
        "key": p.key,
        "kind": p.kind,
        "subject": p.subject,
        "what": p.what,
        "why": p.why,
        "numbers": dict(p.numbers),
        "claim": p.claim,
        "claim_statement": claims[p.claim].statement if p.claim else "common practice, no source",
        "change": {k: v for k, v in asdict(p.change).items() if v} if p.change else None,
    }


def response_answer(r: PersonalResponse | None) -> dict[str, Any] | None:
    """What was learned about a client."""
    return None if r is None else {**asdict(r), "answers_to_sets": r.answers_to_sets}


def _done(d: Done) -> dict[str, Any]:
    return {
        "visits": d.visits,
        "minutes": d.minutes,
        "sets": [{"lift": k[0], "range": k[1], "sets": n} for k, n in d.sets.items()],
        "heads": {h: n for h, n in d.heads.items() if n},
        "muscles": {m: n for m, n in d.muscles.items() if n},
    }


def _week(w: WeekVolume) -> dict[str, Any]:
    return {
        "monday": w.monday.isoformat(),
        "done": _done(w.done),
        "planned": _done(w.planned) if w.planned else None,
        "visits_without_minutes": w.unjudged_minutes,
    }
