"""From the largest load of a lift to what can be lifted once (1RM) and to the load of a set.

The balance of a lift counts what each line loses as it shortens (`body.muscles.force_velocity`), so the largest load at the weakest
position is the 1RM of somebody who is skilled at lifting; others bring less of their strength to bear (`body.scaling.lifting_skill`).

The one chain of the house: profiles, prescriptions, calibration, norms and weeks all take their loads from here.
"""

from lengthwise.errors import InputError

EPLEY = 30.0
"""Epley 1985: 1RM = load × (1 + repetitions/30) (from memory; worked in tests/reference/onerm_worked.csv)."""


def one_rm_kg(largest_kg: float, moved_kg: float, skill: float) -> float:
    """What can be lifted once [kg]: `skill` of the whole resistance, moved body included, at the weakest position."""
    return skill * (largest_kg + moved_kg) - moved_kg


def set_load_kg(once_kg: float, moved_kg: float, fraction: float) -> float:
    """Load of a set [kg] whose whole resistance, moved body included, is `fraction` of what can be lifted once."""
    return fraction * (once_kg + moved_kg) - moved_kg


def load_fraction(repetitions: int, reserve: float) -> float:
    """Share of the 1RM for a set of `repetitions` that ends with `reserve` more in hand.

    Raises:
        InputError: fewer than 1 or more than 40 repetitions, or a reserve outside 0-10.
    """
    if not 1 <= repetitions <= 40:
        raise InputError(f"repetitions = {repetitions}; allowed 1 to 40", asked=repetitions, allowed=[1, 40])
    if not 0 <= reserve <= 10:
        raise InputError(f"repetitions in reserve = {reserve}; allowed 0 to 10", asked=reserve, allowed=[0, 10])
    possible = repetitions + reserve
    return 1.0 if possible <= 1 else 1 / (1 + possible / EPLEY)
