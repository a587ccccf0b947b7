"""Which lifts may be done in turn, how much time that saves, and which of a day's lifts are paired."""

from collections.abc import Mapping, Sequence
from itertools import combinations

from lengthwise.body.anatomy import muscles
from lengthwise.planning.as_before import day_before, pairs_in
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.rules import Rules
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import TRUNK

MACHINES = frozenset({"lever", "plate_lever", "sled", "guided_bar", "cable"})
ONE_STATION = frozenset({"cable", "guided_bar", "sled"})
"""Gear of which two lifts would hold one and the same station, or two of the few there are."""

OPPOSED = frozenset(
    map(frozenset, (("biceps", "triceps"), ("quadriceps", "hamstrings"), ("chest", "upper_back"), ("chest", "latissimus")))
)
"""Muscles that oppose each other: curls beside extensions (common practice, no source)."""
UNEQUAL = 2
"""Two lifts in turn differ by so many sets at most; what is left of the longer one is done alone, and the week says so (common practice, no
source)."""


ABOUT = 0.1
"""A muscle for which a set counts less than another by no more than this is served about as much (own choice)."""
UNLOADED = frozenset({"body", "band"})
"""What costs the whole body little in easy sets, however many muscles hold it (common practice, no source)."""


def is_light(choice: Choice, rules: Rules, easy: bool) -> bool:
    """Whether a lift leaves enough for another in turn: it neither tires the whole body nor is a barbell squat, hinge or press."""
    return not choice.practice.costly and (choice.systemic < rules.pair_systemic_below or (easy and choice.gear in UNLOADED))


def may_pair(a: Choice, b: Choice, rules: Rules, easy: bool = False) -> bool:
    """Whether two lifts can be done in turn.

    Both are light; no head gets much of a set from both, what one is meant for does
    not move the other (so a row does not rest a pullover, nor a press a fly), and they do not both end with the grip nor both hang by the hands or rest on them.
    """
    if a.lift == b.lift or not (is_light(a, rules, easy) and is_light(b, rules, easy)):
        return False
    if _one_tires_the_other(a, b) or _one_tires_the_other(b, a) or (a.practice.grip and b.practice.grip):
        return False
    if a.practice.hanging and b.practice.hanging:
        return False
    both = max((min(f, b.fraction.get(h, 0.0)) for h, f in a.fraction.items()), default=0.0)
    return both < rules.pair_share_below


def _one_tires_the_other(a: Choice, b: Choice) -> bool:
    """Whether a head that one lift is meant for moves the other."""
    return bool(set(a.practice.targets) & {*b.practice.targets, *b.practice.movers})


def may_hold(a: Choice, b: Choice, offer: DayOffer) -> bool:
    """Whether two lifts' stations can be held at once: in a gym that others use, neither one station twice nor a rack and a machine."""
    if not offer.gear & {"lever", "sled", "plate_lever"}:
        return True
    if a.gear == b.gear and a.gear in ONE_STATION:
        return False
    rack = "rack" in a.practice.stations | b.practice.stations
    return not (rack and {a.gear, b.gear} & MACHINES)


def round_s(a: Choice, b: Choice, rules: Rules) -> float:
    """How long one set of each takes in turn [s]: each lift still rests as long as it would alone, and a pause parts all sets."""
    return max(a.set_s + a.rest_s, b.set_s + b.rest_s, a.set_s + b.set_s + 2 * rules.pair_gap_s)


def saved_s(a: Choice, b: Choice, rules: Rules) -> float:
    """What one set of each in turn saves against one after the other [s]; never negative."""
    return max(0.0, a.set_s + a.rest_s + b.set_s + b.rest_s - round_s(a, b, rules))


def pair_saves(question: WeekQuestion, sets: Mapping[int, int], pair: tuple[int, int]) -> float:
    """What a pair saves on a day [s]."""
    a, b = (question.choices[i] for i in pair)
    return min(sets[i] for i in pair) * saved_s(a, b, question.rules)


def minutes_of(question: WeekQuestion, sets: Mapping[int, int], pairs: list[tuple[int, int]]) -> float:
    """How long a day takes [min]: warm-up, set-up, sets and rests, less what pairs save."""
    return sum(minutes_by_part(question, sets, pairs).values())


def minutes_by_part(question: WeekQuestion, sets: Mapping[int, int], pairs: list[tuple[int, int]]) -> dict[str, float]:
    """What a day's minutes go to, in words, each with its minutes; what supersets save is negative.

    The rest after the last set of a lift is the time in which the next one is walked to and set up.
    """
    own = [(question.choices[i], n) for i, n in sets.items()]
    return {
        "general warm-up": question.rules.warm_up_min,
        "changing lifts and warm-up sets": sum(c.setup_s + c.rest_s for c, _ in own) / 60,
        "sets": sum(n * c.set_s for c, n in own) / 60,
        "rests": sum((n - 1) * c.rest_s for c, n in own) / 60,
        "saved by supersets": -sum(pair_saves(question, sets, p) for p in pairs) / 60,
    }


def minutes_told(question: WeekQuestion, sets: Mapping[int, int], pairs: list[tuple[int, int]]) -> str:
    """The same as people read it: 5 min of general warm-up, 14 min of sets, 19 min of rests; 3 min saved by supersets."""
    parts = {words: round(minutes) for words, minutes in minutes_by_part(question, sets, pairs).items()}
    spent = ", ".join(f"{minutes} min of {words}" for words, minutes in parts.items() if minutes > 0)
    return spent + "".join(f"; {-minutes} min {words}" for words, minutes in parts.items() if minutes < 0)


