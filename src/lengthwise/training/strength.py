"""How strong somebody was on a day: the 1RM that a visit's sets point to, and how sure that is."""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from statistics import median

from lengthwise.errors import InputError
from lengthwise.mechanics.profile import RangeName
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.trend_data import ErrorSizes, trend_data

EPLEY = 30.0
"""Repetitions that double the load: 1RM = load (1 + repetitions / 30), Epley 1985."""

LiftKey = tuple[str, RangeName]
LEAST_PAIRS = 6
"""Pairs of sets of one visit before a drop from set to set is believed."""


@dataclass(frozen=True)
class DayStrength:
    """What one visit says about a lift.

    Attributes:
        day: of the visit. ln_kg: natural logarithm of the estimated 1RM [ln kg]. error: its standard error [ln].
        sets: how many count. best: the set with the highest estimate.
    """

    day: date
    ln_kg: float
    error: float
    sets: int
    best: LoggedSet

    @property
    def kg(self) -> float:
        """The estimated 1RM [kg]."""
        return math.exp(self.ln_kg)


@dataclass(frozen=True, kw_only=True)
class LiftHistory:
    """A lift's visits in order.

    Attributes:
        lift, range: what was done.
        days: one entry a visit. offset_kg: part of the body's mass that is lifted along with the load.
        drop: what a further set of the same visit costs [ln per set], already taken out of the days.
        equation_error: how far the person's own curve may lie from the equation at these repetitions [ln]; lasting.
        left_out: sets that no estimate can be made from, with the reason.
    """

    lift: str
    range: RangeName
    days: tuple[DayStrength, ...]
    offset_kg: float = 0.0
    drop: float = 0.0
    equation_error: float = 0.0
    left_out: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class _SetPoint:
    """One set: visit, place among the visit's sets of the lift, estimate and error [ln], repetitions to failure."""

    visit: int
    place: int
    ln_kg: float
    error: float
    to_failure: float
    logged: LoggedSet


def ln_one_rm(load_kg: float, to_failure: float) -> float:
    """Logarithm of the 1RM [ln kg] after Epley; a load that allows one repetition is the 1RM itself.

    Raises:
        InputError: no load or no repetition.
    """
    if load_kg <= 0 or to_failure < 1:
        raise InputError(f"1RM of {load_kg:g} kg x {to_failure:g}; allowed loads above 0 and 1 or more repetitions", asked=load_kg)
    return math.log(load_kg) + (math.log1p(to_failure / EPLEY) if to_failure > 1 else 0.0)


def set_error(to_failure: float, reserve: float | None, sizes: ErrorSizes) -> float:
    """Standard error of a set's estimate [ln]: repetitions and judged reserve, through the equation's slope."""
    own = sizes.reserve_at_failure + sizes.reserve_per_repetition * (reserve or 0.0)
    judged = sizes.unjudged_spread if reserve is None else own
    return math.hypot(sizes.repetitions, judged) / (EPLEY + to_failure)


def histories(sessions: Iterable[Session], offset_kg: Mapping[str, float] | None = None) -> tuple[LiftHistory, ...]:
    """Every lift and range of a log, most often done first.

    Args:
        sessions: in any order; visits of one day are kept apart only if logged apart.
        offset_kg: part of the body's mass [kg] that a lift moves beside its load.
    """
    grouped: dict[LiftKey, dict[int, list[LoggedSet]]] = defaultdict(lambda: defaultdict(list))
    ordered = sorted(sessions, key=lambda s: s.day)
    for visit, session in enumerate(ordered):
        for one in session.sets:
            if not one.warm_up:
                grouped[one.lift, one.range][visit].append(one)
    days = [s.day for s in ordered]
    found = [_history(key, visits, days, (offset_kg or {}).get(key[0], 0.0)) for key, visits in grouped.items()]
    return tuple(sorted(found, key=lambda h: (-len(h.days), h.lift, h.range)))


def _history(key: LiftKey, visits: Mapping[int, list[LoggedSet]], days: Sequence[date], offset_kg: float) -> LiftHistory:
    sizes = trend_data().error
    left_out: dict[str, int] = defaultdict(int)
    points = []
    for visit, sets in visits.items():
        for place, one in enumerate(sets):
            reason = _unusable(one, offset_kg, sizes)
            if reason:
                left_out[reason] += 1
            else:
                points.append(_point(visit, place, one, offset_kg))
    usual = median(p.to_failure for p in points) if points else 1.0
    drop = _drop(points)
    by_visit: dict[int, list[_SetPoint]] = defaultdict(list)
    for point in points:
        by_visit[point.visit].append(point)
    found = tuple(_day(days[v], by_visit[v], drop, usual) for v in sorted(by_visit))
    return LiftHistory(
        lift=key[0], range=key[1], days=found, offset_kg=offset_kg, drop=drop,
        equation_error=sizes.equation_per_repetition * (usual - 1), left_out=dict(left_out),
    )  # fmt: skip


def _unusable(one: LoggedSet, offset_kg: float, sizes: ErrorSizes) -> str:
    """Why no estimate can be made from a set; empty when it can."""
    if one.load_kg + offset_kg <= 0:
        return "no load"
    if one.repetitions < 1:
        return "no repetition done"
    if _to_failure(one, sizes) > sizes.most_repetitions:
        return f"more than {sizes.most_repetitions:g} repetitions done and in reserve"
    return ""


def _to_failure(one: LoggedSet, sizes: ErrorSizes) -> float:
    return one.repetitions + (sizes.unjudged_reserve if one.reserve is None else one.reserve)


def _point(visit: int, place: int, one: LoggedSet, offset_kg: float) -> _SetPoint:
    sizes = trend_data().error
    to_failure = _to_failure(one, sizes)
    error = set_error(to_failure, one.reserve, sizes)
    return _SetPoint(
        visit=visit,
        place=place,
        ln_kg=ln_one_rm(one.load_kg + offset_kg, to_failure),
        error=error,
        to_failure=to_failure,
        logged=one,
    )


def _drop(points: Sequence[_SetPoint]) -> float:
    """Median fall of the estimate from a visit's first set to a later one, per set [ln]; 0 until enough pairs are seen."""
    first = {p.visit: p for p in reversed(points)}
    slopes = [(p.ln_kg - first[p.visit].ln_kg) / (p.place - first[p.visit].place) for p in points if p.place > first[p.visit].place]
    return median(slopes) if len(slopes) >= LEAST_PAIRS else 0.0


def _day(day: date, points: Sequence[_SetPoint], drop: float, usual: float) -> DayStrength:
    """Weighted mean of a visit's sets, each as if it were the first; a day's form is shared by all of them."""
    sizes = trend_data().error
    weights = [1 / (p.error**2 + (sizes.equation_per_repetition * (p.to_failure - usual)) ** 2) for p in points]
    whole = sum(weights)
    mean = sum(w * (p.ln_kg - drop * p.place) for w, p in zip(weights, points, strict=True)) / whole
    best = max(points, key=lambda p: p.ln_kg)
    return DayStrength(day, mean, math.hypot(1 / math.sqrt(whole), sizes.day), len(points), best.logged)
