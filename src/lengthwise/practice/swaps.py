"""What kept weeks remember of lifts that were swapped: which stay away and until when, and the pain for whose sake one went."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedDay, Swapped, Week
from lengthwise.quantities import day as in_words
from lengthwise.storage.weeks import PlannedWeek
from lengthwise.training.log import LoggedSet, Session

A_WEEK = timedelta(weeks=1)


def remembered(weeks: Iterable[PlannedWeek]) -> tuple[Swapped, ...]:
    """The swaps of kept weeks by the day they were told; one whose old lift was taken again since is taken back, with its pain."""
    known = all_lifts().lifts
    found = sorted(dict.fromkeys(s for w in weeks for s in w.week.swaps if {s.lift, s.to} <= known.keys()), key=lambda s: s.told)
    return tuple(s for k, s in enumerate(found) if all(later.to != s.lift for later in found[k + 1 :]))


def told_pain(swaps: Iterable[Swapped], first: date, last: date) -> tuple[Session, ...]:
    """Pain for whose sake a lift was swapped, as if it had been logged on the day it was told, in one set as planned."""
    return tuple(
        Session(day=s.told, sets=(LoggedSet(lift=s.lift, load_kg=s.load_kg, repetitions=s.repetitions, pain=(s.joint,)),))
        for s in swaps
        if s.joint and first <= s.told <= last
    )


def in_force(swaps: Iterable[Swapped], monday: date, sessions: Sequence[Session]) -> tuple[Swapped, ...]:
    """The swaps that hold in the week of a Monday: who did the old lift since then has taken it back."""
    done = [(one.lift, s.day) for s in sessions for one in s.sets if not one.warm_up]
    return tuple(
        s
        for s in swaps
        if s.first <= monday < s.until and all(lift != s.lift or day < s.first or day <= s.told for lift, day in done)
    )


def as_swapped(week: Week, swaps: Iterable[Swapped]) -> Week:
    """A week that was done, with each new lift in the place of the old one: its sets are what the next week grows from."""
    new = {s.lift: s.to for s in swaps}

    def now(day: PlannedDay) -> PlannedDay:
        return replace(day, lifts=tuple(replace(x, lift=new[x.lift], range="full") if x.lift in new else x for x in day.lifts))

    return replace(week, days=tuple(map(now, week.days)))


def away_told(swap: Swapped) -> str:
    """Why a lift that was swapped stands in no week for now."""
    how_long = "this week" if swap.until - swap.first <= A_WEEK else f"until {in_words(swap.until)}"
    return f"it was swapped for {all_lifts().lifts[swap.to].name} on {in_words(swap.told)} and stays out {how_long}"
