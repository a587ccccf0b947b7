"""What is wished for each muscle: worth of its sets, floors and ceilings, days of rest, heads, length, and how one lift may lead."""

from collections.abc import Collection, Mapping

from lengthwise.body.muscle_names import in_full
from lengthwise.planning import wording
from lengthwise.planning.day_rows import one_a_day
from lengthwise.planning.first import add_first
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.leads import add_lead
from lengthwise.planning.practice import BIG
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import (
    HALF,
    Model,
    close_days,
    counted,
    direct,
    in_order_of_days,
    is_long,
    main_heads,
    old_sets,
    trained,
    worth_of_set,
)

NO_REST = frozenset({"calves", "abdominals", "forearms"})
"""Muscles that may be trained hard on successive days (common practice, no source)."""
RAISED_SLOPE = 0.75
"""Power of the priority by which sets within the band count: a raised muscle is wanted most below its band (own choice)."""
HEAD_ABLE = 0.45
"""A head that no available lift gives so much of a set cannot be asked for (own choice)."""
MOST_DAYS, MOST_DAYS_RAISED = 3, 4
"""Days with lifts meant for a muscle: where the days share the body out, calves and abdominals would stand on every one of them, and so
would raises for a muscle that the client wants more of (common practice, no source)."""
FIRST_PART = 0.75
"""Part of its lower bound up to which a set of a big muscle is worth more (own choice)."""
ANY_DAY = frozenset({"abdominals", "forearms"})
"""Muscles that may be trained on days running (common practice, no source)."""
ON_TWO = frozenset({"calves"})
"""Muscles that two days of three or four sets serve: a third day costs a machine and minutes for two sets (common practice, no source)."""
SPREAD = 1.1
"""Two days that follow each other hold at most so much more of a raised muscle than their even part of the week (common practice, no source)."""
MOSTLY_MULTI = frozenset({"chest", "latissimus", "upper_back", "quadriceps", "glutes"})
"""Muscles whose sets are multi-joint ones for the most part (common practice, no source)."""
WHOLLY_MULTI = frozenset({"chest", "latissimus", "upper_back"})
"""Where one of these is raised its multi-joint sets are twice the others: flies and pullovers do what presses, rows and pulldowns do as well, and
take no set before them, so that they would fill a day. Leg extensions and abductions reach heads that no squat or thrust does (common practice, no
source)."""
EASY_MOST, EASY_MOST_RAISED = 3.0, 4.0
"""Easy sets for the sake of a sore joint a week at most for a muscle: they keep the movement, and more of them do no more. A raised muscle has two
of lifts meant for it on each of two days (common practice, no source)."""
BESIDE_ROWS = frozenset({"deltoid_posterior"})
FEW_LEADS = 3
"""With so few lifts that lead a muscle one may give more of its sets (own choice)."""
LEADS = 0.3
"""Lifts whose set counts less for a muscle never lead it (own choice)."""


def add_muscle(model: Model, muscle: Muscle) -> None:
    """Everything that is wished for one muscle. One that no lift trains leads no other: they would lose sets that it cannot have."""
    part = {i: counted(c, muscle) for i, c in enumerate(model.question.choices)}
    own = {i: direct(c, muscle) for i, c in enumerate(model.question.choices)}
    _worth(model, muscle, part)
    _bounds(model, muscle, part)
    _easy_ones(model, muscle)
    _days(model, muscle, part, own)
    _lead(model, muscle, part)
    _heads(model, muscle)
    _own_lift(model, muscle, own)
    _whole_movements(model, muscle, own)
    if muscle.raised and any(part[i] for i, _ in model.slots):
        _raised(model, muscle, part)
        _spread(model, muscle, part)
        _twice(model, muscle, own)
        _long(model, muscle, own)
        add_first(model, muscle)
    _on_days(model, muscle, own)


Part = dict[int, float]


