"""Every possible week of a small question without lifts in turn, one by one, and what it is worth by docs/weeks.md alone."""

from dataclasses import replace
from itertools import product

from lengthwise.planning.check import check
from lengthwise.planning.distance import moved
from lengthwise.planning.order import in_order
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import PlannedDay, PlannedLift, Week


def weeks(question):
    """Every week that the recount finds nothing wrong with, and its worth."""
    rules = question.rules
    places = [(i, d) for d, o in enumerate(question.days) for i, c in enumerate(question.choices) if c.gear in o.gear]
    counts = (0, *range(int(rules.least_sets), int(rules.most_sets) + 1))
    for numbers in product(counts, repeat=len(places)):
        sets = {p: n for p, n in zip(places, numbers, strict=True) if n}
        days = [_day(question, d, {i: n for (i, e), n in sets.items() if e == d}) for d in range(len(question.days))]
        if all(d.minutes <= o.minutes + 1e-9 for d, o in zip(days, question.days, strict=True)):
            week = _week(question, tuple(days), sets)
            if not check(week, question):
                yield week


def _day(question, d, sets):
    offer = question.days[d]
    lifts = [
        PlannedLift(
            lift=question.choices[i].lift, range=question.choices[i].range, name="", sets=n, repetitions=(8, 12), reserve=2.0
        )
        for i, n in sets.items()
    ]
    return PlannedDay(
        offer.day, offer.place, _minutes(question, sets), in_order(lifts, {c.key: c for c in question.choices}, question)
    )


def _minutes(question, sets):
    own = ((question.choices[i], n) for i, n in sets.items())
    return question.rules.warm_up_min + sum(c.setup_s + n * (c.set_s + c.rest_s) for c, n in own) / 60


def _week(question, days, sets):
    heads = {}
    for (i, _), n in sets.items():
        for h, f in question.choices[i].fraction.items():
            heads[h] = heads.get(h, 0) + n * f
    muscles = {m.name: sum(s * heads.get(h, 0) for h, s in m.share.items()) for m in question.muscles}
    week = Week(days=days, weekly_sets=heads, muscle_sets=muscles, value=worth(question, sets, heads, muscles), gap=0.0)
    return week if question.previous is None else replace(week, moved=moved(week, question.previous))


def worth(question, sets, heads, muscles):
    rules = question.rules
    total = sum(n * _taste(question.choices[i], rules) for (i, _), n in sets.items()) - rules.lift_price * len(sets)
    total += sum(_day_worth(question, d, {i: n for (i, e), n in sets.items() if e == d}) for d in range(len(question.days)))
    for i, c in enumerate(question.choices):
        there = any(c.gear in o.gear for o in question.days) and c.lift not in question.refused
        if c.kept and there and not any(k == i for k, _ in sets):
            total -= rules.kept_price
    total += _near_worth(question, sets) - _jobs_undone(question, sets) - _own_once(question, sets) - _taken(question, muscles)
    return total + sum(_muscle_worth(question, m, sets, heads, muscles) for m in question.muscles)


def _taste(c, rules):
    return rules.own_lift if c.kept else (rules.staple if c.practice.staple else -rules.odd) - rules.rival * c.rival


def _day_worth(question, d, sets):
    rules, offer = question.rules, question.days[d]
    short = {part: max(0.0, part * offer.minutes - _minutes(question, sets)) for part in (1.075 * rules.fill, rules.fill_least)}
    idle = rules.fill_price * short[1.075 * rules.fill] + rules.told_price * short[rules.fill_least] * bool(question.joint_nm)
    return -idle - rules.told_price * max(0.0, rules.least_lifts_a_day - len(sets))


def _muscle_worth(question, m, sets, heads, muscles):
    rules, good = question.rules, 0.0
    top = max(c.value.get(m.name, 0) for c in question.choices)
    for (i, _), n in sets.items():
        c = question.choices[i]
        value = c.value.get(m.name, 0) / top if top else 0
        part = sum(s * c.fraction.get(h, 0) for h, s in m.share.items())
        good += n * part * (rules.plain_part + (1 - rules.plain_part) * value)
    inside = max(0, min(good, m.high) - m.low)
    total = m.priority * min(good, m.low) + rules.slope_in_band * m.priority**0.75 * inside
    if m.name in LARGE and m.priority <= 1 and not question.beginner:
        total += rules.big_first * m.priority * min(good, 0.75 * m.low)
    total -= rules.over_price * max(0, muscles[m.name] - m.high) + rules.floor_price * max(0, m.floor - muscles[m.name]) * _any(
        question, m
    )
    able = [
        h
        for h in m.share
        if m.share[h] >= 0.1 * sum(m.share.values())
        and any(c.fraction.get(h, 0) >= 0.45 and any(c.gear in o.gear for o in question.days) for c in question.choices)
    ]
    if len(able) > 1 and m.low >= rules.heads_from:
        best = max(heads.get(h, 0) for h in able)
        total -= m.priority * sum(max(0, rules.head_part * best - heads.get(h, 0)) for h in able)
    return total - _no_own_lift(question, m, sets) - _flies_before_presses(question, m, sets) - _running(question, m, sets)


