"""How the best week is looked for: lifts that the linear programme uses, days in turn, then the tree; it stops by work, not by a clock."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.effort import effort
from lengthwise.planning.highs import Looks, Solved, Work, maximise
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.week_model import Model
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

    Args:
        start: a point to begin with; nan where unknown.
    """
    first = begun(model, programme, work, start)
    return improved(model, programme, first, work) if first.found else first


def begun(model: Model, programme: Programme, work: Work, start: Vector | None = None) -> Solved:
    """A first week, soon found: of the lifts that the linear programme uses, or those that a beginner's dive comes to.

    All work goes to looking for any week where those lifts make none.
    """
    loose = maximise(programme, Work(whole=False))
    if loose.found and few_lifts(model):
        dived = _of_lifts(model, programme, _dive(model, programme, _inside(programme)), work)
        found = _with_more(model, programme, dived, loose, work) if dived.found else dived
    elif loose.found:
        found = _begun(model, programme, loose, replace(work, nodes=1, gap=BEGIN * work.gap, looks=_looks(model)), start)
    return replace(found, bound=loose.bound) if loose.found and found.found else maximise(programme, work, start)


def begun_with(model: Model, programme: Programme, lifts: set[str], work: Work) -> Solved:
    """A first week of some lifts and of those that the linear programme uses much, on any day."""
    loose = maximise(programme, Work(whole=False))
    much = {model.question.choices[i].lift for i, d in model.slots if loose.found and loose.point[model.used(i, d)] > MUCH}
    return _of_lifts(model, programme, lifts | much, work) if loose.found else loose


def _looks(model: Model) -> Looks:
    """Where a first week is looked for: where the days share the body out one way of looking finds as much as all, and whole-body days need all."""
    return "afresh" if len({d.shape for d in model.question.days}) > 1 else "everywhere"


def improved(model: Model, programme: Programme, best: Solved, work: Work) -> Solved:
    """A week made better until it is near enough to what no week can exceed, or the work is done.

    Its days are asked anew alone, the bound is lowered at the root, and its days are asked anew together. What is not near enough then is
    looked for with all nodes, and beside the bound as well.
    """
    best = replace(best, bound=min(best.bound, maximise(programme, Work(whole=False)).bound))
    if few_lifts(model):
        return _of_few_lifts(model, programme, best, work)
    best = by_days(model, programme, best, work, alone(model))
    if _near(best, work):
        return best
    best = by_days(model, programme, lowered(model, programme, best, work), work, together(model))
    if _near(best, work):
        return best
    nodes = effort().affords(work.nodes)
    whole = maximise(programme, replace(work, nodes=nodes, idle=nodes), whole_columns(programme, best.point))
    return by_days(model, programme, replace(whole, bound=min(whole.bound, best.bound)), work, nodes=LATE_NODES)


def few_lifts(model: Model) -> bool:
    """Whether a week holds few different lifts, and none stood before: what it is worth hangs on which lifts it has."""
    return model.question.beginner and not model.old


def lowered(model: Model, programme: Programme, best: Solved, work: Work) -> Solved:
    """The same week with a bound that is lowered at the root until the week is near enough. Lifts are whole and their sets in parts: as low a bound
    in half the work. Where the week is not near enough then, the better of it and of that point's lifts in whole sets.
    """
    loose = programme.loosening({model.used(i, d) for i, d in model.slots})
    quiet = replace(work, nodes=1, gap=EXACT * work.gap, looks="nowhere", enough=best.worth + work.gap)
    parts = maximise(loose, quiet, whole_columns(programme, best.point))
    best = replace(best, bound=min(best.bound, parts.bound))
    if _near(best, work) or not parts.found:
        return best
    held = {model.used(i, d): float(round(parts.point[model.used(i, d)])) for i, d in model.slots}
    whole = maximise(programme.fixing(held), replace(work, nodes=1, gap=FINE * work.gap, looks="afresh"))
    return replace(best, point=whole.point, worth=whole.worth) if whole.found and whole.worth > best.worth else best


