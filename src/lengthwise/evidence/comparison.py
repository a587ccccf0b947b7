"""What one contrast of one study says: direction, growth ratio, and an effect size where the report allows one."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.evidence import effect, spread
from lengthwise.evidence.effect import BeforeAfter, Effect, Group
from lengthwise.evidence.study import Contrast, Outcome, Study


def percent_growth(o: Outcome) -> float | None:
    """Percent growth of an arm, as printed or from its means."""
    if o.percent_change is not None:
        return o.percent_change
    if o.pre_mean is not None and o.change_mean is not None:
        return 100 * o.change_mean / o.pre_mean
    if o.pre_mean is not None and o.post_mean is not None:
        return 100 * (o.post_mean / o.pre_mean - 1)
    return None


TIE = 0.05
"""Two gains that differ by less than this share of the larger one count as equal (own choice)."""


def signed_direction(study: Study, c: Contrast) -> int | None:
    """Which arm gained more: 1 the first, −1 the other, 0 equal or reported as no difference, None not known.

    A difference in numbers decides, significant or not; the verdict counts only where no number is known, so that
    counting directions never turns into counting significant results.
    """
    for value in (c.difference, c.d, c.t):
        if value is not None:
            return int(np.sign(value))
    found = gains(study, c)
    if found is not None:
        gap = found[0] - found[1]
        return 0 if abs(gap) < TIE * max(map(abs, found)) else int(np.sign(gap))
    return {"more": 1, "less": -1, "no_difference": 0}[c.verdict] if c.verdict else None


def gains(study: Study, c: Contrast) -> tuple[float, float] | None:
    """Growth of both arms [%], or the change of each; None where one is not known."""
    pair = [study.outcome(arm, c.muscle, c.site) for arm in (c.arm, c.versus)]
    for gain in (percent_growth, lambda o: o.change_mean):
        values = [gain(o) if o else None for o in pair]
        if values[0] is not None and values[1] is not None:
            return float(values[0]), float(values[1])
    return None


@dataclass(frozen=True, kw_only=True)
class StudyFinding:
    """What one contrast says about a claim.

    Attributes:
        study, label: the study and, in words, the contrast.
        muscle, site: where it was measured.
        n: people behind it; 0 when not known.
        direction: 1 the favoured arm gained more, −1 the other, 0 reported as no difference, None not known.
        effect: effect size with its variance, or None when the report does not fix one.
        ratio: ln growth ratio of the two arms, or None.
        from_memory: whether any number used, or the direction itself, was recalled and not read.
        note: what the reader must know.
    """

    PUBLIC: ClassVar = """
        study=study.id cite=study.cite contrast=label muscle site n direction effect
        ln_growth_ratio=ratio from_memory note
    """
    study: Study
    label: str
    muscle: str
    site: str
    n: int
    direction: int | None
    effect: Effect | None
    ratio: float | None
    from_memory: bool
    note: str


_SIZES = ("pre_mean", "post_mean", "change_mean", "percent_change")
_RESULTS = ("difference", "se", "ci_low", "ci_high", "t", "p", "d", "verdict")


def _change_group(o: Outcome) -> Group | None:
    """The change of an arm with its standard deviation, if the report fixes both."""
    if o.n is None:
        return None
    if o.change_mean is not None:
        sd = change_sd(o)
        return Group(o.n, o.change_mean, sd) if sd else None
    if o.percent_change is not None and o.percent_sd:
        return Group(o.n, o.percent_change, o.percent_sd)
    return None


def change_sd(o: Outcome) -> float | None:
    """Standard deviation of an arm's change, in the unit of the measure: printed, or behind its standard error or interval."""
    if o.change_sd:
        return o.change_sd
    if o.n and o.change_se:
        return spread.sd_from_se(o.change_se, o.n).value
    if o.n and o.change_ci_low is not None and o.change_ci_high is not None:
        return spread.sd_from_interval(o.change_ci_low, o.change_ci_high, o.n).value
    return None


def _recovered(o: Outcome) -> tuple[str, ...]:
    if o.change_mean is None or o.change_sd:
        return ()
    return ("SD recovered from SE",) if o.change_se else ("SD recovered from CI",)


def _before_after(o: Outcome) -> BeforeAfter | None:
    if o.n and o.pre_mean and o.pre_sd and o.post_mean and o.post_sd:
        return BeforeAfter(n=o.n, pre_mean=o.pre_mean, pre_sd=o.pre_sd, post_mean=o.post_mean, post_sd=o.post_sd)
    return None


