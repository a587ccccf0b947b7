"""From the largest load to the load of a set."""

from lengthwise.errors import InputError

EPLEY = 30.0
"""Epley 1985: 1RM = load × (1 + repetitions/30) (from memory; worked in tests/reference/onerm_worked.csv)."""


def load_fraction(repetitions: int, reserve: float) -> float:
    """Share of the largest load for a set of `repetitions` that ends with `reserve` more in hand.

    Raises:
        InputError: fewer than 1 or more than 40 repetitions, or a reserve outside 0-10.
    """
    if not 1 <= repetitions <= 40:
        raise InputError(f"repetitions = {repetitions}; allowed 1 to 40", asked=repetitions, allowed=[1, 40])
    if not 0 <= reserve <= 10:
        raise InputError(f"repetitions in reserve = {reserve}; allowed 0 to 10", asked=reserve, allowed=[0, 10])
    possible = repetitions + reserve
    return 1.0 if possible <= 1 else 1 / (1 + possible / EPLEY)
