"""Sets before the hard ones, with loads that exist."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, inf

from lengthwise.quantities import MassUnit, load
from lengthwise.training.defaults import defaults
from lengthwise.training.gear_loads import SAME_KG, Loads
from lengthwise.training.one_rm import factor
from lengthwise.units import LB

NEARLY = 0.95
"""A warm-up load above this share of the load of the hard sets is left out; common practice, no source."""
NEAR = 0.06
"""A warm-up load may be this far from its share, so that it needs fewer small plates; common practice, no source."""

RISES, RISE = 3, 0.15
"""So many loads are tried after the first at most, each so much heavier at most where steps are fine (common practice, no source)."""
LEAST_RISE = 0.03
"""A load so little heavier than the one before tells nothing new: the search ends before it (own choice)."""
WITHIN = "These are sets of the day, not extra ones."
STAY, DOWN = "Stay with the first load that leaves about {:g} or fewer: never to failure.", "Go down where it hurts or form breaks."
OF_GUESSES = (WITHIN, STAY.partition("{")[0], DOWN)
"""How the sentences begin that every guess says alike."""
FAR = " The first day may feel easy: log how many were left, and the next visit goes on from there; the right load may be near {}."
FAR_BELOW = 1.3
"""A first load that the right one may exceed so many times, the moved body with it, is told to feel easy (own choice)."""
COUNTED = 6
"""More repetitions left than these nobody tells apart on the floor (own choice)."""
LEFT, MOST_LEFT = 3, 12
"""So many repetitions more than asked are left before a heavier load is tried; nobody counts more than the second (common practice, no source)."""


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
    """A load close to the one wanted, whole fives before steps of 2.5 before anything finer, in pounds tens before fives; else the next below."""
    room = NEAR * (wanted_kg + moved_kg)
    close = [kg for kg in loads.exist if abs(kg - wanted_kg) <= room]
    found = min(close, key=lambda kg: (not _whole(kg, 5), not _whole(kg, 2.5), abs(kg - wanted_kg)), default=None)
    return loads.below(wanted_kg) if found is None else found


def _whole(kg: float, step: float) -> bool:
    """Whether a load is made of whole steps, in kilograms or, twice as large, in pounds."""
    return any(abs(load - part * round(load / part)) < SAME_KG for load, part in ((kg, step), (kg / LB, 2 * step)))


def test_steps(
    loads: Loads,
    guess_kg: float,
    moved_kg: float,
    wanted: tuple[int, int, float],
    unit: MassUnit = "kg",
    search: tuple[int, float] = (RISES + 1, inf),
    middle_kg: float = 0.0,
) -> tuple[str, ...]:
    """How to find a load that is only guessed, in one session, without going near a failed repetition: it begins with the load that is written.

    The sets that look for it are the day's sets of the lift, so that they take no minutes that the day does not count.

    Args:
        moved_kg: body mass that counts to the resistance. wanted: least and most repetitions, and reserve, of the hard sets. unit: in which loads are told.
        search: sets of the lift that day, and the heaviest load that is tried. middle_kg: of where the right load may lie; 0 where it is not told.
    """
    repetitions, most, reserve = wanted
    rising, left = _rising(loads, guess_kg, moved_kg, (repetitions, reserve), (min(search[0] - 1, RISES), search[1]))
    much = f"they leave {left:g} or more" if left <= COUNTED else "they are far too easy"
    up = f" If {much}, work up set by set: {words(rising, loads.kind, unit)}. {WITHIN}" if rising else ""
    return (
        f"Begin here, with {load(guess_kg, loads.kind, unit)} for {repetitions} repetitions that leave {reserve:g} or {reserve + 1:g}.{up}",
        _next(loads, (guess_kg, moved_kg), (repetitions, most), unit) + _far(loads, (guess_kg, moved_kg), middle_kg, unit),
        f"{STAY.format(reserve + 1)} {DOWN}",
        "Enter that last set (load, repetitions, reserve) as a known lift: the load then follows from it instead of the model.",
    )


def _rising(
    loads: Loads, begin_kg: float, moved_kg: float, wanted: tuple[int, float], search: tuple[int, float]
) -> tuple[list[float], float]:
    """Loads to try after the first, each up to RISE heavier or the next that exists, and how many repetitions a set leaves before the next.

    They end before a leap that would ask for more than MOST_LEFT, or a step of less than LEAST_RISE.

    Args:
        search: so many loads at most, none heavier than the second.
    """
    (repetitions, reserve), (most, top_kg) = wanted, search
    out, left = [begin_kg], reserve + LEFT
    while len(out) <= most and (heavier := loads.above(out[-1])) is not None and heavier <= top_kg + SAME_KG:
        rise = min((out[-1] + moved_kg) * (1 + RISE) - moved_kg, top_kg)
        following = max(heavier, loads.below(rise) or heavier)
        leap = (following + moved_kg) / (out[-1] + moved_kg) if out[-1] + moved_kg > 0 else inf
        if leap < 1 + LEAST_RISE:
            break
        need = max(
            reserve + LEFT, ceil(30 * (leap * factor(repetitions + reserve) - 1) - repetitions - 1e-9) if leap < inf else inf
        )
        if need > MOST_LEFT:
            break
        out, left = [*out, following], max(left, need)
    return out[1:], left


def _next(loads: Loads, whole: tuple[float, float], wanted: tuple[int, int], unit: MassUnit) -> str:
    """What follows a first load that is a little too light, and one that is too heavy.

    Args:
        whole: the load and the moved body [kg]. wanted: least and most repetitions.
    """
    least, most = wanted
    heavier, lighter = loads.step_up(*whole), loads.step_down(*whole)
    then = "" if heavier is None else f"then {load(heavier, loads.kind, unit)}"
    more = ", ".join(filter(None, (f"up to {most} repetitions" if most > least else "", then))) or "slower sets"
    less = "fewer repetitions" if lighter is None else load(lighter, loads.kind, unit)
    return f"A little easy: {more}. Too heavy: {less}."


def _far(loads: Loads, whole: tuple[float, float], middle_kg: float, unit: MassUnit) -> str:
    """That a load far below the middle of where the right one may lie will feel easy, and what to do then; empty for others."""
    (guess_kg, moved_kg), near = whole, loads.below(middle_kg)
    following = loads.step_up(*whole)
    if near is None or following is None or near <= following + SAME_KG or near + moved_kg < FAR_BELOW * (guess_kg + moved_kg):
        return ""
    return FAR.format(load(near, loads.kind, unit))


def words(loads: Sequence[float], kind: str, unit: MassUnit) -> str:
    """Loads as a coach would say them."""
    return ", then ".join(load(kg, kind, unit) for kg in loads)
