"""Planned weeks as they are kept: the newest of each, and what a client is to do on a day."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from typing import Any

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.store import store
from lengthwise.days import monday_of
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import BodyWeight, Lift
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.storage.log_rows import last_done
from lengthwise.storage.weeks import PlannedWeek, last_planned_week, planned_week, planned_weeks_between, save_week
from lengthwise.training.client import Client
from lengthwise.training.defaults import rest_s
from lengthwise.training.log import LoggedSet
from lengthwise.training.prescription import loads_at

LOOK_BACK = timedelta(weeks=12)
"""An older plan is no longer offered."""
AHEAD, BEFORE = timedelta(weeks=8), timedelta(weeks=4)
MOST_LOADS = 160
JUST_NOW, LATELY = timedelta(weeks=2), timedelta(weeks=26)
"""How the last time went is looked for in the last weeks first, where it nearly always is."""
AFTERWARDS = " (after it was over)"
"""Beside a week that nobody could follow, since it was kept when it was over: it is held against no client."""
GONE = ": planned, but no longer in the library, so it is left out"


def week_of(client: int, day: date) -> PlannedWeek | None:
    """The newest version of the week that holds a day; nothing where none was planned."""
    with store().reading() as db:
        found = planned_week(db, client, day)
    return found and _of_lifts_there_are(found)


def week_of_today(client: int) -> Week | None:
    """The week that is kept for today; nothing for a client that is in no store (0), or where none was planned."""
    found = week_of(client, date.today()) if client else None
    return found.week if found else None


def latest_week(client: int, day: date) -> PlannedWeek | None:
    """The week of a day, else the last one planned before it."""
    with store().reading() as db:
        found = last_planned_week(db, client, day - LOOK_BACK, day)
    return found and _of_lifts_there_are(found)


def gone_lifts(week: Week) -> tuple[str, ...]:
    """What is told about lifts of a kept week that the library no longer has."""
    return tuple(note for note in week.notes if note.endswith(GONE))


def _of_lifts_there_are(planned: PlannedWeek) -> PlannedWeek:
    """A kept week without own lifts that were removed since; its notes name them."""
    week, known = planned.week, all_lifts().lifts
    gone = dict.fromkeys(x.name for d in week.days for x in d.lifts if x.lift not in known)
    if not gone:
        return planned
    days = tuple(replace(d, lifts=tuple(x for x in d.lifts if x.lift in known)) for d in week.days)
    return replace(planned, week=replace(week, days=days, notes=(*week.notes, *(f"{name}{GONE}" for name in gone))))


def weeks_around(client: int, day: date) -> tuple[PlannedWeek, ...]:
    """The weeks kept from some months before a day until some after it, in order."""
    with store().reading() as db:
        return planned_weeks_between(db, client, day - LOOK_BACK, day + AHEAD)


def weeks_before(client: int, day: date) -> tuple[PlannedWeek, ...]:
    """The weeks kept for the last weeks before that of a day, in order."""
    monday = monday_of(day)
    with store().reading() as db:
        found = planned_weeks_between(db, client, monday - BEFORE, monday - timedelta(days=1))
    return tuple(_of_lifts_there_are(w) for w in found)


def keep_week(client: int, day: date, week: Week, reason: str = "") -> int:
    """Keep a week in place of the one planned before, whose older versions stay; gives its number.

    Raises:
        InputError: it holds no lift, or begins more than eight weeks ahead.
    """
    if not any(d.lifts for d in week.days):
        raise InputError("the week has no lifts, so there is nothing to save")
    if monday_of(day) > date.today() + AHEAD:
        raise InputError(f"{day} is too far ahead; allowed until {date.today() + AHEAD}", asked=str(day))
    with store().writing() as db:
        return save_week(db, client, day, week, reason + _if_over(db, client, day, week))


def _if_over(db: Any, client: int, day: date, week: Week) -> str:
    """What is noted beside a week that is first kept when its last day of training is over: nobody could follow it."""
    last = max(WEEKDAYS.index(d.day) for d in week.days if d.lifts)
    over = date.today() > monday_of(day) + timedelta(days=last)
    return AFTERWARDS if over and planned_week(db, client, day) is None else ""


Done = dict[tuple[str, str], tuple[date, list[LoggedSet]]]


@dataclass(frozen=True, kw_only=True)
class Due:
    """A planned lift as it is needed between sets.

    Attributes:
        loads_kg: what exists there, rising; empty where the load cannot be read. step_kg: the usual step.
        hung: whether the load is what is hung on the body. last: how it went the time before, newest day, in order.
        method: the way to save time in which its sets are done; empty for usual ones.
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


@dataclass(frozen=True)
class DueDay:
    """A day of the plan with its lifts in order."""

    day: str
    place: str
    minutes: float
    lifts: tuple[Due, ...]


MOST_KNOWN = 500
"""Of so many clients the days made last are kept: they are asked for with every page of the log and seldom change in between."""
_latest: dict[int, tuple[tuple[Client, Week, Mapping[str, Lift], Done], tuple[DueDay, ...]]] = {}


def due_days(number: int, client: Client, today: date) -> tuple[PlannedWeek | None, tuple[DueDay, ...]]:
    """The days of the latest plan with everything that is needed to log them, and that plan; none where there is no plan."""
    with store().reading() as db:
        found = last_planned_week(db, number, today - LOOK_BACK, today)
        if found is None:
            return None, ()
        planned = _of_lifts_there_are(found)
        last = _last_time(db, number, planned.week, today)
    rests_on = (client, planned.week, all_lifts().lifts, last)
    known = _latest.get(number)
    if known is None or known[0] != rests_on:
        if len(_latest) >= MOST_KNOWN:
            _latest.clear()
        known = _latest[number] = (rests_on, _days(*rests_on))
    return planned, known[1]


def _last_time(db: Any, number: int, week: Week, today: date) -> Done:
    """How the lifts of a week went the last time before a day."""
    wanted, yesterday = {(x.lift, x.range) for d in week.days for x in d.lifts}, today - timedelta(days=1)
    last = last_done(db, number, {lift for lift, _ in wanted}, today - JUST_NOW, yesterday)
    longer_ago = {key[0] for key in wanted if key not in last}
    return {**last_done(db, number, longer_ago, today - LATELY, yesterday), **last} if longer_ago else last


def _days(client: Client, week: Week, lifts: Mapping[str, Lift], last: Done) -> tuple[DueDay, ...]:
    stepped = cache(lambda place, kind: _loads(client, place, kind))
    return tuple(
        DueDay(
            d.day,
            d.place,
            d.minutes,
            tuple(_due(client, lifts[x.lift], x, stepped(d.place, lifts[x.lift].gear), last) for x in d.lifts),
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
