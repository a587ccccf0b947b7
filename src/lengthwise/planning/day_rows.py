"""What holds on each day: minutes, how many lifts, the spine, twins, joints to be spared."""

from collections import defaultdict

from lengthwise.planning import wording
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.pairing import MACHINES, is_light, main_muscle
from lengthwise.planning.practice import SMALL
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import Model

FROM_THE_FLOOR = frozenset({"deadlift", "sumo_deadlift"})
"""Deadlifts that share no day with a barbell squat where another will do, and come once a week (common practice, no source)."""
ONE_A_DAY = frozenset({"lunge", "pulldown"})
"""Patterns of which a day holds one lift: two split squats, or two pulldowns, are the same work twice (common practice, no source)."""

SECOND_FROM = 5.0
"""Sets of a raised small muscle on a day from which two lifts share them (common practice, no source)."""
FULLER = 1.075
"""Minutes cost a little before a day is told to be short: 86 % of them (own choice)."""
ONCE = SMALL - {"calves"}
"""Small muscles of which a day holds one single-joint lift: two extensions, or two side raises, are the same work twice (common practice, no
source)."""
BACK = frozenset({"latissimus", "upper_back"})


def add_day(model: Model, d: int) -> None:
    """Everything that holds on one day."""
    _minutes(model, d)
    _number(model, d)
    _spine(model, d)
    _twins(model, d)
    _doubles(model, d)
    _joints(model, d)
    if model.question.days[d].day not in model.question.closed:
        _whole_numbers(model, d)


def _minutes(model: Model, d: int) -> None:
    """The day fits its minutes, and uses most of them."""
    offer, rules, p = model.question.days[d], model.question.rules, model.programme
    time = {model.used(i, d): c.setup_s / 60 for i, c in model.on(d)}
    time |= {model.sets(i, d): (c.set_s + c.rest_s) / 60 for i, c in model.on(d)}
    room = offer.minutes - rules.warm_up_min
    p.keep({**time, **_in_turn(model, d)}, upper=room, wish=wording.minutes(offer.day, offer.minutes))
    model.ask(time, FULLER * rules.fill * offer.minutes - rules.warm_up_min, rules.fill_price)
    if model.question.joint_nm:
        model.ask(time, rules.fill_least * offer.minutes - rules.warm_up_min, rules.told_price)


def _in_turn(model: Model, d: int) -> dict[int, float]:
    """Rounds in turn, with the minutes that each saves (negative): of light lifts, at least two muscles in every round."""
    rules, p, question = model.question.rules, model.programme, model.question
    light = [(i, c) for i, c in model.on(d) if is_light(c, rules, question.easy)]
    if not question.pair or not light or not model.saved[d]:
        return {}
    rounds = p.add(("rounds", d), INFINITE)
    p.keep({model.sets(i, d): 1.0 for i, _ in light} | {rounds: -rules.rounds_each}, lower=0.0)
    groups: dict[str, set[int]] = defaultdict(set)
    for i, c in light:
        groups[main_muscle(question, c)].add(i)
    for _, same in sorted(groups.items()):
        p.keep({model.sets(i, d): 1.0 for i, _ in light if i not in same} | {rounds: -1.0}, lower=0.0)
    return {rounds: -rules.pair_round_s * model.saved[d] / 60}


def _number(model: Model, d: int) -> None:
    """Neither too many lifts nor too few."""
    question, rules, offer = model.question, model.question.rules, model.question.days[d]
    used = {model.used(i, d): 1.0 for i, _ in model.on(d)}
    few = question.beginner or offer.minutes < rules.short_day_min
    most = rules.few_lifts_a_day if few else rules.most_lifts_a_day
    model.programme.keep(used, upper=most, wish=wording.few_lifts(offer.day, most))
    model.ask(used, rules.least_lifts_a_day, rules.told_price)


