"""What is fixed by hand is put into the week before: its sets on its day, which gives up others for them; the rest stays (common practice, no source)."""

from dataclasses import replace

from lengthwise.planning.assembly import REPETITIONS, RESERVE
from lengthwise.planning.question import WEEKDAYS, WeekQuestion
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week

Key = tuple[str, str]


def with_fixed(question: WeekQuestion, week: Week) -> Week | None:
    """The week with the lines that are fixed; none where a lift or a day is not there. A lift that goes to another day leaves one on which it
    stood and is not fixed: with as many sets, then the nearest.
    """
    known, there = {c.key: c for c in question.choices}, {d.day for d in week.days}
    for (day, key), sets in question.pinned.items():
        if key not in known or day not in there:
            return None
        stood = {d.day: x.sets for d in week.days for x in d.lifts if (x.lift, x.range) == key}
        if day not in stood:
            free = {d: (n != sets, _apart(d, day)) for d, n in stood.items() if (d, key) not in question.pinned}
            leaves = min(free, key=free.__getitem__, default="")
            week = replace(week, days=tuple(_without(d, key) if d.day == leaves else d for d in week.days))
        week = replace(week, days=tuple(_with(d, known[key], sets) if d.day == day else d for d in week.days))
    return week


def _apart(one: str, other: str) -> int:
    """How many days lie between two weekdays, whichever comes first."""
    days = abs(WEEKDAYS.index(one) - WEEKDAYS.index(other))
    return min(days, len(WEEKDAYS) - days)


def _without(day: PlannedDay, key: Key) -> PlannedDay:
    return replace(day, lifts=tuple(x for x in day.lifts if (x.lift, x.range) != key))


def _with(day: PlannedDay, choice: Choice, sets: int) -> PlannedDay:
    """The day with so many sets of a lift, a new one last: `order.py` puts it where it belongs."""
    if any((x.lift, x.range) == choice.key for x in day.lifts):
        return replace(day, lifts=tuple(replace(x, sets=sets) if (x.lift, x.range) == choice.key else x for x in day.lifts))
    own = dict(lift=choice.lift, range=choice.range, name=choice.name, gear=choice.gear, method=choice.method, kept=choice.kept)
    return replace(day, lifts=(*day.lifts, PlannedLift(sets=sets, repetitions=REPETITIONS, reserve=RESERVE, **own)))  # type: ignore[arg-type]
