"""Is this person getting stronger at a lift? Level, slope, their uncertainty, and what to expect in four weeks."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import starmap
from typing import ClassVar, TypeVar

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.distributions import norm
from lengthwise.training.level_trend import Drift, Filtered, LevelSeen, States, TrendStart, run_filter, smooth, step
from lengthwise.training.strength import DayStrength, LiftHistory
from lengthwise.training.trend_data import trend_data

T = TypeVar("T", bound=np.generic)
AHEAD_DAYS = 28
PASSES = 3
"""Rounds of down-weighting; a fourth changes the level by less than a tenth of its error."""
ENOUGH_VISITS = 4
ENOUGH_DAYS = 14


@dataclass(frozen=True)
class Estimate:
    """A value and its 95 % interval."""

    value: float
    low: float
    high: float

    @property
    def interval(self) -> tuple[float, float]:
        """From its low to its high end."""
        return self.low, self.high


@dataclass(frozen=True)
class KnownSpreads:
    """What was known on a day without hindsight: the probability of rising."""

    day: date
    p_rising: float


@dataclass(frozen=True)
class Rise:
    """A rise that matters [ln per week], and the weeks over which it is looked for."""

    per_week: float
    weeks: float


@dataclass(frozen=True)
class Best:
    """A best so far: kind (load, estimated 1RM, or repetitions at a load), its day, value and unit."""

    kind: str
    day: date
    value: float
    unit: str


@dataclass(frozen=True, kw_only=True)
class Trend:
    """A lift's course.

    Attributes:
        history: the visits behind it.
        level_kg: estimated 1RM on each visit's day in hindsight, with intervals; counts: weight of each visit, 1 unless it lies
            far from the line.
        e1rm: on the day asked for, the 1RM a test would find [kg]; line: the same without the equation's lasting error.
        per_week: slope in percent of the level a week.
        p_rising: probability that the slope is above 0. p_worthwhile: that the slope of the last weeks, taken as unknown before them,
            is above the rise that matters.
        ahead: the line in four weeks [kg].
        known: what each visit's day knew.
        enough: whether there are enough visits over enough days to speak of a trend.
        records: bests so far.
    """

    history: LiftHistory
    level_kg: tuple[Estimate, ...]
    counts: tuple[float, ...]
    e1rm: Estimate
    line: Estimate
    per_week: Estimate
    p_rising: float
    p_worthwhile: float
    ahead: Estimate
    known: tuple[KnownSpreads, ...]
    enough: bool
    records: tuple[Best, ...]

    @property
    def course(self) -> "tuple[TrendVisit, ...]":
        """Visit by visit."""
        return tuple(starmap(TrendVisit, zip(self.history.days, self.level_kg, self.counts, self.known, strict=True)))


@dataclass(frozen=True)
class TrendVisit:
    """One visit's best set of a lift, the 1RM it speaks for with its error [ln], and the line through all visits on that day."""

    PUBLIC: ClassVar = """
        day=done.day e1rm_kg=done.kg error=done.error line_kg=line.value line_interval=line.interval counts
        p_rising=known.p_rising load_kg=done.best.load_kg repetitions=done.best.repetitions reserve=done.best.reserve
    """

    done: DayStrength
    line: Estimate
    counts: float
    known: KnownSpreads


@dataclass(frozen=True)
class _Stack:
    """Histories side by side, padded at the end: gap, y, error (n_time, n_lift), visits of each (n_lift)."""

    gap: Array
    y: Array
    error: Array
    n: tuple[int, ...]


def trends(histories: Sequence[LiftHistory], as_of: date, rise: Rise) -> tuple[Trend, ...]:
    """The course of every lift that has a visit, as seen on a day.

    Args:
        as_of: no visit may lie after it.
        rise: that matters, and over how long.
    """
    seen = [h for h in histories if h.days]
    if not seen:
        return ()
    stack = _stacked(seen)
    counts, turns = np.ones_like(stack.y), _turns(seen, as_of, len(stack.y))
    for _ in range(PASSES):
        hindsight, weight = _looking_back(stack, counts, turns)[1:]
        counts = _counts(stack, hindsight, weight)
    found, hindsight, weight = _looking_back(stack, counts, turns)
    window = _first_visits_since(seen, as_of - timedelta(weeks=rise.weeks), len(stack.y))
    unknown = np.where(_lanes(window), trend_data().belief.slope_var, 0.0)
    lately, lately_weight = _filtered(_rows(stack, counts, unknown), len(seen))
    return tuple(
        _trend(
            h,
            _Lanes(found=found, hindsight=hindsight, lift=i, n=stack.n[i], weight=weight[i], counts=counts[:, i]),
            as_of,
            _Lanes(
                found=lately, hindsight=lately.known, lift=i, n=stack.n[i], weight=lately_weight[i], counts=counts[:, i]
            ).slope_above(rise.per_week / 7),
        )
        for i, h in enumerate(seen)
    )


