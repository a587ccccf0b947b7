"""The week as a mixed-integer linear programme: which lifts on which day, and how many sets."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from lengthwise.planning import wording
from lengthwise.planning.integer_programme import INFINITE, Programme
from lengthwise.planning.question import WEEKDAYS, DayOffer, Muscle, WeekQuestion
from lengthwise.planning.shape import belongs
from lengthwise.planning.week import AT_LENGTH, Choice, Week

MAIN_PART = 0.1
"""Nobody counts sets for heads below this part of a muscle's strength, such as teres minor in the upper back (own choice)."""
READABLE = frozenset({"lever", "cable"})
"""Where both are, a band is not planned unasked: they do the same with a load that can be read (common practice, no source)."""
HALF = 0.5
"""A lift trains a muscle when a set counts so much for it (own choice)."""
LIFT_MIN, LIFT_SETS = 8.0, 3
"""Minutes and sets that one lift of a day is reckoned to take, rests included (estimate)."""
TRUNK = frozenset({"trunk_flexion", "trunk_rotation", "trunk_extension"})
Sets = Mapping[tuple[int, int], int]
"""Sets by choice and day, each by where it stands in the question."""


@dataclass(kw_only=True)
class Model:
    """A question as a programme.

    Columns: ("sets", choice, day), ("used", choice, day), ("rounds", day), ("below" | "within" | "over" | "best", muscle),
    ("hard", muscle, day), ("moved", choice, day), ("in", lift), and ("missed", number) for every rule that may give way.

    Attributes:
        slots: every choice with a day on which it may stand. soft: column of each rule that may give way, in words (empty: not told).
        wished: the words of those that a client would wish for, told as conflicts.
        old: sets of the week before. saved: of each day, the part of the usual saving in turn that is counted on.
    """

    question: WeekQuestion
    saved: tuple[float, ...]
    programme: Programme = field(default_factory=Programme)
    slots: list[tuple[int, int]] = field(default_factory=list)
    soft: list[tuple[int, str]] = field(default_factory=list)
    wished: set[str] = field(default_factory=set)
    old: Mapping[tuple[str, tuple[str, str]], int] = field(default_factory=dict)

    def sets(self, i: int, d: int) -> int:
        """The column of a choice's sets on a day."""
        return self.programme.place["sets", i, d]

    def used(self, i: int, d: int) -> int:
        """The column that says whether a choice stands on a day."""
        return self.programme.place["used", i, d]

    def on(self, d: int) -> Iterator[tuple[int, Choice]]:
        """The choices that may stand on a day."""
        return ((i, self.question.choices[i]) for i, e in self.slots if e == d)

    def total(self, weight: Mapping[int, float], day: int | None = None) -> dict[int, float]:
        """Factors that add the sets of the week, or of a day, each choice with its weight."""
        return {self.sets(i, d): weight[i] for i, d in self.slots if weight.get(i) and day in (None, d)}

    def one_of(self, lifts: Iterable[tuple[int, int]]) -> list[dict[int, float]]:
        """The columns that say whether some lifts stand on their days, in groups of which a day holds one lift: of a family for a first target."""
        groups: dict[tuple[int, str, str], dict[int, float]] = {}
        for i, d in lifts:
            known = self.question.choices[i].practice
            groups.setdefault((d, known.family, known.targets[0]), {})[self.used(i, d)] = 1.0
        return list(groups.values())

    def by_lift(self) -> dict[str, dict[int, float]]:
        """For each lift the columns that say on which days it stands."""
        out: dict[str, dict[int, float]] = {}
        for i, d in self.slots:
            out.setdefault(self.question.choices[i].lift, {})[self.used(i, d)] = 1.0
        return out

    def ask(self, factors: Mapping[int, float], lower: float, price: float, told: str = "") -> None:
        """Σ ≥ lower, missed at a price; `told` is said when it gives way."""
        missed = self.programme.add(("missed", len(self.soft)), INFINITE, -price)
        self.soft.append((missed, told))
        self.programme.keep({**factors, missed: 1.0}, lower=lower)

    def wish(self, factors: Mapping[int, float], lower: float, price: float, told: str) -> None:
        """As `ask`, for what a client would wish for."""
        self.wished.add(told)
        self.ask(factors, lower, price, told)

    def pay(self, column: int, worth: float) -> None:
        """Add to what a unit of a column is worth."""
        self.programme.pay(column, worth)


