"""The week that a log holds where none was planned: who has trained for weeks begins with what was done last, not with an empty page."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta

from lengthwise.days import monday_of
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.training.client import Client, TrainingDay
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.record_words import DayName

WEEKS = 2
"""From so many weeks of the log on the last one counts as the usual week; a single one may be a trial (own choice)."""
RECENT = timedelta(weeks=4)
"""Older weeks say little about what the client does now (own choice)."""
LEAST_SETS = 2
"""A lift of fewer sets was tried, not trained (own choice)."""
NOT_PROVEN = 1.0


def logged_sessions(sessions: Sequence[Session], today: date) -> tuple[Session, ...]:
    """The visits of the last whole week of a log with as many visits as most of the last weeks had; none where there are too few weeks.

    The week of the day itself is left out until it is over, so that one more visit changes nothing.
    """
    weeks: dict[date, list[Session]] = defaultdict(list)
    for s in sessions:
        if any(not x.warm_up for x in s.sets) and today - RECENT <= s.day < monday_of(today):
            weeks[monday_of(s.day)].append(s)
    if len(weeks) < WEEKS:
        return ()
    usual = sorted(len(w) for w in weeks.values())[len(weeks) // 2]
    return tuple(sorted(weeks[max(m for m, w in weeks.items() if len(w) >= usual)], key=lambda s: s.day))


def logged_week(sessions: Sequence[Session], client: Client) -> Week | None:
    """Those visits as a week on the client's days; nothing where there are none, or none of their lifts is known."""
    lifts: dict[DayName, tuple[PlannedLift, ...]] = {}
    for day, session in on_days(sessions, client):
        lifts[day] = (*lifts.get(day, ()), *_lifts(session))
    if not any(lifts.values()):
        return None
    days = tuple(PlannedDay(d.day, d.place, d.minutes, lifts.get(d.day, ())) for d in client.days)
    return Week(days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=NOT_PROVEN)


def on_days(sessions: Sequence[Session], client: Client) -> list[tuple[DayName, Session]]:
    """Each visit with the client's day it stands for: its own weekday, else the nearest day that no visit stands for."""
    free: list[TrainingDay] = sorted(client.days, key=lambda d: WEEKDAYS.index(d.day))
    out = []
    for s in sorted(sessions, key=lambda s: (WEEKDAYS[s.day.weekday()] not in {d.day for d in client.days}, s.day)):
        if free:
            near = min(free, key=lambda d: abs(WEEKDAYS.index(d.day) - s.day.weekday()))
            free.remove(near)
            out.append((near.day, s))
    return out


def _lifts(session: Session) -> tuple[PlannedLift, ...]:
    """The lifts of a visit in the order in which they were done; those with too few sets are left out."""
    known, done = all_lifts().lifts, defaultdict[str, list[LoggedSet]](list)
    for s in session.sets:
        if not s.warm_up and s.range == "full" and s.lift in known:
            done[s.lift].append(s)
    return tuple(_planned(i, sets) for i, sets in done.items() if len(sets) >= LEAST_SETS)


def _planned(lift_id: str, sets: Sequence[LoggedSet]) -> PlannedLift:
    repetitions = [s.repetitions for s in sets]
    lift = all_lifts().lifts[lift_id]
    return PlannedLift(
        lift=lift_id, range="full", name=lift.name, sets=len(sets), repetitions=(min(repetitions), max(repetitions)),
        reserve=float(min((s.reserve for s in sets if s.reserve is not None), default=2)), gear=lift.gear,
    )  # fmt: skip
