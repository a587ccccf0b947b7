"""What days for the legs hold: a squat or leg press with a load on each, and no fewer sets for the front of the thigh than for the back of it."""

from collections.abc import Sequence

from lengthwise.planning import apart
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import Model, counted
from lengthwise.planning.week_rows import days_a_lift

LOADED = frozenset({"barbell", "chains", "guided_bar", "sled", "lever", "plate_lever"})
"""Gear on which a squat or press is loaded for the legs; what the hands hold (goblet squats) ends with the arms (common practice, no source)."""
KNEE_DAYS = 2
"""So many whole-body days hold such a lift, a beginner's all do (common practice, no source)."""
HALF_A_SET = 0.5
"""So much does not matter (own choice)."""
FRONT_OVER_BACK = 0.8
"""Sets of the quadriceps over those of the hamstrings at least, where nobody asked otherwise (common practice, no source)."""


def bends_knee(choice: Choice) -> bool:
    """Whether a lift is a squat or leg press that is done hard."""
    return apart.bends_knee(choice.practice) and not choice.gentle


def knee_lifts(model: Model, able: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Of some lifts on a day those that load the knee most: the client's own squats and those with a bar or machine before lunges and goblets.

    A beginner's squat may be any.
    """
    choices, new = model.question.choices, model.question.beginner
    squats = [(i, d) for i, d in able if bends_knee(choices[i]) and (new or choices[i].kept or choices[i].gear in LOADED)]
    return squats or list(able)


def add_legs(model: Model) -> None:
    """Whole-body days with a squat or leg press, and the front of the thigh beside the back."""
    _knee_days(model)
    _front_and_back(model)


def _knee_days(model: Model) -> None:
    """Two whole-body days hold a squat or leg press, each of a beginner's does, as far as the lifts there may come again; one of few short days,
    beside the hinge of the other, unless the quadriceps are raised.
    """
    question = model.question
    there, days, lifts = {}, 0, set[str]()
    for d, offer in enumerate(question.days):
        able = knee_lifts(model, [(i, d) for i, c in model.on(d) if bends_knee(c)])
        if offer.shape != "whole" or offer.day in question.closed or not able:
            continue
        here = model.programme.add(("knee", d), 1.0)
        model.programme.keep({here: -1.0, **{model.used(i, d): 1.0 for i, d in able}}, lower=0.0)
        there[here], days = 1.0, days + 1
        lifts |= {question.choices[i].lift for i, _ in able} - question.refused
    if lifts:
        raised = any(m.raised and m.name == "quadriceps" for m in question.muscles)
        least = (
            min(days, len(lifts) * days_a_lift(question))
            if question.beginner
            else min(days, 1 if question.few_minutes and not raised else KNEE_DAYS)
        )
        model.ask(
            there,
            float(least),
            question.rules.job_price if question.beginner else question.rules.apart_price,
            "a squat or leg press on days for the legs",
        )


def _front_and_back(model: Model) -> None:
    """The quadriceps get most of what the hamstrings get, unless the client wants the latter more."""
    own = {m.name: m for m in model.question.muscles if m.priority > 0}
    front, back = own.get("quadriceps"), own.get("hamstrings")
    if front is None or back is None or back.priority > front.priority or front.own or back.own:
        return
    row = {i: counted(c, front) - FRONT_OVER_BACK * counted(c, back) for i, c in enumerate(model.question.choices)}
    model.ask(model.total(row), -HALF_A_SET, model.question.rules.told_price, "enough sets for quadriceps beside hamstrings")
