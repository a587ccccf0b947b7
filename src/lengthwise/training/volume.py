"""Hard sets that count for each head and muscle, week by week: planned against done; visits and minutes kept."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import ClassVar

from lengthwise.days import monday_of
from lengthwise.mechanics.profile import RangeName
from lengthwise.training.log import LoggedSet, Session

MOST_RESERVE = 4
"""Repetitions in reserve up to which a set counts as hard; unjudged sets count (common practice, no source)."""

LiftKey = tuple[str, RangeName]


@dataclass(frozen=True)
class PlannedSets:
    """Sets of one lift that were planned for a visit, and what they are mainly for."""

    lift: str
    range: RangeName
    sets: int
    reserve: float = 2.0
    muscle: str = ""


@dataclass(frozen=True)
class PlannedVisit:
    """A visit as planned: minutes and lifts."""

    minutes: float
    lifts: tuple[PlannedSets, ...]


@dataclass(frozen=True)
class WeekOfPlan:
    """A week as planned, from its Monday."""

    monday: date
    visits: tuple[PlannedVisit, ...]


@dataclass(frozen=True)
class Counting:
    """How sets count.

    Attributes:
        fraction: part of a hard set that each head gets from one set of a lift.
        share: counted sets of a muscle that one counted set of each of its heads is.
        main: the muscle a lift is there for, where that is known.
    """

    fraction: Mapping[LiftKey, Mapping[str, float]] = field(default_factory=dict)
    share: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    main: Mapping[LiftKey, str] = field(default_factory=dict)

    def heads(self, sets: Mapping[LiftKey, float]) -> dict[str, float]:
        """Counted sets of each head; lifts without fractions count for none."""
        out: dict[str, float] = defaultdict(float)
        for key, n in sets.items():
            for head, part in self.fraction.get(key, {}).items():
                out[head] += n * part
        return dict(out)

    def muscles(self, heads: Mapping[str, float]) -> dict[str, float]:
        """Counted sets of each muscle from those of its heads."""
        return {m: sum(s * heads.get(h, 0.0) for h, s in share.items()) for m, share in self.share.items()}

    def main_muscle(self, key: LiftKey) -> str:
        """The muscle a lift is there for; else the one that a set of it counts most for; empty where it has no fractions."""
        if key in self.main:
            return self.main[key]
        counted = self.muscles(self.heads({key: 1.0}))
        best = max(counted, key=lambda m: (counted[m], m), default="")
        return best if best and counted[best] > 0 else ""


@dataclass(frozen=True)
class SetsDone:
    """What was planned or done in a week: sets of lifts, counted sets of heads and muscles, visits, minutes."""

    PUBLIC: ClassVar = "visits minutes sets[lift range sets] heads=heads_met muscles=muscles_met"
    sets: Mapping[LiftKey, float]
    heads: Mapping[str, float]
    muscles: Mapping[str, float]
    visits: int
    minutes: float

    @property
    def heads_met(self) -> dict[str, float]:
        """Heads that got something."""
        return {h: n for h, n in self.heads.items() if n}

    @property
    def muscles_met(self) -> dict[str, float]:
        """Muscles that got something."""
        return {m: n for m, n in self.muscles.items() if n}


@dataclass(frozen=True)
class WeekVolume:
    """A week, done and planned; `planned` is nothing where no plan was kept.

    Attributes:
        unjudged_minutes: visits whose length was not written down.
    """

    PUBLIC: ClassVar = "monday done planned visits_without_minutes=unjudged_minutes"
    monday: date
    done: SetsDone
    planned: SetsDone | None
    unjudged_minutes: int = 0


@dataclass(frozen=True)
class Adherence:
    """Kept over some weeks with a plan: planned and done visits, sets and minutes, and each lift's planned and done sets."""

    PUBLIC: ClassVar = """
        weeks share visits[planned done] sets[planned done] minutes[planned done] skipped[lift
        range planned done]
    """
    weeks: int
    visits: tuple[int, int]
    sets: tuple[float, float]
    minutes: tuple[float, float]
    lifts: Mapping[LiftKey, tuple[float, float]]

    @property
    def share(self) -> float | None:
        """Done sets of the planned lifts over planned sets; extra sets do not make up for missed ones. Nothing without a plan."""
        return self.sets[1] / self.sets[0] if self.sets[0] else None

    @property
    def skipped(self) -> dict[LiftKey, tuple[float, float]]:
        """Lifts of which less than half was done."""
        return {key: (planned, done) for key, (planned, done) in self.lifts.items() if planned and done / planned < 0.5}


