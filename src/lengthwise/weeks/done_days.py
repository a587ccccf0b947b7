"""Days of a week that are done: what was done on them stands beside the loads of the next time."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.quantities import day as in_words
from lengthwise.quantities import load
from lengthwise.records.logged_week import on_days
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session

DONE = "Done on {}: {}."
NEXT, REST = "What follows is for next week.", "What follows about the others is for next week."
STILL, NOT_DONE = "Still to do today: {}.", "Not logged: {}."


def with_done(week: Week, visits: Sequence[Session], client: Client) -> Week:
    """The week with what was done on its days so far.

    Args:
        visits: of the week itself.
    """
    planned = {d.day: d.lifts for d in week.days}
    found = on_days(visits, client)
    return replace(week, done={day: _day_told(s, planned.get(day, ()), told) for day, s in found if (told := _told(s, client))})


def _day_told(session: Session, planned: Sequence[PlannedLift], told: str) -> str:
    """A visit with the lifts of its day that are not done; what stands there of the others is for the next time."""
    did = {s.lift for s in session.sets if not s.warm_up}
    left = ", ".join(x.name for x in planned if x.lift not in did)
    done, today = DONE.format(in_words(session.day), told), session.day == date.today()
    if not left or not any(x.lift in did for x in planned):
        return f"{done} {NEXT}"
    return f"{done} {(STILL if today else NOT_DONE).format(left)} {REST if today else NEXT}"


def _told(session: Session, client: Client) -> str:
    """The sets of a visit, lift by lift: Back squat 100 kg × 8, 8, 7."""
    sets: dict[str, list[LoggedSet]] = {}
    for s in session.sets:
        if not s.warm_up and s.lift in all_lifts().lifts:
            sets.setdefault(s.lift, []).append(s)
    return "; ".join(f"{all_lifts().lifts[i].name} {_sets(own, i, client)}" for i, own in sets.items())


def _sets(sets: Sequence[LoggedSet], lift_id: str, client: Client) -> str:
    gear = all_lifts().lifts[lift_id].gear
    runs = [(kg, ", ".join(str(s.repetitions) for s in own)) for kg, own in groupby(sets, key=lambda s: s.load_kg)]
    return " and ".join(f"{load(kg, gear, client.mass_unit)} × {n}" for kg, n in runs)
