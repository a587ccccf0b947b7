"""Lifts of which the plan itself lowered the load, though nothing had fallen short: after pain, a lay-off, or for another range."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from lengthwise.quantities import BAND
from lengthwise.records.store import store
from lengthwise.storage.weeks import planned_weeks_between
from lengthwise.training.gear_loads import SAME_KG
from lengthwise.training.log import LoggedSet, Session

LOOK_BACK = timedelta(weeks=8)
"""What was lowered before still shows in the weeks of which a stall is told (as `stall_weeks` in review_rules.toml)."""


@dataclass(frozen=True)
class PlannedLoad:
    """A lift in a kept week: the first day on which it may have been followed, its heaviest load [kg], least repetitions, what was to be left, and
    most repetitions.
    """

    since: date
    load_kg: float
    least: int
    reserve: float
    most: int = 0

    def is_lighter(self, before: "PlannedLoad") -> bool:
        """Whether it asks for less than a week before did: less load, or more left with the same."""
        if abs(self.load_kg - before.load_kg) <= SAME_KG:
            return self.reserve > before.reserve
        return self.load_kg < before.load_kg

    def is_met(self, sets: Sequence[LoggedSet]) -> bool:
        """Whether a visit did what was asked: its load for the least repetitions in some set."""
        return any(s.load_kg >= self.load_kg - SAME_KG and s.repetitions >= self.least for s in sets)


def planned_loads(client: int, day: date, back: timedelta = LOOK_BACK) -> dict[str, tuple[PlannedLoad, ...]]:
    """The loads of each lift in the weeks that were kept for the last weeks, by week; of a band 0."""
    with store().reading() as db:
        weeks = planned_weeks_between(db, client, day - back, day)
    found: dict[str, list[PlannedLoad]] = {}
    for w in sorted(weeks, key=lambda w: w.monday):
        loads: dict[str, PlannedLoad] = {}
        for x in (x for d in w.week.days for x in d.lifts if (x.load_kg is not None or x.gear == BAND) and x.range == "full"):
            one = PlannedLoad(min(w.monday, w.made_at.date()), x.load_kg or 0.0, x.repetitions[0], x.reserve, x.repetitions[1])
            loads[x.lift] = max(loads.get(x.lift, one), one, key=lambda p: p.load_kg)
        for lift, one in loads.items():
            found.setdefault(lift, []).append(one)
    return {lift: tuple(ones) for lift, ones in found.items()}


def lowered_by_plan(sessions: Iterable[Session], planned: Mapping[str, Sequence[PlannedLoad]]) -> frozenset[str]:
    """Lifts that a kept week asked less of than one before it, where the visit before did not fall short, or hurt, and all since did what was asked."""
    visits: dict[str, dict[date, list[LoggedSet]]] = {}
    for session in sessions:
        for one in (s for s in session.sets if not s.warm_up and s.range == "full"):
            visits.setdefault(one.lift, {}).setdefault(session.day, []).append(one)
    return frozenset(lift for lift, ones in planned.items() if _is_lowered(visits.get(lift, {}), ones))


def _is_lowered(visits: Mapping[date, Sequence[LoggedSet]], planned: Sequence[PlannedLoad]) -> bool:
    """Whether a load was last lowered by the plan alone."""
    lower = [(before, now) for before, now in pairwise(planned) if now.is_lighter(before)]
    if not lower:
        return False
    before, now = lower[-1]
    last = max((day for day in visits if before.since <= day < now.since), default=None)
    fell_short = last is not None and not before.is_met(visits[last]) and not any(s.pain for s in visits[last])
    since = [(day, sets) for day, sets in visits.items() if day >= now.since]
    follows = {day: next(p for p in reversed(planned) if p.since <= day) for day, _ in since}
    return not fell_short and all(follows[day].is_met(sets) for day, sets in since)
