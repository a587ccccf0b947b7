"""The last kept line of each lift, and what was done since."""

import re
from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import Week
from lengthwise.records.kept_weeks import LOOK_BACK
from lengthwise.records.store import store
from lengthwise.storage.client_rows import load_client
from lengthwise.storage.weeks import planned_weeks_between
from lengthwise.training.day_down import DownDays, LiftVisits, Visits, down_days, without_down
from lengthwise.training.known import LATELY
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.one_rm import factor
from lengthwise.training.trail import KeptLine, Promise, Trail, line_of

APART = 0.05
"""Two days of one lift whose loads differ by this part of the heavier are a heavy and a light day (common practice, no source)."""
RECENT = timedelta(weeks=4)
"""Of so many weeks of the log the visits of a heavy and a light day are told apart by their load (own choice)."""


def lines_until(client: int, day: date) -> dict[str, tuple[KeptLine, ...]]:
    """The lines that were kept last of each lift until a day, with their loads; what other equipment allows on a trip promises nothing."""
    with store().reading() as db:
        weeks = planned_weeks_between(db, client, day - LOOK_BACK, day)
        places = load_client(db, client).client.places if weeks else {}
    lines: dict[str, tuple[KeptLine, ...]] = {}
    for w in weeks:
        lines |= _lines(w.week, places, min(w.monday, w.made_at.date()))
    return lines


def easy_until(client: int, day: date) -> dict[str, date]:
    """Lifts that the last kept week which holds them, until a day, had in easy sets, each with the first day on which it may have been followed."""
    with store().reading() as db:
        weeks = planned_weeks_between(db, client, day - LOOK_BACK, day)
    found: dict[str, tuple[date, bool]] = {}
    for w in weeks:
        planned = [x for d in w.week.days for x in d.lifts]
        found |= {x.lift: (min(w.monday, w.made_at.date()), all(o.gentle for o in planned if o.lift == x.lift)) for x in planned}
    return {lift: since for lift, (since, easy) in found.items() if easy}


def _lines(week: Week, places: Collection[str], since: date) -> dict[str, tuple[KeptLine, ...]]:
    """The lines of each lift, heaviest first: one of a range, with its heaviest load and most sets; a heavy and a light day are two."""
    found: dict[str, dict[tuple[int, int], KeptLine]] = {}
    here = ((d.day, x) for d in week.days if d.place in places for x in d.lifts if x.range == "full" and not x.gentle)
    for day, x in here:
        if x.load_kg is not None:
            line = Promise(load_kg=x.load_kg, repetitions=x.repetitions, reserve=x.reserve, sets=x.sets, guess=x.guess)
            ranges = found.setdefault(x.lift, {})
            old = ranges.get(x.repetitions, KeptLine(line, since))
            best = old if old.promise.load_kg >= line.load_kg else KeptLine(line, since)
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
    """What a lift was promised, and its sets since by day, without a visit on a day that was bad as a whole; each line has its own visits.

    A heavy and a light day that stand in no kept week are two lines as well, which promise nothing but how they were done.
    """
    if not lines:
        lately = {day: sets for day, sets in visits.items() if max(visits) - day < RECENT}
        kinds = _heavy_and_light(lately)
        return _unpromised(_by_line(lately, kinds, down)) if kinds else _followed(None, visits, down)
    return _by_line(visits, lines, down)


def _unpromised(trail: Trail) -> Trail:
    return replace(trail, promise=None, others=tuple(_unpromised(t) for t in trail.others))


def _by_line(visits: Visits, lines: Sequence[KeptLine], down: Container[date]) -> Trail:
    own = [(line, {day: sets for day, sets in visits.items() if line_of(lines, sets) is line}) for line in lines]
    first, *others = (_followed(line, theirs, down) for line, theirs in own)
    return replace(first, others=tuple(others))


def _heavy_and_light(visits: Visits) -> tuple[KeptLine, ...]:
    """A line for the heavy and one for the light day of the two weeks that end with the last visit; none where their days are alike, or where the
    load rose, or fell once for good: a light day has a heavy one before and after, or nothing else was done.
    """
    best = {day: max(sets, key=lambda s: s.load_kg * factor(s.repetitions + (s.reserve or 0))) for day, sets in visits.items()}
    week = sorted((day for day in best if max(best) - day < 2 * LATELY), key=lambda day: best[day].load_kg)
    if not week:
        return ()
    light, heavy = best[week[0]], best[week[-1]]
    if heavy.load_kg - light.load_kg < APART * heavy.load_kg or light.repetitions <= heavy.repetitions:
        return ()
    ends = [Promise(load_kg=s.load_kg, repetitions=(s.repetitions, s.repetitions), reserve=0.0) for s in (heavy, light)]
    lines = [KeptLine(promise, date.min) for promise in ends]
    is_light = {day: line_of(lines, visits[day]) is lines[1] for day in sorted(visits)}
    order = "".join("HL"[own] for own in is_light.values())
    if not (order == "HL" or re.search("HL+H", order)):
        return ()
    kind = {WEEKDAYS[day.weekday()]: is_light[day] for day in sorted(week)}
    return tuple(replace(line, on=frozenset(d for d, own in kind.items() if own is (line is lines[1]))) for line in lines)


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
