"""Sets that count: the fraction of a hard set that each head gets from one set of a lift, by what the set is worth to its growth."""

from collections.abc import Collection, Mapping

from lengthwise.body import anatomy

HOLDS = 0.1
"""A set worth less than this to a head is none for it (own choice)."""
LEAST_HELP, MOST_HELP = 0.3, 0.7
"""Bounds of what helping counts: a clear helper gets about half a set (claim indirect_sets), more would make it a target."""
MEASURED_TOGETHER = "elbow_flexors"
ASSISTING = 0.5
"""Part of a set for a head that assists, in the fixed convention (claim indirect_sets)."""


def fractions(worth: Mapping[str, float], targets: Collection[str], prime_movers: Collection[str]) -> dict[str, float]:
    """The fraction of a hard set that each head gets, 0-1, heads that get none left out.

    A head that the lift is meant for gets a whole set: that is what a hard set of the lift means. A prime mover beside it gets between
    0.3 and 0.7 by what the set is worth to it, and none below a tenth. Elbow flexors count by what it is worth to the named ones on
    average where that is more: trials measure them together, and how they divide a load is the least known part of the body. A head that
    nobody names for the lift gets none: the trade counts a pulldown as no set for the chest, whatever the model says of its lower fibres
    (common practice, no source).

    Args:
        worth: direct sets that one set is worth to each head, 0-1 (`grading.growth_value.sets_and_growth`).
        targets, prime_movers: of the lift, as its file names them.
    """
    named = {*targets, *prime_movers}
    helps = {h: _helping(max(worth.get(h, 0.0), _together(h, named, worth))) for h in prime_movers if h not in targets}
    return dict.fromkeys(targets, 1.0) | {h: part for h, part in helps.items() if part > 0}


def _together(head: str, named: Collection[str], worth: Mapping[str, float]) -> float:
    mates = [worth.get(h, 0.0) for h in anatomy.muscles()[MEASURED_TOGETHER] if h in named]
    return sum(mates) / len(mates) if head in anatomy.muscles()[MEASURED_TOGETHER] else 0.0


def _helping(part: float) -> float:
    return min(max(part, LEAST_HELP), MOST_HELP) if part >= HOLDS else 0.0


def convention(targets: Collection[str], prime_movers: Collection[str]) -> dict[str, float]:
    """The fixed convention beside it: 1 for targets, half for other prime movers, none for the rest."""
    return {**dict.fromkeys(prime_movers, ASSISTING), **dict.fromkeys(targets, 1.0)}


def head_shares(
    strength_n: Mapping[str, float], heads: Collection[str], per_lift: Collection[Mapping[str, float]]
) -> dict[str, float]:
    """Counted sets of a muscle that one counted set of each of its heads is.

    Heads count by their maximal force; the lift that works most of the muscle counts one whole set for it, so that "ten sets" means ten
    sets of the best lift available, as it does in trials.

    Args:
        strength_n: maximal force of each head [N]. per_lift: fractions of the lifts that can be done.
    """
    whole = sum(strength_n[h] for h in heads)
    part = {h: strength_n[h] / whole for h in heads}
    best = max((sum(part[h] * f.get(h, 0.0) for h in heads) for f in per_lift), default=0.0)
    return {h: p / max(best, ASSISTING) for h, p in part.items()}
