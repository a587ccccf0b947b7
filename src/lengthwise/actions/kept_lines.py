"""The last kept line of each lift, and what was done since."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from lengthwise.actions.kept_weeks import LOOK_BACK
from lengthwise.actions.store import store
from lengthwise.planning.week import Week
from lengthwise.storage.client_rows import load_client
from lengthwise.storage.weeks import planned_weeks_between
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.trail import Promise, Trail


@dataclass(frozen=True)
class KeptLine:
    """What a line of a kept week promises, and the first day on which it may have been followed."""

    promise: Promise
    since: date


def lines_until(client: int, day: date) -> dict[str, KeptLine]:
    """The last line that was kept of each lift until a day, with its load; what other equipment allows on a trip promises nothing."""
    with store().reading() as db:
        weeks = planned_weeks_between(db, client, day - LOOK_BACK, day)
        places = load_client(db, client).client.places if weeks else {}
    lines: dict[str, KeptLine] = {}
    for w in weeks:
        since = min(w.monday, w.made_at.date())
        lines |= {lift: KeptLine(promise, since) for lift, promise in _promises(w.week, places).items()}
    return lines


def _promises(week: Week, places: Collection[str]) -> dict[str, Promise]:
    """The line of each lift that has one load, or one range for several; a heavy and a light day are no single promise."""
    found: dict[str, list[Promise]] = {}
    for x in (x for d in week.days if d.place in places for x in d.lifts if x.range == "full" and not x.gentle):
        if x.load_kg is not None:
            found.setdefault(x.lift, []).append(
                Promise(load_kg=x.load_kg, repetitions=x.repetitions, reserve=x.reserve, sets=x.sets)
            )
    return {lift: max(lines, key=lambda p: p.load_kg) for lift, lines in found.items() if len({p.repetitions for p in lines}) == 1}


def trail_of(sessions: Iterable[Session], lift: str, line: KeptLine | None) -> Trail:
    """What a lift was promised, and its sets since by day; a day that hurt, and all before it, count for nothing."""
    days: dict[date, list[LoggedSet]] = {}
    for session in sorted(sessions, key=lambda s: s.day):
        sets = [s for s in session.sets if s.lift == lift and s.range == "full" and not s.warm_up and s.repetitions >= 1]
        if any(s.pain for s in sets):
            days.clear()
        elif sets:
            days.setdefault(session.day, []).extend(sets)
    earlier = [tuple(sets) for day, sets in days.items() if line is not None and day < line.since]
    since = tuple(tuple(sets) for day, sets in days.items() if line is None or day >= line.since)
    return Trail(line.promise if line else None, since, earlier[-1] if earlier else ())