def _running(question, m, sets):
    """What lifts meant for a muscle on two days running cost, where these do not both train the whole body and no joint is to be spared."""
    if question.joint_nm:
        return 0.0
    there = {d for i, d in sets if set(question.choices[i].practice.targets) & set(m.share)}
    place = {WEEKDAYS.index(question.days[d].day): d for d in there}
    after = [(d, place[(k + 1) % 7]) for k, d in place.items() if (k + 1) % 7 in place]
    return question.rules.told_price * sum(any(question.days[d].shape != "whole" for d in pair) for pair in after)


def _flies_before_presses(question, m, sets):
    """What it costs that a big muscle gets more sets of single-joint lifts than of multi-joint ones, where any of these is at hand."""
    meant = {i: c.practice.multi for i, c in enumerate(question.choices) if set(c.practice.targets) & set(m.share)}
    at_hand = any(multi and question.choices[i].gear in o.gear for i, multi in meant.items() for o in question.days)
    if m.name not in ("chest", "latissimus", "upper_back", "quadriceps", "glutes") or not at_hand:
        return 0.0
    return question.rules.told_price * max(0, sum(n * (-1 if meant[i] else 1) for (i, _), n in sets.items() if i in meant))


def _no_own_lift(question, m, sets):
    """What it costs that a muscle with a floor has no lift meant for it, where any is at hand."""
    meant = {i for i, c in enumerate(question.choices) if set(c.practice.targets) & set(m.share)}
    at_hand = any(question.choices[i].gear in o.gear for i in meant for o in question.days)
    if question.beginner or not (m.floor and m.priority >= 1 and at_hand):
        return 0.0
    rules = question.rules
    return rules.told_price * max(0.0, rules.least_sets - sum(n for (i, _), n in sets.items() if i in meant))


PRESS, PULL = {"press", "overhead press"}, {"row", "pulldown"}
"""Patterns of the invented lifts that press and pull, as docs/weeks.md names the jobs of a day and a week."""


def _jobs_undone(question, sets):
    """What the jobs that nothing does cost, and the third and further lifts of a sort; own lifts and those of last week are free."""
    rules, undone, halves, short = question.rules, 0, 0, 0.0
    few = len(question.days) <= 2 and max(o.minutes for o in question.days) <= rules.short_day_min
    few = few and not (question.beginner or question.easy or any(m.raised for m in question.muscles))
    patterns = [c.practice.pattern if c.practice.multi else "" for c in question.choices]
    for d, offer in enumerate(question.days):
        for job in {"upper": (PRESS, PULL), "push": (PRESS,), "pull": (PULL,), "whole": (PRESS, PULL), "lower": ()}[offer.shape]:
            was = [x.lift for e in (question.previous.days if question.previous else ()) if e.day == offer.day for x in e.lifts]
            if not was or any(c.lift in was and p in job for c, p in zip(question.choices, patterns, strict=True)):
                undone += _undone(question, sets, patterns, job, [d])
                short += few * _below_three(question, sets, patterns, job, d)
        for job in ({"row"}, {"pulldown"}) if offer.shape == "pull" and not question.beginner else ():
            was = [x.lift for e in (question.previous.days if question.previous else ()) if e.day == offer.day for x in e.lifts]
            if not was or any(c.lift in was and p in job for c, p in zip(question.choices, patterns, strict=True)):
                halves += _undone(question, sets, patterns, job, [d])
    for job in ({"press"}, {"row"}, {"pulldown"}):
        undone += _undone(question, sets, patterns, job, range(len(question.days)))
    before = {x.lift for d in question.previous.days for x in d.lifts} if question.previous else set()
    own, many = before | {c.lift for c in question.choices if c.kept}, 0
    for sort in {c.practice.pattern for c in question.choices} - {""}:
        alike = {i for i, c in enumerate(question.choices) if c.practice.pattern == sort}
        most = max(2, sum(question.choices[i].lift in own for i in alike))
        many += max(0, len({i for i, _ in sets} & alike) - most)
    return rules.job_price * undone + rules.told_price * (many + halves) + rules.floor_price * short