def is_hard(one: LoggedSet) -> bool:
    """Whether a set counts: no warm-up, some repetition done, close enough to failure as far as judged."""
    return not one.warm_up and one.repetitions > 0 and (one.reserve is None or one.reserve <= MOST_RESERVE)


def weekly(sessions: Iterable[Session], planned: Iterable[WeekOfPlan], counting: Counting) -> tuple[WeekVolume, ...]:
    """Every week from the first to the last that was planned or trained, empty ones included."""
    by_week: dict[date, list[Session]] = defaultdict(list)
    for session in sessions:
        by_week[monday_of(session.day)].append(session)
    plans = {p.monday: p for p in planned}
    everything = sorted({*by_week, *plans})
    if not everything:
        return ()
    n = (everything[-1] - everything[0]).days // 7 + 1
    mondays = [everything[0] + timedelta(weeks=i) for i in range(n)]
    return tuple(_week(m, by_week.get(m, []), plans.get(m), counting) for m in mondays)


def _week(monday: date, sessions: Sequence[Session], plan: WeekOfPlan | None, counting: Counting) -> WeekVolume:
    sets: dict[LiftKey, float] = defaultdict(float)
    for session in sessions:
        for one in session.sets:
            sets[one.lift, one.range] += is_hard(one)
    minutes = [s.minutes for s in sessions if s.minutes is not None]
    done = _counted({k: n for k, n in sets.items() if n}, len(sessions), sum(minutes), counting)
    return WeekVolume(monday, done, _planned(plan, counting) if plan else None, len(sessions) - len(minutes))


def _planned(plan: WeekOfPlan, counting: Counting) -> SetsDone:
    sets: dict[LiftKey, float] = defaultdict(float)
    for visit in plan.visits:
        for lift in visit.lifts:
            sets[lift.lift, lift.range] += lift.sets
    return _counted(dict(sets), len(plan.visits), sum(v.minutes for v in plan.visits), counting)


def _counted(sets: Mapping[LiftKey, float], visits: int, minutes: float, counting: Counting) -> SetsDone:
    heads = counting.heads(sets)
    return SetsDone(sets, heads, counting.muscles(heads), visits, minutes)


def adherence(weeks: Sequence[WeekVolume]) -> Adherence:
    """What was kept in those of the weeks that had a plan."""
    pairs = [(w.planned, w.done) for w in weeks if w.planned]
    lifts: dict[LiftKey, tuple[float, float]] = {}
    for plan, done in pairs:
        for key, n in plan.sets.items():
            before = lifts.get(key, (0.0, 0.0))
            lifts[key] = before[0] + n, before[1] + done.sets.get(key, 0.0)
    return Adherence(
        len(pairs),
        (sum(p.visits for p, _ in pairs), sum(d.visits for _, d in pairs)),
        (sum(p for p, _ in lifts.values()), sum(min(p, d) for p, d in lifts.values())),
        (sum(p.minutes for p, _ in pairs), sum(d.minutes for _, d in pairs)),
        lifts,
    )


def mean_muscle_sets(weeks: Sequence[WeekVolume]) -> dict[str, float]:
    """Counted sets a week of each muscle, mean over the weeks done."""
    names = {m for w in weeks for m in w.done.muscles}
    return {m: sum(w.done.muscles.get(m, 0.0) for w in weeks) / len(weeks) for m in sorted(names)}
