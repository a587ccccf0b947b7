"""The load of a set: a share of what can be lifted once, inside what can be held at every position and what the gear gives."""

from dataclasses import dataclass

from lengthwise.body.person import Person
from lengthwise.body.scaling import lifting_skill
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.catalogue import bound_of, gear
from lengthwise.lifts.definition import Lift
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


def set_load(lift: Lift, person: Person, held_kg: tuple[float, float], moved_kg: float, fraction: float) -> SetLoad:
    """The load of a set whose whole resistance, moved body included, is `fraction` of what can be lifted once.

    Args:
        held_kg: the least and the largest load that can be held at every position. moved_kg: mass of the body that counts as load.

    Raises:
        NoSolutionError: no one load can be held through the range.
    """
    least, most = held_kg
    _demand_held(lift, held_kg, moved_kg)
    wanted = set_load_kg(one_rm_kg(most, moved_kg, lifting_skill(person, lift.practised)), moved_kg, fraction)
    if -LEAST_HELP_KG < wanted < 0:
        wanted = 0.0
    bound = bound_of(lift)
    limit = bound.most_for(person.mass_kg)
    if wanted > limit:
        return SetLoad(max(limit, least), wanted, f"{gear()[lift.gear].name}: at most {limit:.0f} kg ({bound.most})")
    floor = least + INSIDE * (most - least)
    if wanted < floor:
        return SetLoad(floor, wanted, f"with less than {least:.0f} kg the body tips over: the load is a counterweight")
    return SetLoad(wanted, wanted)


def _demand_held(lift: Lift, held_kg: tuple[float, float], moved_kg: float) -> None:
    (least, most), name = held_kg, lift.name
    if most <= 0 and moved_kg == 0:
        raise NoSolutionError(
            f"{name}: this body is not strong enough for it even without load ({most:.1f} kg at its weakest position)", asked=name
        )
    if least > most:
        raise NoSolutionError(
            f"{name}: no single load works through the whole range: one position needs at least {least:.1f} kg, elsewhere at most {most:.1f} kg",
            asked=name,
        )
