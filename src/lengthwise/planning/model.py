"""The week as a mixed-integer linear programme: which lifts on which day, how many sets, and which two in turn."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, pairwise

from lengthwise.planning import wording
from lengthwise.planning.pairing import may_pair, saved_s
from lengthwise.planning.programme import INFINITE, Programme
from lengthwise.planning.question import WEEKDAYS, DayOffer, Muscle, Question
from lengthwise.planning.week import Choice

LEAST_SAVING_S = 30.0
"""Pairs that save less a round are not worth walking for."""


@dataclass(frozen=True)
class Model:
    """A question as a programme.

    Columns: ("sets", choice, day), ("used", choice, day), ("round", choice, choice, day), ("pair", choice, choice, day),
    ("below", muscle), ("within", muscle), ("over", muscle), ("short", muscle, head), ("hard", muscle, day), ("moved", choice, day),
    ("in", choice). For bounds, ("turn", choice, day) and ("rounds", day) stand for all pairs of a day.

    Attributes:
        allowed: choices that may be done on each day, by where they stand; nothing where all may.
    """

    question: Question
    programme: Programme
    allowed: tuple[frozenset[int], ...] | None = None

    def sets(self, choice: int, day: int) -> int | None:
        """The column of a choice's sets on a day; nothing where the gear is not there."""
        return self.programme.place.get(("sets", choice, day))


Pairing = Callable[[Model, int], dict[int, float]]
"""Adds what saves time on a day; returns its columns with the seconds they add (negative)."""


def model_of(question: Question, pairing: Pairing, allowed: tuple[frozenset[int], ...] | None = None) -> Model:
    """The programme of a question."""
    model = Model(question, Programme(), allowed)
    _lifts(model)
    _forbidden(model)
    _days(model, pairing)
    for muscle in question.muscles:
        _worth(model, muscle)
        _band(model, muscle)
        _spacing(model, muscle)
        _variety(model, muscle)
    _kinds(model)
    _joints(model)
    if question.earlier:
        _differ(model)
    return model


def counted(choice: Choice, muscle: Muscle) -> float:
    """Counted sets of a muscle that one set of a lift is."""
    return sum(share * choice.fraction.get(head, 0.0) for head, share in muscle.share.items())


def best_value(question: Question, muscle: str) -> float:
    """The highest graded value that any choice has for a muscle."""
    return max((c.value.get(muscle, 0.0) for c in question.choices), default=0.0)


def worth_of_set(choice: Choice, muscle: Muscle, best: float) -> float:
    """Counted sets of the best lift that one set of a lift is worth: its counted sets times its value over the best value."""
    return counted(choice, muscle) * choice.value.get(muscle.name, 0.0) / best if best > 0 else 0.0


def _on(model: Model, day: int) -> Iterator[tuple[int, Choice]]:
    """The choices that can be done on a day."""
    for i, choice in enumerate(model.question.choices):
        if choice.gear in model.question.days[day].gear and (model.allowed is None or i in model.allowed[day]):
            yield i, choice


def _everywhere(model: Model) -> Iterator[tuple[int, Choice, int, int]]:
    """Every choice on every day it can be done, with the column of its sets."""
    for day in range(len(model.question.days)):
        for i, choice in _on(model, day):
            yield i, choice, day, model.programme.place["sets", i, day]


def _lifts(model: Model) -> None:
    """Sets of each lift on each day: none, or between the least and the most; each lift on a few days only."""
    rules, p = model.question.rules, model.programme
    days_of: dict[int, dict[int, float]] = {}
    for day in range(len(model.question.days)):
        for i, _ in _on(model, day):
            sets = p.add(("sets", i, day), rules.most_sets, whole=True)
            used = p.add(("used", i, day), 1.0, -rules.lift_price, whole=True)
            p.keep({sets: 1.0, used: -rules.least_sets}, lower=0.0)
            p.keep({sets: 1.0, used: -rules.most_sets}, upper=0.0)
            days_of.setdefault(i, {})[used] = 1.0
    for i, factors in days_of.items():
        if len(factors) > rules.most_days_a_lift:
            p.keep(factors, upper=rules.most_days_a_lift, wish=wording.few_days(model.question.choices[i].name, rules))


def _forbidden(model: Model) -> None:
    """Refused lifts, gear to do without, and lifts that load a joint to be spared too much."""
    question, p = model.question, model.programme
    for i, choice, day, sets in _everywhere(model):
        used = {p.place["used", i, day]: 1.0}
        if choice.lift in question.refused:
            p.keep(used, upper=0.0, wish=wording.refused(choice.name))
        if choice.gear in question.without:
            p.keep({sets: 1.0}, upper=0.0, wish=wording.without(choice.gear))
        for joint, most in question.joint_nm.items():
            if choice.joint_nm.get(joint, 0.0) > most:
                p.keep({sets: 1.0}, upper=0.0, wish=wording.spared(joint, most))


