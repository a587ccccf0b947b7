"""An invented gym's logs with known truth: for the demo, and to measure how well trends, stalls and responses are recovered.

Everything here is invented. Sets are made the way a person makes them: true strength of the day, a curve of repetitions of the
person's own, tiredness from set to set, a reserve judged with error, loads in steps, visits missed, now and then a slip of the pen.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np

from lengthwise.training.log import LoggedSet, Measurement, Session
from lengthwise.training.measure_kinds import MeasureKind
from lengthwise.training.volume import PlannedSets, PlannedVisit, WeekOfPlan

REFERENCE_SETS = 10.0
"""Weekly sets at which `gain` holds; more or fewer change it by `per_set`."""


@dataclass(frozen=True, kw_only=True)
class LiftTruth:
    """The true course of one lift.

    Attributes:
        lift, muscle, joint: which, what for, and what it loads. start_kg: true 1RM on the first day. step_kg: load step.
        gain: true rise at ten weekly sets [percent a week]. stall_week: from which it rises no more; none where it never stalls.
        visits: which of a week's visits hold it, counted from 0.
    """

    lift: str
    muscle: str
    joint: str
    start_kg: float
    gain: float
    stall_week: int | None = None
    step_kg: float = 2.5
    visits: tuple[int, ...] = (0, 2)


@dataclass(frozen=True, kw_only=True)
class MeasureTruth:
    """A body measure: its first true value, true change over 12 weeks, and errors of a reading and of a visit."""

    kind: MeasureKind
    site: str
    start: float
    change: float
    repeat: float
    day: float
    readings: int = 2


@dataclass(frozen=True)
class PainEpisode:
    """A joint that hurts in its lifts between two weeks, in a share of sets, with true strength down meanwhile [percent]."""

    joint: str
    first_week: int
    last_week: int
    share: float = 0.7
    loss: float = 3.0


@dataclass(frozen=True, kw_only=True)
class ClientTruth:
    """A person as they truly are.

    Attributes:
        name: of the record. lifts, measures: see above. sets: of each lift on a visit, week by week, repeated when it runs out.
        per_set: further gain for a further weekly set [percent a week]. missed: share of visits missed.
        habit: judged minus true reserve, lasting [repetitions]. judging: spread of it at failure [repetitions].
        curve: repetitions a load allows over Epley's. form: spread of a day's strength [ln]. drop: repetitions lost from set to set.
        slips: share of sets written down wrongly. judged: share of sets with a reserve.
    """

    name: str
    lifts: tuple[LiftTruth, ...]
    measures: tuple[MeasureTruth, ...] = ()
    sets: tuple[int, ...] = (5,)
    per_set: float = 0.0
    missed: float = 0.08
    habit: float = -0.5
    judging: float = 0.5
    curve: float = 1.0
    form: float = 0.02
    drop: float = 0.6
    slips: float = 0.004
    judged: float = 1.0
    pain: tuple[PainEpisode, ...] = ()
    days: tuple[int, ...] = (0, 1, 3, 4)
    minutes: float = 60.0


@dataclass(frozen=True, kw_only=True)
class Scenario:
    """A log made from a truth, and the true 1RM [kg] of each lift on each day from the first."""

    truth: ClientTruth
    first: date
    sessions: tuple[Session, ...]
    measurements: tuple[Measurement, ...]
    planned: tuple[WeekOfPlan, ...]
    true_kg: Mapping[str, np.ndarray]


@dataclass
class _Lifter:
    """What is carried from visit to visit: the load on each bar [kg]."""

    load_kg: dict[str, float] = field(default_factory=dict)


def simulate(truth: ClientTruth, first: date, weeks: int, rng: np.random.Generator) -> Scenario:
    """A log of some weeks; `first` is a Monday. The true course goes on for four more weeks, to test what was foretold."""
    course = {one.lift: _course(truth, one, weeks + 4) for one in truth.lifts}
    lifter, sessions, planned = _Lifter(), [], []
    for week in range(weeks):
        planned.append(_plan(truth, first + timedelta(weeks=week), week))
        for visit, weekday in enumerate(truth.days):
            day = first + timedelta(weeks=week, days=weekday)
            if rng.random() >= truth.missed:
                sessions.append(_visit(truth, _Visit(day, week, visit, (day - first).days), course, lifter, rng))
    done = tuple(s for s in sessions if s.sets)
    return Scenario(
        truth=truth,
        first=first,
        sessions=done,
        measurements=_measured(truth, first, weeks, rng),
        planned=tuple(planned),
        true_kg=course,
    )


def _course(truth: ClientTruth, one: LiftTruth, weeks: int) -> np.ndarray:
    """True 1RM on each day [kg]: gains shrink by half over 40 weeks, stop at a stall, give way while a joint hurts."""
    rise = np.zeros(7 * weeks)
    for day in range(1, 7 * weeks):
        week = day // 7
        if one.stall_week is None or week < one.stall_week:
            weekly = _sets(truth, week) * len(one.visits)
            rise[day] = (one.gain * 0.5 ** (week / 40) + truth.per_set * (weekly - REFERENCE_SETS)) / 700
    level = np.log(one.start_kg) + np.cumsum(rise)
    for episode in truth.pain:
        if episode.joint == one.joint:
            inside = np.arange(7 * weeks) // 7
            level = level - episode.loss / 100 * ((inside >= episode.first_week) & (inside <= episode.last_week))
    return np.asarray(np.exp(level))


def _sets(truth: ClientTruth, week: int) -> int:
    return truth.sets[week % len(truth.sets)]


def _plan(truth: ClientTruth, monday: date, week: int) -> WeekOfPlan:
    visits = (
        PlannedVisit(
            truth.minutes,
            tuple(PlannedSets(one.lift, "full", _sets(truth, week), 2.0, one.muscle) for one in truth.lifts if visit in one.visits),
        )
        for visit in range(len(truth.days))
    )
    return WeekOfPlan(monday, tuple(v for v in visits if v.lifts))


@dataclass(frozen=True)
class _Visit:
    """Which visit: its day, week, place in the week, and days since the first."""

    day: date
    week: int
    number: int
    since: int


def _visit(truth: ClientTruth, at: _Visit, course: Mapping[str, np.ndarray], lifter: _Lifter, rng: np.random.Generator) -> Session:
    form = rng.normal(0, truth.form)
    sets: list[LoggedSet] = []
    for one in truth.lifts:
        if at.number in one.visits:
            strength = float(course[one.lift][at.since] * np.exp(form + rng.normal(0, truth.form / 2)))
            sets += _lift_sets(truth, one, strength, at, lifter, rng)
    readiness = min(max(round(3.3 + 40 * form + rng.normal(0, 0.5)), 1), 5)
    return Session(day=at.day, sets=tuple(sets), readiness=readiness, minutes=round(truth.minutes * (0.9 + 0.2 * rng.random())))


def _lift_sets(
    truth: ClientTruth, one: LiftTruth, strength: float, at: _Visit, lifter: _Lifter, rng: np.random.Generator
) -> Sequence[LoggedSet]:
    load = lifter.load_kg.setdefault(one.lift, _rounded(0.75 * strength, one.step_kg))
    out, hurts = [], _hurts(truth, one, at.week)
    for place in range(_sets(truth, at.week)):
        possible = max(1.0, 30 * truth.curve * (strength / load - 1) + rng.normal(0, 0.5) - truth.drop * place)
        done = min(max(math.floor(possible - 2 + rng.normal(0, 0.7)), 1), 12)
        left = max(possible - done, 0.0)
        judged = max(0.0, round(2 * (left + truth.habit + rng.normal(0, truth.judging + 0.3 * left))) / 2)
        out.append(
            LoggedSet(
                lift=one.lift,
                load_kg=_slipped(load, truth.slips, rng),
                repetitions=done,
                reserve=judged if rng.random() < truth.judged else None,
                pain=(one.joint,) if rng.random() < hurts else (),
            )
        )
    _progress(one, out[0].repetitions, lifter)
    return out


def _hurts(truth: ClientTruth, one: LiftTruth, week: int) -> float:
    return max((e.share for e in truth.pain if e.joint == one.joint and e.first_week <= week <= e.last_week), default=0.0)


def _rounded(load: float, step: float) -> float:
    return float(max(step, round(load / step) * step))


def _slipped(load: float, share: float, rng: np.random.Generator) -> float:
    """Now and then a load is written down a fifth too high or too low."""
    return _rounded(load * (1.2 if rng.random() < 0.5 else 0.8), 0.5) if rng.random() < share else load


def _progress(one: LiftTruth, repetitions: int, lifter: _Lifter) -> None:
    """A step up from ten repetitions in the first set, a step down below five."""
    if repetitions >= 10:
        lifter.load_kg[one.lift] += one.step_kg
    elif repetitions < 5:
        lifter.load_kg[one.lift] = max(one.step_kg, lifter.load_kg[one.lift] - one.step_kg)


def _measured(truth: ClientTruth, first: date, weeks: int, rng: np.random.Generator) -> tuple[Measurement, ...]:
    """Every measure on the first Saturday and every fourth week after."""
    out = []
    for week in range(0, weeks, 4):
        for one in truth.measures:
            true = one.start + one.change * week / 12
            visit = true + rng.normal(0, one.day)
            values = tuple(round(float(visit + rng.normal(0, one.repeat)), 1) for _ in range(one.readings))
            out.append(Measurement(day=first + timedelta(weeks=week, days=5), kind=one.kind, site=one.site, values=values))
    return tuple(out)