def _in_tree(programme: Programme, best: Solved, work: Work) -> Solved:
    """The same week, or a better one that is met on the way, with a bound that is lowered in the tree until that is near enough."""
    nodes = effort().affords(work.nodes)
    quiet = replace(work, nodes=nodes, idle=nodes, looks="nowhere", enough=best.worth + work.gap)
    tree = maximise(programme, quiet, whole_columns(programme, best.point))
    better = tree.found and tree.worth > best.worth
    return replace(tree if better else best, bound=min(tree.bound, best.bound))


def _of_few_lifts(model: Model, programme: Programme, best: Solved, work: Work) -> Solved:
    """A beginner's week made better: its days are asked anew, then the bound is lowered by choosing lifts with everything else in parts, and in
    the tree. No week can be worth more, and a week of those lifts is worth little less.
    """
    best = by_days(model, programme, best, work, alone(model))
    if _near(best, work):
        return best
    quiet = replace(work, nodes=LIFT_NODES, idle=LIFT_NODES, gap=EXACT * work.gap, looks="nowhere", enough=best.worth + work.gap)
    chosen = maximise(programme.loosening(set(_inside(programme).values())), quiet, whole_columns(programme, best.point))
    best = replace(best, bound=min(best.bound, chosen.bound))
    if not _near(best, work) and chosen.found:
        best = by_days(model, programme, _with_more(model, programme, best, chosen, work), work, alone(model))
    best = best if _near(best, work) else _in_tree(programme, best, work)
    return by_days(model, programme, best, work, together(model), LATE_NODES)


def _inside(programme: Programme) -> dict[str, int]:
    """The columns that say which lifts a beginner's week has."""
    return {k[1]: c for k, c in programme.place.items() if isinstance(k, tuple) and k[0] == "in"}


def _near(best: Solved, work: Work) -> bool:
    """Whether a week is near enough to the best possible, or has to do since all work is spent."""
    return best.bound - best.worth <= work.gap or effort().done


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
    asked = replace(work, nodes=BEGIN_NODES, gap=FINE * work.gap, looks="afresh" if start is None else "near")
    return maximise(programme.fixing(_but(model, lifts)), asked, start)


def _with_more(model: Model, programme: Programme, best: Solved, loose: Solved, work: Work) -> Solved:
    """The best week of its own lifts and of those that another point uses much, on any day."""
    lifts = {
        model.question.choices[i].lift
        for i, d in model.slots
        if max(best.point[model.used(i, d)], loose.point[model.used(i, d)]) > MUCH
    }
    more = _of_lifts(model, programme, lifts, work, whole_columns(programme, best.point))
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
        found = maximise(
            programme.fixing(held), Work(nodes=nodes, gap=FINE * work.gap, looks="near"), whole_columns(programme, best.point)
        )
        if found.found and found.worth > best.worth:
            best, since = replace(best, point=found.point, worth=found.worth), 0
    return best


def shared_out(model: Model, programme: Programme, best: Solved, work: Work) -> Solved:
    """The same lifts where they stand, with their sets shared out anew: soon done, and worth a set or two in a week that is near enough."""
    gone = [slot for slot in model.slots if best.point[model.used(*slot)] < UNUSED]
    held = {column: 0.0 for slot in gone for column in (model.sets(*slot), model.used(*slot))}
    asked = Work(nodes=1, gap=EXACT * EXACT * work.gap, looks="near")
    found = maximise(programme.fixing(held), asked, whole_columns(programme, best.point))
    return replace(best, point=found.point, worth=found.worth) if found.found and found.worth > best.worth else best


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
    """Two groups of days that are asked together; the whole week is asked by itself."""
    both = [a | b for a, b in combinations(alone(model), 2)]
    return [days for days in both if len(days) < len(model.question.days)]


def whole_columns(programme: Programme, point: Vector) -> Vector:
    """A point with its whole columns alone; what follows from them is left open."""
    return np.where([c.whole for c in programme.columns], np.round(point), np.nan)
