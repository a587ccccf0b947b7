"""Numbers as people read them, in the units they chose."""

from fastapi import Request

from lengthwise import quantities
from lengthwise.actions.lifts import all_lifts
from lengthwise.quantities import MassUnit
from lengthwise.training.client import LengthUnit
from lengthwise.web.who import Units, units_of

KG_PER_LB = 0.45359237
"""International avoirdupois pound [kg] (exact, 1959 agreement)."""
CM_PER_IN = 2.54
"""International inch [cm] (exact, 1959 agreement)."""


def mass(kg: float, units: Units) -> str:
    """A mass that is estimated, or a body's."""
    return quantities.estimate(kg, unit_of(units))


def exact(kg: float, units: Units) -> str:
    """A load as it is written on the plate."""
    return quantities.mass(kg, unit_of(units))


def load(kg: float, lift: str, units: Units) -> str:
    """A lift's load as the sheet on paper says it: what hangs on the body, or helps it, where the body is the load."""
    return quantities.load(kg, gear_of(lift), unit_of(units))


def planned(kg: float | None, lift: str, guess: bool, units: Units, each: bool = False) -> str:
    """The load of a planned set, with whether two such are held and whether it is a guess."""
    return quantities.planned_load(kg, gear_of(lift), unit_of(units), guess, each)


def likely(bounds: tuple[float, float], lift: str, units: Units) -> str:
    """Between which loads the right one lies."""
    return quantities.likely(*bounds, gear_of(lift), unit_of(units))


def gear_of(lift: str) -> str:
    """The gear of a lift; none for one that is gone."""
    found = all_lifts().lifts.get(lift)
    return found.gear if found else ""


def unit_of(units: Units) -> MassUnit:
    """In which unit loads are shown."""
    return "lb" if units == "imperial" else "kg"


def shown_units(request: Request) -> tuple[MassUnit, LengthUnit]:
    """The units that whoever asks reads masses and lengths in."""
    return ("lb", "in") if units_of(request) == "imperial" else ("kg", "cm")


def length(cm: float, units: Units) -> str:
    """A length or body height."""
    value, unit = (cm / CM_PER_IN, "in") if units == "imperial" else (cm, "cm")
    return f"{_short(value)} {unit}"


def setting(value: float, unit: str, units: Units) -> str:
    """A set-up value of a lift, whose file says its unit."""
    if unit == "cm":
        return length(value, units)
    if unit == "kg":
        return mass(value, units)
    return f"{value:.0f}°".replace("-", "−") if unit == "deg" else f"{value:.2f}"


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 20 else f"{value:.1f}".removesuffix(".0")