def _days(model: Model, pairing: Pairing) -> None:
    """Minutes and lifts of a day, and the pairs that save time."""
    question, rules, p = model.question, model.question.rules, model.programme
    for day, offer in enumerate(question.days):
        time: dict[int, float] = {}
        for i, choice in _on(model, day):
            time[p.place["used", i, day]] = choice.setup_s
            time[p.place["sets", i, day]] = choice.set_s + choice.rest_s
        time.update(pairing(model, day))
        p.keep(
            {k: v / 60 for k, v in time.items()},
            upper=offer.minutes - rules.warm_up_min,
            wish=wording.minutes(offer.day, offer.minutes),
        )
        used = {p.place["used", i, day]: 1.0 for i, _ in _on(model, day)}
        p.keep(used, upper=rules.most_lifts_a_day, wish=wording.few_lifts(offer.day, rules))


def each_pair(model: Model, day: int) -> dict[int, float]:
    """Every two lifts that may be done in turn as a choice of its own; a lift has at most one partner."""
    p, most = model.programme, model.question.rules.most_sets
    partners: dict[int, dict[int, float]] = {}
    rounds_of: dict[int, dict[int, float]] = {}
    saving: dict[int, float] = {}
    for i, j, saved in _pairs(model, day):
        rounds = p.add(("round", i, j, day), most)
        pair = p.add(("pair", i, j, day), 1.0, whole=True)
        p.keep({rounds: 1.0, pair: -most}, upper=0.0)
        for k in (i, j):
            partners.setdefault(k, {})[pair] = 1.0
            rounds_of.setdefault(k, {})[rounds] = 1.0
        saving[rounds] = -saved
    for k in partners:
        p.keep({**partners[k], p.place["used", k, day]: -1.0}, upper=0.0)
        p.keep({**rounds_of[k], p.place["sets", k, day]: -1.0}, upper=0.0)
    return saving


def shared_rounds(model: Model, day: int) -> dict[int, float]:
    """All pairs of a day together, so that more is allowed than can be done: a bound on what pairs can save.

    Every round holds two lifts and at most one of those that work the same head; a lift's part of what a round saves is at most half
    of the most it can save with anybody.
    """
    p, rules = model.programme, model.question.rules
    most: dict[int, float] = {}
    for i, j, saved in _pairs(model, day):
        most[i], most[j] = max(most.get(i, 0.0), saved), max(most.get(j, 0.0), saved)
    rounds = p.add(("rounds", day), INFINITE)
    turns = {i: p.add(("turn", i, day), rules.most_sets) for i in most}
    for i, turn in turns.items():
        p.keep({turn: 1.0, p.place["sets", i, day]: -1.0}, upper=0.0)
    p.keep({**dict.fromkeys(turns.values(), 1.0), rounds: -2.0}, lower=0.0, upper=0.0)
    rivals: dict[str, list[int]] = {}
    for i in turns:
        for head, fraction in model.question.choices[i].fraction.items():
            if fraction >= rules.pair_share_below:
                rivals.setdefault(head, []).append(i)
    for same in {tuple(r) for r in rivals.values() if len(r) > 1}:
        p.keep({**{turns[i]: 1.0 for i in same}, rounds: -1.0}, upper=0.0)
    return {turn: -most[i] / 2 for i, turn in turns.items()}


def no_pairs(model: Model, day: int) -> dict[int, float]:
    """No lifts in turn."""
    return {}


def number_of_pairs(question: Question) -> int:
    """How many pairs there are to choose from, over all days."""
    model = Model(question, Programme())
    return sum(1 for day in range(len(question.days)) for _ in _pairs(model, day))


def _pairs(model: Model, day: int) -> Iterator[tuple[int, int, float]]:
    """Every two lifts that may be done in turn on a day, with what a round saves [s]."""
    rules = model.question.rules
    for (i, a), (j, b) in combinations(_on(model, day), 2):
        saved = saved_s(a, b, rules)
        if saved >= LEAST_SAVING_S and may_pair(a, b, rules):
            yield i, j, saved


def _weekly(model: Model, weight: Mapping[int, float]) -> dict[int, float]:
    """Factors that add the sets of the week, each choice with its weight."""
    return {sets: weight[i] for i, _, _, sets in _everywhere(model) if weight.get(i)}


def _counted_columns(model: Model, muscle: Muscle) -> dict[int, float]:
    return _weekly(model, {i: counted(c, muscle) for i, c in enumerate(model.question.choices)})


