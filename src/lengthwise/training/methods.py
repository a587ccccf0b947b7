"""Ways to save time on a lift: how each goes, what it counts for, and where it is safe (data/methods.toml)."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Literal

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.lifts.definition import Lift


class Method(Strict):
    """One way: `counts` hard sets of the week for one of it, in the place of `instead_of` usual ones; the rest as the data file says."""

    name: str
    how: str
    counts: int
    instead_of: int
    claim: str
    safe_on: frozenset[str]
    joints: Literal["", "single", "multi"] = ""


@cache
def methods() -> Mapping[str, Method]:
    """Every way by its key."""
    text = files("lengthwise.training").joinpath("data", "methods.toml").read_text(encoding="utf-8")
    return {k: read_table(f"methods.toml: {k}", Method, v) for k, v in tomllib.loads(text).items()}


def methods_for(lift: Lift, multi: bool, careful: bool) -> tuple[Method, ...]:
    """The ways that are safe on a lift.

    None to near failure for somebody careful: who starts easy, has hardly trained, or has a sore joint; and none on a lift that needs a spotter.

    Args:
        multi: whether it is trained as a multi-joint lift.
    """
    return tuple(m for key, m in methods().items() if _safe(key, m, lift, multi) and not (careful and key != "superset"))


def _safe(key: str, method: Method, lift: Lift, multi: bool) -> bool:
    if lift.spotting and key != "superset":
        return False
    if key == "long_halves":
        return lift.ranges["long"].safe
    return lift.gear in method.safe_on and method.joints != ("single" if multi else "multi")
