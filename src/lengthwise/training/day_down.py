"""Days on which most lifts fell short together: the day is the cause, so that nothing gets lighter for it (common practice, no source)."""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from lengthwise.training.gear_loads import SAME_KG
from lengthwise.training.log import LoggedSet
from lengthwise.training.promise import NEARLY, fell_short
from lengthwise.training.trail import KeptLine, line_of

TELLING = 3
"""So many lifts known before are asked for on a day, and most of them below, before it is the day that was bad (own choice)."""
Visits = Mapping[date, Sequence[LoggedSet]]
DownDays = Mapping[date, tuple[int, int]]
"""Days that were bad as a whole, each with how many lifts fell short and of how many known before."""
LATELY = timedelta(days=14)
"""For so long a bad day is told and asked about (own choice)."""


@dataclass(frozen=True)
class LiftVisits:
    """A lift's hard sets without pain by day, oldest first, and the lines that were kept of it last."""

    days: Visits
    lines: Sequence[KeptLine] = ()


def down_days(lifts: Iterable[LiftVisits]) -> DownDays:
    """The days on which most of the lifts known before fell short."""
    said: dict[date, list[bool]] = {}
    for lift in lifts:
        before: Sequence[LoggedSet] = ()
        for day, sets in lift.days.items():
            if (short := _short(lift.lines, day, before, sets)) is not None:
                said.setdefault(day, []).append(short)
            before = sets
    return {
        day: (sum(votes), len(votes))
        for day, votes in sorted(said.items())
        if len(votes) >= TELLING and 2 * sum(votes) > len(votes)
    }


def last_down(down: DownDays, by: date) -> date | None:
    """The last of them, where it was lately."""
    return max((day for day in down if by - LATELY < day <= by), default=None)


def without_down(days: Iterable[date], down: Container[date]) -> list[date]:
    """A lift's days, in order, without one that was bad as a whole; two of them running count as what they are."""
    order = list(days)
    bad = [day in down for day in order]
    alone = [now and not before and not after for before, now, after in zip([False, *bad], bad, [*bad[1:], False], strict=False)]
    return [day for day, forgiven in zip(order, alone, strict=True) if not forgiven]


def _short(lines: Sequence[KeptLine], day: date, before: Sequence[LoggedSet], sets: Sequence[LoggedSet]) -> bool | None:
    """Whether a visit fell short of the line kept for it, else far below the visit before with no more load; None where neither says: a
    guess that was missed may have been the guess.
    """
    line = line_of(lines, sets) if lines else None
    if line is not None and not line.promise.guess and day >= line.since:
        return fell_short(line.promise, sets)
    if not before:
        return None
    most = max(s.load_kg for s in before)
    if max(s.load_kg for s in sets) > most + SAME_KG:
        return False
    held = max(_possible(s) for s in before if s.load_kg >= most - SAME_KG)
    return max(map(_possible, sets)) < NEARLY * held


def _possible(one: LoggedSet) -> float:
    return one.repetitions + (one.reserve or 0.0)