def pairs_of(question: WeekQuestion, d: int, sets: Mapping[int, int]) -> list[tuple[int, int]]:
    """The pairs of a day, opposed muscles first, then those that save most, until the minutes suffice; none where they suffice without.

    Those of the same day in the week before stay where they still can be done in turn and the minutes suffice. The client's own lifts over
    several joints stand alone where other pairs save enough: they are done fresh (common practice, no source).
    """
    if old := _pairs_before(question, d, sets):
        kept = _pairs(question, d, sets, sets, old)
        if minutes_of(question, sets, kept) <= question.days[d].minutes:
            return kept
    others = _pairs(question, d, {i: n for i, n in sets.items() if not _main(question.choices[i])}, sets)
    return others if minutes_of(question, sets, others) <= question.days[d].minutes else _pairs(question, d, sets, sets)


def _main(choice: Choice) -> bool:
    """Whether a lift is one of the client's own over several joints."""
    return choice.kept and choice.practice.multi and not choice.gentle


def _pairs_before(question: WeekQuestion, d: int, sets: Mapping[int, int]) -> list[tuple[int, int]]:
    """Pairs of the same day in the week before, of lifts that stand there again and can still be done in turn."""
    before = day_before(question.previous, question.days[d].day)
    if before is None or not question.pair:
        return []
    place = {question.choices[i].key: i for i in sets}
    again = sorted(tuple(sorted(place[key] for key in pair)) for pair in pairs_in(before) if pair <= place.keys())
    return [(i, j) for i, j in again if _fit(question, (i, j), sets, question.days[d])]


def _pairs(
    question: WeekQuestion, d: int, some: Mapping[int, int], sets: Mapping[int, int], begun: Sequence[tuple[int, int]] = ()
) -> list[tuple[int, int]]:
    """The same among some of the day's lifts, with those that are begun."""
    offer, found = question.days[d], list(begun)
    if not question.pair:
        return found
    able = [(i, j) for i, j in combinations(sorted(some), 2) if _fit(question, (i, j), sets, offer)]
    for pair in sorted(able, key=lambda p: (not _opposed(question, p), -pair_saves(question, sets, p), p)):
        if minutes_of(question, sets, found) <= offer.minutes:
            break
        if not set(pair) & {i for other in found for i in other}:
            found.append(pair)
    return sorted(found)


def _opposed(question: WeekQuestion, pair: tuple[int, int]) -> bool:
    """Whether two lifts are for muscles that oppose each other, which people pair first."""
    return frozenset(named_muscle(question, question.choices[i]) for i in pair) in OPPOSED


def _fit(question: WeekQuestion, pair: tuple[int, int], sets: Mapping[int, int], offer: DayOffer) -> bool:
    a, b = (question.choices[i] for i in pair)
    alike = abs(sets[pair[0]] - sets[pair[1]]) <= UNEQUAL
    return alike and may_pair(a, b, question.rules, question.easy) and may_hold(a, b, offer) and not _early(question, pair, sets)


def _early(question: WeekQuestion, pair: tuple[int, int], sets: Mapping[int, int]) -> bool:
    """Whether a pair would bring a single-joint lift before another multi-joint lift of the same muscle, or a barbell lift that needs it: the trunk
    holds every one.
    """
    multi = [i for i in pair if question.choices[i].practice.multi]
    if len(multi) != 1:
        return False
    single = next(i for i in pair if i not in multi)
    others = [question.choices[k] for k in sets if k not in pair and question.choices[k].practice.multi]
    if question.choices[single].practice.family in TRUNK and any(c.practice.costly for c in others):
        return True
    own, heads = worked(question, question.choices[single]), {*question.choices[single].practice.targets}
    return any(worked(question, c) & own or (c.practice.costly and c.practice.movers & heads) for c in others)


def worked(question: WeekQuestion, choice: Choice) -> set[str]:
    """Muscles that a lift is meant for."""
    return {m.name for m in question.muscles if set(choice.practice.targets) & set(m.share)}


def main_muscle(question: WeekQuestion, choice: Choice) -> str:
    """The muscle that a lift is mainly there for: of those it is meant for the most wanted, then the one it is worth most to."""
    meant = worked(question, choice)
    known = [m for m in question.muscles if m.name in meant] or list(question.muscles)
    worth = {m.name: (m.priority * _counted(choice, m.share) * max(choice.value.get(m.name, 0.0), 1e-6), m.name) for m in known}
    return max(worth, key=lambda name: worth[name], default="")


def named_muscle(question: WeekQuestion, choice: Choice) -> str:
    """The muscle that a lift is said to be mainly for: of those it is meant for, the one that a set counts most for, and of some about equal the
    one that its own file names first, so that no wish or week changes the name; one that the week does not count where it is meant for none of
    these: an overhead press is for the front of the deltoid.
    """
    meant = worked(question, choice)
    if not meant and choice.practice.targets and (own := smallest_with(choice.practice.targets[0])):
        return own
    counts = {m.name: _counted(choice, m.share) for m in question.muscles if m.name in meant}
    if not counts:
        return main_muscle(question, choice)
    heads = {m.name: m.share for m in question.muscles}
    about = [name for name, n in counts.items() if n >= max(counts.values()) - ABOUT]
    return min(about, key=lambda name: (_first_at(choice, heads[name]), -counts[name], name))


def _first_at(choice: Choice, share: Mapping[str, float]) -> int:
    """The place of a muscle's first head among those that a lift is meant for."""
    return next(i for i, h in enumerate(choice.practice.targets) if h in share)


def smallest_with(head: str) -> str:
    """The smallest muscle that holds a head; empty where none does."""
    return min((m for m, heads in muscles().items() if head in heads), key=lambda m: (len(muscles()[m]), m), default="")


def _counted(choice: Choice, share: Mapping[str, float]) -> float:
    return sum(s * choice.fraction.get(h, 0.0) for h, s in share.items())