def _first_visits_since(histories: Sequence[LiftHistory], day: date, n_time: int) -> NDArray[np.bool_]:
    """Where each lift's first visit from a day on stands (n_time, n_lift)."""
    out = np.zeros((n_time, len(histories)), dtype=bool)
    for i, history in enumerate(histories):
        row = next((t for t, d in enumerate(history.days) if d.day >= day), None)
        if row is not None:
            out[row, i] = True
    return out


def _turns(histories: Sequence[LiftHistory], as_of: date, n_time: int) -> Array:
    """Variance of the slope that begins where a lift's course turns under each assumption, else 0 (n_time, n_lift * n_assumption)."""
    data = trend_data()
    weeks = data.assumptions.turn_weeks
    out = np.zeros((n_time, len(histories), len(weeks)))
    for ago in np.unique(weeks[weeks > 0]):
        at = _first_visits_since(histories, as_of - timedelta(weeks=float(ago)), n_time)
        at[0] = False  # where a log begins nothing turns
        out += data.belief.turn_var * (at[:, :, None] & (weeks == ago))
    return out.reshape(n_time, -1)


def _stacked(histories: Sequence[LiftHistory]) -> _Stack:
    n = tuple(len(h.days) for h in histories)
    gap, y, error = (np.full((max(n), len(n)), v) for v in (0.0, np.nan, 1.0))
    for i, history in enumerate(histories):
        ordinals = [d.day.toordinal() for d in history.days]
        gap[: n[i], i] = np.diff(ordinals, prepend=ordinals[0])
        y[: n[i], i] = [d.ln_kg for d in history.days]
        error[: n[i], i] = [d.error for d in history.days]
    return _Stack(gap, y, error, n)


def _n_assumption() -> int:
    return len(trend_data().assumptions.prior)


def _lanes(by_lift: NDArray[T]) -> NDArray[T]:
    """Repeat each lift's column once for every assumption: (n_time, n_lift) to (n_time, n_lift * n_assumption)."""
    return np.repeat(by_lift, _n_assumption(), axis=1)


def _rows(stack: _Stack, counts: Array, afresh: Array) -> LevelSeen:
    """What is seen under every assumption; `afresh` (n_time, n_lift * n_assumption): variance of a slope that begins on a row, else 0."""
    noise = _lanes(stack.error**2 / counts) * np.tile(trend_data().assumptions.error ** 2, len(stack.n))
    return LevelSeen(_lanes(stack.gap), _lanes(stack.y), noise, afresh)


def _drift(n_lift: int) -> Drift:
    tried = trend_data().assumptions
    return Drift(np.tile(tried.level_var, n_lift), np.tile(tried.slope_var, n_lift), trend_data().belief.slope_kept)


def _filtered(rows: LevelSeen, n_lift: int) -> tuple[Filtered, Array]:
    """All lifts under all assumptions, and how much each assumption counts for each lift (n_lift, n_assumption)."""
    belief, zero = trend_data().belief, np.zeros(rows.y.shape[1])
    start = TrendStart(rows.y[0], zero + belief.level_spread**2, zero + belief.slope_per_week / 7, zero + belief.slope_var)
    found = run_filter(rows, start, _drift(n_lift))
    score = found.log_likelihood.reshape(n_lift, -1) + np.log(trend_data().assumptions.prior)
    weight = np.exp(score - score.max(axis=1, keepdims=True))
    return found, weight / weight.sum(axis=1, keepdims=True)


def _looking_back(stack: _Stack, counts: Array, afresh: Array) -> tuple[Filtered, States, Array]:
    """As `_filtered`, with what is known in hindsight."""
    rows = _rows(stack, counts, afresh)
    found, weight = _filtered(rows, len(stack.n))
    return found, smooth(rows, found, _drift(len(stack.n))), weight


def _counts(stack: _Stack, hindsight: States, weight: Array) -> Array:
    """Weight of each visit under Student's t errors: (v + 1) / (v + expected squared residual / error variance)."""
    nu, n_lift = trend_data().freedom, len(stack.n)
    level, var = (x.reshape(len(stack.y), n_lift, -1) for x in (hindsight.level, hindsight.level_var))
    multiple = (weight * trend_data().assumptions.error ** 2).sum(axis=1)
    residual2 = (stack.y[:, :, None] - level) ** 2 + var
    expected = np.nansum(residual2 * weight, axis=2) / (stack.error**2 * multiple)
    return np.asarray(np.where(np.isfinite(stack.y), np.minimum((nu + 1) / (nu + expected), 1.0), 1.0))


