"""What is wrong with a study's numbers, and what is merely hard to believe."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from lengthwise.distributions import t
from lengthwise.evidence.comparison import gains, percent_growth, signed_direction
from lengthwise.evidence.measured import LEAST_GROWTH, looks_like_a_fraction, scale_faults, unit_faults
from lengthwise.evidence.study import Contrast, Outcome, Sourced, Study

BELIEVABLE_PER_WEEK = 10.0
"""Fastest growth [%/week] that is accepted: estimate, over three times what trials of untrained people report."""

DOUBTFUL_PER_WEEK = 4.0
"""Growth [%/week] that is accepted with a remark: estimate, above nearly every trial of the starter set."""

DOUBTFUL_D = 3.0
"""Standardised difference that is accepted with a remark: estimate; SE mistaken for SD is the usual cause."""


@dataclass(frozen=True)
class StudyFault:
    """One thing wrong: which part of a study (kind, index), which key, what was found and what is allowed."""

    kind: str
    index: int
    key: str
    message: str


def _close(a: float, b: float, tolerance: float) -> bool:
    return abs(a - b) <= tolerance


def _rounding(*values: float) -> float:
    """How far rounding to the printed digits may move a sum of these values."""
    return sum(0.5 * 10.0 ** -_decimals(v) for v in values) * 1.0001


def _decimals(value: float) -> int:
    text = f"{value:.10f}".rstrip("0")
    return len(text.split(".")[1])


def _change_faults(o: Outcome) -> Iterator[tuple[str, str]]:
    if o.pre_mean is None or o.post_mean is None:
        return
    change, slack = o.post_mean - o.pre_mean, _rounding(o.pre_mean, o.post_mean)
    if o.change_mean is not None and not _close(o.change_mean, change, slack + _rounding(o.change_mean)):
        yield "change_mean", f"{o.change_mean:g} does not match {o.post_mean:g} − {o.pre_mean:g} = {change:g}"
    if o.percent_change is not None:
        percent = 100 * change / o.pre_mean
        allowed = 1.0 + 100 * slack / o.pre_mean
        if not _close(o.percent_change, percent, allowed):
            yield "percent_change", f"{o.percent_change:g}% does not match the means, which give {percent:.1f}%"


def _spread_faults(o: Outcome) -> Iterator[tuple[str, str]]:
    if o.change_sd and o.pre_sd and o.post_sd:
        low, high = abs(o.pre_sd - o.post_sd), o.pre_sd + o.post_sd
        if not 0.99 * low <= o.change_sd <= 1.01 * high:
            yield "change_sd", f"{o.change_sd:g} is impossible: SDs {o.pre_sd:g} and {o.post_sd:g} allow {low:g}…{high:g}"
    if o.change_sd and o.change_se and o.n:
        expected = o.change_sd / np.sqrt(o.n)
        if not _close(o.change_se, expected, 0.1 * expected + _rounding(o.change_se)):
            yield "change_se", f"{o.change_se:g} is not SD/√n = {expected:.3g}; is one of them the other?"


def _interval_faults(low: float | None, high: float | None, centre: float | None) -> Iterator[tuple[str, str]]:
    if (low is None) != (high is None):
        yield "ci_low", "an interval needs both its bounds"
    elif low is not None and high is not None:
        if low >= high:
            yield "ci_low", f"interval {low:g}…{high:g} is reversed or has no width"
        elif centre is not None and not low <= centre <= high:
            yield "ci_low", f"interval {low:g}…{high:g} does not contain {centre:g}"


MANY, MOST_OF_MANY = 5, 2.571
"""From so many degrees of freedom on the 97.5th percentile of Student's t is at most so much, and never below 1.96."""


def _growth_faults(study: Study, o: Outcome) -> Iterator[tuple[str, str]]:
    growth = percent_growth(o)
    if growth is not None and study.weeks and abs(growth) / study.weeks > BELIEVABLE_PER_WEEK:
        yield (
            "percent_change",
            f"{growth:.0f}% in {study.weeks:g} weeks is beyond belief; allowed: up to {BELIEVABLE_PER_WEEK:g}% a week",
        )


