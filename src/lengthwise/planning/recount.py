"""A week that was changed by hand: put in order, its minutes and counted sets anew."""

from collections import Counter
from dataclasses import replace

from lengthwise.planning.assembly import counted_week, main_muscle, minutes_of
from lengthwise.planning.order import in_order
from lengthwise.planning.question import DayOffer, Question
from lengthwise.planning.week import PlannedDay, PlannedLift, Week

UNKNOWN_GAP = 1.0
"""Nobody looked for a better week, so nothing is claimed."""


def recounted(question: Question, lifts: dict[str, tuple[PlannedLift, ...]]) -> Week:
    """The week with these lifts on the question's days; every lift is one of its choices."""
    place = {c.key: i for i, c in enumerate(question.choices)}
    days = tuple(_day(question, offer, lifts.get(offer.day, ()), place) for offer in question.days)
    sets = {(place[x.lift, x.range], d): x.sets for d, day in enumerate(days) for x in day.lifts}
    return replace(counted_week(question, days, sets), gap=UNKNOWN_GAP)


def _day(question: Question, offer: DayOffer, lifts: tuple[PlannedLift, ...], place: dict[tuple[str, str], int]) -> PlannedDay:
    choices = {c.key: c for c in question.choices}
    pairs = Counter(x.pair for x in lifts if x.pair is not None)
    whole = [replace(x, pair=x.pair if x.pair is not None and pairs[x.pair] == 2 else None) for x in lifts]
    named = [replace(x, muscle=x.muscle or main_muscle(question, choices[x.lift, x.range])) for x in whole]
    members: dict[int, list[int]] = {}
    for x in named:
        if x.pair is not None:
            members.setdefault(x.pair, []).append(place[x.lift, x.range])
    sets = {place[x.lift, x.range]: x.sets for x in named}
    minutes = minutes_of(question, sets, [(a, b) for a, b in members.values()])
    return PlannedDay(offer.day, offer.place, minutes, in_order(named, choices, question))
