"""How the best week is looked for: lifts that the linear programme uses, days in turn, then the tree; it stops by work, not by a clock."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.highs import Solved, Work, maximise
from lengthwise.planning.model import Model
from lengthwise.planning.programme import Programme
from lengthwise.planning.week_rows import tied_days

BEGIN = 0.5
"""Part of the gap that counts as near enough at which the first week is settled (own choice)."""
UNUSED = 1e-6
"""Part of a lift below which the linear programme does not use it."""
MUCH = 0.2
"""Part of a lift above which the linear programme uses it much (own choice)."""
LATE_NODES = 10
"""Nodes with which days are asked anew where the tree ended too far from its bound (own choice)."""
BEGIN_NODES, MOST_STEPS = 20, 20
"""Work at which a beginner's first week is begun: nodes, and lifts tried one by one (own choice)."""
FINE = 0.2
"""Part of the gap that counts as near enough at which a group of days is settled (own choice)."""


def searched(model: Model, programme: Programme, work: Work, start: NDArray[np.float64] | None = None) -> Solved:
    """The best point that so much work finds, and what no point can exceed.

    A week of the lifts that the linear programme uses, its days asked anew in turn, alone and together, then the tree, which mostly
    has only to lower the bound. What is not near enough then is looked for with all nodes, and beside the bound as well.

    Args:
        start: a point to begin with; nan where unknown.
    """
    loose = maximise(programme, Work(1, whole=False))
    if not loose.found:
        return maximise(programme, work, start)
    if tied_days(model.question):
        return _tied(model, programme, work, loose, start)
    begun = _begun(model, programme, loose, replace(work, nodes=1, gap=BEGIN * work.gap), start)
    if not begun.found:
        return maximise(programme, work, start)
    best = by_days(model, programme, replace(begun, bound=loose.bound), work)
    if best.bound - best.worth <= work.gap:
        return best
    tree = maximise(programme, replace(work, looks_round=False), _whole(programme, best.point))
    found = replace(tree, bound=min(tree.bound, loose.bound))
    best = by_days(model, programme, found, work) if found.worth > best.worth else found
    if best.bound - best.worth <= work.gap:
        return best
    whole = maximise(programme, replace(work, idle=work.nodes), _whole(programme, best.point))
    return by_days(model, programme, replace(whole, bound=min(whole.bound, best.bound)), work, nodes=LATE_NODES)


def _tied(model: Model, programme: Programme, work: Work, loose: Solved, start: NDArray[np.float64] | None) -> Solved:
    """A beginner's week of like days that hold the same lifts: the linear programme uses far more lifts in part than such a week may hold,
    so that they are taken one by one, and the week is begun with them.
    """
    few = programme.fixing(_but(model, _one_by_one(model, programme)))
    begun = maximise(few, replace(work, nodes=BEGIN_NODES, gap=BEGIN * work.gap), start)
    if not begun.found:
        return maximise(programme, work, start)
    best = by_days(model, programme, replace(begun, bound=loose.bound), work)
    best = _with_more(model, programme, best, loose, work)
    if best.bound - best.worth <= work.gap:
        return best
    tree = maximise(programme, replace(work, looks_round=False), _whole(programme, best.point))
    return by_days(model, programme, replace(tree, bound=min(tree.bound, loose.bound)), work, rounds=2, nodes=LATE_NODES)


def _with_more(model: Model, programme: Programme, best: Solved, loose: Solved, work: Work) -> Solved:
    """The best week of its own lifts and of those that the linear programme uses most, on any day."""
    lifts = {
        model.question.choices[i].lift
        for i, d in model.slots
        if max(best.point[model.used(i, d)], loose.point[model.used(i, d)]) > MUCH
    }
    more = maximise(programme.fixing(_but(model, lifts)), replace(work, nodes=BEGIN_NODES), _whole(programme, best.point))
    return replace(best, point=more.point, worth=more.worth) if more.found and more.worth > best.worth else best


