"""The last kept line of each lift, and what was done since."""

from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from datetime import date

from lengthwise.actions.kept_weeks import LOOK_BACK
from lengthwise.actions.store import store
from lengthwise.planning.week import Week
from lengthwise.storage.client_rows import load_client
from lengthwise.storage.weeks import planned_weeks_between
from lengthwise.training.day_down import DownDays, LiftVisits, Visits, down_days, without_down
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.trail import KeptLine, Promise, Trail


def lines_until(client: int, day: date) -> dict[str, KeptLine]:
    """The last line that was kept of each lift until a day, with its load; what other equipment allows on a trip promises nothing."""
    with store().reading() as db:
        weeks = planned_weeks_between(db, client, day - LOOK_BACK, day)
        places = load_client(db, client).client.places if weeks else {}
    lines: dict[str, KeptLine] = {}
    for w in weeks:
        lines |= _lines(w.week, places, min(w.monday, w.made_at.date()))
    return lines


def _lines(week: Week, places: Collection[str], since: date) -> dict[str, KeptLine]:
    """The line of each lift that has one load, or one range for several; a heavy and a light day are no single promise."""
    found: dict[str, list[KeptLine]] = {}
    for x in (x for d in week.days if d.place in places for x in d.lifts if x.range == "full" and not x.gentle):
        if x.load_kg is not None:
            line = Promise(load_kg=x.load_kg, repetitions=x.repetitions, reserve=x.reserve, sets=x.sets)
            found.setdefault(x.lift, []).append(KeptLine(line, since, x.guess))
    return {
        lift: max(lines, key=lambda k: k.promise.load_kg)
        for lift, lines in found.items()
        if len({k.promise.repetitions for k in lines}) == 1
    }


def visits_of(sessions: Iterable[Session], lift: str) -> Visits:
    """A lift's hard sets over its full range by day; a day that hurt, and all before it, count for nothing."""
    days: dict[date, list[LoggedSet]] = {}
    for session in sorted(sessions, key=lambda s: s.day):
        sets = [s for s in session.sets if s.lift == lift and s.range == "full" and not s.warm_up and s.repetitions >= 1]
        if any(s.pain for s in sets):
            days.clear()
        elif sets:
            days.setdefault(session.day, []).extend(sets)
    return days


def bad_days(sessions: Sequence[Session], lines: Mapping[str, KeptLine]) -> DownDays:
    """Days of the log on which most lifts fell short."""
    done = sorted({s.lift for session in sessions for s in session.sets})
    return down_days(LiftVisits(visits_of(sessions, lift), lines.get(lift)) for lift in done)


def trail_of(visits: Visits, line: KeptLine | None, down: Container[date]) -> Trail:
    """What a lift was promised, and its sets since by day, without a visit on a day that was bad as a whole."""
    days = without_down(visits, down)
    earlier = [tuple(visits[day]) for day in days if line is not None and day < line.since]
    since = tuple(tuple(visits[day]) for day in days if line is None or day >= line.since)
    return Trail(line.promise if line else None, since, earlier[-1] if earlier else ())