def _worth(model: Model, muscle: Muscle) -> None:
    """What the sets of a muscle are worth: all of it below the band, less within it, nothing above; heads must share in it."""
    rules, p, question = model.question.rules, model.programme, model.question
    best = best_value(question, muscle.name)
    worth = _weekly(model, {i: worth_of_set(c, muscle, best) for i, c in enumerate(question.choices)})
    below = p.add(("below", muscle.name), muscle.low, muscle.priority)
    within = p.add(("within", muscle.name), muscle.high - muscle.low, muscle.priority * rules.slope_in_band)
    p.keep({**worth, below: -1.0, within: -1.0}, lower=0.0)
    over = p.add(("over", muscle.name), INFINITE, -rules.over_price)
    p.keep({**_counted_columns(model, muscle), over: -1.0}, upper=muscle.high)
    total = sum(muscle.share.values())
    for head, share in muscle.share.items():
        price = rules.head_price * muscle.priority * share / total
        short = p.add(("short", muscle.name, head), INFINITE, -price)
        sets = _weekly(model, {i: c.fraction.get(head, 0.0) for i, c in enumerate(question.choices)})
        p.keep({**sets, short: 1.0}, lower=rules.least_head_part * muscle.low)


def _band(model: Model, muscle: Muscle) -> None:
    """A band that the client asked for."""
    if muscle.own:
        columns = _counted_columns(model, muscle)
        model.programme.keep(columns, lower=muscle.low, wish=wording.at_least(muscle.name, muscle.low))
        model.programme.keep(columns, upper=muscle.high, wish=wording.at_most(muscle.name, muscle.high))


def _spacing(model: Model, muscle: Muscle) -> None:
    """Counted sets of a muscle on a day, and no hard day after a hard day."""
    rules, p, days = model.question.rules, model.programme, model.question.days
    order = sorted(range(len(days)), key=lambda d: WEEKDAYS.index(days[d].day))
    close = [(a, b) for a, b in pairwise(order) if _follows(days[a], days[b])]
    if len(order) > 1 and _follows(days[order[-1]], days[order[0]]):
        close.append((order[-1], order[0]))
    hard = {d: p.add(("hard", muscle.name, d), 1.0, whole=True) for d in sorted({d for pair in close for d in pair})}
    for day in order:
        sets = {p.place["sets", i, day]: counted(c, muscle) for i, c in _on(model, day)}
        p.keep(sets, upper=rules.most_sets_a_day, wish=wording.day_cap(muscle.name, rules))
        if day in hard:
            p.keep({**sets, hard[day]: rules.hard_from_sets - rules.most_sets_a_day}, upper=rules.hard_from_sets,
                   wish=wording.spacing(muscle.name))  # fmt: skip
    for a, b in close:
        p.keep({hard[a]: 1.0, hard[b]: 1.0}, upper=1.0, wish=wording.spacing(muscle.name))


def _follows(a: DayOffer, b: DayOffer) -> bool:
    return (WEEKDAYS.index(b.day) - WEEKDAYS.index(a.day)) % 7 == 1


def _variety(model: Model, muscle: Muscle) -> None:
    """No lift gives more than its share of a muscle's counted sets, beyond the first few."""
    rules, question = model.question.rules, model.question
    if sum(counted(c, muscle) > 0 for c in question.choices) < 2:
        return
    every = _counted_columns(model, muscle)
    for i, choice in enumerate(question.choices):
        one = counted(choice, muscle)
        if one <= 0:
            continue
        own = {sets: one for j, _, _, sets in _everywhere(model) if j == i}
        factors = {k: own.get(k, 0.0) - rules.most_share * v for k, v in every.items()}
        model.programme.keep(factors, upper=(1 - rules.most_share) * rules.share_free_sets, wish=wording.share(muscle.name, rules))


def _kinds(model: Model) -> None:
    """At most one lift of a kind on a day."""
    p = model.programme
    for day in range(len(model.question.days)):
        kinds: dict[str, dict[int, float]] = {}
        for i, choice in _on(model, day):
            kinds.setdefault(choice.kind or choice.lift, {})[p.place["used", i, day]] = 1.0
        for factors in kinds.values():
            if len(factors) > 1:
                p.keep(factors, upper=1.0, wish=wording.ONE_OF_A_KIND)


def _joints(model: Model) -> None:
    """What a joint to be spared carries on a day."""
    question, p = model.question, model.programme
    for joint, most in question.joint_nm.items():
        if most <= 0:
            continue
        for day in range(len(question.days)):
            dose = {p.place["sets", i, day]: c.joint_nm.get(joint, 0.0) / most for i, c in _on(model, day)}
            p.keep(dose, upper=question.rules.joint_dose, wish=wording.dose(joint))


def _differ(model: Model) -> None:
    """Of the lifts of each earlier week only some may come again."""
    question, p = model.question, model.programme
    inside: dict[int, int] = {}
    for i, _, day, _ in _everywhere(model):
        if i not in inside:
            inside[i] = p.add(("in", i), 1.0)
        p.keep({inside[i]: 1.0, p.place["used", i, day]: -1.0}, lower=0.0)
    for n, week in enumerate(question.earlier, 1):
        old = {(lift.lift, lift.range) for d in week.days for lift in d.lifts}
        again = {inside[i]: 1.0 for i, c in enumerate(question.choices) if i in inside and c.key in old}
        most = (1 - question.rules.least_difference) * len(old)
        p.keep(again, upper=float(int(most)), wish=wording.differ(n, question.rules))
