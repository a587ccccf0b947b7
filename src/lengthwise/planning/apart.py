"""Hinges stand apart: what bends at the hip against a load tires the low back, so a day holds one, and the next day none, nor a row bent over
without support.
"""

from lengthwise.planning.model import Model, close_days
from lengthwise.planning.practice import Practice

FAMILIES = frozenset({"hip_hinge", "hip_extension", "trunk_extension"})
"""Deadlifts, good mornings and back extensions alike (common practice, no source)."""


def bends_back(practice: Practice) -> bool:
    """Whether a lift is a hinge, held by the low back."""
    return practice.family in FAMILIES


def is_bent_row(practice: Practice) -> bool:
    """Whether a lift is a row bent over without support, held by the low back all along (common practice, no source)."""
    return practice.spine and practice.pattern == "bent row"


def add_apart(model: Model) -> None:
    """One hinge a day, and on the days before and after neither another nor an unsupported row; what gives way has its price."""
    days, rules = range(len(model.question.days)), model.question.rules
    hinges = [{model.used(i, d): -1.0 for i, c in model.on(d) if bends_back(c.practice)} for d in days]
    rows = [{model.used(i, d): -1.0 for i, c in model.on(d) if is_bent_row(c.practice)} for d in days]
    for here in hinges:
        if len(here) > 1:
            model.ask(here, -1.0, rules.apart_price)
    for a, b in close_days(model.question):
        for one, other, price in (
            (hinges[a], hinges[b], rules.told_price),
            (rows[a], hinges[b], rules.apart_price),
            (hinges[a], rows[b], rules.told_price),
        ):
            if one and other:
                model.ask({**one, **other}, -1.0, price)
