"""What the evidence for a claim adds up to: pooled effect, growth ratio, published pool, directions."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import comb, inf, isinf, isnan, nan
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.distributions import norm, t
from lengthwise.evidence.claims import Published
from lengthwise.evidence.comparison import StudyFinding, majority
from lengthwise.evidence.covariance import Covariance
from lengthwise.evidence.multilevel import MultilevelPool, mean_variance, three_level
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.evidence.robust import robust_fit

SAMPLING_CORRELATION = 0.5
"""Correlation of the sampling errors of several outcomes of one study: common practice, no source. The robust errors
stay valid when it is wrong."""
LEAST_RATIOS = 3
"""Studies from which ratios are averaged (own choice): the error comes from the differences between studies alone, and two may agree by
chance."""


@dataclass(frozen=True, kw_only=True)
class PooledAnswer:
    """One way of adding the evidence up.

    Attributes:
        basis: "studies" (own pool), "one study", "published" (somebody's pool), "ratio" (percent growth weighted by n).
        scale: unit of the estimate; positive supports the claim.
        k, n_study: effects and studies behind it.
        estimate, se, df, ci: mean effect, its error, degrees of freedom and 95 % interval.
        tau2, i2, q, prediction: spread between studies; None where it cannot be known.
        convention: how it was computed.
        sources: study ids, or the published row.
        weight: share of each effect in the mean (k), adding to 1; empty for published pools.
        counted: what the number of studies counts, where it is more than growth. printed_p: p as published.
    """

    PUBLIC: ClassVar = """
        k estimate~ se~ ci~=interval tau2 i2 q prediction~ convention n_study df~ basis scale
        sources weights=weight
    """
    basis: str
    scale: str
    k: int
    n_study: int
    estimate: float
    se: float
    df: float
    ci: tuple[float, float]
    tau2: float | None
    i2: float | None
    q: float | None
    prediction: tuple[float, float] | None
    convention: str
    sources: tuple[str, ...]
    weight: tuple[float, ...] = ()
    counted: str = ""
    printed_p: float | None = None

    @property
    def interval(self) -> tuple[float, float] | None:
        """The 95 % interval; nothing where only directions are known."""
        return None if isnan(self.estimate) else self.ci


ONLY_DIRECTIONS = PooledAnswer(
    basis="directions", scale="", k=0, n_study=0, estimate=nan, se=nan, df=nan, ci=(nan, nan), tau2=None, i2=None, q=None, prediction=None,
    convention="no effect size with a standard error: only directions are known", sources=(),
)  # fmt: skip
"""What there is to tell where no study prints what an effect size needs."""


@dataclass(frozen=True)
class Directions:
    """How many studies lean which way (each by the majority of its contrasts), significant or not.

    `p` is the two-sided sign test among those that lean at all; `agreement` the share of the larger side.
    """

    PUBLIC: ClassVar = "favours against neither unknown p"
    favours: tuple[str, ...]
    against: tuple[str, ...]
    neither: tuple[str, ...]
    unknown: tuple[str, ...]
    p: float

    @property
    def leaning(self) -> int:
        """Studies that lean one way or the other."""
        return len(self.favours) + len(self.against)

    @property
    def agreement(self) -> float:
        """Share of the studies with a known direction on the most common side."""
        sides = [len(self.favours), len(self.against), len(self.neither)]
        return max(sides) / sum(sides) if sum(sides) else float("nan")


def directions(findings: Sequence[StudyFinding]) -> Directions:
    """Which way each study leans."""
    sides: dict[int | None, list[str]] = {1: [], -1: [], 0: [], None: []}
    for name in dict.fromkeys(f.study.id for f in findings):
        sides[majority(f.direction for f in findings if f.study.id == name)].append(name)
    leaning = len(sides[1]) + len(sides[-1])
    tail = sum(comb(leaning, k) for k in range(min(len(sides[1]), len(sides[-1])) + 1)) / 2**leaning
    p = min(1.0, 2 * tail) if leaning else 1.0
    return Directions(tuple(sides[1]), tuple(sides[-1]), tuple(sides[0]), tuple(sides[None]), p)


def on_common_scale(findings: Sequence[StudyFinding]) -> list[StudyFinding]:
    """The findings with an effect size, on the scale that most studies share; scales are never mixed."""
    sized = [f for f in findings if f.effect is not None]
    pairs = {(f.effect.scale, f.study.id) for f in sized if f.effect}
    scales = Counter(scale for scale, _ in sorted(pairs))
    best = scales.most_common(1)[0][0] if scales else ""
    return [f for f in sized if f.effect and f.effect.scale == best]


def effects_of(findings: Sequence[StudyFinding]) -> tuple[Array, Array, list[str]]:
    """Effects, variances and study ids of findings that have an effect size."""
    sized = [(f.effect, f.study.id) for f in findings if f.effect is not None]
    y, v = (np.array([getattr(e, key) for e, _ in sized], dtype=float) for key in ("estimate", "variance"))
    return y, v, [name for _, name in sized]


def _interval(centre: float, half: float) -> tuple[float, float]:
    return centre - half, centre + half


def _shaky(df: float) -> str:
    return " (below 4: take the interval as a rough picture)" if df < 4 else ""


def _one_study(y: Array, v: Array, scale: str, name: str) -> PooledAnswer:
    """The mean of one study's outcomes, whose sampling errors correlate."""
    se = float(np.sqrt(mean_variance(v, SAMPLING_CORRELATION)))
    half = float(norm.ppf(0.975)) * se
    words = f"mean of {y.size} outcomes of one study, sampling errors correlated by {SAMPLING_CORRELATION:g}; no spread known"
    return PooledAnswer(
        basis="one study", scale=scale, k=y.size, n_study=1, estimate=float(y.mean()), se=se, df=float("inf"), ci=_interval(float(y.mean()), half),
        tau2=None, i2=None, q=None, prediction=None, convention=words, sources=(name,),
        weight=(1 / y.size,) * y.size,
    )  # fmt: skip


def wider(se: float, df: float, model_se: float) -> tuple[float, float]:
    """Of an error read from how studies differ and the model's own, the one with the wider 95 % interval, with its degrees of freedom.

    Studies that chance to agree, or one entered twice, would else be certain (Wiksten, Rücker & Schwarzer 2016, Stat Med 35:2503-2515, from
    memory).
    """
    return (se, df) if float(t.ppf(0.975, df)) * se >= float(norm.ppf(0.975)) * model_se else (model_se, inf)


def _told(kind: str, df: float) -> str:
    """The error of a pool and its intervals, in words."""
    error = (
        f"the model's standard error, wider than {kind}, normal quantile"
        if isinf(df)
        else f"{kind} standard error, t on {df:.1f} df{_shaky(df)}"
    )
    return f"{error}; prediction interval estimate ± the same quantile·√(se² + τ²)"


def one_effect_a_study(y: Array, v: Array, scale: str, names: Sequence[str]) -> PooledAnswer:
    """The pool of studies that give one effect each."""
    p = pool(y, v, Convention("reml", "hk"))
    se, df = wider(p.se, p.df, float((1 / (v + p.tau2)).sum() ** -0.5))
    half = float(norm.ppf(0.975) if isinf(df) else t.ppf(0.975, df))
    return PooledAnswer(
        basis="studies", scale=scale, k=p.k, n_study=p.k, estimate=p.estimate, se=se, df=df, ci=_interval(p.estimate, half * se), tau2=p.tau2, i2=p.i2, q=p.q,
        prediction=_interval(p.estimate, half * float(np.hypot(se, np.sqrt(p.tau2)))), convention=f"REML; {_told('Hartung–Knapp', df)}; i2 in percent",
        sources=tuple(names), weight=tuple(p.weight.tolist()),
    )  # fmt: skip


def shares(omega: Covariance) -> tuple[float, ...]:
    """Share of each effect in a mean weighted by the inverse of its covariance."""
    rows = omega.solve(np.ones((omega.size, 1)))[:, 0]
    return tuple((rows / rows.sum()).tolist())


def several_effects(y: Array, v: Array, names: Sequence[str]) -> tuple[MultilevelPool, float, float]:
    """Three-level REML of effects nested in studies: (model, standard error, df): CR2 with Satterthwaite df, or the model's (`wider`)."""
    model = three_level(y, v, names, correlation=SAMPLING_CORRELATION)
    honest = robust_fit(y, model.omega, names)
    return model, *wider(float(honest.se[0]), float(honest.df[0]), float(model.se[0]))


def _nested(y: Array, v: Array, scale: str, names: list[str]) -> PooledAnswer:
    model, se, df = several_effects(y, v, names)
    estimate, tau2, half = float(model.beta[0]), model.tau2, float(norm.ppf(0.975) if isinf(df) else t.ppf(0.975, df))
    words = f"three-level REML, sampling errors of one study correlated by {SAMPLING_CORRELATION:g}; {_told('CR2', df)}, τ² over both levels; i2 in percent"
    return PooledAnswer(
        basis="studies", scale=scale, k=y.size, n_study=model.n_cluster, estimate=estimate, se=se, df=df, ci=_interval(estimate, half * se), tau2=tau2,
        i2=model.i2[0], q=model.q, prediction=_interval(estimate, half * float(np.hypot(se, np.sqrt(tau2)))), convention=words,
        sources=tuple(dict.fromkeys(names)), weight=shares(model.omega),
    )  # fmt: skip


def pool_findings(findings: Sequence[StudyFinding]) -> PooledAnswer | None:
    """The pooled effect of findings on their common scale, or None when none has an effect size."""
    shared = on_common_scale(findings)
    if not shared:
        return None
    y, v, names = effects_of(shared)
    scale = shared[0].effect.scale if shared[0].effect else ""
    n_study = len(set(names))
    if n_study == 1:
        return _one_study(y, v, scale, names[0])
    return (one_effect_a_study if n_study == y.size else _nested)(y, v, scale, names)


def pool_ratios(findings: Sequence[StudyFinding]) -> PooledAnswer | None:
    """The mean growth ratio of studies that print percent changes only; None below LEAST_RATIOS studies, or where all print the same.

    Weights are numbers of people; the error comes from the differences between studies (CR2), so that no standard
    deviation has to be made up. How much of the spread is real cannot be told this way: τ², I² and Q stay unknown.
    """
    usable = [f for f in findings if f.ratio is not None and f.n]
    names = [f.study.id for f in usable]
    if len(set(names)) < LEAST_RATIOS:
        return None
    y, n = np.array([f.ratio for f in usable], dtype=float), np.array([f.n for f in usable], dtype=float)
    if np.ptp(y) == 0:
        return None
    sizes = np.array([names.count(name) for name in names], dtype=float)
    fit = robust_fit(y, Covariance.independent(sizes / n), names)
    estimate, se, df = float(fit.beta[0]), float(fit.se[0]), float(fit.df[0])
    words = (
        f"ln growth ratio weighted by people, CR2 standard error, t on {df:.1f} df{_shaky(df)}; no spread known, so no τ², I², Q"
    )
    return PooledAnswer(
        basis="ratio", scale="ln growth ratio", k=y.size, n_study=fit.n_cluster, estimate=estimate, se=se, df=df,
        ci=_interval(estimate, float(t.ppf(0.975, df)) * se), tau2=None, i2=None, q=None, prediction=None, convention=words, sources=tuple(dict.fromkeys(names)),
        weight=tuple((n / sizes / (n / sizes).sum()).tolist()),
    )  # fmt: skip


def joined(published: PooledAnswer, own: PooledAnswer) -> PooledAnswer:
    """A published pool together with studies that it could not know, on one scale.

    Each counts by its precision, with the spread that their disagreement shows shared out by numbers of studies: pools that agree join
    as usual, pools that clash are averaged study by study. An error known from few studies counts as large as its t interval says
    (validation/joined_pools.py).
    """
    both, n = (published, own), published.n_study + own.n_study
    errors = [a.se if isinf(a.df) else (a.ci[1] - a.ci[0]) / 2 / float(norm.ppf(0.975)) for a in both]
    gap = (published.estimate - own.estimate) ** 2 - errors[0] ** 2 - errors[1] ** 2
    spread = max(0.0, gap) * published.n_study * own.n_study / n**2
    weight = np.array([1 / (e**2 + spread / a.n_study) for e, a in zip(errors, both, strict=True)])
    estimate = float(weight @ [a.estimate for a in both] / weight.sum())
    se = float(weight.sum() ** -0.5)
    words = "the published pool and the studies after it, by precision and the spread that their disagreement shows"
    return PooledAnswer(
        basis="published and later", scale=own.scale, k=published.k + own.k, n_study=n, estimate=estimate, se=se, df=float("inf"),
        ci=_interval(estimate, float(norm.ppf(0.975)) * se), tau2=None, i2=None, q=None, prediction=None, convention=words, sources=(*published.sources, *own.sources),
        counted=published.counted,
    )  # fmt: skip


def _few(row: Published) -> str:
    return "" if isinf(row.free) else f" by t on {row.free:.1g} degrees of freedom, as its p of {row.p:g} shows"


def quote(published: Sequence[Published]) -> PooledAnswer | None:
    """The published pool to quote, or None when no headline has a number with an error."""
    for row in published:
        error = row.error()
        if row.role == "headline" and row.estimate is not None and error is not None:
            ci = (row.ci_low, row.ci_high)
            half = float(norm.ppf(0.975)) * error.value
            printed = (ci[0], ci[1]) if ci[0] is not None and ci[1] is not None else _interval(row.estimate, half)
            return PooledAnswer(
                basis="published", scale=row.scale, k=row.n_study or 1, n_study=row.n_study or 1, estimate=row.estimate, se=error.value, df=row.free,
                ci=printed, tau2=None, i2=None, q=None, prediction=None,
                convention=f"as published ({row.what}), standard error {error.how}{_few(row)}; not pooled again", sources=(row.id,),
                counted=f" over {row.counts}" if row.counts else "", printed_p=row.p,
            )  # fmt: skip
    return None
