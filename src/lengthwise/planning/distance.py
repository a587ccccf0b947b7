"""How far two weeks are from each other, and a programme that asks for the nearest one."""

from collections.abc import Sequence

from lengthwise.planning.model import Model
from lengthwise.planning.programme import Column
from lengthwise.planning.week import Week
from lengthwise.training.client import DayName

Key = tuple[str, str]


def lifts_of(week: Week, day: DayName) -> set[Key]:
    """The lifts of a day."""
    return {(lift.lift, lift.range) for d in week.days if d.day == day for lift in d.lifts}


def sets_of(week: Week) -> dict[tuple[DayName, Key], int]:
    """Sets by day and lift."""
    return {(d.day, (lift.lift, lift.range)): lift.sets for d in week.days for lift in d.lifts}


def moved(a: Week, b: Week) -> int:
    """Sets that differ between two weeks, added over lifts and days."""
    first, second = sets_of(a), sets_of(b)
    return sum(abs(first.get(k, 0) - second.get(k, 0)) for k in first.keys() | second.keys())


def difference(week: Week, earlier: Sequence[Week]) -> float:
    """Share of the lifts of the nearest earlier week that do not come again, 0 the same lifts to 1 all others."""
    own = {key for _, key in sets_of(week)}
    old = [{key for _, key in sets_of(w)} for w in earlier]
    return min((len(o - own) / len(o) for o in old if o), default=1.0)


def stay_near(model: Model, previous: Week, least_worth: float) -> None:
    """Turn a programme into: as near to a week as can be, while it is worth at least so much."""
    p = model.programme
    worth = {k: c.worth for k, c in enumerate(p.columns) if c.worth}
    p.columns[:] = [Column(c.lower, c.upper, 0.0, c.whole) for c in p.columns]
    p.keep(worth, lower=least_worth)
    old = sets_of(previous)
    for i, choice in enumerate(model.question.choices):
        for d, offer in enumerate(model.question.days):
            sets = model.sets(i, d)
            if sets is None:
                continue
            was = float(old.get((offer.day, choice.key), 0))
            off = p.add(("moved", i, d), was + model.question.rules.most_sets, -1.0)
            p.keep({off: 1.0, sets: -1.0}, lower=-was)
            p.keep({off: 1.0, sets: 1.0}, lower=was)
