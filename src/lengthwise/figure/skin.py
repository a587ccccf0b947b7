"""A muscle part before it has its thickness: a surface that grows from its middle."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Skin:
    """A closed surface around a middle, rings along the fibres.

    Attributes:
        thin: where its points lie without flesh [m], (n_pos, n_along, n_round, 3).
        outwards: how they move as it fills, at thickness 1 [m], (n_pos, n_along, n_round, 3).
        power: of the thickness that they move by: 1 for a sheet, 0.5 for a belly, whose area fills.
        profile: relative cross-section of the fibres along it, (n_pos, n_along).
        fibre: which fibre each point of a ring lies on, (n_round,).
    """

    thin: Array
    outwards: Array
    power: float
    profile: Array
    fibre: Array

    def surface(self, thickness: Array) -> Array:
        """Points at a thickness in each posture (n_pos,), (n_pos, n_along * n_round, 3) [m]."""
        grown = self.thin + (thickness**self.power)[:, None, None, None] * self.outwards
        return grown.reshape(len(grown), -1, 3)