@dataclass(frozen=True, kw_only=True)
class _Pair:
    """Both arms of a contrast, ready to be turned into an effect."""

    contrast: Contrast
    a: Outcome
    b: Outcome
    within: bool
    sign: int
    correlation: float

    def from_d(self, d: float) -> Effect | None:
        if not (self.a.n and self.b.n):
            return None
        if self.within:
            return effect.within_from_d(d, self.a.n, self.correlation)
        return effect.from_d(d, self.a.n, self.b.n)

    def from_t(self, t: float) -> Effect | None:
        if not (self.a.n and self.b.n):
            return None
        if self.within:
            return effect.within_from_t(t, self.a.n, self.correlation)
        return effect.from_t(t, self.a.n, self.b.n)

    @property
    def free(self) -> float | None:
        if not (self.a.n and self.b.n):
            return None
        return self.a.n - 1 if self.within else self.a.n + self.b.n - 2


def _printed(pair: _Pair) -> Effect | None:
    """From the printed standardised difference; which spread it was divided by is seldom said."""
    if pair.contrast.d is None:
        return None
    found = pair.from_d(pair.contrast.d)
    return found and _noted(found, "SMD of change", "d as printed")


def _from_changes(pair: _Pair) -> Effect | None:
    """From both changes and their standard deviations."""
    a, b = _change_group(pair.a), _change_group(pair.b)
    if a is None or b is None:
        return None
    notes = tuple(dict.fromkeys((*_recovered(pair.a), *_recovered(pair.b))))
    within = pair.within
    found = effect.within_standardised(a, b, pair.correlation) if within else effect.standardised_difference(a, b)
    return _noted(found, "SMD of change", *notes)


def _from_result(pair: _Pair) -> Effect | None:
    """From the printed difference with its SE or interval, its t, or an exact p with a known direction."""
    c = pair.contrast
    if c.difference is not None and c.se is not None:
        t, how = c.difference / c.se, "SD recovered from SE"
    elif c.difference is not None and c.ci_low is not None and c.ci_high is not None:
        t, how = c.difference / spread.se_from_interval(c.ci_low, c.ci_high, pair.free).value, "SD recovered from CI"
    elif c.t is not None:
        t, how = c.t, "recovered from t"
    elif c.p is not None and pair.sign and pair.free:
        t, how = pair.sign * spread.statistic_from_p(c.p, pair.free), "recovered from p"
    else:
        return None
    found = pair.from_t(t)
    return found and _noted(found, "SMD of change", how)


def _from_before_after(pair: _Pair) -> Effect | None:
    """From sizes before and after, in standard deviations before training, with a stated pre–post correlation."""
    a, b = _before_after(pair.a), _before_after(pair.b)
    if pair.within or a is None or b is None:
        return None
    return _noted(effect.pre_post_control(a, b), "SMD before training", f"pre–post correlation {a.correlation:g} assumed")


def _noted(found: Effect, scale: str, *notes: str) -> Effect:
    return Effect(found.estimate, found.variance, scale, (*found.notes, *notes))


_WAYS: tuple[Callable[[_Pair], Effect | None], ...] = (_from_changes, _printed, _from_result, _from_before_after)


def _remembered(rows: Iterable[tuple[Outcome | Contrast, tuple[str, ...]]]) -> bool:
    return any(getattr(row, key) is not None and row.how(key) == "memory" for row, keys in rows for key in keys)


def finding(study: Study, c: Contrast, correlation: float = effect.WITHIN_CORRELATION) -> StudyFinding:
    """What contrast `c` of `study` says; `correlation` is that of two limbs' changes in one person."""
    a, b = (study.outcome(arm, c.muscle, c.site) for arm in (c.arm, c.versus))
    direction, size, ratio = signed_direction(study, c), None, None
    if a is not None and b is not None:
        pair = _Pair(contrast=c, a=a, b=b, within=study.design == "within_person", sign=direction or 0, correlation=correlation)
        size = next((found for way in _WAYS if (found := way(pair)) is not None), None)
        gains = percent_growth(a), percent_growth(b)
        if gains[0] is not None and gains[1] is not None:
            ratio = effect.growth_ratio(gains[0], gains[1])
    arms = [o for o in (a, b) if o is not None]
    people = [o.n for o in arms if o.n]
    within = study.design == "within_person"
    return StudyFinding(
        study=study,
        label=f"{c.arm} vs {c.versus}",
        muscle=c.muscle,
        site=c.site,
        n=(max(people) if within else sum(people)) if people else 0,
        direction=direction,
        effect=size,
        ratio=ratio,
        from_memory=_remembered([(c, _RESULTS), *((o, _SIZES) for o in arms)]),
        note="; ".join(dict.fromkeys(note for note in (c.note, *(o.note for o in arms)) if note)),
    )


def findings(studies: Iterable[Study], claim: str, correlation: float = effect.WITHIN_CORRELATION) -> list[StudyFinding]:
    """What all studies say about a claim, contrast by contrast, in the order of the studies."""
    return [finding(s, c, correlation) for s in studies for c in s.contrasts if claim in c.claims]


def majority(directions: Iterable[int | None]) -> int | None:
    """The side that most of a study's contrasts take; None when no direction is known."""
    known = [d for d in directions if d is not None]
    return int(np.sign(sum(known))) if known else None
