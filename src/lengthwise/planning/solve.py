"""The best week for a question, how far from the best it can be at most, or which wishes stand against each other."""

import time
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.planning.assembly import week_of
from lengthwise.planning.conflict import can_hold, explained, smallest_conflict
from lengthwise.planning.distance import Key, difference, lifts_of, moved, sets_of, stay_near
from lengthwise.planning.highs import Limits, Solved, gap_of, maximise
from lengthwise.planning.model import Model, Pairing, counted, each_pair, model_of, no_pairs, number_of_pairs, shared_rounds
from lengthwise.planning.programme import Programme
from lengthwise.planning.question import Muscle, Question
from lengthwise.planning.week import Conflict, Week
from lengthwise.planning.wording import at_least
from lengthwise.training.client import DayName

FEW_PAIRS = 400
"""So many possible pairs are solved exactly at once; more are bounded first, then solved exactly among the lifts found."""
NEAR_ENOUGH = 1e-3
PROOF_S = 15.0
"""Time to prove a conflict with every lift [s]."""
NEARLY_MET = 1e-6
"""Counted sets short of an own wish that do not matter."""
FAR_OFF = 0.08
MORE_TIME = (2, 4)
"""A gap above this is tried again with so many times the time: that happens on a busy machine."""
FIRST_PART = 0.55
"""Share of the time for the bound."""

Allowed = tuple[frozenset[int], ...]


def plan(question: Question) -> Week:
    """The week that is worth most within the wishes.

    Where own wishes cannot all be met, the smallest set in conflict is named and the week misses them by as little as it can.

    Raises:
        InputError: no days, the same day twice, or no muscles. NoSolutionError: there is no lift to choose.
    """
    _check(question)
    start = time.perf_counter()
    week = _best(question)
    conflicts = _conflicts(question, week) if _missed(question, week) else ()
    if question.previous is not None:
        week = _near(question, question.previous, week)
    if question.earlier:
        week = replace(week, difference=difference(week, question.earlier))
    return replace(week, conflicts=conflicts, solve_s=time.perf_counter() - start)


def _check(question: Question) -> None:
    days = [d.day for d in question.days]
    if not days or len(set(days)) < len(days):
        raise InputError(f"days of a week: found {', '.join(days) or 'none'}; allowed one or more, each once", asked=days)
    if not question.muscles:
        raise InputError("no muscle is wished for; give at least one a priority above 0")
    gear = frozenset().union(*(d.gear for d in question.days))
    if not any(c.gear in gear for c in question.choices):
        raise NoSolutionError(f"no lift can be done with {', '.join(sorted(gear)) or 'no gear'}", asked=sorted(gear))


def _missed(question: Question, week: Week) -> tuple[Muscle, ...]:
    """Muscles of whose own lower bound a week falls short."""
    return tuple(m for m in question.muscles if m.own and week.muscle_sets[m.name] < m.low - NEARLY_MET)


def _conflicts(question: Question, week: Week) -> tuple[Conflict, ...]:
    """Why own wishes are missed: the smallest conflict, or that none was proven."""
    narrow = _serving(question)
    programme = model_of(narrow, _pairing(narrow)).programme
    found = smallest_conflict(programme)
    whole = model_of(question, _pairing(question)).programme
    if found.wishes and len(narrow.choices) < len(question.choices) and can_hold(whole, frozenset(found.wishes), seconds=PROOF_S):
        found = replace(found, smallest=False)
    if found.wishes:
        return explained(programme, found)
    return tuple(
        Conflict(
            at_least(m.name, m.low).text,
            f"{week.muscle_sets[m.name]:.1f} sets were found; that more are impossible was not proven: give more minutes or time to search",
        )
        for m in _missed(question, week)
    )


def _serving(question: Question) -> Question:
    """The question with those lifts alone that count for a muscle with an own lower bound: the search is much faster.

    Others hardly ever help; that a conflict found so is one with all lifts too is asked again at the end.
    """
    own = [m for m in question.muscles if m.own]
    return replace(question, choices=tuple(c for c in question.choices if any(counted(c, m) > 0 for m in own)))


