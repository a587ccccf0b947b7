"""The loads of one kind of gear in one line of text, such as `bar 20 plates 20 10 5` or `stack 5 100 5 add 2.5`, in the units shown."""

import re
from collections.abc import Sequence
from typing import Any

from lengthwise.training.client import GearAtPlace
from lengthwise.web.units_shown import sizes_of
from lengthwise.web.who import Units

WORDS = {"bar": "bar_kg", "plates": "plates_kg", "rack": "rack_kg", "stack": "stack_kg", "add": "add_on_kg"}
NUMBER = re.compile(r"-?\d+(?:[.,]\d+)?")
ALLOWED = "allowed bar, plates, rack, stack or add, each followed by loads, such as: bar 20 plates 20 10 5"


def kilograms(text: str, units: Units) -> float:
    """A number as it was typed, in kilograms."""
    value = float(text.replace(",", "."))
    return round(value * sizes_of(units)[1], 4) if units == "imperial" else value


def read_loads(text: str, units: Units) -> dict[str, Any]:
    """The table of a line; empty where nothing is said, so that usual loads are assumed.

    Raises:
        ValueError: a word or number that cannot be read.
    """
    out: dict[str, Any] = {}
    key = ""
    for word in text.replace(";", " ").split():
        if word.casefold() in WORDS:
            key = WORDS[word.casefold()]
            out.setdefault(key, [])
        elif NUMBER.fullmatch(word) and key:
            out[key].append(kilograms(word, units))
        else:
            raise ValueError(f"found {word[:20]!r}; {ALLOWED}")
    if "bar_kg" in out:
        if len(out["bar_kg"]) != 1:
            raise ValueError(f"bar: found {len(out['bar_kg'])} numbers; allowed one, what the empty bar weighs")
        out["bar_kg"] = out["bar_kg"][0]
    if "stack_kg" in out and len(out["stack_kg"]) != 3:
        raise ValueError(f"stack: found {len(out['stack_kg'])} numbers; allowed lowest, highest, step")
    return out


def write_loads(gear: GearAtPlace, units: Units) -> str:
    """The line of a kind of gear."""
    parts: list[str] = []
    if gear.bar_kg is not None:
        parts += ["bar", *_written([gear.bar_kg], units)]
    for word in ("plates", "rack", "stack", "add"):
        values: Sequence[float] | None = getattr(gear, WORDS[word])
        if values:
            parts += [word, *_written(values, units)]
    return " ".join(parts)


def _written(values: Sequence[float], units: Units) -> list[str]:
    return [f"{v / sizes_of(units)[1]:.4g}" for v in values]
