"""The muscles of a client's week, with their bands and the least each should get."""

from collections.abc import Mapping, Sequence

from lengthwise.errors import InputError
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.target import target_named
from lengthwise.planning.practice import ALONE, BIG, SMALL
from lengthwise.planning.question import FEW_DAYS, Muscle
from lengthwise.planning.rules import default_rules
from lengthwise.practice.week_lifts import named_muscles
from lengthwise.training.client import Client
from lengthwise.training.counted_sets import head_shares
from lengthwise.training.weekly_sets import weekly_band

SMALL_FROM_DAYS = 3
"""With fewer days small muscles that presses, pulls and leg work train too have no floor (common practice, no source)."""
ON_ONE_OF_TWO = frozenset({"quadriceps", "hamstrings", "glutes", "upper_back"})
"""Big muscles that one squat, one hinge and one row of two short days serve: their floor is a small one's (common practice, no source)."""
FULL_DAY_MIN = 45.0
"""With three days or more, fewer than three of which are so long, a big muscle's floor is a small one's: 115 minutes a week do not hold four sets of
each, as the expert's row `no_big_muscle_starved` has it (common practice, no source)."""


def muscles_of(client: Client, facts: Sequence[LiftFacts], counted: Sequence[Mapping[str, float]]) -> tuple[Muscle, ...]:
    """The muscles of a client's week: the usual ones and those named, less those with priority 0.

    Args:
        counted: of each lift, the fraction of a set that each head gets.

    Raises:
        InputError: none is left.
    """
    targets = [target_named(m) for m in named_muscles(client)]
    if not targets:
        raise InputError(f"{client.name}: every muscle has priority 0; give one at least a priority above 0", asked=client.name)
    if not facts:
        raise InputError(
            f"{client.name}: no lift is left for a week; refuse fewer lifts, or list more equipment for the places",
            asked=client.name,
        )
    strength = {h: own.strength_n for h, own in facts[0].heads.items()}
    out = []
    for t in targets:
        band, priority = weekly_band(client, t.name), client.wishes.priority.get(t.name, 1.0)
        share, floor = head_shares(strength, t.heads, counted), _floor(client, t.name, priority)
        floor = floor if band.own or client.wishes.phase == "grow" else min(floor, band.low)
        out.append(Muscle(name=t.name, share=share, priority=priority, low=band.low, high=band.high, own=band.own, floor=floor))
    return tuple(out)


def _floor(client: Client, muscle: str, priority: float) -> float:
    """Counted sets a week below which the week is told to fall short."""
    rules = default_rules()
    if priority > 1:
        new = client.training in ("untrained", "recreational")
        return rules.floor_raised_new if new else rules.floor_raised
    if muscle in SMALL and len(client.days) < SMALL_FROM_DAYS:
        return rules.floor_alone if muscle in ALONE else 0.0
    if muscle in BIG:
        short = _all_but_short(client) or (muscle in ON_ONE_OF_TWO and _two_short(client))
        return rules.floor_small if short else rules.floor_big
    return rules.floor_small if muscle in SMALL else 0.0


def _all_but_short(client: Client) -> bool:
    """Whether three days or more are so short that few of them hold what a big muscle's floor asks for."""
    long = sum(d.minutes >= FULL_DAY_MIN for d in client.days)
    return long < SMALL_FROM_DAYS <= len(client.days)


def _two_short(client: Client) -> bool:
    """Whether one or two short days hold little beside a squat or hinge, a press and a pull each."""
    return len(client.days) < FEW_DAYS and all(d.minutes <= default_rules().short_day_min for d in client.days)
