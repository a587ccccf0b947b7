"""The order of a day: a lift for a raised muscle, barbell squats, hinges and presses, other multi-joint lifts, single-joint ones, grip, trunk."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.first import ONE_LEG, opener
from lengthwise.planning.question import Question
from lengthwise.planning.week import Choice, PlannedLift

TRUNK = frozenset({"trunk_flexion", "trunk_rotation", "trunk_extension"})
Place = tuple[int, float, str]
FIRST: Place = (-1, 0.0, "")
SQUATS = frozenset({"squat", "squat_front", "squat_leaning"})
"""Before hinges of the same day, which tire the back that they lean on (common practice, no source)."""
LATER = 20.0
"""More than any lift is wanted or costs."""
MOST_WANTED = 9.0
"""Easy sets of multi-joint lifts for a sore joint's sake come after the real ones, before single-joint lifts."""


def in_order(
    lifts: Sequence[PlannedLift], choices: Mapping[tuple[str, str], Choice], question: Question
) -> tuple[PlannedLift, ...]:
    """The lifts of a day in the order they are to be done; a pair stands where its earlier lift would, after lifts
    of that class that stand alone or with another of it. Pairs count from 1."""
    priority = {m.name: m.priority for m in question.muscles}
    first = opener([choices[x.lift, x.range] for x in lifts], question)
    place = {(x.lift, x.range): place_of(x, choices[x.lift, x.range], priority) for x in lifts}
    if first is not None:
        place[first.lift, first.range] = FIRST

    def key(lift: PlannedLift) -> Place:
        return place[lift.lift, lift.range]

    units: dict[object, list[PlannedLift]] = {}
    for lift in lifts:
        units.setdefault(("pair", lift.pair) if lift.pair is not None else (lift.lift, lift.range), []).append(lift)
    ranked = sorted(
        (sorted(unit, key=key) for unit in units.values()), key=lambda unit: (key(unit[0])[0], key(unit[-1])[0], key(unit[0]))
    )
    pairs = list(dict.fromkeys(unit[0].pair for unit in ranked if unit[0].pair is not None))
    number = {pair: k for k, pair in enumerate(pairs, 1)}
    return tuple(replace(lift, pair=number.get(lift.pair)) if lift.pair is not None else lift for unit in ranked for lift in unit)


def _cost(choice: Choice) -> float:
    """What a lift costs the whole body, in halves: it is an estimate, and strength fitted anew should not turn a day about."""
    return round(2 * choice.systemic) / 2


def place_of(lift: PlannedLift, choice: Choice, priority: Mapping[str, float]) -> Place:
    """Where a lift belongs: its class, then how much its muscle is wanted and what it costs the whole body."""
    practice, wanted = choice.practice, priority.get(lift.muscle, 1.0)
    if practice.multi and choice.gentle:
        return 2, -MOST_WANTED, lift.lift
    if practice.costly:
        return 0, -_cost(choice) - (LATER if practice.family in SQUATS else 0.0), lift.lift
    if practice.multi:
        return 1, -wanted - _cost(choice) + (LATER if practice.family in ONE_LEG else 0.0), lift.lift
    if practice.family in TRUNK:
        return 5, 0.0, lift.lift
    return (4 if practice.family == "forearm" else 2), -wanted, lift.lift
