"""Ways to save time on a lift: how each goes, what it counts for, and where it is safe (data/methods.toml)."""

from collections.abc import Mapping
from functools import cache
from typing import Literal

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of
from lengthwise.lifts.definition import Lift

SUPERSET = "superset"


class Method(Strict):
    """One way: `counts` hard sets of the week for one of it, in the place of `instead_of` usual ones; the rest as the data file says.

    `extra_s` is what one of it takes beyond a usual set [s].
    """

    key: str
    name: str
    how: str
    counts: int
    instead_of: int
    extra_s: float
    claim: str
    safe_on: frozenset[str]
    joints: Literal["", "single", "multi"] = ""

    @property
    def told(self) -> str:
        """How it goes and what it counts for, in words."""
        return f"{self.how} Counts {self.counts} of the week’s sets, in place of {self.instead_of}."


@cache
def methods() -> Mapping[str, Method]:
    """Every way by its key."""
    return {k: read_table(f"methods.toml: {k}", Method, {"key": k, **v}) for k, v in data_of("training", "methods.toml").items()}


def methods_for(lift: Lift, multi: bool, careful: bool) -> tuple[Method, ...]:
    """The ways that are safe on a lift.

    None to near failure for somebody careful: who starts easy, has hardly trained, or has a sore joint; and none on a lift that needs a spotter.

    Args:
        multi: whether it is trained as a multi-joint lift.
    """
    return tuple(m for m in methods().values() if _safe(m, lift, multi) and not (careful and m.key != SUPERSET))


def _safe(method: Method, lift: Lift, multi: bool) -> bool:
    if lift.spotting and method.key != SUPERSET:
        return False
    if method.key == "long_halves":
        return lift.ranges["long"].safe
    return lift.gear in method.safe_on and method.joints != ("single" if multi else "multi")
