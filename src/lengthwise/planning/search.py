"""How the best week is looked for: lifts that the linear programme uses, days in turn, then the tree; it stops by work, not by a clock."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.highs import Solved, Work, maximise
from lengthwise.planning.model import Model
from lengthwise.planning.programme import Programme
from lengthwise.planning.week_rows import tied_days

Vector = NDArray[np.float64]
BEGIN = 0.5
"""Part of the gap that counts as near enough at which the first week is settled (own choice)."""
UNUSED = 1e-6
"""Part of a lift below which the linear programme does not use it."""
MUCH = 0.2
"""Part of a lift above which the linear programme uses it much (own choice)."""
LATE_NODES = 10
"""Nodes with which days are asked anew where the tree ended too far from its bound (own choice)."""
EXACT = 0.1
"""Part of the gap that counts as near enough within which the lifts of a beginner are chosen (own choice)."""
LIFT_NODES, BEGIN_NODES, MOST_STEPS = 500, 20, 20
"""Nodes with which a beginner's lifts are chosen and with which a week is made of them; lifts tried one by one (own choice)."""
FINE = 0.2
"""Part of the gap that counts as near enough at which a group of days is settled (own choice)."""


def searched(model: Model, programme: Programme, work: Work, start: Vector | None = None) -> Solved:
    """The best point that so much work finds, and what no point can exceed.

    A week of the lifts that the linear programme uses, its days asked anew in turn, alone and together, then the tree, which mostly
    has only to lower the bound. What is not near enough then is looked for with all nodes, and beside the bound as well.

    Args:
        start: a point to begin with; nan where unknown.
    """
    loose = maximise(programme, Work(whole=False))
    if not loose.found:
        return maximise(programme, work, start)
    if model.question.beginner and not model.old:
        return _of_few_lifts(model, programme, work, loose, start)
    begun = _begun(model, programme, loose, replace(work, nodes=1, gap=BEGIN * work.gap), start)
    if not begun.found:
        return maximise(programme, work, start)
    best = by_days(model, programme, replace(begun, bound=loose.bound), work, alone(model))
    if _near(best, work):
        return best
    best = by_days(model, programme, lowered(programme, best, work), work, together(model))
    if _near(best, work):
        return best
    whole = maximise(programme, replace(work, idle=work.nodes), _whole(programme, best.point))
    return by_days(model, programme, replace(whole, bound=min(whole.bound, best.bound)), work, nodes=LATE_NODES)


def lowered(programme: Programme, best: Solved, work: Work, worth: float | None = None) -> Solved:
    """The same week, or a better one that is met on the way, with a bound that is lowered until it is near enough to a worth, or to the week's."""
    enough = (best.worth if worth is None else worth) + work.gap
    quiet = replace(work, gap=max(enough - best.worth, EXACT * work.gap), looks_round=False, enough=enough)
    tree = maximise(programme, quiet, _whole(programme, best.point))
    better = tree.found and tree.worth > best.worth
    return replace(tree if better else best, bound=min(tree.bound, best.bound))


def _of_few_lifts(model: Model, programme: Programme, work: Work, loose: Solved, start: Vector | None) -> Solved:
    """A beginner's week, of few different lifts: what it is worth hangs on which lifts it has.

    Lifts are found by diving; then the best week of them and of those that the linear programme uses much. The bound is lowered at the
    root, then by choosing lifts with everything else in parts: no week can be worth more, and a week of those lifts is worth little less.
    """
    inside = {k[1]: c for k, c in programme.place.items() if isinstance(k, tuple) and k[0] == "in"}
    best = _of_lifts(model, programme, _dive(model, programme, inside), work)
    if not best.found:
        return maximise(programme, work, start)
    best = _with_more(model, programme, replace(best, bound=loose.bound), loose, work)
    for whole, nodes in ((programme, 1), (programme.loosening(set(inside.values())), LIFT_NODES)):
        if _near(best, work):
            return best
        quiet = replace(work, nodes=nodes, idle=nodes, gap=EXACT * work.gap, looks_round=False, enough=best.worth + work.gap)
        chosen = maximise(whole, quiet, _whole(programme, best.point))
        best = replace(best, bound=min(best.bound, chosen.bound))
    best = best if _near(best, work) or not chosen.found else _with_more(model, programme, best, chosen, work)
    return by_days(model, programme, best, work)


def _near(best: Solved, work: Work) -> bool:
    """Whether a week is near enough to the best possible."""
    return best.bound - best.worth <= work.gap