def _worth(model: Model, muscle: Muscle, part: Part) -> None:
    """A set is worth all below the band, less within it, and nothing above; of a big muscle that nobody raised the first ones are worth more. Not for
    a beginner, whose floors take what there is.
    """
    rules, p, question = model.question.rules, model.programme, model.question
    good = {i: worth_of_set(c, muscle, question) for i, c in enumerate(question.choices)}
    alone = rules.trunk_part if muscle.name == "abdominals" and not muscle.raised else 1.0
    below = p.add(("below", muscle.name), muscle.low, alone * muscle.priority)
    within = p.add(("within", muscle.name), muscle.high - muscle.low, rules.slope_in_band * muscle.priority**RAISED_SLOPE)
    p.keep({**model.total(good), below: -1.0, within: -1.0}, lower=0.0)
    if muscle.name in BIG and not (muscle.raised or question.beginner):
        first = p.add(("first", muscle.name), FIRST_PART * muscle.low, rules.big_first * muscle.priority)
        p.keep({**model.total(good), first: -1.0}, lower=0.0)
    over = p.add(("over", muscle.name), INFINITE, -rules.over_price)
    p.keep({**model.total(part), over: -1.0}, upper=muscle.high)


def _bounds(model: Model, muscle: Muscle, part: Part) -> None:
    """A band of the client's own must hold; else a floor is asked for and the usual ceiling holds."""
    p, rules, total = model.programme, model.question.rules, model.total(part)
    if muscle.own:
        p.keep(total, lower=muscle.low, wish=wording.at_least(muscle.name, muscle.low))
        p.keep(total, upper=muscle.high, wish=wording.at_most(muscle.name, muscle.high))
    else:
        p.keep(total, upper=rules.week_most, wish=wording.at_most(muscle.name, rules.week_most))
    if muscle.floor and any(part.values()):
        model.wish(total, muscle.floor, rules.floor_price, wording.floor(muscle.name, muscle.floor))
        p.place["floor", muscle.name] = model.soft[-1][0]
        if muscle.name in model.question.firm:
            p.keep(total, lower=muscle.floor)
        _whole_lifts(model, muscle, part)


def _easy_ones(model: Model, muscle: Muscle) -> None:
    """Few easy sets a week, or those that are fixed."""
    question = model.question
    counts = direct if muscle.raised else trained
    easy = {i: 1.0 for i, c in enumerate(question.choices) if c.gentle and counts(c, muscle) >= HALF}
    keys = {question.choices[i].key for i in easy}
    fixed = sum(n for (_, key), n in question.pinned.items() if key in keys)
    if easy:
        most = EASY_MOST_RAISED if muscle.raised else EASY_MOST
        model.programme.keep(model.total(easy), upper=max(most, float(fixed)))
        for d in range(len(question.days)) if muscle.raised and not fixed and len(question.days) > 1 else ():
            model.programme.keep(model.total(easy, d), upper=most / 2)


def _whole_lifts(model: Model, muscle: Muscle, part: Part) -> None:
    """What a floor asks of whole lifts: one lift gives it at most the floor. True of every week; it tells the search sooner what is possible."""
    p = model.programme
    most = {(i, d): part[i] * p.columns[model.sets(i, d)].upper for i, d in model.slots}
    lifts = {model.used(i, d): min(muscle.floor, n) for (i, d), n in most.items()}
    p.keep({**lifts, p.place["floor", muscle.name]: 1.0}, lower=muscle.floor)


def _days(model: Model, muscle: Muscle, part: Part, own: Part) -> None:
    """Counted sets of a day, by both ways of counting, and no hard day right after a hard day."""
    rules, p = model.question.rules, model.programme
    close = close_days(model.question) if muscle.name not in NO_REST else []
    hard = {d: p.add(("hard", muscle.name, d), 1.0, whole=True) for d in dict.fromkeys(d for pair in close for d in pair)}
    for d in in_order_of_days(model.question):
        for weight in (part, own):
            sets = model.total(weight, d)
            p.keep(sets, upper=rules.most_sets_a_day, wish=wording.day_cap(muscle.name, rules))
            if d in hard:
                row = {**sets, hard[d]: rules.hard_from_sets - rules.most_sets_a_day}
                p.keep(row, upper=rules.hard_from_sets, wish=wording.spacing(muscle.name))
    for a, b in close:
        p.keep({hard[a]: 1.0, hard[b]: 1.0}, upper=1.0, wish=wording.spacing(muscle.name))


def _lead(model: Model, muscle: Muscle, part: Part) -> None:
    """Beyond the first few sets no lift gives more than its share; where a day holds but one of them all there is nothing to share."""
    leads = leading(model, part) if is_led(muscle) else []
    most = share_of(model, muscle, leads)
    every = model.total(part)
    for i in leads:
        own = model.total({i: part[i]})
        row = {k: own.get(k, 0.0) - most * v for k, v in every.items()}
        free = free_sets(model.question, model.question.choices[i])
        model.programme.keep(row, upper=(1 - most) * free, wish=wording.share(muscle.name, most))