@dataclass(frozen=True, kw_only=True)
class _Lanes:
    """One lift's part of the filter's result: which columns, how many visits, weights of assumptions and of visits."""

    found: Filtered
    hindsight: States
    lift: int
    n: int
    weight: Array
    counts: Array

    def of(self, states: States) -> tuple[Array, Array, Array, Array, Array]:
        """Level, slope, level variance, covariance, slope variance, each (n_visit, n_assumption)."""
        width = len(self.weight)
        cut = slice(self.lift * width, (self.lift + 1) * width)
        kept = (getattr(states, k)[: self.n, cut] for k in ("level", "slope", "level_var", "cov", "slope_var"))
        level, slope, level_var, cov, slope_var = kept
        return level, slope, level_var, cov, slope_var

    def mixed(self, mean: Array, var: Array) -> tuple[Array, Array]:
        """Mean and standard deviation over the assumptions (last axis)."""
        centre = mean @ self.weight
        spread = var @ self.weight + (mean - centre[..., None]) ** 2 @ self.weight
        return centre, np.sqrt(spread)

    def chance_above(self, bound: float, mean: Array, var: Array) -> Array:
        """Probability of lying above a bound, over the assumptions."""
        return np.asarray(norm.cdf((mean - bound) / np.sqrt(var)) @ self.weight)

    def slope_above(self, bound: float) -> float:
        """Probability that the slope after the last visit is above a bound [per day]."""
        _, slope, _, _, slope_var = self.of(self.found.known)
        return float(self.chance_above(bound, slope[-1], slope_var[-1]))


Z = 1.959964
"""Two-sided 95 % quantile of the normal distribution."""


def _kg(mean: float, spread: float) -> Estimate:
    return Estimate(*(float(np.exp(mean + k * spread)) for k in (0.0, -Z, Z)))


def _trend(history: LiftHistory, lanes: _Lanes, as_of: date, p_worthwhile: float) -> Trend:
    drift = _drift(1)
    level, _, level_var, _, _ = lanes.of(lanes.hindsight)
    mean, spread = lanes.mixed(level, level_var)
    since = float((as_of - history.days[-1].day).days)
    last = tuple(x[-1] for x in lanes.of(lanes.found.known))
    now, later = step(last, since, drift), step(last, since + AHEAD_DAYS, drift)
    line, line_error = (float(x) for x in lanes.mixed(now[0], now[2]))
    slope, slope_error = (7 * float(x) for x in lanes.mixed(now[1], now[4]))
    ahead = tuple(float(x) for x in lanes.mixed(later[0], later[2]))
    return Trend(
        history=history,
        level_kg=tuple(_kg(float(m), float(s)) for m, s in zip(mean, spread, strict=True)),
        counts=tuple(float(c) for c in lanes.counts[: lanes.n]),
        e1rm=_kg(line, float(np.hypot(line_error, history.equation_error))),
        line=_kg(line, line_error),
        per_week=Estimate(*(100 * (slope + k * slope_error) for k in (0.0, -Z, Z))),
        p_rising=float(lanes.chance_above(0.0, now[1], now[4])),
        p_worthwhile=p_worthwhile,
        ahead=_kg(*ahead),
        known=_known(history, lanes),
        enough=enough(history.days),
        records=records(history),
    )


def _known(history: LiftHistory, lanes: _Lanes) -> tuple[KnownSpreads, ...]:
    _, slope, _, _, slope_var = lanes.of(lanes.found.known)
    rising = lanes.chance_above(0.0, slope, slope_var)
    return tuple(KnownSpreads(d.day, float(p)) for d, p in zip(history.days, rising, strict=True))


def enough(days: Sequence[DayStrength]) -> bool:
    """Whether there are enough visits over enough days to speak of a trend (common practice, no source)."""
    return len(days) >= ENOUGH_VISITS and days[-1].day - days[0].day >= timedelta(ENOUGH_DAYS)


def records(history: LiftHistory) -> tuple[Best, ...]:
    """Heaviest load, highest estimated 1RM, and most repetitions at the heaviest load, each on the day it was first done."""
    if not history.days:
        return ()
    by_estimate = max(history.days, key=lambda d: (d.ln_kg, -d.day.toordinal()))
    heaviest = max(history.days, key=lambda d: (d.best.load_kg, d.best.repetitions, -d.day.toordinal()))
    return (
        Best("estimated 1RM", by_estimate.day, by_estimate.kg, "kg"),
        Best("load", heaviest.day, heaviest.best.load_kg, "kg"),
        Best("repetitions at that load", heaviest.day, float(heaviest.best.repetitions), "repetitions"),
    )
