"""The curves of a lift along its lifting phase, each described once; pages draw them in the browser, `profile_figure.py` on paper."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, kw_only=True)
class LiftCurve:
    """One curve, or one for each head.

    Attributes:
        title, unit: what it is called, and what its numbers are in. keys: what of a lift or a head it shows; several are added. scale: what a
            number is multiplied by. low, high: ends of its axis; as its numbers need where nothing is given. band: what is shaded.
        digits: decimals of a tick. end: what is written after it. labels: of its lines, where they are not heads or lifts.
    """

    title: str
    unit: str
    keys: tuple[str, ...]
    scale: float = 1.0
    low: float | None = None
    high: float | None = None
    band: tuple[float, float] | None = None
    digits: int = 0
    end: str = ""
    labels: tuple[str, ...] = ()

    def of(self, found: object) -> NDArray[np.float64]:
        """Its numbers for a lift or a head, (n_pos,)."""
        return np.asarray(self.scale * np.sum([getattr(found, key) for key in self.keys], axis=0))

    @property
    def told(self) -> dict[str, Any]:
        """The same as pages are given it."""
        return asdict(self)


CURVES: Mapping[str, LiftCurve] = {
    "capacity": LiftCurve(
        title="What the body can hold",
        unit="kg",
        keys=("capacity_kg",),
        labels=("most that can be held", "load of the set"),
    ),
    "demand": LiftCurve(
        title="How hard each position is", unit="load ÷ capacity", keys=("demand",), scale=100, low=0, high=105, end="%"
    ),
    "length": LiftCurve(
        title="Fibre length", unit="× optimal; shaded: optimal", keys=("fibre_length",), band=(0.95, 1.05), digits=1
    ),
    "span": LiftCurve(title="Place in its span", unit="0 shortest, 1 longest", keys=("span_position",), low=0, high=1.02, digits=1),
    "activation": LiftCurve(
        title="How hard it works", unit="activation", keys=("activation",), scale=100, low=0, high=105, end="%"
    ),
    "tension": LiftCurve(title="Tension", unit="N", keys=("active_force_n", "passive_force_n"), low=0),
}
