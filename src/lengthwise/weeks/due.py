"""What a client is to do on a day: the lifts of the latest plan as they stand today, with how they went the last time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from typing import Any

from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import BodyWeight, Lift
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.practice.logged_pain import waiting_told
from lengthwise.records.kept_weeks import LOOK_BACK, of_lifts_there_are
from lengthwise.records.past import past_of_number
from lengthwise.records.store import store
from lengthwise.storage.log_rows import last_done
from lengthwise.storage.weeks import LogState, PlannedWeek, last_week_and_log
from lengthwise.training.client import Client
from lengthwise.training.defaults import rest_s
from lengthwise.training.log import LoggedSet
from lengthwise.training.prescription import loads_at
from lengthwise.weeks.standing import as_it_stands
from lengthwise.weeks.week_edit import where_it_is

MOST_LOADS = 160
JUST_NOW, LATELY = timedelta(weeks=2), timedelta(weeks=26)
"""How the last time went is looked for in the last weeks first, where it nearly always is."""
Done = dict[tuple[str, str], tuple[date, list[LoggedSet]]]


@dataclass(frozen=True, kw_only=True)
class Due:
    """A planned lift as it is needed between sets.

    Attributes:
        loads_kg: what exists there, rising; empty where the load cannot be read. step_kg: the usual step.
        hung: whether the load is what is hung on the body. last: how it went the time before, newest day, in order.
        method: the way to save time in which its sets are done; empty for usual ones. waits: that it rests since it hurt, and
            until when; empty where it does not.
    """

    lift: str
    name: str
    range: str
    sets: int
    repetitions: tuple[int, int]
    reserve: float
    load_kg: float | None
    guess: bool
    rest_s: float
    gear: str
    step_kg: float
    loads_kg: tuple[float, ...]
    hung: bool
    last: tuple[LoggedSet, ...]
    last_day: date | None
    method: str = ""
    waits: str = ""


@dataclass(frozen=True)
class DueDay:
    """A day of the plan with its lifts in order."""

    day: str
    place: str
    minutes: float
    lifts: tuple[Due, ...]


MOST_KNOWN = 500
"""Of so many clients the days made last are kept: they are asked for with every page of the log and seldom change in between."""
_latest: dict[int, tuple[tuple[Client, Week, Mapping[str, Lift], Done, LogState, date], tuple[DueDay, ...]]] = {}


def due_days(number: int, client: Client, today: date) -> tuple[PlannedWeek | None, tuple[DueDay, ...]]:
    """The days of the latest plan with everything that is needed to log them, and that plan; none where there is no plan."""
    yesterday = today - timedelta(days=1)
    with store().reading() as db:
        found = last_week_and_log(db, number, yesterday - LOOK_BACK, today, yesterday)
        if found is None:
            return None, ()
        planned, log = of_lifts_there_are(found[0]), found[1]
        last = _last_time(db, number, planned.week, today)
    rests_on = (client, planned.week, all_lifts().lifts, last, log, today)
    known = _latest.get(number)
    if known is None or known[0] != rests_on:
        if len(_latest) >= MOST_KNOWN:
            _latest.clear()
        there = where_it_is(client, planned.week)
        past = past_of_number(number, yesterday)
        stands, knows = as_it_stands(there, planned.week, past), past.of(client)
        waits = {x.lift: " ".join(waiting_told(knows, x.lift, today)) for d in stands.days for x in d.lifts}
        known = _latest[number] = (rests_on, _days(client, stands, all_lifts().lifts, last, waits))
    return planned, known[1]


def _last_time(db: Any, number: int, week: Week, today: date) -> Done:
    """How the lifts of a week went the last time before a day."""
    wanted, yesterday = {(x.lift, x.range) for d in week.days for x in d.lifts}, today - timedelta(days=1)
    last = last_done(db, number, {lift for lift, _ in wanted}, today - JUST_NOW, yesterday)
    longer_ago = {key[0] for key in wanted if key not in last}
    return {**last_done(db, number, longer_ago, today - LATELY, yesterday), **last} if longer_ago else last


def _days(client: Client, week: Week, lifts: Mapping[str, Lift], last: Done, waits: Mapping[str, str]) -> tuple[DueDay, ...]:
    stepped = cache(lambda place, kind: _loads(client, place, kind))
    return tuple(
        DueDay(
            d.day,
            d.place,
            d.minutes,
            tuple(
                replace(_due(client, lifts[x.lift], x, stepped(d.place, lifts[x.lift].gear), last), waits=waits[x.lift])
                for x in d.lifts
            ),
        )
        for d in week.days
    )


def _due(client: Client, lift: Lift, planned: PlannedLift, loads_kg: tuple[float, ...], last: Done) -> Due:
    day, done = last.get((planned.lift, planned.range), (None, []))
    load = planned.load_kg if planned.load_kg is not None else max((s.load_kg for s in done), default=None)
    return Due(
        lift=planned.lift,
        name=planned.name,
        range=planned.range,
        sets=planned.sets,
        repetitions=planned.repetitions,
        reserve=planned.reserve,
        load_kg=load,
        guess=planned.load_kg is not None and planned.guess,
        rest_s=planned.rest_s or rest_s(client, planned.repetitions),
        gear=lift.gear,
        step_kg=gear()[lift.gear].step_kg,
        loads_kg=loads_kg,
        hung=isinstance(lift.resistance, BodyWeight),
        last=tuple(done),
        last_day=day,
        method=planned.method,
    )


def _loads(client: Client, place: str, kind: str) -> tuple[float, ...]:
    """The loads to step through; none where there are too many to matter, so that the usual step is taken."""
    there = place if place in client.places and kind in client.places[place].gear else None
    found: Sequence[float] = loads_at(client, there, kind).exist
    return tuple(found) if len(found) <= MOST_LOADS else ()
