"""The load of a set: a share of what can be lifted once, inside what can be held at every position and what the gear gives."""

from dataclasses import dataclass

from lengthwise.body.scaling import lifting_skill
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.catalogue import gear
from lengthwise.mechanics import measures
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.working_load import one_rm_kg, set_load_kg

LEAST_HELP_KG = 1.0
"""Less help than this with one's own body nobody arranges: then the body alone is the load; estimate."""
INSIDE = 1e-6
"""Share of the held interval by which a load keeps off its ends, so that rounding leaves it inside."""


@dataclass(frozen=True)
class SetLoad:
    """The load of a set.

    Attributes:
        load_kg: to be used [kg]. wanted_kg: what strength alone would ask for [kg].
        bound: why they differ; empty where they do not.
    """

    load_kg: float
    wanted_kg: float
    bound: str = ""


def set_load(setting: Setting, held_kg: tuple[float, float], fraction: float) -> SetLoad:
    """The load of a set whose whole resistance, moved body included, is `fraction` of what can be lifted once.

    Args:
        held_kg: the least and the largest load that can be held at every position.

    Raises:
        NoSolutionError: no one load can be held through the range.
    """
    (least, most), moved = held_kg, measures.moved_body_kg(setting)
    _demand_held(setting, held_kg, moved)
    wanted = set_load_kg(one_rm_kg(most, moved, lifting_skill(setting.body.person)), moved, fraction)
    if -LEAST_HELP_KG < wanted < 0:
        wanted = 0.0
    kind = gear()[setting.lift.gear]
    limit = kind.most_for(setting.body.person.mass_kg)
    if wanted > limit:
        return SetLoad(max(limit, least), wanted, f"{kind.name}: at most {limit:.0f} kg ({kind.most})")
    floor = least + INSIDE * (most - least)
    if wanted < floor:
        return SetLoad(
            floor, wanted, f"with less than {least:.0f} kg the body cannot hold its own balance: the load is a counterweight"
        )
    return SetLoad(wanted, wanted)


def _demand_held(setting: Setting, held_kg: tuple[float, float], moved_kg: float) -> None:
    (least, most), name = held_kg, setting.lift.name
    if most <= 0 and moved_kg == 0:
        raise NoSolutionError(
            f"{name}: the body cannot hold its own segments at every position (capacity {most:.1f} kg)", asked=name
        )
    if least > most:
        raise NoSolutionError(
            f"{name}: no one load can be held through the range: somewhere it takes at least {least:.1f} kg, elsewhere at most {most:.1f} kg",
            asked=name,
        )
