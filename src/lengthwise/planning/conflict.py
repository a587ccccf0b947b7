"""Wishes that contradict: the smallest set in conflict, and what giving way on each would buy."""

from dataclasses import dataclass

from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.week import Conflict
from lengthwise.planning.wording import NOT_ENOUGH, NOT_SMALLEST, Wish, buys

EACH = 40
"""Nodes of the search to find out whether some wishes can be met together."""
TRIES = 160
"""Questions asked of the solver before the search for a smallest conflict ends."""
RAISED = (1.0, 1.05, 1.1, 1.2, 1.4, 1.8)
"""Factors on own lower bounds when divided sets are judged."""
SOUGHT = Work(nodes=60, gap=0.01)


@dataclass(frozen=True)
class Clash:
    """Wishes that cannot be met together, empty when none are known to be; `smallest`: whether none of them can be left out."""

    wishes: tuple[Wish, ...]
    smallest: bool = True


def can_hold(programme: Programme, wishes: frozenset[Wish], whole: bool = True) -> bool:
    """Whether some wishes can be met together; unclear counts as yes, so that no conflict is claimed without proof."""
    asked = programme.holding(wishes)
    if any(r.lower > 0 and not r.factors for r in asked.rows):  # nothing counts towards it, and HiGHS is not told of empty rows
        return False
    return maximise(asked, Work(nodes=EACH, gap=1.0, whole=whole)).outcome != "infeasible"


def smallest_conflict(programme: Programme) -> Clash:
    """Wishes that cannot be met together, of which none can be left out without the others becoming possible; empty when all can.

    A deletion filter (Chinneck & Dravnieks 1991, ORSA Journal on Computing 3:157-168, from memory) that leaves out many wishes at once
    first and single ones last. Rules go first, so that what is left are wishes as far as possible. Where divided sets are impossible
    already, the filter runs on those first, which is much faster.
    """
    everything = frozenset(programme.wishes())
    if can_hold(programme, everything):
        return Clash(())
    left, smallest = _filtered(programme, _suspects(programme, everything), True)
    return Clash(tuple(w for w in programme.wishes() if w in left), smallest)


def _suspects(programme: Programme, everything: frozenset[Wish]) -> frozenset[Wish]:
    """Wishes known to be in conflict, most innocent ones left out already.

    Divided sets are quick to judge. Where they are possible, lower bounds are raised until they are not: what is in conflict then probably
    is in conflict for whole sets as they were asked, which is proven before it is used.
    """
    for factor in RAISED:
        raised = programme.raising(factor)
        if can_hold(raised, everything, whole=False):
            continue
        left, _ = _filtered(raised, everything, False)
        if factor == 1 or not can_hold(programme, left):
            return left
    return everything


def _filtered(programme: Programme, wishes: frozenset[Wish], whole: bool) -> tuple[frozenset[Wish], bool]:
    """What is left of wishes in conflict, and whether every one of them was tried."""
    left = sorted(wishes, key=lambda w: (w.kind != "rule", w.text))
    size, tries = max(1, len(left) // 2), 0
    while True:
        for part in [left[i : i + size] for i in range(0, len(left), size)]:
            tries += 1
            if tries > TRIES:
                return frozenset(left), False
            rest = [w for w in left if w not in part]
            if not can_hold(programme, frozenset(rest), whole):
                left = rest
        if size == 1:
            return frozenset(left), True
        size = max(1, size // 2)


def explained(programme: Programme, conflict: Clash) -> tuple[Conflict, ...]:
    """Each wish of a conflict with what giving way on it alone buys, all other wishes of the week being met.

    Where the search ended early, rules are not told: hardly any would have stayed.
    """
    told = [w for w in conflict.wishes if conflict.smallest or w.kind != "rule"]
    return tuple(Conflict(w.text, _buys(programme, w) + ("" if conflict.smallest else NOT_SMALLEST)) for w in told)


def _buys(programme: Programme, wish: Wish) -> str:
    found = maximise(programme.relaxing({wish: 1.0}, worth=0.0), SOUGHT)
    return buys(wish, -found.worth) if found.found else NOT_ENOUGH