def _contrast_faults(study: Study, c: Contrast) -> Iterator[tuple[str, str]]:
    names = [a.name for a in study.arms]
    for key, arm in (("arm", c.arm), ("versus", c.versus)):
        if arm not in names:
            yield key, f"no arm {arm!r} in this study; allowed: {', '.join(names)}"
    if c.arm == c.versus:
        yield "versus", f"arm {c.arm!r} is compared with itself"
    pair = study.outcome(c.arm, c.muscle, c.site), study.outcome(c.versus, c.muscle, c.site)
    if None in pair and c.arm != c.versus and {c.arm, c.versus} <= set(names):
        there = "; ".join(dict.fromkeys(f"{o.muscle!r} at site {o.site!r}" for o in study.outcomes))
        yield "muscle", f"no outcome row of both arms for {c.muscle!r} at site {c.site!r}; outcome rows: {there or 'none'}"
    if study.design == "within_person" and len({o.n for o in pair if o and o.n}) > 1:
        yield "n", "two limbs of the same people need the same n"
    if c.p is not None and signed_direction(study, c) is None:
        yield "p", "a p alone does not say which arm gained more; give difference or verdict"
    yield from _test_faults(study, c)


def _turned(study: Study, c: Contrast) -> str:
    """Which arm gained more by the contrast and by the gains of the arms, where they disagree; empty where they do not."""
    said = next((x for x in (c.difference, c.d, c.t, {"more": 1, "less": -1}.get(c.verdict or "")) if x is not None), 0)
    found = gains(study, c)
    if found is None or said * (found[0] - found[1]) >= 0:
        return ""
    ahead = c.arm if said > 0 else c.versus
    return f"{c.arm} against {c.versus}, {c.muscle}: says that {ahead} gained more, but {c.arm} gained {found[0]:g} and {c.versus} {found[1]:g}: is the sign turned, or an arm named for the other?"


def _clear(c: Contrast) -> bool:
    """Whether a contrast is told as clear, so that adjusting for a start cannot have turned its side."""
    error = c.se is not None and c.difference is not None and abs(c.difference) > 1.96 * c.se
    apart = c.ci_low is not None and c.ci_high is not None and c.ci_low * c.ci_high > 0
    return error or apart or c.verdict in ("more", "less") or abs(c.t or 0) > 1.96 or (c.p is not None and c.p < 0.05)


def _test_faults(study: Study, c: Contrast) -> Iterator[tuple[str, str]]:
    if c.t is not None and c.difference is not None and c.t * c.difference < 0:
        yield "t", f"t {c.t:g} and difference {c.difference:g} have opposite signs"
    if c.se is not None and c.difference is not None and c.ci_low is not None and c.ci_high is not None:
        half = (c.ci_high - c.ci_low) / 2
        if not 0.7 < half / c.se / _quantile(_freedom(study, c), half / c.se) < 1.4:
            yield "se", f"{c.se:g} does not fit the interval, whose half-width {half:g} needs about {half / 2:.3g}"


def _quantile(free: int | None, found: float) -> float:
    """By how many standard errors a 95 % interval reaches to each side; 1.96 where `found` fits whatever the freedom, as that is quick."""
    if free is None or (free >= MANY and 0.7 * MOST_OF_MANY < found < 1.4 * 1.96):
        return 1.96
    return float(t.ppf(0.975, free))


def _freedom(study: Study, c: Contrast) -> int | None:
    ns = [o.n for a in (c.arm, c.versus) if (o := study.outcome(a, c.muscle, c.site)) and o.n]
    if len(ns) < 2:
        return None
    return ns[0] - 1 if study.design == "within_person" else sum(ns) - 2


def _duplicates(rows: Iterable[tuple[object, ...]]) -> Iterator[int]:
    seen: Counter[tuple[object, ...]] = Counter()
    for index, row in enumerate(rows):
        seen[row] += 1
        if seen[row] > 1:
            yield index


def _outcome_faults(study: Study, o: Outcome) -> Iterator[tuple[str, str]]:
    names = [a.name for a in study.arms]
    if o.arm not in names:
        yield "arm", f"no arm {o.arm!r} in this study; allowed: {', '.join(names)}"
    if o.growth_told and percent_growth(o) is not None:
        yield "growth_told", "a size of growth is printed, so what is told without one is left empty"
    yield from unit_faults(o)
    yield from scale_faults(o)
    yield from _change_faults(o)
    yield from _spread_faults(o)
    yield from _interval_faults(o.change_ci_low, o.change_ci_high, o.change_mean)
    yield from _growth_faults(study, o)


def _provenance_faults(row: Sourced) -> Iterator[tuple[str, str]]:
    for key in row.obtained_except:
        if key not in type(row).model_fields:
            yield "obtained_except", f"{key!r} is not a field of this row"
    if row.obtained == "estimate" and not row.note:
        yield "note", "an estimate needs its reason in the note"


