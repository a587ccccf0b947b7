"""A question's whole programme, where its search begins and how hard it tries."""

from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.planning.apart import add_apart
from lengthwise.planning.basics import add_basics
from lengthwise.planning.conflict import smallest_conflict
from lengthwise.planning.day_rows import add_day
from lengthwise.planning.few_lifts import add_whole_lifts
from lengthwise.planning.highs import Solved, Work
from lengthwise.planning.implied import add_implied
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.jobs import add_jobs
from lengthwise.planning.muscle_rows import add_muscle
from lengthwise.planning.own import add_own
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.steps import add_no_more, add_steps
from lengthwise.planning.week_model import Model, add_lifts, old_sets
from lengthwise.planning.week_rows import add_week

ROOM = 0.96
"""Part of the gap that counts as near enough at which the search ends: days asked anew need the rest (own choice)."""


def model_of(question: WeekQuestion, saved: tuple[float, ...] | None = None) -> Model:
    """The programme of a question.

    Args:
        saved: of each day, the part of the usual saving in turn that is counted on.
    """
    model = Model(question=question, saved=saved or _usual(question), old=old_sets(question.previous))
    add_lifts(model)
    for d in range(len(question.days)):
        add_day(model, d)
    for muscle in question.muscles:
        add_muscle(model, muscle)
    add_week(model)
    add_jobs(model)
    add_own(model)
    add_basics(model)
    add_apart(model)
    add_steps(model)
    add_no_more(model)
    add_implied(model)
    if question.beginner:
        add_whole_lifts(model)
    return model


def _usual(question: WeekQuestion) -> tuple[float, ...]:
    """Of each day, the part of the usual saving in turn that is counted on at first: less where sets stay few."""
    return (question.rules.pair_easy_part if question.easy or question.beginner else 1.0,) * len(question.days)


def yardstick(question: WeekQuestion) -> float:
    """What all lower bounds together are worth: what a gap is a share of, since a week's own worth may be near zero."""
    return max(sum(m.priority * m.low for m in question.muscles), 1.0)


Search = Callable[[Model, Programme, Work, NDArray[np.float64] | None], Solved]


def solved(model: Model, programme: Programme, search: Search) -> Solved:
    """The week that a search finds, from what is pinned or stood before.

    Raises:
        InputError: what is pinned cannot stand together.
        NoSolutionError: no week was found.
    """
    work = work_of(model.question)
    found = search(model, programme, work, start_of(model, programme, model.old) if model.old or model.question.pinned else None)
    if found.found:
        return found
    if found.outcome == "infeasible" and model.question.pinned:
        wishes = smallest_conflict(model.programme).wishes
        raise InputError(
            f"what is fixed does not fit together: {'; '.join(w.text for w in wishes)}", asked=[w.text for w in wishes]
        )
    raise NoSolutionError(f"no week was found in {work.nodes} steps of the search; ask for fewer lifts or days")


def work_of(question: WeekQuestion) -> Work:
    """How hard to try: more for a first week than for a change."""
    rules = question.rules
    nodes = rules.first_nodes if question.previous is None else rules.change_nodes
    return Work(nodes=int(nodes), gap=ROOM * rules.near_gap * yardstick(question), idle=int(rules.idle_nodes))


def start_of(model: Model, programme: Programme, old: Mapping[tuple[str, tuple[str, str]], int]) -> NDArray[np.float64]:
    """The week before as far as it may stand still, else the empty week; what follows from it is left open (nan)."""
    out = np.full(len(programme.columns), np.nan)
    question = model.question
    for i, d in model.slots:
        key = question.days[d].day, question.choices[i].key
        number = old.get(key, 0) or question.pinned.get(key, 0)
        out[model.sets(i, d)], out[model.used(i, d)] = number, float(number > 0)
    return out
