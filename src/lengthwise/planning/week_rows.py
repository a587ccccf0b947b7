"""What holds over the whole week: the client's own lifts, how often a lift comes, balance, beginners, and the week before."""

from collections import Counter
from collections.abc import Collection
from itertools import pairwise

from lengthwise.planning import wording
from lengthwise.planning.day_rows import FROM_THE_FLOOR
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.practice import ALONE, BIG, SMALL
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import Model, counted, direct, follows, in_order_of_days, old_sets

Key = tuple[str, str]
PULL_OVER_PRESS, PRESS_OVER_PULL = 0.75, 0.7
KNEE_OVER_HIP, HIP_OVER_KNEE = 0.275, 0.95
"""Sets of one side over the other at least (common practice, no source); knee against hamstrings and glutes together."""
PRESSES = frozenset({"press", "machine press", "overhead press", "dip and push-up"})
PULLS = frozenset({"row", "bent row", "pulldown"})
UPPER = frozenset({"chest", "latissimus", "upper_back", "triceps", "biceps", "deltoids", "deltoid_anterior"})
LEGS = ("quadriceps", "hamstrings", "glutes")
MANY_DAYS = 5
"""A beginner on so many days does a lift on one day more than others: few lifts, often done (common practice, no source)."""
ALIKE_MIN = 10.0
"""Days whose minutes differ by more than this need not hold the same lifts (own choice)."""
BIG_OVER_BIG, BIG_OVER_SMALL = 0.45, 1.0
"""Sets of the least served big muscle over those of every other at least, where nobody raised or lowered either (common practice)."""
HAMSTRING_JOBS = (
    ("bending the knee", frozenset({"knee_flexion"})),
    ("straightening the hip", frozenset({"hip_hinge", "hip_extension"})),
)

BRIDGES = frozenset({"hip_thrust"})
"""With a sore back these straighten the hip in place of hinges, as the hinges' own caution says (common practice, no source)."""


def add_week(model: Model) -> None:
    """Everything that holds over the days."""
    _lifts(model)
    _liked_twice(model)
    _upper(model)
    _lower(model)
    _even(model)
    _like_days(model)
    if model.question.beginner:
        _few(model)
        _repeat(model)
    if model.old:
        _near(model)
        _moved(model)
    if model.question.earlier:
        _differ(model)


def _lifts(model: Model) -> None:
    """A lift on a few days only; the client's own lifts stand in the week where anything allows it."""
    question, rules, often = model.question, model.question.rules, days_a_lift(model.question)
    kept = {c.lift: c.name for c in question.choices if c.kept}
    names = {c.lift: c.name for c in question.choices}
    for lift, factors in model.by_lift().items():
        most = 1.0 if lift in FROM_THE_FLOOR else often
        model.programme.keep(factors, upper=most, wish=wording.few_days(names[lift], most))
        if lift in kept and lift not in question.refused:
            model.wish(factors, 1.0, rules.kept_price, f"{kept[lift]} in the week")


def _liked_twice(model: Model) -> None:
    """A lift over several joints that the client likes comes twice where two days have room for it, the deadlift from the floor apart.

    A beginner's stands on days that hold the same lifts, where there are such.
    """
    tied = {d for pair in tied_days(model.question) for d in pair}
    liked = {c.lift: c.name for c in model.question.choices if c.liked and c.practice.multi and not c.gentle}
    for lift, used in model.by_lift().items():
        if lift in liked and lift not in FROM_THE_FLOOR | model.question.refused and len(used) > 1:
            model.ask(used, 2.0, model.question.rules.liked_price, f"{liked[lift]} twice in the week")
            alone = [model.used(i, d) for i, d in model.slots if model.question.choices[i].lift == lift and d not in tied]
            if tied and len(used) - len(alone) > 1:
                model.programme.keep(dict.fromkeys(alone, 1.0), upper=0.0)


