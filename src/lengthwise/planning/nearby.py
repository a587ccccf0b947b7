"""A change of a kept week: what cannot stay is planned anew, then the lifts of the week before move between it and each other day, then each day
is asked anew with the others held.

What no such week exceeds is told of single days alone: none can be made better by more while the others stay. Of all weeks it says nothing, as
a change is asked to leave most as it was.
"""

from collections.abc import Collection
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.highs import Solved, Work, maximise
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.search import FINE, UNUSED, whole_columns
from lengthwise.planning.steps import missing
from lengthwise.planning.week_model import Model
from lengthwise.planning.week_rows import moved_by_hand

Vector = NDArray[np.float64]
STANDS = 0.7
"""Part of the lifts of the week before that can stay where they were, below which a week is planned anew (own choice)."""
FEW_PLACES = 40
"""So few places of a lift on a day are searched as a whole (own choice)."""
DAY_NODES = 20
"""Nodes with which a day is asked anew (own choice)."""
MISSING = 2
"""So many muscles that the week before left out are no small change: day by day they would take each other's room (own choice)."""
STAYS = 5.0
"""What it is worth that a set stays where one of a lift that is there for another can go instead (own choice)."""
A_ROUND = 1e-3
"""What a round in turn is worth where it is to be as many as can be and nothing else hangs on it: next to nothing."""
SPARE_MIN = 1e-3
"""Minutes by which a day may be late: rounding."""


def stays_near(model: Model) -> bool:
    """Whether a week is asked for that stays near to one before, most of which can stand, and that trained all of the body."""
    if len(missing(model.question)) >= MISSING:
        return False
    there = {(model.question.days[d].day, model.question.choices[i].key) for i, d in model.slots}
    standing = sum(place in there for place in model.old)
    return bool(model.old) and len(model.slots) > FEW_PLACES and standing >= STANDS * len(model.old)


def kept_nearby(model: Model, programme: Programme, work: Work, start: Vector) -> Solved:
    """The week before as it is; where a bound forbids that, what is left of it once the sets that cost least are taken out, those first of what took
    the place of another lift.

    Minutes are no bound here: the real ones are to be asked. Rounds in turn are as many as the lifts can make.

    Args:
        start: the week before.
    """
    rounds = {k: A_ROUND for name, k in programme.place.items() if isinstance(name, tuple) and name[0] == "rounds"}
    open_end = programme.without("minutes").paying(rounds)
    known = _known(start)
    found = maximise(open_end.fixing(known), work)
    paid = rounds
    if not found.found:
        firm = {model.sets(i, d): STAYS for i, d in model.slots if model.question.choices[i].key not in model.question.in_place_of}
        paid = rounds | firm
        found = maximise(open_end.paying(firm).capping(known), work)
    return replace(found, worth=found.worth - sum(n * found.point[k] for k, n in paid.items())) if found.found else found


def stands_whole(programme: Programme, work: Work, start: Vector) -> bool:
    """Whether the week before keeps every bound, minutes apart."""
    return maximise(programme.without("minutes").fixing(_known(start)), work).found


def _known(start: Vector) -> dict[int, float]:
    return {k: float(n) for k, n in enumerate(start) if not np.isnan(n)}


def begun_nearby(model: Model, programme: Programme, work: Work, start: Vector) -> Solved:
    """The week before with the days that cannot stay as they were planned anew; nothing where the other days cannot stay either.

    Args:
        start: the week before as far as its lifts can stand.
    """
    held = programme.fixing(_held(model, start, _unable(model)))
    return maximise(held, replace(work, nodes=1, gap=FINE * work.gap, looks="afresh"))


def improved_nearby(model: Model, programme: Programme, best: Solved, work: Work) -> Solved:
    """A week made better with the lifts that it and the week before hold, moved between days; then each day anew with any lift, the others held,
    until none gains. The bound is of single days.
    """
    days = range(len(model.question.days))
    known = {key for _, key in model.old} | {
        model.question.choices[i].key for i, d in model.slots if best.point[model.used(i, d)] > 0.5
    }
    others = (slot for slot in model.slots if model.question.choices[slot[0]].key not in known)
    out = {column: 0.0 for slot in others for column in (model.sets(*slot), model.used(*slot))}
    for free in _touched(model):
        held = programme.fixing(_held(model, best.point, free) | out)
        best = _better(best, maximise(held, _near(work, 1, 0.5), whole_columns(programme, best.point)))
    bounds = dict[int, float]()
    while len(bounds) < len(days):
        d = next(d for d in days if d not in bounds)
        held = programme.fixing(_held(model, best.point, {d}))
        found = maximise(held, _near(work, DAY_NODES, FINE), whole_columns(programme, best.point))
        if found.found and found.worth > best.worth + UNUSED:
            best, bounds = _better(best, found), {}
        bounds[d] = found.bound
    return replace(best, bound=max(bounds.values()))


def _touched(model: Model) -> list[set[int]]:
    """Days between which a lift may move: one that cannot stay as it was beside each other day; all where more than one cannot, or none."""
    days, anew = set(range(len(model.question.days))), _unable(model)
    return [anew | {d} for d in sorted(days - anew)] if len(anew) == 1 < len(days) else [days]


def _near(work: Work, nodes: int, part: float) -> Work:
    return replace(work, nodes=nodes, gap=part * work.gap, looks="near")


def _better(best: Solved, found: Solved) -> Solved:
    return replace(best, point=found.point, worth=found.worth) if found.found and found.worth > best.worth else best


def _held(model: Model, point: Vector, free: Collection[int]) -> dict[int, float]:
    """What holds every day but some as it is."""
    return {k: float(round(point[k])) for i, d in model.slots if d not in free for k in (model.sets(i, d), model.used(i, d))}


def _unable(model: Model) -> set[int]:
    """Days that cannot stay as they were: new ones, shorter ones, those of which a lift cannot stand there any more, and pinned ones."""
    question = model.question
    there = {(question.days[d].day, question.choices[i].key) for i, d in model.slots}
    before = {day.day: day for day in question.previous.days} if question.previous else {}
    gone = {day for day, key in model.old if (day, key) not in there}
    pinned = {day for day, _ in question.pinned} - question.closed
    gone |= {day for day, key in model.old if key in moved_by_hand(model)}
    return {
        d
        for d, offer in enumerate(question.days)
        if offer.day not in before or before[offer.day].minutes > offer.minutes + SPARE_MIN or offer.day in gone | pinned
    }
