"""The last kept line of each lift, and what was done since."""

from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from lengthwise.actions.kept_weeks import LOOK_BACK
from lengthwise.actions.store import store
from lengthwise.planning.week import Week
from lengthwise.storage.client_rows import load_client
from lengthwise.storage.weeks import planned_weeks_between
from lengthwise.training.day_down import DownDays, LiftVisits, Visits, down_days, without_down
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.trail import KeptLine, Promise, Trail, line_of


def lines_until(client: int, day: date) -> dict[str, tuple[KeptLine, ...]]:
    """The lines that were kept last of each lift until a day, with their loads; what other equipment allows on a trip promises nothing."""
    with store().reading() as db:
        weeks = planned_weeks_between(db, client, day - LOOK_BACK, day)
        places = load_client(db, client).client.places if weeks else {}
    lines: dict[str, tuple[KeptLine, ...]] = {}
    for w in weeks:
        lines |= _lines(w.week, places, min(w.monday, w.made_at.date()))
    return lines


def _lines(week: Week, places: Collection[str], since: date) -> dict[str, tuple[KeptLine, ...]]:
    """The lines of each lift, heaviest first: one of a range, with its heaviest load and most sets; a heavy and a light day are two."""
    found: dict[str, dict[tuple[int, int], KeptLine]] = {}
    here = ((d.day, x) for d in week.days if d.place in places for x in d.lifts if x.range == "full" and not x.gentle)
    for day, x in here:
        if x.load_kg is not None:
            line = Promise(load_kg=x.load_kg, repetitions=x.repetitions, reserve=x.reserve, sets=x.sets)
            ranges = found.setdefault(x.lift, {})
            old = ranges.get(x.repetitions, KeptLine(line, since, x.guess))
            best = old if old.promise.load_kg >= line.load_kg else KeptLine(line, since, x.guess)
            most = replace(best.promise, sets=max(old.promise.sets, line.sets))
            ranges[x.repetitions] = replace(best, promise=most, on=old.on | {day})
    return {lift: tuple(sorted(lines.values(), key=lambda k: -k.promise.load_kg)) for lift, lines in found.items()}


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


def bad_days(sessions: Sequence[Session], lines: Mapping[str, Sequence[KeptLine]]) -> DownDays:
    """Days of the log on which most lifts fell short."""
    done = sorted({s.lift for session in sessions for s in session.sets})
    return down_days(LiftVisits(visits_of(sessions, lift), lines.get(lift, ())) for lift in done)


def trail_of(visits: Visits, lines: Sequence[KeptLine], down: Container[date]) -> Trail:
    """What a lift was promised, and its sets since by day, without a visit on a day that was bad as a whole; each line has its own visits."""
    if not lines:
        return _followed(None, visits, down)
    own = [(line, {day: sets for day, sets in visits.items() if line_of(lines, sets) is line}) for line in lines]
    first, *others = (_followed(line, theirs, down) for line, theirs in own)
    return replace(first, others=tuple(others))


def _followed(line: KeptLine | None, visits: Visits, down: Container[date]) -> Trail:
    """A line, where one was kept, with the visits that followed it."""
    good, last = without_down(visits, down), max(visits, default=None)
    since = [day for day in good if line is None or day >= line.since]
    earlier = [day for day in good if day not in since]
    return Trail(
        promise=line.promise if line else None,
        days=tuple(tuple(visits[day]) for day in since),
        before=tuple(visits[earlier[-1]]) if earlier else (),
        bad=tuple(visits[last]) if last and last not in good else (),
        on=line.on if line else frozenset(),
    )
