"""A session that goes to another weekday goes whole: the week before as it stands on the days of now (common practice, no source)."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.question import WEEKDAYS, DayOffer
from lengthwise.planning.week import PlannedDay, Week, WeekChange
from lengthwise.training.record_words import DayName

Moves = Mapping[DayName, DayName]
"""Weekdays of the week before, each with the one that its session goes to."""


def moves_of(previous: Week, days: Sequence[DayOffer]) -> Moves:
    """Weekdays that are no training days any more, each with the new one at the same place that takes its session, in the order of the week.

    None where more or fewer days came than went: the week is shared out anew over another number of days.
    """
    there, before = {d.day for d in days}, {d.day for d in previous.days}
    went, came = [d for d in previous.days if d.lifts and d.day not in there], [d for d in days if d.day not in before]
    out: dict[DayName, DayName] = {}
    for place in dict.fromkeys(d.place for d in went) if len(went) == len(came) else ():
        old, new = (sorted((d.day for d in some if d.place == place), key=WEEKDAYS.index) for some in (went, came))
        out |= dict(zip(old, new, strict=True)) if len(old) == len(new) else {}
    return out


def on_new_days(previous: Week, moves: Moves) -> Week:
    """The week before with its sessions on the days that they go to."""

    def moved(day: PlannedDay) -> PlannedDay:
        return replace(day, day=moves.get(day.day, day.day))

    return (
        replace(previous, days=tuple(sorted(map(moved, previous.days), key=lambda d: WEEKDAYS.index(d.day)))) if moves else previous
    )


def moves_told(moves: Moves) -> tuple[WeekChange, ...]:
    """What went where, in words."""
    return tuple(
        WeekChange(f"{a.capitalize()}'s lifts move to {b.capitalize()}", f"{a.capitalize()} is no training day any more")
        for a, b in moves.items()
    )