def days_a_lift(question: WeekQuestion) -> int:
    """On how many days a lift may stand."""
    return int(question.rules.most_days_a_lift) + (question.beginner and len(question.days) >= MANY_DAYS)


def _upper(model: Model) -> None:
    """Presses and pulls in balance, unless the client raises or lowers a muscle of either."""
    question = model.question
    if any(question.priority.get(m, 1.0) != 1 for m in UPPER):
        return
    side = {i: _side(c) for i, c in enumerate(question.choices)}
    for one, other, least in (("pull", "press", PULL_OVER_PRESS), ("press", "pull", PRESS_OVER_PULL)):
        row = model.total({i: (s == one) - least * (s == other) for i, s in side.items()})
        model.ask(row, 0.0, question.rules.told_price, f"enough {one} sets beside {other} sets")


def _side(choice: Choice) -> str:
    if not choice.practice.multi:
        return ""
    return "press" if choice.practice.pattern in PRESSES else "pull" if choice.practice.pattern in PULLS else ""


def _lower(model: Model) -> None:
    """Knee and hip in balance, and hamstrings in both of their jobs."""
    question, rules = model.question, model.question.rules
    legs = {m.name: m for m in question.muscles if m.name in LEGS and m.priority > 0}
    if len(legs) == len(LEGS) and not any(question.priority.get(m, 1.0) != 1 for m in LEGS):
        n = {i: {m: counted(c, legs[m]) for m in LEGS} for i, c in enumerate(question.choices)}
        hip = {i: v["hamstrings"] + v["glutes"] for i, v in n.items()}
        model.ask(
            model.total({i: n[i]["quadriceps"] - KNEE_OVER_HIP * hip[i] for i in n}),
            0.0,
            rules.told_price,
            "enough knee work beside hip work",
        )
        model.ask(
            model.total({i: HIP_OVER_KNEE * hip[i] - n[i]["quadriceps"] for i in n}),
            0.0,
            rules.told_price,
            "enough hip work beside knee work",
        )
    if "hamstrings" in legs and (legs["hamstrings"].raised or not question.few_minutes):
        for words, families in hamstring_jobs(question.joint_nm):
            factors = {model.used(i, d): 1.0 for i, d in model.slots if question.choices[i].practice.family in families}
            if factors:
                model.ask(factors, 1.0, 2 * rules.told_price, f"a lift for the hamstrings {words}")


def hamstring_jobs(sore: Collection[str]) -> list[tuple[str, frozenset[str]]]:
    """What hamstrings do, each with the families that do it for somebody with some sore joints."""
    hip = "hip_hinge"
    return [(words, f | BRIDGES if hip in f and "trunk" in sore else f) for words, f in HAMSTRING_JOBS]


def _even(model: Model) -> None:
    """Of muscles that the client wants alike the least served big one gets as much as any small one, and a good part of the best served."""
    question, p = model.question, model.programme
    alike = [m for m in question.muscles if m.priority == 1 and not m.own and m.name in BIG | SMALL]
    big = [m for m in alike if m.name in BIG and _able(model, m)]
    if len(big) < 2:
        return
    least = p.add("least served", INFINITE)
    for m in big:
        p.keep({**_of(model, m), least: -1.0}, lower=0.0)
    for m in alike:
        part = BIG_OVER_BIG if m.name in BIG else BIG_OVER_SMALL
        fewer = {k: -part * v for k, v in _of(model, m).items()}
        model.ask({**fewer, least: 1.0}, 0.0, question.rules.even_price)


def _of(model: Model, muscle: Muscle) -> dict[int, float]:
    return model.total({i: counted(c, muscle) for i, c in enumerate(model.question.choices)})


def _able(model: Model, muscle: Muscle) -> bool:
    """Whether a lift at hand is meant for a muscle."""
    return any(direct(model.question.choices[i], muscle) for i, _ in model.slots)


