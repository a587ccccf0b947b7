"""A muscle part before it has its thickness: a surface that grows from its middle."""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array


@dataclass(frozen=True, kw_only=True)
class Skin:
    """A closed surface around a middle, rings along the fibres.

    Attributes:
        thin: where its points lie without flesh [m], (n_pos, n_along, n_round, 3).
        outwards: how they move as it fills, at thickness 1 [m], (n_pos, n_along, n_round, 3).
        power: of the thickness that they move by: 1 for a sheet, 0.5 for a belly, whose area fills.
        tendon: how much each point is tendon, 0-1, (n_along, n_round).
        fibre: which fibre each point of a ring lies on, (n_round,).
    """

    thin: Array
    outwards: Array
    power: float
    tendon: Array
    fibre: Array


def tendon_of(profile: Array, steep: float) -> Array:
    """How much each point is tendon, 0-1, (n_along, n_round), from the cross-section there in every posture, rest first."""
    return np.asarray(1 - np.clip(profile[1 if len(profile) > 1 else 0] * steep, 0, 1))
