"""What is true of every week of few different lifts and tells the search sooner what is possible: rows in whole lifts.

The linear programme has a third of a lift stand on one day, and so counts 36 lifts where twelve may be: it meets every floor and job with
thirds. Each row here holds in every week; without them the same weeks are best, and the bound lies far above them.
"""

from collections.abc import Mapping

from lengthwise.planning.integer_programme import Row
from lengthwise.planning.muscle_rows import Part, is_led, leading, share_of
from lengthwise.planning.question import Muscle
from lengthwise.planning.week_model import Model, counted, trained, worth_of_set
from lengthwise.planning.week_rows import days_a_lift, tied_days


def add_whole_lifts(model: Model) -> None:
    """Rows in whole lifts for a week that counts its lifts."""
    for row in list(model.programme.rows):
        if row.wish is None and row.lower > 0 and min(row.factors.values(), default=0.0) > 0:
            _covered(model, row)
    _stand(model)
    for muscle in model.question.muscles:
        _below(model, muscle)
        _one_and_two(model, muscle)


def _covered(model: Model, row: Row) -> None:
    """What a row asks of the week, asked of whole lifts: one gives at most what its best days hold, and no more than all that is asked."""
    gives, rest = dict[str, dict[int, float]](), dict(row.factors)
    for (i, d), column in ((slot, column) for slot in model.slots for column in (model.sets(*slot), model.used(*slot))):
        if column in rest:
            days = gives.setdefault(model.question.choices[i].lift, {})
            days[d] = days.get(d, 0.0) + rest.pop(column) * model.programme.columns[column].upper
    if len({d for days in gives.values() for d in days}) > 1:
        model.programme.keep({**_at_most(model, gives, row.lower), **rest}, lower=row.lower)


def _stand(model: Model) -> None:
    """A lift of the week stands on a day; of days that hold the same lifts one is enough to look at."""
    again = {(i, b) for a, b in tied_days(model.question) for i, d in model.slots if d == a}
    days = dict[str, dict[int, float]]()
    for i, d in model.slots:
        if (i, d) not in again:
            days.setdefault(model.question.choices[i].lift, {})[model.used(i, d)] = 1.0
    for lift, used in days.items():
        model.programme.keep({**used, model.programme.place["in", lift]: -1.0}, lower=0.0)


def _below(model: Model, muscle: Muscle) -> None:
    """A muscle's worth up to its lower bound, from whole lifts."""
    good = {i: worth_of_set(c, muscle, model.question) for i, c in enumerate(model.question.choices)}
    model.programme.keep(
        {**_at_most(model, _gives(model, good), muscle.low), model.programme.place["below", muscle.name]: -1.0}, lower=0.0
    )


def _one_and_two(model: Model, muscle: Muscle) -> None:
    """Beyond the sets that one lift may give alone a second is needed: two columns from 0 to 1 say how far a muscle has one, and two.

    With a part f of the sets that any lift may lead, a lift that leads stands at the free sets or at f / (1 - f) times what others give;
    so one that never leads lets the muscle have 1 / (1 - f) times its own sets more, and counts as so much of a lift.
    """
    question, p = model.question, model.programme
    part = {i: trained(c, muscle) for i, c in enumerate(question.choices)}
    first = leading(model, {i: counted(c, muscle) for i, c in enumerate(question.choices)})
    leads = {question.choices[i].lift for i in first}
    free, most = question.rules.share_free_own, share_of(model, muscle, first)
    low = min(free, muscle.low)
    if not leads or not is_led(muscle) or low <= 0 or muscle.high <= free:
        return
    one, two = p.add(("one", muscle.name), 1.0), p.add(("two", muscle.name), 1.0)
    within = max(0.0, free - muscle.low)
    span = muscle.low - free if muscle.low > free else muscle.high - free
    p.keep({p.place["below", muscle.name]: 1.0, one: -low, two: low - muscle.low}, upper=0.0)
    p.keep({p.place["within", muscle.name]: 1.0, one: -within, two: within + muscle.low - muscle.high}, upper=0.0)
    p.keep({two: 1.0, one: -1.0}, upper=0.0)
    each = max(1 / low, 1 / (1 - most) / span)
    some = {x: 1.0 if x in leads else min(1.0, each * n) for x, n in _sums(model, _gives(model, part)).items()}
    p.keep({**{p.place["in", x]: n for x, n in some.items()}, one: -1.0, two: -1.0}, lower=0.0)
    others = model.total({i: each * n for i, n in part.items() if question.choices[i].lift not in leads})
    p.keep({**{p.place["in", x]: 1.0 for x in leads}, **others, one: -1.0, two: -1.0}, lower=0.0)


def _gives(model: Model, weight: Part) -> dict[str, dict[int, float]]:
    """What each lift may give on each day, sets times weight."""
    gives = dict[str, dict[int, float]]()
    for i, d in model.slots:
        days = gives.setdefault(model.question.choices[i].lift, {})
        days[d] = max(days.get(d, 0.0), weight[i] * model.programme.columns[model.sets(i, d)].upper)
    return gives


def _sums(model: Model, gives: Mapping[str, Mapping[int, float]]) -> dict[str, float]:
    """What each lift may give on its best days together."""
    return {x: sum(sorted(days.values())[-days_a_lift(model.question) :]) for x, days in gives.items()}


def _at_most(model: Model, gives: Mapping[str, Mapping[int, float]], most: float) -> dict[int, float]:
    """For each lift in the week what it may give, at most so much."""
    return {model.programme.place["in", x]: min(most, n) for x, n in _sums(model, gives).items()}
