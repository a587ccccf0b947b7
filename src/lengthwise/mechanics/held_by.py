"""The largest loads a lift that is set up can be held with; where none can, whether strength is what is missing."""

from dataclasses import replace

from lengthwise.errors import NoSolutionError
from lengthwise.mechanics.capacity import Capacity, capacity
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.lift_profile import Start
from lengthwise.mechanics.problem import Balance

STRONGER = 2.0
"""A position that muscles this many times as strong could hold is beyond this body's strength, not out of balance; own choice."""


def largest_held(setting: Setting, start: Start) -> Capacity:
    """The largest load at every position.

    Raises:
        NoSolutionError: no load, and no help where the load sits, keeps the body up somewhere: for want of strength, or of balance.
    """
    try:
        return capacity(setting.balance, setting.coordinates, start.basis)
    except NoSolutionError as missing:
        if not _held_when_stronger(setting.balance):
            raise
        name = setting.lift.name
        raise NoSolutionError(
            f"{name}: this body is not strong enough for it, whatever the load or assistance", asked=name
        ) from missing


def _held_when_stronger(balance: Balance) -> bool:
    try:
        capacity(replace(balance, muscle=STRONGER * balance.muscle))
    except NoSolutionError:
        return False
    return True