def free_sets(question: WeekQuestion, choice: Choice) -> float:
    """Sets that a lift may give a muscle whatever its share: more of the client's own, and what was done of it last, and of a beginner's, few and
    often done. Where a week gives something up, what stays of a lift has not to follow.
    """
    rules, done = question.rules, question.done
    stays = stood(question, choice) if question.trouble and question.most_share is None else 0.0
    if question.beginner:
        return max(rules.share_free_own, stays)
    if not choice.kept:
        return max(rules.share_free_sets, stays)
    return max(rules.share_free_own, stays, done.lifts.get(choice.lift, 0) if done else 0)


def stood(question: WeekQuestion, choice: Choice) -> float:
    """Sets of a lift in the week before."""
    return float(sum(n for (_, key), n in old_sets(question.previous).items() if key == choice.key))


def is_led(muscle: Muscle) -> bool:
    """Whether no lift may give more than its share of a muscle: rows may give all of the rear deltoid, or every week would need a raise for it."""
    return muscle.raised or muscle.name not in BESIDE_ROWS


def share_of(model: Model, muscle: Muscle, leads: Collection[int]) -> float:
    """The most that one lift may give of a muscle's sets: more where few lifts lead a big one, so that the best makes no room for a lesser."""
    question = model.question
    able = {question.choices[i].lift for i in leads} - question.refused
    few = question.rules.few_share if muscle.name in BIG and len(able) <= FEW_LEADS else 0.0
    return question.most_share or max(few, question.rules.most_share)


def leading(model: Model, part: Part) -> list[int]:
    """The lifts that may lead a muscle; none where a day holds but one of them all."""
    question = model.question
    leads = sorted({i for i, _ in model.slots if part[i] > LEADS and not question.waits(question.choices[i])})
    return leads if len({one_a_day(question.choices[i]) or i for i in leads}) > 1 else []


def _heads(model: Model, muscle: Muscle) -> None:
    """Every head that an available lift reaches gets a good quarter of the best served one."""
    rules, choices = model.question.rules, model.question.choices
    able = [h for h in main_heads(muscle) if any(choices[i].fraction.get(h, 0.0) >= HEAD_ABLE for i, _ in model.slots)]
    if len(able) < 2 or muscle.low < rules.heads_from:
        return
    best = model.programme.add(("best", muscle.name), INFINITE)
    for head in able:
        row = model.total({i: c.fraction.get(head, 0.0) for i, c in enumerate(choices)})
        model.programme.keep({**{k: -v for k, v in row.items()}, best: 1.0}, lower=0.0)
        model.ask({**row, best: -rules.head_part}, 0.0, muscle.priority)


def _raised(model: Model, muscle: Muscle, part: Part) -> None:
    """At least two days, where more than one may hold its lifts, and clearly more sets than muscles that are wanted less."""
    question, rules, total = model.question, model.question.rules, model.total(part)
    if len({d for i, d in model.slots if part[i] > LEADS}) > 1:
        for d in range(len(question.days)):
            row = {k: -rules.even_part * v for k, v in total.items()}
            for k, v in model.total(part, d).items():
                row[k] += v
            model.programme.keep(row, upper=_uneven(model, part, d), wish=wording.two_days(muscle.name))
    add_lead(model, muscle, total)


def _uneven(model: Model, part: Part, d: int) -> float:
    """By how much a day holds more than its part of a muscle's sets already, where the week gave something up on another."""
    question = model.question
    stood = [(e, part[i] * model.old.get((question.days[e].day, question.choices[i].key), 0)) for i, e in model.slots]
    over = sum(n for e, n in stood if e == d) - question.rules.even_part * sum(n for _, n in stood)
    return max(0.0, over) if question.trouble else 0.0


def _spread(model: Model, muscle: Muscle, part: Part) -> None:
    """A raised muscle's sets are spread over the week: two days that follow each other hold little more than their even part of them."""
    days = len(model.question.days)
    for a, b in close_days(model.question) if days > 2 else ():
        row = {k: SPREAD * 2 / days * v for k, v in model.total(part).items()}
        for k, v in (model.total(part, a) | model.total(part, b)).items():
            row[k] -= v
        model.ask(row, 0.0, model.question.rules.spread_price)


