"""Hinges stand apart: what bends at the hip against a load tires the low back, so a day holds one, and the next day none."""

from itertools import pairwise

from lengthwise.planning.model import Model, follows, in_order_of_days
from lengthwise.planning.practice import Practice

FAMILIES = frozenset({"hip_hinge", "hip_extension", "trunk_extension"})
"""Deadlifts, good mornings and back extensions alike (common practice, no source)."""


def bends_back(practice: Practice) -> bool:
    """Whether a lift is a hinge, held by the low back."""
    return practice.family in FAMILIES


def add_apart(model: Model) -> None:
    """One hinge a day, and none on the day after; a second has its price."""
    days = model.question.days
    used = [{model.used(i, d): -1.0 for i, c in model.on(d) if bends_back(c.practice)} for d in range(len(days))]
    for here in used:
        if len(here) > 1:
            model.ask(here, -1.0, model.question.rules.apart_price)
    order = in_order_of_days(model.question)
    for a, b in pairwise([*order, order[0]]):
        if follows(days[a], days[b]) and used[a] and used[b]:
            model.ask({**used[a], **used[b]}, -1.0, model.question.rules.told_price)
