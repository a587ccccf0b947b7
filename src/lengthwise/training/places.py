"""What usual places hold, in plain words: asked once, instead of a list of gear."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from lengthwise.errors import unknown


@cache
def presets() -> Mapping[str, Mapping[str, Any]]:
    """Every usual place by its key: its name in words, gear and stations (data/places.toml)."""
    return tomllib.loads(files("lengthwise.training").joinpath("data", "places.toml").read_text(encoding="utf-8"))


def filled(table: Mapping[str, Any]) -> dict[str, Any]:
    """A place's table with what its preset holds; what the table itself says comes on top.

    Raises:
        ValueError: no such preset.
    """
    key = str(table["preset"])
    if key not in presets():
        raise ValueError(f"no place is called {key!r}; allowed {', '.join(presets())}")
    usual = presets()[key]
    stations = dict.fromkeys([*usual["stations"], *(table.get("stations") or ())])
    return {"gear": {**usual["gear"], **table.get("gear", {})}, "stations": list(stations)}


def preset(key: str) -> dict[str, Any]:
    """The table of a usual place.

    Raises:
        UnknownNameError: no such place.
    """
    if key not in presets():
        raise unknown("place", key, presets())
    return filled({"preset": key})