def _like_days(model: Model) -> None:
    """Of days alike in all that counts the earlier one carries more: else every week is found once for each exchange. Days that are tied to others
    cannot be exchanged.
    """
    question, days = model.question, model.question.days
    if model.old or question.pinned or tied_days(question) or any(follows(x, y) for x in days for y in days):
        return
    for a, b in pairwise(in_order_of_days(question)):
        if days[a].shape == "whole" and (days[a].place, days[a].minutes, days[a].shape) == (
            days[b].place,
            days[b].minutes,
            days[b].shape,
        ):
            load = {model.sets(i, d): (1.0 if d == a else -1.0) * (c.systemic + 1e-3 * i) for d in (a, b) for i, c in model.on(d)}
            model.programme.keep(load, lower=0.0)


def _few(model: Model) -> None:
    """A beginner's week holds few different lifts."""
    p, inside = model.programme, {}
    for lift, factors in model.by_lift().items():
        here = p.add(
            ("in", lift), 1.0, whole=True
        )  # a handle for branching: most of what a beginner's week is worth hangs on which lifts it has
        inside[here] = 1.0
        for used in factors:
            p.keep({here: 1.0, used: -1.0}, lower=0.0)
        p.keep({here: -float(days_a_lift(model.question)), **factors}, upper=0.0)
    most = model.question.rules.beginner_lifts
    p.keep(inside, upper=most, wish=wording.beginner_lifts(most))


def _repeat(model: Model) -> None:
    """A beginner's like days hold the same lifts, so that each is done often enough to be learned."""
    for a, b in tied_days(model.question):
        for i in {i for i, d in model.slots if d == a} & {i for i, d in model.slots if d == b}:
            model.programme.keep({model.used(i, a): 1.0, model.used(i, b): -1.0}, lower=0.0, upper=0.0)
            _or(model, i, a, b)


def _or(model: Model, i: int, a: int, b: int) -> None:
    """A lift on two tied days stands on as many others as are left to it, of two days on none: sooner plain to the search than their sum."""
    here, tied = model.programme.place["in", model.question.choices[i].lift], model.used(i, a)
    others = [model.used(j, d) for j, d in model.slots if j == i and d not in (a, b)]
    room = days_a_lift(model.question) - 2
    most = float(min(len(others), 2 + room))
    for days in [others] if room else [[d] for d in others]:
        alone = most if room else 1.0
        model.programme.keep({**dict.fromkeys(days, 1.0), tied: alone - room, here: -alone}, upper=0.0)


def tied_days(question: WeekQuestion) -> list[tuple[int, int]]:
    """Days of a beginner that hold the same lifts: upper days both, whole-body days every other; none where a week stands before.

    Short days are free: each has room for a few lifts only, and held alike they would leave half of the muscles without one.
    """
    if not question.beginner or question.pinned or old_sets(question.previous):
        return []
    alike: dict[tuple[str, str, frozenset[str]], list[int]] = {}
    for d in in_order_of_days(question):
        offer = question.days[d]
        if offer.minutes < question.rules.short_day_min:
            continue
        alike.setdefault((offer.shape, offer.place, offer.gear), []).append(d)
    out: list[tuple[int, int]] = []
    for (shape, _, _), days in sorted(alike.items(), key=lambda kv: kv[1]):
        out += zip(days, days[2:], strict=False) if shape == "whole" else zip(days[::2], days[1::2], strict=False)
    return [(a, b) for a, b in out if abs(question.days[a].minutes - question.days[b].minutes) <= ALIKE_MIN]


