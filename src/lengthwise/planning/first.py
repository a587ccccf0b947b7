"""Which lift opens a session: one for a muscle that the client wants more of, known, liked, or a staple over several joints."""

from collections.abc import Iterable, Sequence

from lengthwise.planning.apart import bends_back
from lengthwise.planning.day_rows import FROM_THE_FLOOR
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import Model

NEVER = frozenset({"forearm", "trunk_flexion", "trunk_rotation", "trunk_extension"})
"""Grip and trunk never come first: what follows needs them (common practice, no source)."""
ONE_LEG = frozenset({"lunge"})
"""On one leg at a time: after lifts on both, and no opener unless the client's own (common practice, no source)."""
DAYS = 2
"""On so many days a raised muscle's lift opens the session (common practice, no source)."""


def opens_for(choice: Choice, muscles: Iterable[Muscle]) -> Muscle | None:
    """The raised muscle for whose sake a lift may come first: the one it is mainly for, where the lift is the client's own, or a staple over
    several joints.
    """
    practice = choice.practice
    staple = practice.staple and practice.multi and practice.family not in ONE_LEG
    if choice.gentle or practice.family in NEVER or not (choice.kept or staple):
        return None
    return next((m for m in muscles if m.raised and practice.targets[:1] and practice.targets[0] in m.share), None)


def opener(choices: Sequence[Choice], question: WeekQuestion) -> Choice | None:
    """The lift of a day that opens it; nothing where the usual order holds.

    A deadlift from the floor is done fresh, whatever the client wants more of, but for a day with a barbell squat. Else the client's own before others, costly ones first, then by `freshness`. A hinge does not open a day with a barbell squat, which needs the low back; a
    single-joint lift opens only a day without lifts over several joints. A staple stands before the client's own lifts for other muscles, such as
    a leg press before a Romanian deadlift, but not before one of those that `_stays_first`.
    """
    whole = [c for c in choices if c.practice.multi and not c.gentle]
    if fresh := next((c for c in whole if c.lift in FROM_THE_FLOOR and not tires_squat(c, choices)), None):
        return fresh
    own, able = [c for c in whole if c.kept], []
    for c in whole or choices:
        muscle = opens_for(c, question.muscles)
        if muscle is None or tires_squat(c, choices) or any(_comes_before(o, c, muscle) for o in own):
            continue
        able.append(((-muscle.priority, not c.kept, not c.practice.costly, *freshness(c), -c.systemic, c.key), c))
    return min(able, key=lambda pair: pair[0])[1] if able else None


def freshness(choice: Choice) -> tuple[bool, bool]:
    """What comes first of lifts that are wanted alike: both sides at once before one after the other, the body hung from a bar before what stands or
    lies (common practice, no source).
    """
    return choice.practice.one_side, not choice.practice.hanging


def _comes_before(own: Choice, other: Choice, muscle: Muscle) -> bool:
    """Whether an own lift stands before another that might open the day for a raised muscle."""
    return _squats_before(own, other) or (not other.kept and _stays_first(own, other, muscle))


def _stays_first(own: Choice, staple: Choice, muscle: Muscle) -> bool:
    """Whether an own lift keeps its place before a staple for a raised muscle: it is for that muscle too, is a barbell squat or a deadlift from the
    floor, which ask most of the whole body, or a barbell lift for what the staple tires (common practice, no source).
    """
    known = own.practice
    if known.targets[0] in muscle.share:
        return True
    heaviest = known.pattern == "squat" or own.lift in FROM_THE_FLOOR
    return known.costly and (heaviest or known.targets[0] in staple.practice.movers)


def _squats_before(own: Choice, other: Choice) -> bool:
    """Whether an own barbell squat comes before another lift for the legs that no bar loads: it asks more (common practice, no source)."""
    heavy = own.practice.costly and own.practice.pattern == "squat"
    return heavy and not other.practice.costly and other.practice.region == "lower"


def tires_squat(hinge: Choice, choices: Sequence[Choice]) -> bool:
    """Whether a lift bends the back under a load on a day with a barbell squat."""
    return bends_back(hinge.practice) and any(c.practice.costly and c.practice.pattern == "squat" for c in choices)


def add_first(model: Model, muscle: Muscle) -> None:
    """A raised muscle's own lift, or else a staple of it, stands on two days, so that it can open both."""
    able = [(i, d) for i, d in model.slots if opens_for(model.question.choices[i], [muscle]) is not None]
    own = [(i, d) for i, d in able if model.question.choices[i].kept]
    days: dict[int, list[int]] = {}
    for i, d in own or able:
        days.setdefault(d, []).append(model.used(i, d))
    if len(days) < DAYS:
        return
    there = {}
    for d, used in sorted(days.items()):
        here = model.programme.add(("opens", muscle.name, d), 1.0)
        there[here] = 1.0
        model.programme.keep({here: -1.0, **dict.fromkeys(used, 1.0)}, lower=0.0)
    model.ask(there, float(DAYS), 2 * model.question.rules.told_price)
