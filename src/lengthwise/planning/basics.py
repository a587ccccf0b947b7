"""Basics before extras: a curl and a lift for the triceps stand before raises for the rear deltoid."""

from lengthwise.planning.question import Muscle
from lengthwise.planning.week_model import Model, direct, is_rear_raise

ARMS = ("biceps", "triceps")
"""Muscles whose own single-joint lift comes before extras (common practice, no source)."""
Used = dict[int, float]


def add_basics(model: Model) -> None:
    """The week has a curl and a lift for the triceps; rear raises come on no more days than either, and on no day without one of them.

    Not for a beginner: few lifts, often done, train all.
    """
    question, price = model.question, model.question.rules.told_price
    if question.beginner:
        return
    rear = {d: _at(model, d, [i for i, c in model.on(d) if is_rear_raise(c, question)]) for d in range(len(question.days))}
    arms = {m.name: _own(model, m) for m in question.muscles if m.name in ARMS and m.priority >= 1}
    arms = {name: days for name, days in arms.items() if any(days)}
    for name, days in arms.items():
        every = _of(days)
        muscle = next(m for m in question.muscles if m.name == name)
        model.ask(every, 1.0, question.rules.job_price if muscle.floor else question.rules.own_price)
        model.ask({**every, **{k: -1.0 for k in _of(list(rear.values()))}}, 0.0, price)
    for d, raises in rear.items():
        there = _of([days[d] for days in arms.values()])
        if raises and there:
            model.ask({**there, **{k: -1.0 for k in raises}}, 0.0, price)


def _own(model: Model, muscle: Muscle) -> list[Used]:
    """Of each day the single-joint lifts meant for a muscle."""
    days = range(len(model.question.days))
    return [_at(model, d, [i for i, c in model.on(d) if not c.practice.multi and direct(c, muscle)]) for d in days]


def _at(model: Model, d: int, lifts: list[int]) -> Used:
    return {model.used(i, d): 1.0 for i in lifts}


def _of(days: list[Used]) -> Used:
    return {k: v for day in days for k, v in day.items()}