def _dive(model: Model, programme: Programme, inside: Mapping[str, int]) -> set[str]:
    """Lifts taken one after another: of those that the linear programme uses the most used one each time, until the week is full."""
    held, taken = dict[str, float](), list[str]()
    for _ in range(MOST_STEPS):
        loose = maximise(programme.fixing({inside[x]: n for x, n in held.items()}), Work(whole=False))
        if not loose.found:
            if not taken:
                break
            held[taken.pop()] = 0.0
            continue
        free = {x: loose.point[c] for x, c in inside.items() if x not in held and loose.point[c] > UNUSED}
        if not free or len(taken) >= model.question.rules.beginner_lifts:
            break
        taken.append(max(free, key=lambda x: (free[x], x)))
        held[taken[-1]] = 1.0
    return set(taken)


def _of_lifts(model: Model, programme: Programme, lifts: set[str], work: Work, start: Vector | None = None) -> Solved:
    """The best week of some lifts."""
    asked = replace(work, nodes=BEGIN_NODES, gap=FINE * work.gap)
    return maximise(programme.fixing(_but(model, lifts)), asked, start)


def _with_more(model: Model, programme: Programme, best: Solved, loose: Solved, work: Work) -> Solved:
    """The best week of its own lifts and of those that another point uses much, on any day."""
    lifts = {
        model.question.choices[i].lift
        for i, d in model.slots
        if max(best.point[model.used(i, d)], loose.point[model.used(i, d)]) > MUCH
    }
    more = _of_lifts(model, programme, lifts, work, _whole(programme, best.point))
    return replace(best, point=more.point, worth=more.worth) if more.found and more.worth > best.worth else best


def _but(model: Model, lifts: set[str]) -> dict[int, float]:
    """What holds every other lift out of the week."""
    out = ((i, d) for i, d in model.slots if model.question.choices[i].lift not in lifts)
    return {column: 0.0 for i, d in out for column in (model.sets(i, d), model.used(i, d))}


def _begun(model: Model, programme: Programme, loose: Solved, work: Work, start: Vector | None) -> Solved:
    """The best week of those lifts, on any day, that the linear programme uses in whole or in part, and of those in the start."""
    known = np.zeros(len(programme.columns)) if start is None else np.nan_to_num(start)
    there = np.maximum(np.maximum(loose.point, known), [c.lower for c in programme.columns])
    used = {i for i, d in model.slots if there[model.used(i, d)] > UNUSED}
    out = {column: 0.0 for i, d in model.slots if i not in used for column in (model.sets(i, d), model.used(i, d))}
    return maximise(programme.fixing(out), work, start)


def by_days(
    model: Model, programme: Programme, best: Solved, work: Work, days: Sequence[frozenset[int]] | None = None, nodes: int = 1
) -> Solved:
    """Days asked anew in turn, the others held, until that is near enough, or nothing has come of any group since the last gain.

    Args:
        days: which together; as usual where none are named. nodes: of each search.
    """
    groups, since = [*alone(model), *together(model)] if days is None else days, 0
    for free in groups:
        if _near(best, work) or since == len(groups):
            return best
        since += 1
        held = {
            k: float(round(best.point[k])) for i, d in model.slots if d not in free for k in (model.sets(i, d), model.used(i, d))
        }
        found = maximise(programme.fixing(held), Work(nodes=nodes, gap=FINE * work.gap), _whole(programme, best.point))
        if found.found and found.worth > best.worth:
            best, since = replace(best, point=found.point, worth=found.worth), 0
    return best


def alone(model: Model) -> list[frozenset[int]]:
    """The first days to be asked anew: each alone, where a beginner's like days are tied every other one, and all of one shape where the week
    has shapes.
    """
    days = model.question.days
    shapes = list(dict.fromkeys(d.shape for d in days))
    if len(shapes) > 1:
        return [frozenset(d for d, offer in enumerate(days) if offer.shape == s) for s in shapes]
    if tied_days(model.question):
        return [frozenset(range(k, len(days), 2)) for k in range(min(2, len(days)))]
    return [frozenset({d}) for d in range(len(days))]


def together(model: Model) -> list[frozenset[int]]:
    """Two groups of days that are asked together; where that is the whole week, and its lifts are few, the search has asked it already."""
    both = [a | b for a, b in combinations(alone(model), 2)]
    whole, few = len(model.question.days), model.question.beginner or len({d.shape for d in model.question.days}) == 1
    return [days for days in both if len(days) < whole or not few]


def _whole(programme: Programme, point: Vector) -> Vector:
    """A point with its whole columns alone; what follows from them is left open."""
    return np.where([c.whole for c in programme.columns], np.round(point), np.nan)