def may_stand(question: WeekQuestion, choice: Choice, offer: DayOffer, was: bool) -> bool:
    """Whether a lift may stand on a day: its gear and stations are there, and it belongs to the day or stood there before."""
    if choice.gear not in offer.gear or not choice.practice.stations <= offer.stations:
        return False
    if (offer.day, choice.key) in question.pinned or was:
        return True
    if choice.gear == "band" and offer.gear >= READABLE and not choice.kept:
        return False
    return offer.day not in question.closed and belongs(choice.practice, offer.shape, question.muscles, offer.strict)


def open_days(question: WeekQuestion) -> frozenset[int]:
    """Days whose own lifts are too few to use their minutes: lifts for the rest of the body may stand there too.

    Of one family a day holds one lift for a first target; each is reckoned as LIFT_MIN minutes. Of those that load a sore joint a day holds
    what the joint may carry. A day that the client gave a part of the body keeps to it: its minutes stay free.
    """
    out = set()
    for d, offer in ((d, o) for d, o in enumerate(question.days) if not o.strict):
        there = [c for c in question.choices if c.lift not in question.refused and may_stand(question, c, offer, False)]
        sorts = {(c.practice.family, c.practice.targets[0]): loads_sore(question, c) for c in there}
        sore = sum(sorts.values())
        if (len(sorts) - sore + min(sore, question.rules.joint_dose / LIFT_SETS)) * LIFT_MIN < question.rules.fill * offer.minutes:
            out.add(d)
    return frozenset(out)


def loads_sore(question: WeekQuestion, choice: Choice) -> bool:
    """Whether a lift loads a joint to be spared by half of what it may carry, or more."""
    return any(2 * choice.joint_nm.get(joint, 0.0) >= most for joint, most in question.joint_nm.items())


def _may_fill(question: WeekQuestion, choice: Choice, offer: DayOffer) -> bool:
    """Whether a lift may stand on a day that its own lifts do not fill: single-joint ones, and with a joint to be spared any that spares it."""
    spares = bool(question.joint_nm) and not loads_sore(question, choice)
    return (spares or not choice.practice.multi) and may_stand(question, choice, replace(offer, shape="whole"), False)


def counted(choice: Choice, muscle: Muscle) -> float:
    """Counted sets of a muscle that one set of a lift is; an easy one for the sake of a sore joint counts for nothing."""
    return 0.0 if choice.gentle else trained(choice, muscle)


def trained(choice: Choice, muscle: Muscle) -> float:
    """How much of a set of a muscle one set of a lift is, easy or hard."""
    return sum(share * choice.fraction.get(head, 0.0) for head, share in muscle.share.items())


def direct(choice: Choice, muscle: Muscle) -> float:
    """Sets of a muscle that one set of a lift is where only lifts meant for the muscle count."""
    return float(any(head in muscle.share for head in choice.practice.targets))


def is_long(choice: Choice, muscle: Muscle) -> bool:
    """Whether a lift loads a muscle as a whole long, by its heads' shares of it: a hip thrust does so for the lower gluteus maximus alone."""
    part = sum(share * choice.at_length.get(head, 0.0) for head, share in muscle.share.items())
    return part >= AT_LENGTH * sum(muscle.share.values()) > 0


def main_heads(muscle: Muscle) -> list[str]:
    """The heads of a muscle that are more than a small part of it."""
    whole = sum(muscle.share.values())
    return [h for h, s in muscle.share.items() if s >= MAIN_PART * whole]


def best_value(question: WeekQuestion, muscle: str) -> float:
    """The most growth that any choice has for a muscle."""
    return max((c.value.get(muscle, 0.0) for c in question.choices), default=0.0)


def worth_of_set(choice: Choice, muscle: Muscle, question: WeekQuestion) -> float:
    """Counted sets of the best lift that one set is worth: some of it plain, the rest by the lift's value over the best value."""
    best, plain = best_value(question, muscle.name), question.rules.plain_part
    value = choice.value.get(muscle.name, 0.0) / best if best > 0 else 0.0
    easy = question.rules.gentle_part if choice.gentle and _hard_ones(question, muscle) else 1.0
    return easy * trained(choice, muscle) * (plain + (1 - plain) * value)


def _hard_ones(question: WeekQuestion, muscle: Muscle) -> bool:
    """Whether lifts that may be done hard train a muscle as well: where a sore joint leaves easy sets alone they are all there is."""
    return any(not c.gentle and counted(c, muscle) >= HALF for c in question.choices)