def _pairing(question: Question) -> Pairing:
    """How pairs are modelled: each of them where they are few, a bound on them all where they are many."""
    if not question.pair:
        return no_pairs
    return each_pair if number_of_pairs(question) <= FEW_PAIRS else shared_rounds


def _best(question: Question) -> Week:
    pairing = _pairing(question)
    model = model_of(question, pairing)
    if pairing is not shared_rounds:
        solved = _solved(model, question.seconds)
        return replace(week_of(model, solved.point), gap=solved.gap)
    week = _in_two_steps(model, question.seconds)
    for more in MORE_TIME:
        if week.gap <= FAR_OFF:
            break
        again = _in_two_steps(model, more * question.seconds)
        week = min(week, again, key=lambda w: w.gap)
    return week


def _in_two_steps(model: Model, seconds: float) -> Week:
    """First a bound on all weeks, then the exact best among the lifts that the bound's week uses."""
    bound = _solved(model, seconds * FIRST_PART)
    exact = model_of(model.question, each_pair, _used(model, bound))
    found = _solved(exact, seconds * (1 - FIRST_PART))
    return replace(week_of(exact, found.point), gap=gap_of(found.worth, bound.bound))


def _forgiving(model: Model) -> Programme:
    """The programme with own lower bounds missed at a high price: so an empty week always is one."""
    firm = [w for w in model.programme.wishes() if w.kind == "at_least"]
    return model.programme.relaxing(dict.fromkeys(firm, model.question.rules.miss_price))


def _solved(model: Model, seconds: float) -> Solved:
    """The best week found in the time, begun from the empty week so that there always is one.

    Raises:
        NoSolutionError: a busy machine did not even get that far.
    """
    programme = _forgiving(model)
    found = maximise(programme, Limits(seconds, NEAR_ENOUGH), _start(model, programme, {}))
    if not found.found:
        found = maximise(programme, Limits(6 * seconds, 0.1))
    if not found.found:
        raise NoSolutionError(f"no week was found in {7 * seconds:.0f} s; ask for fewer lifts or days, or give more time")
    return found


def _start(model: Model, programme: Programme, sets: Mapping[tuple[DayName, Key], int]) -> NDArray[np.float64]:
    """A point with the sets of a week; what follows from them, such as pairs, is left open (nan)."""
    known = {k for name, k in model.programme.place.items() if isinstance(name, tuple) and name[0] in ("sets", "used")}
    out = np.array([0.0 if (c.whole if not sets else k in known) else np.nan for k, c in enumerate(programme.columns)])
    place, question = programme.place, model.question
    for i, choice in enumerate(question.choices):
        for d, offer in enumerate(question.days):
            number = sets.get((offer.day, choice.key), 0)
            if number and ("sets", i, d) in place:
                out[place["sets", i, d]], out[place["used", i, d]] = number, 1.0
    return out


def _used(model: Model, found: Solved) -> Allowed:
    """The choices that a point uses on each day."""
    place = model.programme.place
    return tuple(
        frozenset(
            i for i in range(len(model.question.choices)) if ("used", i, d) in place and found.point[place["used", i, d]] > 0.5
        )
        for d in range(len(model.question.days))
    )


def _near(question: Question, previous: Week, best: Week) -> Week:
    """The week nearest to the one before among those worth nearly as much as the best found."""
    allowed = tuple(
        frozenset(i for i, c in enumerate(question.choices) if c.key in lifts_of(previous, d.day) | lifts_of(best, d.day))
        for d in question.days
    )
    model = model_of(question, each_pair if question.pair else no_pairs, allowed)
    stay_near(model, previous, best.value - question.rules.give_up * abs(best.value))
    programme = _forgiving(model)
    found = maximise(programme, Limits(3 * question.seconds, NEAR_ENOUGH), _start(model, programme, sets_of(best)))
    week = week_of(model, found.point) if found.found else best
    bound = best.value / max(1 - best.gap, 1e-9) if best.value > 0 else max(best.value, week.value)
    return replace(week, gap=gap_of(week.value, bound), moved=moved(week, previous))
