"""How far two weeks are from each other."""

from collections.abc import Sequence

from lengthwise.planning.week import Week
from lengthwise.planning.week_model import old_sets


def moved(a: Week, b: Week) -> int:
    """Sets that differ between two weeks, added over lifts and days."""
    first, second = old_sets(a), old_sets(b)
    return sum(abs(first.get(k, 0) - second.get(k, 0)) for k in first.keys() | second.keys())


def difference(week: Week, earlier: Sequence[Week]) -> float:
    """Share of the lifts of the nearest earlier week that do not come again, 0 the same lifts to 1 all others."""
    own = {key for _, key in old_sets(week)}
    old = [{key for _, key in old_sets(w)} for w in earlier]
    return min((len(o - own) / len(o) for o in old if o), default=1.0)
