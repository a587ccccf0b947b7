"""Which lifts are worth offering to the planner: for each muscle and head the best that any coach would write down, and the client's own."""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence

from lengthwise.planning.first import ONE_LEG
from lengthwise.planning.jobs import wanted
from lengthwise.planning.practice import lists
from lengthwise.planning.question import DayOffer, Muscle
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import HALF, trained

FOR_MUSCLE, OF_A_FAMILY, FOR_HEAD, ENOUGH = 5, 2, 1, 2
"""Lifts offered for a muscle, of one family at most, and for a head, at each place; with fewer than ENOUGH of them all others come too."""
ON_SHORT_DAYS, FOR_BEGINNER = 4, 3
"""Short days hold few lifts, a beginner's the fewest: more to choose from for each muscle makes them hardly better (own choice)."""
JOBS = (frozenset({"knee_flexion"}), frozenset({"hip_hinge", "hip_extension"}))
"""Hamstrings bend the knee and straighten the hip: two lifts of each are always offered."""
INSTEAD = {JOBS[1]: frozenset({"hip_thrust"})}
"""Bridges and thrusts straighten the hip where a sore back leaves no hinge."""
LEAST = 0.05
STEADY = frozenset({"squat", "leg press"})


def shortlist(
    choices: Sequence[Choice],
    muscles: Sequence[Muscle],
    days: Sequence[DayOffer],
    keep: Collection[str] = (),
    for_muscle: int = FOR_MUSCLE,
    of_a_family: int = OF_A_FAMILY,
    beginner: bool = False,
    steady: bool = False,
) -> tuple[Choice, ...]:
    """The choices worth offering; lifts in `keep` (ids) always are, where they serve any muscle at all.

    Args:
        for_muscle: how many for each muscle; fewer where all days are short.
        beginner: whether lunges give way to lifts on both legs. steady: whether every other lift on one leg does so, too.
    """
    kept = {c.key for c in choices if c.lift in keep and c.value}
    for gear, stations in sorted({(tuple(sorted(d.gear)), tuple(sorted(d.stations))) for d in days}):
        there = _without_lesser([c for c in choices if c.gear in gear and c.practice.stations <= set(stations)])
        there = _on_both_legs(there) if beginner or steady else there
        there = _steady(there) if steady else there
        kept |= {key for m in muscles for key in _for(there, m, for_muscle, of_a_family)}
        for families in JOBS:
            doing = [c for c in there if c.practice.family in families]
            kept |= {c.key for c in _best(doing or [c for c in there if c.practice.family in INSTEAD.get(families, ())])}
        for movement in wanted(muscles):
            kept |= {c.key for c in _best([c for c in there if c.lift in movement.lifts])}
    return tuple(c for c in choices if c.key in kept)


def _without_lesser(choices: Sequence[Choice]) -> list[Choice]:
    """The lifts of a place without those that another does better there, such as lying leg curls where one can sit; one that a sore joint leaves
    easy sets does nothing better. Nor are there presses that the stance ends beside a chest press of the client's own, easy or not.
    """
    here = {c.lift for c in choices if not c.gentle}
    own = any(c.kept and c.practice.pattern in lists().jobs["chest press"] for c in choices)
    return [c for c in choices if lists().better.get(c.lift) not in here and not (own and c.lift in lists().standing_presses)]


def _on_both_legs(choices: Sequence[Choice]) -> list[Choice]:
    """The lifts of a place without lunges and step-ups, where a leg press or a squat that is no barbell's is there: that is learned sooner
    (common practice, no source).
    """
    steady = any(c.practice.pattern in STEADY and c.practice.staple and not (c.practice.costly or c.gentle) for c in choices)
    return [c for c in choices if not (steady and c.practice.family in ONE_LEG)]


def _steady(choices: Sequence[Choice]) -> list[Choice]:
    """The lifts of a place without those on one leg of which a lift on both of the same family is there that trains their first target: a seated
    calf raise is none for the calf that crosses the knee (common practice, no source).
    """
    both = [c for c in choices if not (c.practice.one_leg or c.gentle)]
    same = {(o.practice.family, head) for o in both for head, part in o.fraction.items() if part >= HALF}
    return [c for c in choices if not (c.practice.one_leg and (c.practice.family, c.practice.targets[0]) in same)]


def _best(choices: Sequence[Choice]) -> list[Choice]:
    """Two of some lifts: staples first, then those that grow most."""
    return sorted(choices, key=lambda c: (not c.practice.staple, -max(c.value.values()), c.key))[:2]


def _for(choices: Sequence[Choice], muscle: Muscle, number: int, of_a_family: int) -> Iterator[tuple[str, str]]:
    worth = {c.key: _good(c, muscle) for c in choices}
    able = [c for c in choices if worth[c.key] > LEAST] or [
        c for c in choices if trained(c, muscle) >= HALF
    ]  # held trunks hardly grow
    ranked = sorted(able, key=lambda c: (-worth[c.key], c.key))
    staples, taken = [], Counter[str]()
    for c in ranked:
        if c.practice.staple and taken[c.practice.family] < of_a_family:
            taken[c.practice.family] += 1
            staples.append(c)
    yield from (c.key for c in staples[:number])
    if sum(not c.gentle for c in staples) < ENOUGH:
        yield from (c.key for c in ranked[:number])
    for head in muscle.share:
        best = sorted(staples, key=lambda c: (-c.fraction.get(head, 0.0) * c.value.get(muscle.name, 0.0), c.key))
        yield from (c.key for c in best[:FOR_HEAD])


def _good(choice: Choice, muscle: Muscle) -> float:
    """Counted sets of one set times their graded value."""
    return trained(choice, muscle) * choice.value.get(muscle.name, 0.0)
