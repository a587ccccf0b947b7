"""A week that was changed by hand: put in order, its minutes and counted sets anew; no set is lost."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from lengthwise.planning.assembly import counted_week
from lengthwise.planning.order import in_order
from lengthwise.planning.pairing import minutes_of, minutes_told, named_muscle
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.unhurried import with_rests
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.planning.week_model import old_sets

UNKNOWN_GAP = 1.0
"""Nobody looked for a better week, so nothing is claimed."""


def recounted(question: WeekQuestion, lifts: Mapping[str, tuple[PlannedLift, ...]], before: Week) -> Week:
    """The week with these lifts on the question's days; every lift is one of its choices.

    Args:
        before: the week that was changed; where no set differs, what was said of it still holds.
    """
    place = {c.key: i for i, c in enumerate(question.choices)}
    days = tuple(_day(question, offer, lifts.get(offer.day, ()), place) for offer in question.days)
    sets = {(place[x.lift, x.range], d): x.sets for d, day in enumerate(days) for x in day.lifts}
    week = replace(counted_week(question, days, sets), swaps=before.swaps, record=before.record)
    if old_sets(week) != old_sets(before):
        return replace(week, gap=UNKNOWN_GAP)
    notes = tuple(dict.fromkeys((*before.notes, *week.notes)))
    week = replace(week, usual=before.usual, changes=before.changes, notes=notes)
    return replace(week, value=before.value, gap=before.gap, conflicts=before.conflicts)


def _day(
    question: WeekQuestion, offer: DayOffer, lifts: tuple[PlannedLift, ...], place: Mapping[tuple[str, str], int]
) -> PlannedDay:
    choices = {c.key: c for c in question.choices}
    pairs = Counter(x.pair for x in lifts if x.pair is not None)
    whole = [replace(x, pair=x.pair if x.pair is not None and pairs[x.pair] == 2 else None) for x in lifts]
    named = [_named(question, x, place) for x in whole]
    members: dict[int, list[int]] = {}
    for x in named:
        if x.pair is not None:
            members.setdefault(x.pair, []).append(place[x.lift, x.range])
    sets = {place[x.lift, x.range]: x.sets for x in named}
    taken = [(a, b) for a, b in members.values()]
    timed = with_rests(question, {place[x.lift, x.range]: x.rest_s for x in named})
    minutes, spent = minutes_of(timed, sets, taken), minutes_told(timed, sets, taken)
    return PlannedDay(offer.day, offer.place, minutes, in_order(named, choices, question), spent)


def _named(question: WeekQuestion, lift: PlannedLift, place: Mapping[tuple[str, str], int]) -> PlannedLift:
    choice = question.choices[place[lift.lift, lift.range]]
    muscle, rest = lift.muscle or named_muscle(question, choice), lift.rest_s or choice.rest_s
    return replace(lift, muscle=muscle, rest_s=rest, method=choice.method)
