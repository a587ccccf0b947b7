"""Has it grown? The change of a body measurement against its error, and what could be expected by now."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import isfinite
from typing import ClassVar, Literal

import numpy as np

from lengthwise.arrays import Array
from lengthwise.training.log import Measurement
from lengthwise.training.measure_kinds import MeasureKind
from lengthwise.training.measurement_error import (
    TypicalError,
    expected_growth,
    smallest_detectable,
    typical_error,
    with_own_repeats,
)

Verdict = Literal["rose", "fell", "too early to tell", "no change seen", "measure again"]
TOGETHER_DAYS = 10
"""Visits within so many days of the first (or last) are taken together."""
LINE_VISITS = 5
"""From so many visits on, a straight line through all of them is used instead of the first and last."""


@dataclass(frozen=True, kw_only=True)
class MeasuredGrowth:
    """A measure's course.

    Attributes:
        kind, site, side: which. days, means: every visit's mean reading.
        change: from first to last, in the measure's unit. error: its standard error. smallest: change that error alone exceeds
            once in twenty. weeks: between first and last. method: how the change was found.
        verdict: what can be said. expected: mean change of trained muscles in that time; nothing where no trial says.
        expected_people: between which two thirds of people lie. weeks_to_tell: until the mean change exceeds `smallest`.
        typical: error of a reading and of a visit.
    """

    PUBLIC: ClassVar = """
        kind site side days means change=told.change interval=told.interval
        smallest_detectable=told.smallest weeks method verdict expected
        expected_of_two_thirds=expected_people weeks_to_tell error=typical
    """
    kind: MeasureKind
    site: str
    side: str
    days: tuple[date, ...]
    means: tuple[float, ...]
    change: float
    error: float
    smallest: float
    weeks: float
    method: str
    verdict: Verdict
    expected: float | None
    expected_people: tuple[float, float] | None
    weeks_to_tell: float | None
    typical: TypicalError

    @property
    def interval(self) -> tuple[float, float]:
        """The 95 % interval of the change."""
        return self.change - self.smallest, self.change + self.smallest

    @property
    def told(self) -> "MeasuredGrowth | None":
        """Itself; nothing where one visit cannot tell a change."""
        return self if isfinite(self.smallest) else None


def growth(measurements: Iterable[Measurement]) -> tuple[MeasuredGrowth, ...]:
    """Every measure that has readings, by kind, site and side; photos have none."""
    grouped: dict[tuple[MeasureKind, str, str], list[Measurement]] = defaultdict(list)
    everything = sorted((m for m in measurements if m.values), key=lambda m: m.day)
    for one in everything:
        grouped[one.kind, one.site, one.side].append(one)
    return tuple(_course(key, own, everything) for key, own in sorted(grouped.items()))


def _course(key: tuple[MeasureKind, str, str], own: Sequence[Measurement], everything: Sequence[Measurement]) -> MeasuredGrowth:
    kind, site, side = key
    days = tuple(sorted({m.day for m in own}))
    readings = {d: [v for m in own if m.day == d for v in m.values] for d in days}
    means = tuple(float(np.mean(readings[d])) for d in days)
    visits = [Measurement(day=d, kind=kind, site=site, values=tuple(readings[d])) for d in days]
    typical = with_own_repeats(typical_error(kind, site, means[0]), visits)
    change, error, method = _change(days, means, [len(readings[d]) for d in days], typical)
    smallest, weeks = smallest_detectable(error, 0.0), (days[-1] - days[0]).days / 7
    per_12 = _per_trial(kind, means[0], muscle_share(kind, site, side, everything))
    span = expected_growth().weeks.value
    mean = None if per_12 is None else per_12 * min(weeks / span, 1.0)
    spread = expected_growth().spread_of_people.value
    return MeasuredGrowth(
        kind=kind,
        site=site,
        side=side,
        days=days,
        means=means,
        change=change,
        error=error,
        smallest=smallest,
        weeks=weeks,
        method=method,
        verdict=_verdict(len(days), change, smallest, mean),
        expected=mean,
        expected_people=None if mean is None else (mean * (1 - spread), mean * (1 + spread)),
        weeks_to_tell=None if per_12 is None or not np.isfinite(smallest) else span * smallest / per_12,
        typical=typical,
    )


def _change(
    days: Sequence[date], means: Sequence[float], readings: Sequence[int], typical: TypicalError
) -> tuple[float, float, str]:
    """Change from first to last visit, its standard error, and how it was found."""
    t = np.array([(d - days[0]).days for d in days], dtype=float)
    if len(days) >= LINE_VISITS:
        return _by_line(t, np.array(means), np.array([typical.of_mean(1, n) for n in readings]))
    first, last = t <= TOGETHER_DAYS, t >= t[-1] - TOGETHER_DAYS
    if (first & last).any():
        first, last = t == 0, (t == t[-1]) & (t > 0)
    if not last.any():
        return 0.0, float("inf"), "one visit"
    n = np.array(readings)
    errors = [typical.of_mean(int(part.sum()), int(n[part].sum())) for part in (first, last)]
    change = float(np.mean(np.array(means)[last]) - np.mean(np.array(means)[first]))
    return change, float(np.hypot(errors[0], errors[1])), f"{int(first.sum())} first against {int(last.sum())} last visits"


def _by_line(t: Array, y: Array, error: Array) -> tuple[float, float, str]:
    """Slope of a weighted straight line times the time between first and last visit; scatter beyond the error widens it."""
    w = 1 / error**2
    centre = float(t @ w / w.sum())
    sxx = float(w @ (t - centre) ** 2)
    slope = float(w @ ((t - centre) * y) / sxx)
    left = y - float(y @ w / w.sum()) - slope * (t - centre)
    wider = max(1.0, float(np.sqrt(w @ left**2 / (len(t) - 2))))
    return slope * t[-1], wider * float(t[-1] / np.sqrt(sxx)), f"line through {len(t)} visits"


def muscle_share(kind: MeasureKind, site: str, side: str, everything: Sequence[Measurement]) -> float:
    """Muscle's part of a limb's cross-section: from girth and skinfold where both were measured, else an estimate.

    Ring of fat as thick as half a fold: (girth - pi fold)² / girth² (Gurney & Jelliffe 1973, Am J Clin Nutr 26:912-915, from memory).
    """
    girths = [m for m in everything if m.kind == "girth" and (m.site, m.side) == (site, side)]
    folds = [m for m in everything if m.kind == "skinfold" and m.site == site]
    if kind != "girth" or not girths or not folds:
        return expected_growth().muscle_share_of_limb.value
    girth_cm, fold_cm = float(np.mean(girths[0].values)), float(np.mean(folds[0].values)) / 10
    return float(max(0.0, 1 - np.pi * fold_cm / girth_cm) ** 2)


def _per_trial(kind: MeasureKind, value: float, share: float) -> float | None:
    """Mean change over a trial's length in the measure's unit; a girth grows by half of its area's share of muscle."""
    part = expected_growth().percent.value / 100 * value
    return {"ultrasound_thickness": part, "girth": part * share / 2}.get(kind)


def _verdict(visits: int, change: float, smallest: float, expected: float | None) -> Verdict:
    if visits < 2:
        return "measure again"
    if abs(change) >= smallest:
        return "rose" if change > 0 else "fell"
    if expected is not None and expected < smallest:
        return "too early to tell"
    return "no change seen"
