"""Every possible week of a small question, one by one."""

from itertools import combinations, product

from lengthwise.planning.check import check
from lengthwise.planning.order import in_order
from lengthwise.planning.week import PlannedDay, PlannedLift, Week


def weeks(question):
    """Every week that the recount finds nothing wrong with; only minutes and worth are taken from here."""
    rules = question.rules
    places = [(i, d) for d, o in enumerate(question.days) for i, c in enumerate(question.choices) if c.gear in o.gear]
    counts = (0, *range(int(rules.least_sets), int(rules.most_sets) + 1))
    for numbers in product(counts, repeat=len(places)):
        sets = {p: n for p, n in zip(places, numbers, strict=True) if n}
        days = [_day(question, d, {i: n for (i, e), n in sets.items() if e == d}) for d in range(len(question.days))]
        if all(day is not None for day in days):
            week = _week(question, tuple(days), sets)
            if not check(week, question):
                yield week


def _day(question, d, sets):
    """The day with the pairs that make it shortest; none where it still takes too long."""
    offer = question.days[d]
    best = None
    for pairs in _matchings(sorted(sets)) if question.pair else [()]:
        minutes = _minutes(question, sets, pairs)
        if minutes is not None and (best is None or minutes < best[0] - 1e-9):
            best = (minutes, pairs)
    if best is None or best[0] > offer.minutes + 1e-9:
        return None
    number = {i: k for k, pair in enumerate(best[1], 1) for i in pair}
    lifts = [_lift(question, i, n, number.get(i)) for i, n in sets.items()]
    return PlannedDay(offer.day, offer.place, best[0], in_order(lifts, {c.key: c for c in question.choices}, question))


def _lift(question, i, n, pair):
    c = question.choices[i]
    return PlannedLift(c.lift, c.range, c.name, n, (8, 12), 2.0, pair=pair)


def _matchings(items):
    yield ()
    for a, b in combinations(items, 2):
        for rest in _matchings([i for i in items if i > a and i != b]):
            if all(a not in p and b not in p for p in rest):
                yield ((a, b), *rest)


def _minutes(question, sets, pairs):
    rules, total = question.rules, question.rules.warm_up_min * 60
    for i, n in sets.items():
        c = question.choices[i]
        total += c.setup_s + n * (c.set_s + c.rest_s)
    for i, j in pairs:
        a, b = question.choices[i], question.choices[j]
        shared = [h for h in a.fraction if min(a.fraction[h], b.fraction.get(h, 0)) >= rules.pair_share_below]
        if shared or max(a.systemic, b.systemic) >= rules.pair_systemic_below:
            return None
        straight = a.set_s + a.rest_s + b.set_s + b.rest_s
        turn = max(a.set_s + a.rest_s, b.set_s + b.rest_s, a.set_s + b.set_s + 2 * rules.pair_gap_s)
        saved = straight - turn
        if saved >= 30:
            total -= min(sets[i], sets[j]) * saved
    return total / 60


def _week(question, days, sets):
    heads = {}
    for (i, _), n in sets.items():
        for h, f in question.choices[i].fraction.items():
            heads[h] = heads.get(h, 0) + n * f
    muscles = {m.name: sum(s * heads.get(h, 0) for h, s in m.share.items()) for m in question.muscles}
    return Week(days, heads, muscles, worth(question, sets, heads, muscles), 0.0)


def worth(question, sets, heads, muscles):
    rules, total = question.rules, -question.rules.lift_price * len(sets)
    for m in question.muscles:
        top = max(c.value.get(m.name, 0) for c in question.choices)
        good = 0.0
        for (i, _), n in sets.items():
            c = question.choices[i]
            if top:
                good += n * sum(s * c.fraction.get(h, 0) for h, s in m.share.items()) * c.value.get(m.name, 0) / top
        total += m.priority * (min(good, m.low) + rules.slope_in_band * max(0, min(good, m.high) - m.low))
        total -= rules.over_price * max(0, muscles[m.name] - m.high)
        for h, s in m.share.items():
            lack = max(0, rules.least_head_part * m.low - heads.get(h, 0))
            total -= rules.head_price * m.priority * s / sum(m.share.values()) * lack
    return total
