"""Wishes that contradict: the smallest set in conflict, and what giving way on each would buy."""

from lengthwise.planning.highs import Limits, maximise
from lengthwise.planning.programme import Programme
from lengthwise.planning.week import Conflict
from lengthwise.planning.wording import NOT_ENOUGH, Wish, buys

LIMITS = Limits(20.0, 0.5)
"""Any point will do; time enough to be sure that there is none."""
SOUGHT = Limits(5.0, 0.01)


def can_hold(programme: Programme, wishes: frozenset[Wish], whole: bool = True) -> bool:
    """Whether some wishes can be met together; unclear counts as yes, so that no conflict is claimed without proof."""
    return maximise(programme.holding(wishes), Limits(LIMITS.seconds, LIMITS.gap, whole)).outcome != "infeasible"


def smallest_conflict(programme: Programme) -> tuple[Wish, ...]:
    """Wishes that cannot be met together, of which none can be left out without the others becoming possible; empty when all can.

    A deletion filter (Chinneck & Dravnieks 1991, ORSA Journal on Computing 3:157-168, from memory): each wish is left out in turn, and
    stays out while the rest is still impossible. Rules go first, so that what is left are wishes as far as possible. Where divided sets
    are impossible already, the filter runs on those first, which is much faster.
    """
    everything = frozenset(programme.wishes())
    if can_hold(programme, everything):
        return ()
    left = _filtered(programme, everything, whole=False) if not can_hold(programme, everything, whole=False) else everything
    return tuple(w for w in programme.wishes() if w in _filtered(programme, left, whole=True))


def _filtered(programme: Programme, wishes: frozenset[Wish], whole: bool) -> frozenset[Wish]:
    left = wishes
    for wish in sorted(wishes, key=lambda w: (w.kind != "rule", w.text)):
        if wish in left and not can_hold(programme, left - {wish}, whole):
            left = left - {wish}
    return left


def explained(programme: Programme, conflict: tuple[Wish, ...]) -> tuple[Conflict, ...]:
    """Each wish of a conflict with what giving way on it alone buys, all other wishes of the week being met."""
    return tuple(Conflict(wish.text, _buys(programme, wish)) for wish in conflict)


def _buys(programme: Programme, wish: Wish) -> str:
    found = maximise(programme.relaxing({wish: 1.0}, worth=0.0), SOUGHT)
    return buys(wish, -found.worth) if found.found else NOT_ENOUGH
