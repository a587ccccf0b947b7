"""Which lifts may be done in turn, and how much time that saves."""

from lengthwise.planning.rules import Rules
from lengthwise.planning.week import Choice


def may_pair(a: Choice, b: Choice, rules: Rules) -> bool:
    """Whether two lifts can be done in turn: neither is costly for the whole body, and no head gets much of a set from both."""
    if a.lift == b.lift or max(a.systemic, b.systemic) >= rules.pair_systemic_below:
        return False
    both = max((min(f, b.fraction.get(h, 0.0)) for h, f in a.fraction.items()), default=0.0)
    return both < rules.pair_share_below


def round_s(a: Choice, b: Choice, rules: Rules) -> float:
    """How long one set of each takes in turn [s]: each lift still rests as long as it would alone, and a pause parts all sets."""
    return max(a.set_s + a.rest_s, b.set_s + b.rest_s, a.set_s + b.set_s + 2 * rules.pair_gap_s)


def saved_s(a: Choice, b: Choice, rules: Rules) -> float:
    """What one set of each in turn saves against one after the other [s]; never negative."""
    return max(0.0, a.set_s + a.rest_s + b.set_s + b.rest_s - round_s(a, b, rules))