def faults(study: Study) -> list[StudyFault]:
    """Everything in a study that cannot be right; an empty list means it may be stored."""
    found = []
    for i, o in enumerate(study.outcomes):
        found += [StudyFault("outcomes", i, *f) for f in (*_outcome_faults(study, o), *_provenance_faults(o))]
    for i, c in enumerate(study.contrasts):
        interval = _interval_faults(c.ci_low, c.ci_high, c.difference)
        found += [StudyFault("contrasts", i, *f) for f in (*_contrast_faults(study, c), *interval, *_provenance_faults(c))]
    for i in _duplicates((o.arm, o.muscle, o.site, o.measure) for o in study.outcomes):
        found.append(StudyFault("outcomes", i, "arm", "the same arm, muscle, site and measure appear twice"))
    for i in _duplicates((c.arm, c.versus, c.muscle, c.site) for c in study.contrasts):
        found.append(StudyFault("contrasts", i, "versus", "the same contrast appears twice"))
    if study.n_total is not None and study.design == "parallel":
        largest = max((o.n or 0 for o in study.outcomes), default=0)
        if largest > study.n_total:
            found.append(StudyFault("study", 0, "n_total", f"an arm has {largest} people, the whole study {study.n_total}"))
    return found


def _doubts(study: Study, o: Outcome) -> Iterator[str]:
    growth = percent_growth(o)
    if growth is not None and study.weeks and abs(growth) / study.weeks > DOUBTFUL_PER_WEEK:
        yield f"{growth:.0f}% in {study.weeks:g} weeks is unusually fast"
    for key, mean, sd in (("pre_sd", o.pre_mean, o.pre_sd), ("post_sd", o.post_mean, o.post_sd)):
        if mean and sd and sd / mean < 0.03:
            yield f"{key} {sd:g} is under 3% of the mean: is it a standard error?"
    if growth is not None and o.percent_sd and abs(growth) / o.percent_sd > DOUBTFUL_D:
        yield f"percent_sd {o.percent_sd:g} is small against {growth:g}%: is it a standard error?"
    if o.obtained == "memory":
        yield "from memory: read the original before you rely on it"


def remarks(study: Study) -> list[str]:
    """What is allowed but hard to believe, or must be known to the reader."""
    found = []
    for o in study.outcomes:
        found += [f"{study.id}: {o.arm}, {o.muscle} {o.site}".rstrip() + f": {d}" for d in _doubts(study, o)]
    found += [f"{study.id}: {turned}" for c in study.contrasts if not _clear(c) and (turned := _turned(study, c))]
    if looks_like_a_fraction([g for o in study.outcomes if (g := percent_growth(o)) is not None]):
        found.append(f"{study.id}: no arm grew by {LEAST_GROWTH:g}%: are these fractions? 5% is written 5, not 0.05")
    missing = [d for d in ("assignment", "departures", "missing", "measurement", "reporting") if d not in study.bias]
    if missing:
        found.append(f"{study.id}: risk of bias not judged for {', '.join(missing)}")
    return found


def turned_sides(studies: Iterable[Study]) -> list[str]:
    """Contrasts told as clear whose side is not that of the gains: faults of what is entered now; what is stored already is read as it is."""
    return [f"{s.id}: {turned}" for s in studies for c in s.contrasts if _clear(c) and (turned := _turned(s, c))]


def kinships(studies: Iterable[Study], known: Iterable[Study]) -> list[str]:
    """Which known studies some studies replace, and which may share their people with another."""
    found: list[str] = []
    owner: dict[str, Study] = {}
    before = {s.id: s for s in known}
    for s in before.values():
        owner |= {sign: s for sign in _signs(s)}
    for s in studies:
        if s.id in before and before[s.id] != s:
            found.append(f"{s.id}: replaces the study of that name ({before[s.id].cited})")
        for sign, what in _signs(s).items():
            other = owner.setdefault(sign, s)
            if other.id != s.id:
                found.append(
                    f"{s.id}: has {what} {other.id} ({other.cited}); people count once: put all that was measured in them under one name"
                )
                break
    return found


def _signs(study: Study) -> dict[str, str]:
    """What two records of the same people share: a DOI, or every number."""
    numbers = [r.model_dump_json(exclude={"claims", "note"}) for r in (*study.outcomes, *study.contrasts)]
    return ({study.doi: "the DOI of"} if study.doi else {}) | {"\n".join(numbers): "the same numbers as"}
