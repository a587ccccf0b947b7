"""A recount of the order of a day's lifts that shares nothing with what puts a new day in order (`order.py`)."""

from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise

from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift

Choices = Mapping[tuple[str, RangeName], Choice]


def key_of(lift: PlannedLift) -> tuple[str, RangeName]:
    """What tells a planned lift from others of its day: its name and range."""
    return lift.lift, lift.range


def order_faults(day: PlannedDay, known: Choices, question: WeekQuestion) -> Iterator[str]:
    """What opens, then lifts of several joints, single-joint, grip, trunk; a pair counts as its earlier lift, together."""
    urgency: list[tuple[int, str]] = []
    seen: list[int | None] = []
    first = _first(day, known, question)
    for lift in day.lifts:
        here = -1 if key_of(lift) == first else _class(known[key_of(lift)])
        if lift.pair is not None and lift.pair in seen:
            if seen[-1] != lift.pair:
                yield f"pair {lift.pair} is torn apart"
            urgency[-1] = min(urgency[-1], (here, lift.name))
        else:
            urgency.append((here, lift.name))
        seen.append(lift.pair)
    for (one, earlier), (then, later) in pairwise(urgency):
        if one > then:
            yield f"{later}, which should come early, comes after {earlier}"
    yield from _several_joints(day, known, first, question)


def _several_joints(day: PlannedDay, known: Choices, first: tuple[str, RangeName] | None, question: WeekQuestion) -> Iterator[str]:
    """Barbell lifts in the first half but for easy ones, squats before hinges, the client's own before others of their sort."""
    rest = [known[key_of(x)] for x in day.lifts if key_of(x) != first]
    legs = sum(_squat(known[key_of(x)]) and not known[key_of(x)].practice.costly for x in day.lifts)
    bars = [k for k, x in enumerate(day.lifts) if known[key_of(x)].practice.costly and not known[key_of(x)].gentle]
    opening = max((sum(y.pair == x.pair for y in day.lifts) if x.pair else 1 for x in day.lifts if key_of(x) == first), default=0)
    if bars and max(bars) >= max(-(-len(day.lifts) // 2), len(bars) + opening + 2 * legs):
        yield "a barbell lift stands in the second half"
    heavy = [c for c in rest if c.practice.costly and not c.gentle]
    squats = [c.practice.family.startswith("squat") for c in heavy]
    if any(then and c.practice.family == "hip_hinge" for c, then in zip(heavy, squats[1:], strict=False)):
        yield "a hinge stands before a squat"
    alone = {key_of(x) for x in day.lifts if x.pair is None}
    if any(_squat(b) and _hinge(a, question) for a, b in combinations([known[key_of(x)] for x in day.lifts], 2)):
        yield "a hinge stands before a squat or leg press"
    hinge = any(_hinge(c, question) for c in rest)
    light = [
        c for c in rest if not (hinge and _squat(c)) and c.practice.multi and not (c.practice.costly or c.gentle) and c.key in alone
    ]
    for some in ([c for c, squat in zip(heavy, squats, strict=True) if not squat], light):
        if any(b.kept and not a.kept for a, b in pairwise(some)):
            yield "another lift stands before one of the client's own"


def _squat(choice: Choice) -> bool:
    return choice.practice.multi and choice.practice.pattern in ("squat", "leg press") and not choice.gentle


def _hinge(choice: Choice, question: WeekQuestion) -> bool:
    """A hinge over several joints that is for no raised muscle."""
    raised = {h for m in question.muscles if m.priority > 1 for h in m.share}
    own = choice.kept or choice.practice.staple
    asked = own and not choice.gentle and choice.practice.targets[0] in raised
    floor = choice.lift in ("deadlift", "sumo_deadlift")
    return (
        choice.practice.multi
        and choice.practice.family in ("hip_hinge", "hip_extension", "trunk_extension")
        and not (asked or floor)
    )


def _first(day: PlannedDay, known: Choices, question: WeekQuestion) -> tuple[str, RangeName] | None:
    """The lift that opens a day: a deadlift from the floor, else one for the sake of a raised muscle: the client's own before staples of several joints, single-joint ones alone; a
    staple only before own lifts that leave it its place. Of those that are wanted alike the one that does.
    """
    raised = {h: m.priority for m in question.muscles if m.priority > 1 for h in m.share}
    here = [known[key_of(x)] for x in day.lifts]
    squats = any(c.practice.costly and c.practice.family in ("squat", "squat_front") for c in here)
    several = [c for c in here if c.practice.multi and not c.gentle]
    fresh = next((c for c in several if c.lift in ("deadlift", "sumo_deadlift") and not squats), None)
    if fresh is not None:
        return fresh.lift, fresh.range
    able = []
    for c in here:
        if (several and c not in several) or (not c.kept and any(_keeps_place(o, c, question) for o in several)):
            continue
        if c.practice.region == "lower" and not c.practice.costly and any(_own_squat(o) for o in several):
            continue
        own = c.kept or (c.practice.staple and c.practice.multi and c.practice.family != "lunge")
        late = c.practice.family == "forearm" or c.practice.family.startswith("trunk_")
        spoils = squats and c.practice.family in ("hip_hinge", "hip_extension", "trunk_extension")
        if c.practice.targets and c.practice.targets[0] in raised and own and not (late or spoils or c.gentle):
            wanted = raised[c.practice.targets[0]]
            able.append(((wanted, c.kept, c.practice.costly, not c.practice.one_side, c.practice.hanging), (c.lift, c.range)))
    most = max((rank for rank, _ in able), default=None)
    return next((key for rank, key in able if rank == most), None)


def _own_squat(choice: Choice) -> bool:
    return choice.kept and choice.practice.costly and choice.practice.pattern == "squat"


def _keeps_place(own: Choice, staple: Choice, question: WeekQuestion) -> bool:
    """Whether an own lift stands before a staple: it is for the same raised muscle, a barbell squat or floor deadlift, or a bar for what it tires."""
    head, other = own.practice.targets[0], staple.practice.targets[0]
    same = any({head, other} <= set(m.share) for m in question.muscles if m.priority > 1)
    most = own.practice.pattern == "squat" or own.lift in ("deadlift", "sumo_deadlift")
    return own.kept and (same or (own.practice.costly and (most or head in staple.practice.movers)))


def _class(choice: Choice) -> int:
    if choice.practice.multi:
        return 2 if choice.gentle else 0
    late = {"forearm": 4, "trunk_flexion": 5, "trunk_rotation": 5, "trunk_extension": 5}
    return late.get(choice.practice.family, 2)
