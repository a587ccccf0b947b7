"""The best week for a question, how far from the best it can be at most, or which wishes stand against each other."""

import time
from collections.abc import Mapping
from dataclasses import replace

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.planning.assembly import week_of
from lengthwise.planning.conflict import explained, smallest_conflict
from lengthwise.planning.distance import difference, lifts_of, moved, stay_near
from lengthwise.planning.highs import Limits, Solved, maximise
from lengthwise.planning.model import Model, Pairing, each_pair, model_of, no_pairs, number_of_pairs, shared_rounds
from lengthwise.planning.question import Question
from lengthwise.planning.week import Conflict, Week
from lengthwise.planning.wording import Wish

FEW_PAIRS = 400
"""So many possible pairs are solved exactly at once; more are bounded first, then solved exactly among the lifts found."""
NEAR_ENOUGH = 1e-3
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
    conflict, conflicts = _conflict(question)
    prices = {w: question.rules.miss_price for w in conflict}
    week = _best(question, prices)
    if question.previous is not None:
        week = _near(question, question.previous, week, prices)
    if question.earlier:
        week = replace(week, difference=difference(week, question.earlier))
    return replace(week, conflicts=(*conflicts, *week.conflicts), solve_s=time.perf_counter() - start)


def _check(question: Question) -> None:
    days = [d.day for d in question.days]
    if not days or len(set(days)) < len(days):
        raise InputError(f"days of a week: found {', '.join(days) or 'none'}; allowed one or more, each once", asked=days)
    if not question.muscles:
        raise InputError("no muscle is wished for; give at least one a priority above 0")
    gear = frozenset().union(*(d.gear for d in question.days))
    if not any(c.gear in gear for c in question.choices):
        raise NoSolutionError(f"no lift can be done with {', '.join(sorted(gear)) or 'no gear'}", asked=sorted(gear))


def _firm(question: Question) -> tuple[Wish, ...]:
    """Wishes that an empty week breaks: without them there always is a week."""
    return tuple(w for w in model_of(question, no_pairs).programme.wishes() if w.kind == "at_least")


def _conflict(question: Question) -> tuple[tuple[Wish, ...], tuple[Conflict, ...]]:
    """The own lower bounds that may be missed, and the conflict they are part of."""
    firm = _firm(question)
    if not firm:
        return (), ()
    programme = model_of(question, _pairing(question)).programme
    found = smallest_conflict(programme)
    return (firm, explained(programme, found)) if found else ((), ())


def _pairing(question: Question) -> Pairing:
    """How pairs are modelled: each of them where they are few, a bound on them all where they are many."""
    if not question.pair:
        return no_pairs
    return each_pair if number_of_pairs(question) <= FEW_PAIRS else shared_rounds


def _best(question: Question, prices: Mapping[Wish, float]) -> Week:
    pairing = _pairing(question)
    model = model_of(question, pairing)
    if pairing is not shared_rounds:
        solved = _solved(model, prices, question.seconds)
        return replace(week_of(model, solved.point), gap=solved.gap)
    bound = _solved(model, prices, question.seconds * FIRST_PART)
    firm = {w: question.rules.miss_price for w in _firm(question)}
    exact = model_of(question, each_pair, _used(model, bound))
    found = _solved(exact, {**firm, **prices}, question.seconds * (1 - FIRST_PART))
    gap = max(0.0, (bound.bound - found.worth) / max(abs(bound.bound), 1e-9))
    return replace(week_of(exact, found.point), gap=gap, conflicts=_unproven(exact, found, prices))


def _solved(model: Model, prices: Mapping[Wish, float], seconds: float) -> Solved:
    programme = model.programme.relaxing(prices) if prices else model.programme
    found = maximise(programme, Limits(seconds, NEAR_ENOUGH))
    if not found.found:  # busy machine: the empty week always is one, so more time finds something
        found = maximise(programme, Limits(6 * seconds, 0.1))
    if not found.found:
        raise NoSolutionError(f"no week was found in {7 * seconds:.0f} s; ask for fewer lifts or days, or give more time")
    return found


def _used(model: Model, found: Solved) -> Allowed:
    """The choices that a point uses on each day."""
    place = model.programme.place
    return tuple(
        frozenset(
            i for i in range(len(model.question.choices)) if ("used", i, d) in place and found.point[place["used", i, d]] > 0.5
        )
        for d in range(len(model.question.days))
    )


def _unproven(model: Model, found: Solved, prices: Mapping[Wish, float]) -> tuple[Conflict, ...]:
    """Own wishes that this week misses although it was not proven that they must be missed."""
    programme = model.programme
    missed = []
    for row in programme.rows:
        if row.wish is not None and row.wish.kind == "at_least" and row.wish not in prices:
            got = sum(v * found.point[k] for k, v in row.factors.items())
            if got < row.lower - 1e-6:
                missed.append(Conflict(row.wish.text, f"{got:.1f} sets were found; it was not proven that more are impossible"))
    return tuple(missed)


def _near(question: Question, previous: Week, best: Week, prices: Mapping[Wish, float]) -> Week:
    """The week nearest to the one before among those worth nearly as much as the best found."""
    allowed = tuple(
        frozenset(i for i, c in enumerate(question.choices) if c.key in lifts_of(previous, d.day) | lifts_of(best, d.day))
        for d in question.days
    )
    pairing = each_pair if question.pair else no_pairs
    model = model_of(question, pairing, allowed)
    firm = {w: question.rules.miss_price for w in _firm(question)}
    stay_near(model, previous, best.value - question.rules.give_up * abs(best.value))
    found = maximise(model.programme.relaxing({**firm, **prices}), Limits(question.seconds, NEAR_ENOUGH))
    week = week_of(model, found.point) if found.found else best
    bound = best.value / max(1 - best.gap, 1e-9)
    gap = max(0.0, (bound - week.value) / max(abs(bound), 1e-9))
    return replace(week, gap=gap, moved=moved(week, previous), conflicts=best.conflicts)