def _own_lift(model: Model, muscle: Muscle, own: Part) -> None:
    """A muscle of the week has a lift meant for it, where any is at hand: what other lifts leave it is not all it gets.

    Not for a beginner: few lifts, often done, train all. Nor for the rear deltoid, which rows train, unless it is raised.
    """
    every = model.total(own)
    if muscle.floor and muscle.priority >= 1 and every and is_led(muscle) and not model.question.beginner:
        _least(model, every)


def _whole_movements(model: Model, muscle: Muscle, own: Part) -> None:
    """A big muscle's lifts are multi-joint ones at least as often as single-joint ones: presses before flies, rows before face pulls; twice as
    often where it is raised and they reach all of it.
    """
    if muscle.name not in MOSTLY_MULTI:
        return
    twice = muscle.raised and muscle.name in WHOLLY_MULTI and not model.question.beginner
    single = -2.0 if twice else -1.0
    sign = {i: own[i] * (1.0 if model.question.choices[i].practice.multi else single) for i in own}
    if any(s > 0 for i, s in sign.items() if any(i == j for j, _ in model.slots)):
        model.ask(model.total(sign), 0.0, model.question.rules.told_price)


def _twice(model: Model, muscle: Muscle, own: Part) -> None:
    """A raised muscle has lifts meant for it on two days at least: beside each day the others hold two such sets."""
    days, every = range(len(model.question.days)), model.total(own)
    for d in days if len(days) > 1 and every else ():
        there = model.total(own, d)
        rest = {k: v for k, v in every.items() if k not in there}
        if rest:
            _least(model, rest)


def _least(model: Model, sets: Mapping[int, float]) -> None:
    """The least sets of one lift among some, missed at a price; and, true of every week but sooner plain to the search, one whole lift."""
    least, used = model.question.rules.least_sets, {model.sets(i, d): model.used(i, d) for i, d in model.slots}
    model.ask(sets, least, model.question.rules.told_price)
    model.programme.keep({**{used[k]: least for k in sets}, model.soft[-1][0]: 1.0}, lower=least)


def _on_days(model: Model, muscle: Muscle, own: Part) -> None:
    """Lifts meant for a muscle stand on a few days only, one more where the client wants more of it, and not on days running."""
    question = model.question
    days: dict[int, list[tuple[int, int]]] = {}
    for i, d in model.slots:
        if own[i]:
            days.setdefault(d, []).append((i, d))
    most = MOST_DAYS_RAISED if muscle.raised else 2 if muscle.name in ON_TWO else MOST_DAYS
    running = [] if muscle.name in ANY_DAY else [pair for pair in close_days(question) if _may_part(question, muscle, pair)]
    if len(days) <= most and not any(days.keys() >= {*pair} for pair in running):
        return
    there = {d: model.programme.add(("there", muscle.name, d), 1.0) for d in sorted(days)}
    for d, here in there.items():
        for alike in model.one_of(days[d]):
            model.programme.keep({used: -n for used, n in alike.items()} | {here: 1.0}, lower=0.0)
    if len(days) > most:
        model.ask(dict.fromkeys(there.values(), -1.0), -float(most), question.rules.told_price)
    for a, b in running:
        if a in there and b in there:
            model.ask({there[a]: -1.0, there[b]: -1.0}, -1.0, question.rules.told_price)


def _may_part(question: WeekQuestion, muscle: Muscle, pair: tuple[int, int]) -> bool:
    """Whether of two days that follow each other one may do without a muscle: not of two that train the whole body, calves apart, nor where a sore
    joint leaves few lifts to fill them.
    """
    return not question.joint_nm and (muscle.name in ON_TWO or any(question.days[d].shape != "whole" for d in pair))


def _long(model: Model, muscle: Muscle, own: Part) -> None:
    """A third of a raised muscle's direct sets load it long, where any lift does."""
    rules, choices = model.question.rules, model.question.choices
    long = {i: own[i] * is_long(c, muscle) for i, c in enumerate(choices)}
    if any(long[i] for i, _ in model.slots):
        row = model.total({i: long[i] - rules.long_part * own[i] for i in long})
        model.ask(row, 0.0, rules.told_price, f"a third of the sets for {in_full(muscle.name)} at long length")
