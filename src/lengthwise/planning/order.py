"""The order of a day: the client's own lifts over several joints, those for a raised muscle first; barbell squats, hinges and presses; other
lifts over several joints; single-joint ones; grip; trunk (common practice, no source).
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.apart import bends_back
from lengthwise.planning.day_rows import FROM_THE_FLOOR
from lengthwise.planning.first import ONE_LEG, freshness, opener, opens_for, tires_squat
from lengthwise.planning.legs import bends_knee
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import Choice, PlannedLift
from lengthwise.planning.week_model import TRUNK

Key = tuple[str, str]
Place = tuple[int, float, str]
OPENS, OWN_RAISED, OWN, BAR, OWN_LATER, OTHER, SINGLE, GRIP, LAST = range(9)
"""Classes of a day's lifts in their order; squats with a barbell stand with the client's own, so that no hinge comes before them."""
FIRST: Place = (OPENS, 0.0, "")
SQUATS = frozenset({"squat", "squat_front", "squat_leaning"})
"""Before hinges of the same day, which tire the back that they lean on (common practice, no source)."""
LATER, BAR_FIRST = 20.0, 10.0
"""More than any lift is wanted or costs."""
MOST_WANTED = 9.0
"""Easy sets of multi-joint lifts for a sore joint's sake come after the real ones, before single-joint lifts."""


def in_order(lifts: Sequence[PlannedLift], choices: Mapping[Key, Choice], question: WeekQuestion) -> tuple[PlannedLift, ...]:
    """The lifts of a day in the order they are to be done; a pair stands where its earlier lift would, after lifts
    of that class that stand alone or with another of it. Pairs count from 1."""
    place = _places(lifts, choices, question)

    def key(lift: PlannedLift) -> Place:
        return place[lift.lift, lift.range]

    units: dict[object, list[PlannedLift]] = {}
    for lift in lifts:
        units.setdefault(("pair", lift.pair) if lift.pair is not None else (lift.lift, lift.range), []).append(lift)
    ranked = sorted(
        (sorted(unit, key=key) for unit in units.values()), key=lambda unit: (key(unit[0])[0], key(unit[-1])[0], key(unit[0]))
    )
    ranked = _squats_first(ranked, choices, question)
    pairs = list(dict.fromkeys(unit[0].pair for unit in ranked if unit[0].pair is not None))
    number = {pair: k for k, pair in enumerate(pairs, 1)}
    return tuple(replace(lift, pair=number.get(lift.pair)) if lift.pair is not None else lift for unit in ranked for lift in unit)


def _squats_first(units: list[list[PlannedLift]], choices: Mapping[Key, Choice], question: WeekQuestion) -> list[list[PlannedLift]]:
    """Squats and leg presses of any kind before hinges, unless the hinge is for a raised muscle; a pair moves as one, and begins with its squat."""
    units = [
        sorted(
            unit,
            key=lambda x: (
                _tires_legs(choices[x.lift, x.range], question) and any(bends_knee(choices[y.lift, y.range]) for y in unit)
            ),
        )
        for unit in units
    ]
    tiring = [k for k, unit in enumerate(units) if any(_tires_legs(choices[x.lift, x.range], question) for x in unit)]
    if not tiring:
        return units
    late = [unit for unit in units[tiring[0] + 1 :] if any(bends_knee(choices[x.lift, x.range]) for x in unit)]
    rest = [unit for unit in units[tiring[0] :] if unit not in late]
    return [*units[: tiring[0]], *late, *rest]


def _tires_legs(choice: Choice, question: WeekQuestion) -> bool:
    """Whether a lift is a hinge that comes after the day's squats; a deadlift from the floor is done fresh, after none but a barbell squat."""
    hinge = choice.practice.multi and bends_back(choice.practice) and choice.lift not in FROM_THE_FLOOR
    return hinge and opens_for(choice, question.muscles) is None


def _cost(choice: Choice) -> float:
    """What a lift costs the whole body, in halves: it is an estimate, and strength fitted anew should not turn a day about; of one side after the
    other nothing.
    """
    return 0.0 if choice.practice.one_side else round(2 * choice.systemic) / 2


def _places(lifts: Sequence[PlannedLift], choices: Mapping[Key, Choice], question: WeekQuestion) -> dict[Key, Place]:
    """Where each lift of a day belongs."""
    there = [choices[x.lift, x.range] for x in lifts]
    priority, first = {m.name: m.priority for m in question.muscles}, opener(there, question)
    leads = _leads(lifts, choices, question, first)
    place: dict[Key, Place] = {(x.lift, x.range): _place(x, choices[x.lift, x.range], priority) for x in lifts}
    for c in there:
        if c.key in leads or (c.kept and c.practice.costly and not c.gentle):
            place[c.key] = (OWN_RAISED if _for_raised(c, there, question) else OWN, *place[c.key][1:])
    return place if first is None else place | {first.key: FIRST}


def _leads(lifts: Sequence[PlannedLift], choices: Mapping[Key, Choice], question: WeekQuestion, first: Choice | None) -> set[Key]:
    """The client's own lifts that stand before barbell lifts: as many as leave these in the first half of the day, none of them in turn with
    another, which would come before the bar as well, as what is done in turn with the opener does.
    """
    there = [choices[x.lift, x.range] for x in lifts]
    opening = {x.pair for x, c in zip(lifts, there, strict=True) if c is first and x.pair is not None}
    early = sum(c.practice.costly or c is first or x.pair in opening for x, c in zip(lifts, there, strict=True))
    alone = [choices[x.lift, x.range] for x in lifts if x.pair is None]
    own = [c for c in alone if c.kept and c.practice.multi and not (c.practice.costly or c.gentle or c is first)]
    able = [c for c in own if not tires_squat(c, there)]
    ranked = sorted(
        able, key=lambda c: (not _for_raised(c, there, question), c.practice.family in ONE_LEG, *freshness(c), -_cost(c), c.key)
    )
    return {c.key for c in ranked[: max(0, -(-len(there) // 2) - early)]}


def _for_raised(choice: Choice, there: Sequence[Choice], question: WeekQuestion) -> bool:
    """Whether a lift comes first for the sake of a raised muscle."""
    return opens_for(choice, question.muscles) is not None and not tires_squat(choice, there)


def _place(lift: PlannedLift, choice: Choice, priority: Mapping[str, float]) -> Place:
    """Where a lift belongs by itself: its class, then how much its muscle is wanted and what it costs the whole body."""
    practice, wanted = choice.practice, priority.get(lift.muscle, 1.0)
    late = LATER if practice.family in ONE_LEG else 0.0
    if practice.multi and choice.gentle:
        return SINGLE, -MOST_WANTED, lift.lift
    if practice.costly:
        squat = practice.family in SQUATS
        return OWN if squat else BAR, -_cost(choice) - BAR_FIRST - LATER * squat, lift.lift
    if practice.multi:
        return OWN_LATER if choice.kept else OTHER, late - wanted - _cost(choice), lift.lift
    if practice.family in TRUNK:
        return LAST, 0.0, lift.lift
    return (GRIP if practice.family == "forearm" else SINGLE), -wanted, lift.lift