def _near(model: Model) -> None:
    """Every set that differs from the week before costs; a lift gone from or new on a day costs more, but one for calves or trunk that goes, and so
    does a set that a lift for a raised muscle loses: a shorter day cuts what matters least, and another lift for the muscle is no reason to take
    from it; where a day falls out, several joints come before that. Sets of lifts for a muscle that the week is to add sets for cost nothing more.
    """
    rules, p = model.question.rules, model.programme
    for i, d in model.slots:
        c = model.question.choices[i]
        own = [m for m in model.question.muscles if direct(c, m)]
        was, adds = model.old.get((model.question.days[d].day, c.key), 0), any(m.name in model.question.growing for m in own)
        if not was:
            model.pay(model.used(i, d), -(0.0 if adds else rules.swap_price) - 2 * rules.move_price)
            continue
        wanted = max((m.priority for m in own if m.raised or m.name in model.question.growing), default=0.0)
        model.pay(model.used(i, d), 0.0 if _matters_least(c, model.question) else rules.swap_price)
        off = p.add(("moved", i, d), was + rules.most_sets, -rules.move_price)
        if not adds:
            p.keep({off: 1.0, model.sets(i, d): -1.0}, lower=-was)
        p.keep({off: 1.0, model.sets(i, d): 1.0}, lower=was)
        if wanted and not c.gentle and (c.practice.multi or not model.question.missed):
            model.ask({model.sets(i, d): 1.0}, was, wanted * rules.floor_price)
    _no_lower(model)


def _price_of_losing(question: WeekQuestion, muscle: Muscle) -> float:
    """What a set costs that a change takes from a muscle: calves and trunk first, then other small muscles, big and raised ones last."""
    if muscle.raised or muscle.name in BIG:
        return question.rules.floor_price
    return question.rules.move_price if muscle.name in ALONE else question.rules.told_price


def _matters_least(choice: Choice, question: WeekQuestion) -> bool:
    """Whether a shorter day does without a lift first: single-joint work for calves or trunk that nobody raised (common practice, no source)."""
    own = [m for m in question.muscles if direct(choice, m)]
    return bool(own) and not (choice.practice.multi or choice.kept) and all(m.name in ALONE and not m.raised for m in own)


def moved_by_hand(model: Model) -> dict[Key, float]:
    """Lifts of the week before that are fixed on a day on which they did not stand, each with the most sets it may have: no more than before, or
    than are fixed.
    """
    before, fixed = Counter[Key](), Counter[Key]()
    for (_, key), n in model.old.items():
        before[key] += n
    for (_, key), n in model.question.pinned.items():
        fixed[key] += n
    moved = {key for day, key in model.question.pinned if key in before and (day, key) not in model.old}
    return {key: float(max(before[key], fixed[key])) for key in moved}


def _moved(model: Model) -> None:
    """A lift that was put on another day leaves its old one: its sets do not double."""
    most = moved_by_hand(model)
    for i, c in enumerate(model.question.choices):
        if c.key in most:
            model.programme.keep(model.total({i: 1.0}), upper=most[c.key])


def _no_lower(model: Model) -> None:
    """A change takes no muscle below its band, nor further below it than it was, a raised one below what it had; a big muscle last."""
    question = model.question
    was = {(i, d): model.old.get((question.days[d].day, question.choices[i].key), 0) for i, d in model.slots}
    for muscle in question.muscles:
        part = {i: counted(c, muscle) for i, c in enumerate(question.choices)}
        before = max(sum(n * part[i] for (i, _), n in was.items()), question.lost.get(muscle.name, 0.0))
        if least := before if muscle.raised else min(before, muscle.low):
            model.ask(model.total(part), least, _price_of_losing(question, muscle))


def _differ(model: Model) -> None:
    """Of the lifts of each earlier week only some may come again."""
    question, p = model.question, model.programme
    inside: dict[tuple[str, str], int] = {}
    for i, d in model.slots:
        key = question.choices[i].key
        if key not in inside:
            inside[key] = p.add(("again", key), 1.0)
        p.keep({inside[key]: 1.0, model.used(i, d): -1.0}, lower=0.0)
    for n, week in enumerate(question.earlier, 1):
        old = {(x.lift, x.range) for d in week.days for x in d.lifts}
        most = (1 - question.rules.least_difference) * len(old)
        p.keep({k: 1.0 for key, k in inside.items() if key in old}, upper=float(int(most)), wish=wording.differ(n, question.rules))
