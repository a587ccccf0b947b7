"""Sets before the hard ones, with loads that exist."""

from collections.abc import Sequence
from dataclasses import dataclass

from lengthwise.quantities import MassUnit, load
from lengthwise.training.defaults import defaults
from lengthwise.training.gear_loads import Loads

NEARLY = 0.95
"""A warm-up load above this share of the load of the hard sets is left out; common practice, no source."""
NEAR = 0.06
"""A warm-up load may be this far from its share, so that it needs fewer small plates; common practice, no source."""


@dataclass(frozen=True)
class WarmUpSet:
    """A set before the hard ones: a load that exists [kg] and repetitions."""

    load_kg: float
    repetitions: int


def warm_up(loads: Loads, load_kg: float, moved_kg: float = 0.0) -> tuple[WarmUpSet, ...]:
    """Rising sets below a load: the usual shares of the whole resistance, each near a load that exists and is quick to make up.

    A share below the lightest load, or that comes to the same load as the one before, is left out; common practice, no source.

    Args:
        moved_kg: body mass that counts to the resistance.
    """
    table = defaults()["warm_up"]
    found: dict[float, int] = {}
    for share, repetitions in zip(table["share"], table["repetitions"], strict=True):
        load = _handy(loads, share * (load_kg + moved_kg) - moved_kg, moved_kg)
        if load is not None and load not in found and load + moved_kg <= NEARLY * (load_kg + moved_kg):
            found[load] = repetitions
    return tuple(WarmUpSet(load, n) for load, n in found.items())


def _handy(loads: Loads, wanted_kg: float, moved_kg: float) -> float | None:
    """A load close to the one wanted, whole fives before steps of 2.5 before anything finer; else the next below."""
    room = NEAR * (wanted_kg + moved_kg)
    close = [kg for kg in loads.exist if abs(kg - wanted_kg) <= room]
    found = min(close, key=lambda kg: (kg % 5 > 1e-6, kg % 2.5 > 1e-6, abs(kg - wanted_kg)), default=None)
    return loads.below(wanted_kg) if found is None else found


def test_steps(loads: Loads, guess_kg: float, moved_kg: float, wanted: tuple[int, float], unit: MassUnit = "kg") -> tuple[str, ...]:
    """How to find a load that is only guessed, in one session, without going near a failed repetition.

    Args:
        wanted: repetitions and reserve of the hard sets. unit: in which loads are told.
    """
    repetitions, reserve = wanted
    rising = [s.load_kg for s in warm_up(loads, guess_kg, moved_kg)] + [guess_kg]
    each, between = ("each ", ", resting about two minutes between") if len(rising) > 1 else ("", "")
    steps = [f"Do {repetitions} repetitions {each}with {words(rising, loads.kind, unit)}{between}."]
    steps.append(
        f"Stop at the first set that leaves about {reserve + 1:g} repetitions in reserve or fewer, or that hurts or loses its form: never to failure."
    )
    heavier = loads.above(guess_kg)
    if heavier is not None:
        steps.append(
            f"If {load(guess_kg, loads.kind, unit)} still leaves {reserve + 3:g} or more, go up one load at a time "
            f"({load(heavier, loads.kind, unit)} next), at most three times."
        )
    steps.append(
        "Enter that last set (load, repetitions, reserve) as a known lift: the load then follows from it instead of the model."
    )
    return tuple(steps)


def words(loads: Sequence[float], kind: str, unit: MassUnit) -> str:
    """Loads as a coach would say them."""
    return ", then ".join(load(kg, kind, unit) for kg in loads)