def _spine(model: Model, d: int) -> None:
    """At most two lifts that load the spine unsupported; the second has its price, more of it where both are squats or deadlifts."""
    spine = {model.used(i, d): 1.0 for i, c in model.on(d) if c.practice.spine}
    model.programme.keep(spine, upper=model.question.rules.spine_a_day, wish=wording.SPINE)
    if len(spine) > 1:
        model.ask({k: -v for k, v in spine.items()}, -1.0, 1.0)
    heavy = {
        model.used(i, d): -1.0
        for i, c in model.on(d)
        if c.practice.spine and (c.lift in FROM_THE_FLOOR or c.practice.pattern == "squat")
    }
    if len(heavy) > 1:
        model.ask(heavy, -1.0, _floor_apart(model, d))


def _floor_apart(model: Model, d: int) -> float:
    """The price of a barbell squat beside a deadlift from the floor: little on a day for the legs that has no machine for them."""
    rules = model.question.rules
    machine = any(
        c.practice.pattern == "leg press" or (c.practice.pattern == "squat" and c.gear in MACHINES) for _, c in model.on(d)
    )
    return rules.told_price if model.question.days[d].shape == "lower" and not machine else rules.floor_apart_price


def _twins(model: Model, d: int) -> None:
    """One lift of a family for a first target, and one of a kind."""
    alike: dict[tuple[str, ...], dict[int, float]] = defaultdict(dict)
    for i, c in model.on(d):
        alike["family", c.practice.family, c.practice.targets[0]][model.used(i, d)] = 1.0
        alike["kind", c.kind or c.lift][model.used(i, d)] = 1.0
        if sort := one_a_day(c):
            alike["pattern", sort][model.used(i, d)] = 1.0
    for factors in {tuple(f): f for f in alike.values() if len(f) > 1}.values():
        model.programme.keep(factors, upper=1.0, wish=wording.ONE_OF_A_KIND)


def _doubles(model: Model, d: int) -> None:
    """One squat, one row on machines, one with the chest on a pad (a beginner's lifts are few), and one single-joint lift for a small muscle that nobody raised; each further one
    has its price.
    """
    muscles = model.question.muscles
    sorts = [[i for i, c in model.on(d) if c.practice.multi and c.practice.pattern == "row"]]
    if any(m.raised and m.name in BACK for m in muscles):
        sorts = []
    if not model.question.beginner:
        sorts.append([i for i, c in model.on(d) if c.practice.chest_held])
    sorts.append([i for i, c in model.on(d) if c.practice.multi and c.practice.pattern == "squat"])
    for m in (m for m in muscles if m.name in ONCE):
        own = [i for i, c in model.on(d) if not c.practice.multi and c.practice.targets[0] in m.share]
        if m.raised and len(own) > 1:
            sets = {model.sets(i, d): 1.0 for i in own} | {model.used(i, d): -SECOND_FROM for i in own}
            model.ask(sets, -SECOND_FROM, model.question.rules.spread_price)
        elif not m.raised:
            sorts.append(own)
    for alike in sorts:
        if len(alike) > 1:
            model.ask({model.used(i, d): -1.0 for i in alike}, -1.0, model.question.rules.told_price)


def one_a_day(choice: Choice) -> str:
    """The sort of a lift of which a day holds one; empty for most."""
    return choice.practice.pattern if choice.practice.pattern in ONE_A_DAY else ""


def _joints(model: Model, d: int) -> None:
    """What a joint to be spared carries on a day."""
    question = model.question
    for joint, most in question.joint_nm.items():
        if most > 0:
            dose = {model.sets(i, d): c.joint_nm.get(joint, 0.0) / most for i, c in model.on(d)}
            model.programme.keep(dose, upper=question.most_dose(joint), wish=wording.dose(joint))


def _whole_numbers(model: Model, d: int) -> None:
    """Lifts and sets of a day are whole numbers: a handle for branching, by which far fewer steps settle short days."""
    for name, column in (("lifts", model.used), ("all sets", model.sets)):
        number = model.programme.add((name, d), 60.0, whole=True)
        model.programme.keep({column(i, d): 1.0 for i, _ in model.on(d)} | {number: -1.0}, lower=0.0, upper=0.0)
