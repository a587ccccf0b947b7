"""From the largest load that can be held to what can be lifted once (1RM) and to the load of a set.

The one chain of the house: profiles, prescriptions, calibration, norms and weeks all take their loads from here.
"""

from lengthwise.errors import InputError

EPLEY = 30.0
"""Epley 1985: 1RM = load × (1 + repetitions/30) (from memory; worked in tests/reference/onerm_worked.csv)."""

LIFTED = 0.87
"""What can be lifted once over what can be held at the weakest position. At 60 deg/s concentric torque is exp(-0.258) = 0.77 of the isometric
one (Stotz 2022, T3-056). Hill's curve (1 - v)/(1 + 4v) through that point gives 0.87 at 30 deg/s, about the mean speed of a 1RM whose joints
turn by 60 to 90 deg in two to three seconds (estimate)."""


def one_rm_kg(largest_kg: float, moved_kg: float = 0.0) -> float:
    """Load that can be lifted once [kg] from the largest load that can be held [kg]; a body-weight lift's moved body counts as load."""
    return LIFTED * (largest_kg + moved_kg) - moved_kg


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
