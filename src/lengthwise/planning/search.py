"""How the best week is looked for: the root of the search, then the days by turns, then the tree; it stops by work, never by a clock."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.highs import Solved, Work, maximise
from lengthwise.planning.model import Model
from lengthwise.planning.programme import Programme
from lengthwise.planning.week_rows import tied_days

ROUNDS = 2
"""So often every group of days is asked anew, the others held (own choice)."""
FINE = 0.2
"""Part of the gap that counts as near enough at which a group of days is settled (own choice)."""


def searched(model: Model, programme: Programme, work: Work, start: NDArray[np.float64] | None = None) -> Solved:
    """The best point that so much work finds: near enough at the root, or by days in turn, or in the tree that starts from there.

    Args:
        start: a point to begin with; nan where unknown.
    """
    root = maximise(programme, replace(work, nodes=1), start)
    if root.outcome != "stopped":
        return root
    if not root.found:
        return maximise(programme, work, start)
    best = by_days(model, programme, root, work)
    if best.bound - best.worth <= work.gap:
        return best
    tree = maximise(programme, work, _whole(programme, best.point))
    return replace(tree, bound=min(tree.bound, root.bound))


def by_days(model: Model, programme: Programme, best: Solved, work: Work) -> Solved:
    """Days asked anew in turn, the others held, until that is near enough or brings nothing."""
    settled: dict[frozenset[int], float] = {}
    for _ in range(ROUNDS):
        for free in _groups(model):
            if best.bound - best.worth <= work.gap:
                return best
            if settled.get(free) == best.worth:
                continue
            held = {
                k: float(round(best.point[k]))
                for i, d in model.slots
                if d not in free
                for k in (model.sets(i, d), model.used(i, d))
            }
            found = maximise(programme.fixing(held), Work(1, FINE * work.gap), _whole(programme, best.point))
            if found.found and found.worth > best.worth:
                best = replace(best, point=found.point, worth=found.worth)
            settled[free] = best.worth
    return best


def _groups(model: Model) -> Iterator[frozenset[int]]:
    """Days that are asked anew together.

    Each alone; where the week has shapes all of one shape, then of two; where a beginner's like days are tied every other one.
    """
    days = model.question.days
    shapes = list(dict.fromkeys(d.shape for d in days))
    if len(shapes) > 1:
        alike = [frozenset(d for d, offer in enumerate(days) if offer.shape == s) for s in shapes]
        yield from (*alike, *(a | b for a, b in combinations(alike, 2)))
    elif tied_days(model.question):
        yield from (frozenset(range(k, len(days), 2)) for k in range(min(2, len(days))))
    else:
        yield from (frozenset({d}) for d in range(len(days)))


def _whole(programme: Programme, point: NDArray[np.float64]) -> NDArray[np.float64]:
    """A point with its whole columns alone; what follows from them is left open."""
    return np.where([c.whole for c in programme.columns], np.round(point), np.nan)
