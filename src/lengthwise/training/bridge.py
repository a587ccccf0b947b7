"""How many repetitions bridge the gap between two loads that exist."""

from dataclasses import dataclass
from math import ceil, floor

from lengthwise.training.defaults import defaults
from lengthwise.training.gear_loads import Loads
from lengthwise.training.one_rm import factor, possible_repetitions

FEW = 5
"""Fewer repetitions than these are asked of no lift that steps back (own choice)."""
ROUNDED = 0.02
"""Of a repetition: what pounds written to a tenth and plates added up in grams make of a whole one."""


@dataclass(frozen=True)
class Bridge:
    """From one load to the next.

    Attributes:
        load_kg, next_kg: the two loads. step_percent: the step over the whole resistance, moved body included.
        repetitions: how many are needed with the lighter load, at the same reserve, before the heavier one allows the least again.
        reachable: whether that is no more than is worth asking for.
    """

    load_kg: float
    next_kg: float
    step_percent: float
    repetitions: int
    reachable: bool

    @property
    def smooth(self) -> bool:
        """Whether the step is one that goes smoothly (claim progression_step)."""
        return bool(self.step_percent <= defaults()["step"]["percent"][1] + 1e-9)


def bridge(loads: Loads, load_kg: float, moved_kg: float, least: tuple[float, float]) -> Bridge | None:
    """The repetitions needed at a load before the next load to go on with; nothing above the heaviest.

    1RM is the same on both sides: (L + m)·f(r + reserve) = (L' + m)·f(least + reserve), f of the chosen 1RM equation, m the moved body.

    Args:
        least: repetitions wanted with the heavier load, and the reserve.
    """
    heavier = loads.step_up(load_kg, moved_kg)
    if heavier is None or load_kg + moved_kg <= 0:
        return None
    ratio = (heavier + moved_kg) / (load_kg + moved_kg)
    repetitions, reserve = least
    needed = possible_repetitions(1 / (ratio * factor(repetitions + reserve))) - reserve
    asked = ceil(needed - 1e-9)
    return Bridge(load_kg, heavier, 100 * (ratio - 1), asked, asked <= defaults()["bridge"]["most"])


def in_place_of_far_lighter(
    loads: Loads, load_kg: float, one_rm_total_kg: float, moved_kg: float, reserve: float
) -> tuple[float, int] | None:
    """The next heavier load and the repetitions that it allows, where a load allows more than anybody counts, as the next dumbbell down of a coarse
    rack may; none where it allows no more than that, or the heavier one too few (common practice, no source).
    """
    heavier = loads.above(load_kg)
    if heavier is None or repetitions_at(one_rm_total_kg, load_kg, moved_kg, reserve) <= defaults()["bridge"]["most"]:
        return None
    allows = repetitions_at(one_rm_total_kg, heavier, moved_kg, reserve)
    return (heavier, allows) if allows >= FEW else None


def repetitions_at(one_rm_total_kg: float, load_kg: float, moved_kg: float, reserve: float) -> int:
    """Whole repetitions a load allows with this much left; below 1 where it is too heavy."""
    if load_kg + moved_kg <= 0:
        return 99
    if one_rm_total_kg <= 0:
        return 0
    share = (load_kg + moved_kg) / one_rm_total_kg
    found = possible_repetitions(share) - reserve
    return min(floor(found + ROUNDED), 99)
