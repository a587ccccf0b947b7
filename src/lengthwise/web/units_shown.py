"""Numbers as people read them, in the units they chose."""

from collections.abc import Callable, Mapping

from fastapi import Request

from lengthwise import quantities
from lengthwise.known.lifts import all_lifts
from lengthwise.quantities import MassUnit
from lengthwise.training.record_words import LengthUnit
from lengthwise.units import INCH, LB
from lengthwise.web.kept_clients import picked_of
from lengthwise.web.who import Units, units_of


def said_in(units: Units) -> Mapping[str, Callable[..., str]]:
    """How pages say quantities, by the name that templates call it: `exact` as it is written on the plate, `kg` where it is estimated."""
    mass, length = unit_of(units), length_of(units)
    return {
        "exact": lambda kg: quantities.mass(kg, mass),
        "kg": lambda kg: quantities.estimate(kg, mass),
        "load": lambda kg, lift: quantities.load(kg, gear_of(lift), mass),
        "planned_load": lambda kg, lift, guess, each=False: quantities.planned_load(kg, gear_of(lift), mass, guess, each),
        "likely": lambda bounds, lift: quantities.likely(bounds[0], bounds[1], gear_of(lift), mass),
        "setting": lambda value, unit: quantities.setting(value, unit, mass, length),
        "cm": lambda cm: quantities.length(cm, length),
    }


def gear_of(lift: str) -> str:
    """The gear of a lift; none for one that is gone."""
    found = all_lifts().lifts.get(lift)
    return found.gear if found else ""


def unit_of(units: Units) -> MassUnit:
    """In which unit loads are shown."""
    return "lb" if units == "imperial" else "kg"


def length_of(units: Units) -> LengthUnit:
    """In which unit lengths are shown."""
    return "in" if units == "imperial" else "cm"


def shown_units(request: Request) -> tuple[MassUnit, LengthUnit]:
    """The units that whoever asks reads masses and lengths in; inches where a picked client's record says so."""
    picked, units = picked_of(request), units_of(request)
    return unit_of(units), "in" if picked and picked.client.length_unit == "in" else length_of(units)


def sizes_of(units: Units) -> tuple[float, float]:
    """What one of the units shown is: of lengths [cm], of masses [kg]."""
    return (100 * INCH, LB) if units == "imperial" else (1.0, 1.0)