def taste(choice: Choice, question: WeekQuestion) -> float:
    """Worth of a set apart from what it does: a lift of the client's own, one that any coach would write down, or neither."""
    rules = question.rules
    if choice.kept:
        return rules.own_lift
    rear = rules.rear_price if is_rear_raise(choice, question) else 0.0
    return (rules.staple if choice.practice.staple else -rules.odd) - (rules.rival if choice.rival else 0.0) - rear


def is_rear_raise(choice: Choice, question: WeekQuestion) -> bool:
    """Whether a lift is a single-joint one for the rear deltoid that the client did not ask more of."""
    rear = next((m for m in question.muscles if m.name == "deltoid_posterior"), None)
    return rear is not None and not rear.raised and not choice.practice.multi and bool(direct(choice, rear))


def in_order_of_days(question: WeekQuestion) -> list[int]:
    """Where the days stand in the question, Monday first."""
    return sorted(range(len(question.days)), key=lambda d: WEEKDAYS.index(question.days[d].day))


def follows(a: DayOffer, b: DayOffer) -> bool:
    """Whether b is the day after a."""
    return (WEEKDAYS.index(b.day) - WEEKDAYS.index(a.day)) % 7 == 1


def close_days(question: WeekQuestion) -> list[tuple[int, int]]:
    """Days with the day after, where that is a training day too, from Sunday to Monday as well."""
    order = in_order_of_days(question)
    return [(a, b) for a, b in pairwise([*order, order[0]]) if follows(question.days[a], question.days[b])]


def sets_allowed(question: WeekQuestion, choice: Choice, offer: DayOffer) -> tuple[float, float]:
    """Least and most sets of a lift on a day."""
    rules = question.rules
    if choice.method:
        return 1.0, rules.least_sets
    if question.easy or (question.beginner and offer.minutes < rules.long_day_min):
        return rules.least_sets, rules.easy_most_sets
    if choice.practice.family in TRUNK and not any(m.raised and direct(choice, m) for m in question.muscles):
        return rules.least_sets, rules.easy_most_sets
    main = choice.kept and choice.practice.multi and offer.minutes >= rules.short_day_min
    return (rules.main_least_sets if main and question.previous is None else rules.least_sets), rules.most_sets


def add_lifts(model: Model) -> None:
    """Columns of every lift on every day where it may stand."""
    question, p, opened = model.question, model.programme, open_days(model.question)
    model.slots = [
        (i, d)
        for d, offer in enumerate(question.days)
        for i, c in enumerate(question.choices)
        if may_stand(question, c, offer, bool(model.old.get((offer.day, c.key)))) or (d in opened and _may_fill(question, c, offer))
    ]
    for i, d in model.slots:
        choice, offer = question.choices[i], question.days[d]
        least, most = sets_allowed(question, choice, offer)
        pinned = question.pinned.get((offer.day, choice.key))
        most = max(most, pinned or 0)
        sets = p.add(("sets", i, d), most, taste(choice, question), whole=True)
        used = p.add(("used", i, d), 1.0, -question.rules.lift_price, whole=True)
        p.keep({sets: 1.0, used: -min(least, pinned or least)}, lower=0.0)
        p.keep({sets: 1.0, used: -most}, upper=0.0)
        _forbid(model, choice, {used: 1.0})
        if pinned is not None:
            p.keep({sets: 1.0}, lower=pinned, upper=pinned, wish=wording.pinned(choice.name, offer.day, pinned))


def _forbid(model: Model, choice: Choice, used: dict[int, float]) -> None:
    """Refused lifts, gear to do without, and lifts that load a joint to be spared too much."""
    question, p = model.question, model.programme
    if choice.lift in question.refused:
        p.keep(used, upper=0.0, wish=wording.refused(choice.name))
    if choice.gear in question.without:
        p.keep(used, upper=0.0, wish=wording.without(choice.gear))
    for joint, most in question.joint_nm.items():
        if choice.joint_nm.get(joint, 0.0) > most:
            p.keep(used, upper=0.0, wish=wording.spared(joint, most))


def old_sets(week: Week | None) -> dict[tuple[str, tuple[str, str]], int]:
    """Sets of a week by day and lift; none where there is no week."""
    return {(d.day, (x.lift, x.range)): x.sets for d in week.days for x in d.lifts} if week else {}


def forgiving(model: Model) -> Programme:
    """The programme with own lower bounds missed at a high price: so the empty week always is one, but for pins."""
    firm = [w for w in model.programme.wishes() if w.kind == "at_least"]
    return model.programme.relaxing(dict.fromkeys(firm, model.question.rules.miss_price))
