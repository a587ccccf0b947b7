"""Planned weeks as they are kept: the newest of each, and what a client is to do on a day."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from lengthwise.days import monday_of
from lengthwise.errors import InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import Week
from lengthwise.records.store import store
from lengthwise.storage.weeks import PlannedWeek, last_planned_week, planned_week, planned_weeks_between, save_week

LOOK_BACK = timedelta(weeks=12)
"""An older plan is no longer offered."""
AHEAD, BEFORE = timedelta(weeks=8), timedelta(weeks=4)
AFTERWARDS = " (after it was over)"
"""Beside a week that nobody could follow, since it was kept when it was over: it is held against no client."""
GONE = ": planned, but no longer in the library, so it is left out"


def week_of(client: int, day: date) -> PlannedWeek | None:
    """The newest version of the week that holds a day; nothing where none was planned."""
    with store().reading() as db:
        found = planned_week(db, client, day)
    return found and of_lifts_there_are(found)


def week_of_today(client: int) -> Week | None:
    """The week that is kept for today; nothing for a client that is in no store (0), or where none was planned."""
    found = week_of(client, date.today()) if client else None
    return found.week if found else None


def latest_week(client: int, day: date) -> PlannedWeek | None:
    """The week of a day, else the last one planned before it."""
    with store().reading() as db:
        found = last_planned_week(db, client, day - LOOK_BACK, day)
    return found and of_lifts_there_are(found)


def gone_lifts(week: Week) -> tuple[str, ...]:
    """What is told about lifts of a kept week that the library no longer has."""
    return tuple(note for note in week.notes if note.endswith(GONE))


def of_lifts_there_are(planned: PlannedWeek) -> PlannedWeek:
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
    return tuple(of_lifts_there_are(w) for w in found)


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
        return save_week(db, client, day, replace(week, done={}), reason + _if_over(db, client, day, week))


def _if_over(db: Any, client: int, day: date, week: Week) -> str:
    """What is noted beside a week that is first kept when its last day of training is over: nobody could follow it."""
    last = max(WEEKDAYS.index(d.day) for d in week.days if d.lifts)
    over = date.today() > monday_of(day) + timedelta(days=last)
    return AFTERWARDS if over and planned_week(db, client, day) is None else ""