def _one_by_one(model: Model, programme: Programme) -> set[str]:
    """Lifts taken one after another: of those that the linear programme uses the most used one each time, until a beginner's week is full."""
    inside, taken = {k[1]: c for k, c in programme.place.items() if isinstance(k, tuple) and k[0] == "in"}, dict[str, float]()
    out = dict[str, float]()
    for _ in range(MOST_STEPS):
        loose = maximise(programme.fixing({inside[x]: n for x, n in {**taken, **out}.items()}), Work(1, whole=False))
        if not loose.found:
            out[taken.popitem()[0]] = 0.0
            continue
        free = {x: loose.point[c] for x, c in inside.items() if x not in taken and loose.point[c] > UNUSED}
        if not free or len(taken) >= model.question.rules.beginner_lifts:
            break
        taken[max(free, key=lambda x: (free[x], x))] = 1.0
    return set(taken)


def _but(model: Model, lifts: set[str]) -> dict[int, float]:
    """What holds every other lift out of the week."""
    out = ((i, d) for i, d in model.slots if model.question.choices[i].lift not in lifts)
    return {column: 0.0 for i, d in out for column in (model.sets(i, d), model.used(i, d))}


def _begun(model: Model, programme: Programme, loose: Solved, work: Work, start: NDArray[np.float64] | None) -> Solved:
    """The best week of those lifts, on any day, that the linear programme uses in whole or in part, and of those in the start."""
    known = np.zeros(len(programme.columns)) if start is None else np.nan_to_num(start)
    there = np.maximum(np.maximum(loose.point, known), [c.lower for c in programme.columns])
    used = {i for i, d in model.slots if there[model.used(i, d)] > UNUSED}
    out = {column: 0.0 for i, d in model.slots if i not in used for column in (model.sets(i, d), model.used(i, d))}
    return maximise(programme.fixing(out), work, start)


def by_days(model: Model, programme: Programme, best: Solved, work: Work, rounds: int = 1, nodes: int = 1) -> Solved:
    """Days asked anew in turn, the others held, until that is near enough, or nothing has come of any group since the last gain.

    Args:
        rounds: how often each group is asked at most. nodes: of each search.
    """
    groups = list(_groups(model)) * rounds
    since, turn = 0, len(groups) // rounds
    for free in groups:
        if best.bound - best.worth <= work.gap or since == turn:
            return best
        since += 1
        held = {
            k: float(round(best.point[k])) for i, d in model.slots if d not in free for k in (model.sets(i, d), model.used(i, d))
        }
        found = maximise(programme.fixing(held), Work(nodes, FINE * work.gap), _whole(programme, best.point))
        if found.found and found.worth > best.worth:
            best, since = replace(best, point=found.point, worth=found.worth), 0
    return best


def _single(model: Model) -> Sequence[frozenset[int]]:
    """The first days to be asked anew: each alone, or where a beginner's like days are tied every other one."""
    number = len(model.question.days)
    if tied_days(model.question):
        return [frozenset(range(k, number, 2)) for k in range(min(2, number))]
    return [frozenset({d}) for d in range(number)]


def _groups(model: Model) -> Iterator[frozenset[int]]:
    """Days that are asked anew together: each alone, and two of them; where the week has shapes all of one shape, then of two."""
    days = model.question.days
    shapes = list(dict.fromkeys(d.shape for d in days))
    if len(shapes) > 1:
        alike = [frozenset(d for d, offer in enumerate(days) if offer.shape == s) for s in shapes]
        yield from (*alike, *(a | b for a, b in combinations(alike, 2)))
        return
    single = _single(model)
    yield from single
    if len(single) > 2:
        yield from (a | b for a, b in combinations(single, 2))


def _whole(programme: Programme, point: NDArray[np.float64]) -> NDArray[np.float64]:
    """A point with its whole columns alone; what follows from them is left open."""
    return np.where([c.whole for c in programme.columns], np.round(point), np.nan)
