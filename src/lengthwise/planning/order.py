"""The order of a day: what matters most first, what costs the whole body most early, lifts in turn side by side."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.question import Question
from lengthwise.planning.week import Choice, PlannedLift


def in_order(
    lifts: Sequence[PlannedLift], choices: Mapping[tuple[str, str], Choice], question: Question
) -> tuple[PlannedLift, ...]:
    """The lifts of a day in the order they are to be done; a pair stands where its more urgent lift would, pairs count from 1."""
    priority = {m.name: m.priority for m in question.muscles}

    def key(lift: PlannedLift) -> tuple[float, float, str]:
        return -priority.get(lift.muscle, 0.0), -choices[lift.lift, lift.range].systemic, lift.lift

    units: dict[object, list[PlannedLift]] = {}
    for lift in lifts:
        units.setdefault(("pair", lift.pair) if lift.pair is not None else (lift.lift, lift.range), []).append(lift)
    ranked = sorted((sorted(unit, key=key) for unit in units.values()), key=lambda unit: key(unit[0]))
    pairs = list(dict.fromkeys(unit[0].pair for unit in ranked if unit[0].pair is not None))
    number = {pair: k for k, pair in enumerate(pairs, 1)}
    return tuple(replace(lift, pair=number.get(lift.pair)) if lift.pair is not None else lift for unit in ranked for lift in unit)
