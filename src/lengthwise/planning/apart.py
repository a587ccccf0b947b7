"""Hinges stand apart: what bends at the hip against a load tires the low back, so a day holds one, and the next day none, nor a row bent over
without support. So do squats and leg presses, and whatever else loads the spine most.
"""

from collections.abc import Callable

from lengthwise.planning.day_rows import FROM_THE_FLOOR
from lengthwise.planning.practice import Practice
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import Model, close_days

FAMILIES = frozenset({"hip_hinge", "hip_extension", "trunk_extension"})
"""Deadlifts, good mornings and back extensions alike (common practice, no source)."""

KNEE = frozenset({"squat", "leg press"})
FREE = 4.0
"""Of a day without a barbell hinge nothing is asked: more than three squats and leg presses no day holds."""


def bends_back(practice: Practice) -> bool:
    """Whether a lift is a hinge, held by the low back."""
    return practice.family in FAMILIES


def bends_knee(practice: Practice) -> bool:
    """Whether a lift is a squat or leg press."""
    return practice.multi and practice.pattern in KNEE


def is_bent_row(practice: Practice) -> bool:
    """Whether a lift is a row bent over without support, held by the low back all along (common practice, no source)."""
    return practice.spine and practice.pattern == "bent row"


def _there(model: Model, name: str, meant: Callable[[Choice], bool]) -> dict[int, int]:
    """Of days that follow each other the columns that say whether a lift of some sort stands there."""
    out = {}
    for d in sorted({d for pair in close_days(model.question) for d in pair}):
        used = [model.used(i, d) for i, c in model.on(d) if meant(c)]
        if used:
            out[d] = model.programme.add((name, d), 1.0)
        for column in used:
            model.programme.keep({out[d]: 1.0, column: -1.0}, lower=0.0)
    return out


def early_enough(model: Model, d: int) -> None:
    """A hinge with a barbell stands in the first half of the day, behind squats and leg presses: so these are fewer than half of the lifts there,
    a barbell squat apart (common practice, no source).
    """
    bars = {
        model.used(i, d): -FREE
        for i, c in model.on(d)
        if bends_back(c.practice) and c.practice.costly and c.lift not in FROM_THE_FLOOR
    }
    knees = [model.used(i, d) for i, c in model.on(d) if bends_knee(c.practice) and not (c.gentle or c.practice.costly)]
    if bars and len(knees) > 1:
        lifts = {model.used(i, d): 1.0 for i, _ in model.on(d)}
        for column in knees:
            lifts[column] -= 2.0
        for column, free in bars.items():
            lifts[column] += free
        model.ask(lifts, 1.0 - FREE, model.question.rules.told_price)


def add_apart(model: Model) -> None:
    """One hinge a day, and on the days before and after neither another nor an unsupported row; squats and leg presses not on days that follow each
    other, nor heavy loads on the spine; what gives way has its price.
    """
    days, rules = range(len(model.question.days)), model.question.rules
    hinges = [{model.used(i, d): -1.0 for i, c in model.on(d) if bends_back(c.practice)} for d in days]
    rows = [{model.used(i, d): -1.0 for i, c in model.on(d) if is_bent_row(c.practice)} for d in days]
    for d, here in enumerate(hinges):
        if len(here) > 1:
            model.ask(here, -1.0, rules.apart_price)
        early_enough(model, d)
    knees = _there(model, "knee apart", lambda c: bends_knee(c.practice) and not c.gentle)
    spines = _there(model, "spine apart", lambda c: c.practice.spine and not is_bent_row(c.practice))
    for a, b in close_days(model.question):
        for there in (knees, spines):
            if a in there and b in there:
                model.ask(
                    {there[a]: -1.0, there[b]: -1.0}, -1.0, rules.told_price if model.question.joint_nm else rules.apart_price
                )
        for one, other, price in (
            (hinges[a], hinges[b], rules.told_price),
            (rows[a], hinges[b], rules.apart_price),
            (hinges[a], rows[b], rules.told_price),
        ):
            if one and other:
                model.ask({**one, **other}, -1.0, price)