def _below_three(question, sets, patterns, job, d):
    """Sets that a job of one of two short days lacks of a main lift's three."""
    able = {i for i, p in enumerate(patterns) if p in job and question.choices[i].gear in question.days[d].gear}
    return max(0.0, 3 - sum(sets.get((i, d), 0) for i in able)) if able else 0.0


def _undone(question, sets, patterns, job, days):
    able = {(i, d) for i, p in enumerate(patterns) for d in days if p in job and question.choices[i].gear in question.days[d].gear}
    return bool(able) and not able & sets.keys()


BACK = {"row", "pulldown"}
SORTS = (({"press"}, {"press", "overhead press"}), ({"overhead press"}, {"overhead press"}), ({"row"}, BACK), ({"pulldown"}, BACK))
"""Own lifts that come twice before guessed ones of the second sort, as docs/weeks.md says."""


def _own_once(question, sets):
    """What it costs that guessed lifts stand in the week while own ones that they wait for come but once: for each day with one of the same work, and
    for all others together.
    """
    cost, choices = 0.0, question.choices
    able = {(i, d) for i, c in enumerate(choices) for d, o in enumerate(question.days) if c.practice.multi and c.gear in o.gear}
    for sort, after in SORTS:
        own = {(i, d) for i, d in able if choices[i].kept and choices[i].practice.pattern in sort}
        guessed = {(i, d) for i, d in able if not choices[i].kept and choices[i].practice.pattern in after}
        if len({d for _, d in own}) > 1 and not question.beginner:
            same = {(i, d) for i, d in guessed if choices[i].practice.pattern in sort}
            for alike in (guessed - same, *({x for x in same if x[1] == d} for d in range(len(question.days)))):
                lacks = max((1 + (x in sets) - len(own & sets.keys()) for x in alike), default=0)
                cost += question.rules.own_twice_price * max(0, lacks)
    return cost


LARGE, LEAST = {"chest", "latissimus", "upper_back", "quadriceps", "hamstrings", "glutes"}, {"calves", "abdominals"}


def _taken(question, muscles):
    """What it costs that a change takes a muscle below its band, or further below it."""
    if question.previous is None:
        return 0.0
    known, gear = {c.lift: c for c in question.choices}, {o.day: o.gear for o in question.days}
    cost = 0.0
    for m in question.muscles:
        before = 0.0
        for d in question.previous.days:
            for x in d.lifts:
                if x.lift in known and known[x.lift].gear in gear.get(d.day, ()):
                    before += x.sets * sum(s * known[x.lift].fraction.get(h, 0) for h, s in m.share.items())
        raised, rules = m.priority > 1, question.rules
        price = rules.floor_price if raised or m.name in LARGE else rules.move_price if m.name in LEAST else rules.told_price
        cost += price * max(0.0, (before if raised else min(before, m.low)) - muscles[m.name])
    return cost


def _any(question, m):
    return any(c.fraction.get(h, 0) for c in question.choices for h in m.share)


def _meant_for(question, c):
    return [m for m in question.muscles if set(c.practice.targets) & set(m.share)]


def _matters_least(question, c):
    """Single-joint work for calves or trunk that nobody raised, which a shorter day does without first."""
    own = _meant_for(question, c)
    return bool(own) and not (c.practice.multi or c.kept) and all(m.name in LEAST and m.priority <= 1 for m in own)


def _wanted(question, c):
    """The priority of the raised muscle that a lift is meant for, 0 where there is none."""
    return max((m.priority for m in _meant_for(question, c) if m.priority > 1), default=0.0)


def _near_worth(question, sets):
    """What staying near the week before is worth, up to the sets that it had."""
    if question.previous is None:
        return 0.0
    rules, total = question.rules, 0.0
    old = {(d.day, x.lift): x.sets for d in question.previous.days for x in d.lifts}
    for d, offer in enumerate(question.days):
        for i, c in enumerate(question.choices):
            was, now = old.get((offer.day, c.lift), 0), sets.get((i, d), 0)
            if was and c.gear in offer.gear:
                total += rules.swap_price * bool(now) * (not _matters_least(question, c)) - rules.move_price * abs(now - was)
                total -= _wanted(question, c) * rules.floor_price * max(0, was - now)
            elif now:
                total -= rules.swap_price + 2 * rules.move_price
    return total
