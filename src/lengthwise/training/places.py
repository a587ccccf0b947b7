"""What usual places hold, in plain words: asked once, instead of a list of gear."""

from collections.abc import Mapping
from typing import Any

from lengthwise.contents import data_of
from lengthwise.errors import unknown
from lengthwise.quantities import MassUnit
from lengthwise.units import LB


def presets() -> Mapping[str, Mapping[str, Any]]:
    """Every usual place by its key: its name in words, gear and stations (data/places.toml)."""
    return data_of("training", "places.toml")


def in_kilograms(gear: Mapping[str, Any]) -> dict[str, Any]:
    """A kind of gear whose loads are written in pounds (bar_lb, plates_lb, rack_lb, stack_lb), as a record holds them."""

    def kg(pounds: float | list[float]) -> float | list[float]:
        return [LB * p for p in pounds] if isinstance(pounds, list) else LB * pounds

    return {k.removesuffix("_lb") + "_kg" if k.endswith("_lb") else k: kg(v) if k.endswith("_lb") else v for k, v in gear.items()}


def filled(table: Mapping[str, Any], unit: MassUnit = "kg") -> dict[str, Any]:
    """A place's table with what its preset holds; what the table itself says comes on top.

    Args:
        unit: of the plates and racks that stand there.

    Raises:
        ValueError: no such preset.
    """
    key = str(table["preset"])
    if key not in presets():
        raise ValueError(f"no place is called {key!r}; allowed {', '.join(presets())}")
    usual = presets()[key]
    stations = dict.fromkeys([*usual["stations"], *(table.get("stations") or ())])
    own = {} if unit == "kg" else {k: in_kilograms(v) for k, v in usual.get("pounds", {}).items()}
    return {"gear": {**usual["gear"], **own, **table.get("gear", {})}, "stations": list(stations)}


def preset(key: str, unit: MassUnit = "kg") -> dict[str, Any]:
    """The table of a usual place, with plates and racks in a unit.

    Raises:
        UnknownNameError: no such place.
    """
    if key not in presets():
        raise unknown("place", key, presets())
    return filled({"preset": key}, unit)
