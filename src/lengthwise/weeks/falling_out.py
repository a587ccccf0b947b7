"""What a week of now starts from: days of it that fall out or are over, and by which record and log it was planned."""

from collections.abc import Collection
from dataclasses import replace
from datetime import date, timedelta
from hashlib import sha256

from lengthwise.errors import InputError
from lengthwise.planning.missed_days import Missed
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import Week
from lengthwise.records.logged_week import on_days
from lengthwise.records.past import Past, chosen_by
from lengthwise.training.client import Client
from lengthwise.training.record_words import DayName

LATELY = timedelta(weeks=3)
"""Who has logged nothing for longer does not log (own choice)."""
PASSED = (
    "This day is over and nothing is logged on it. Log it if it was done; if it fell out, give it 0 minutes: "
    "its first lifts then go to the days that are left."
)


def falling_out(client: Client, days: tuple[Collection[DayName], Collection[DayName]], past: Past) -> Missed:
    """Days that fall out, each with the days that may take its lifts: those after it first, none that is done or over, or to stay as it was.

    Args:
        days: that fall out; that are to stay as they were.

    Raises:
        InputError: no day of the week is left.
    """
    missed, closed = days
    order = sorted((d.day for d in client.days), key=WEEKDAYS.index)
    if missed and {*missed} >= {*order}:
        raise InputError("every day is skipped; keep at least one, or plan no week", asked=order)
    gone = {*missed, *closed, *done_on(client, past)}
    left = [d for d in order if d not in gone and WEEKDAYS.index(d) >= past_days(past)]
    return {day: [*_after(left, day), *(d for d in left if d not in _after(left, day))] for day in order if day in missed}


def _after(days: Collection[DayName], day: DayName) -> list[DayName]:
    return [d for d in days if WEEKDAYS.index(d) > WEEKDAYS.index(day)]


def done_on(client: Client, past: Past) -> set[DayName]:
    """The days of the week that visits of it stand for."""
    return {day for day, _ in on_days(past.visits, client)}


def past_days(past: Past) -> int:
    """How many days of the week are over: none where it is not the week of today."""
    return date.today().weekday() if past.again and past.day == date.today() else 0


def settled(client: Client, week: Week, lift: str, past: Past) -> set[DayName]:
    """Days of the week of today that are done or over, and so stay as they are when a lift is swapped; none where it stands on no later day."""
    holds = {d.day for d in week.days for x in d.lifts if x.lift == lift}
    gone = done_on(client, past) | {d for d in holds if WEEKDAYS.index(d) < past_days(past)}
    return gone if past.again and holds - gone else set()


def left_by_swaps(client: Client, past: Past) -> frozenset[DayName]:
    """Days of the week of today that are done or over and hold a lift that was swapped since: they stay as they were, unless something hurts."""
    week, away = past.week, {s.lift for s in past.away if not s.joint}
    if week is None or not past.again or past.sore or past.hurt:
        return frozenset()
    gone = done_on(client, past) | {d.day for d in week.days if WEEKDAYS.index(d.day) < past_days(past)}
    return frozenset(d.day for d in week.days if d.day in gone and any(x.lift in away for x in d.lifts))


def with_passed(week: Week, client: Client, past: Past) -> Week:
    """The week with what is said of its days that are over and hold no visit, where the client logs."""
    logs = any(d >= date.today() - LATELY for d in past.trained)
    open_days = {d.day for d in week.days if d.lifts and WEEKDAYS.index(d.day) < past_days(past)} - done_on(client, past)
    return replace(week, done={**week.done, **dict.fromkeys(sorted(open_days), PASSED)}) if logs else week


def record_of(client: Client, past: Past) -> str:
    """A mark of what a week is chosen by: the record, and the log until the week began."""
    return sha256(chosen_by(past, past.today(client)).model_dump_json().encode()).hexdigest()[:12]
