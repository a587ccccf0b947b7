"""Sets that count: the fraction of a hard set that each head gets from one set of a lift, computed from the work it does there."""

from collections.abc import Collection, Mapping

FULL_WORK = 0.2
"""Activation times shortening [optimal fibre lengths] that is a full set whatever others do: the full mark of the grading's `joint_action`
(half activation through two fifths of a fibre length). With it the prime movers of the library's lifts that are not their targets get 0.49
of a set on average, where claim indirect_sets (V006: an assisting muscle counts about half a set) has 0.5; see docs/weeks.md."""
LEAST_WORK = 0.05
"""Leaders that do less than this hardly move; a held position is no full set for anybody (own choice)."""
COUNTS = 0.1
"""Smaller fractions are noise and count as none (own choice)."""
ASSISTING = 0.5
"""Part of a set for a head that assists, in the fixed convention (claim indirect_sets)."""


def fractions(work: Mapping[str, float], named: Collection[str]) -> dict[str, float]:
    """The fraction of a hard set that each head gets, 0-1, heads that get none left out.

    A set ends when the heads that do most of the work are spent. So the head that works most gets a whole set, and so does any head that
    does as much as a full set asks for; others get theirs in proportion to their work. A head that only holds or gives way gets none.
    Heads that nobody names for the lift get half a set at most: there the model alone speaks.

    Args:
        work: activation-weighted shortening of each head over the lifting phase [optimal fibre lengths].
        named: targets and prime movers of the lift, as its file names them.
    """
    most = max(work.values(), default=0.0)
    full = min(max(most, LEAST_WORK), FULL_WORK)
    found = {head: min(1.0 if head in named else ASSISTING, w / full) for head, w in work.items()}
    return {head: part for head, part in found.items() if part >= COUNTS}


def convention(targets: Collection[str], prime_movers: Collection[str]) -> dict[str, float]:
    """The fixed convention beside it: 1 for targets, half for other prime movers, none for the rest."""
    return {**dict.fromkeys(prime_movers, ASSISTING), **dict.fromkeys(targets, 1.0)}


def head_shares(
    strength_n: Mapping[str, float], heads: Collection[str], per_lift: Collection[Mapping[str, float]]
) -> dict[str, float]:
    """Counted sets of a muscle that one counted set of each of its heads is.

    Heads count by their maximal force; the lift that works most of the muscle counts one whole set for it, so that "ten sets" means ten
    sets of the best lift at hand, as it does in trials.

    Args:
        strength_n: maximal force of each head [N]. per_lift: fractions of the lifts that can be done.
    """
    whole = sum(strength_n[h] for h in heads)
    part = {h: strength_n[h] / whole for h in heads}
    best = max((sum(part[h] * f.get(h, 0.0) for h in heads) for f in per_lift), default=0.0)
    return {h: p / max(best, ASSISTING) for h, p in part.items()}
