"""Curves and measures of many heads of a profile as columns, whichever path found them."""

from collections.abc import Sequence
from typing import Literal

import numpy as np

from lengthwise.arrays import Array
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.mechanics.together import Heads

Curve = Literal["fibre_length", "span_position", "activation", "active_force_n", "passive_force_n"]
MEASURES = ("span_longest", "loaded_length", "long_range_load", "tension_at_longest", "joint_conflict")
"""Measures of a head that are its own, in the order of `measured`."""
_IN_CORE = {
    "fibre_length": "length", "span_position": "span", "activation": "activation", "active_force_n": "active", "passive_force_n": "passive",
}  # fmt: skip


def curve(found: LiftProfile, of: Curve, names: Sequence[str]) -> Array:
    """One curve of some heads, (n_pos, n_head)."""
    heads = found.heads
    if isinstance(heads, Heads):
        return np.asarray(heads.parts[_IN_CORE[of]][:, heads.places(names)])
    return np.stack([getattr(heads[n], of) for n in names], 1)


def curves(found: Sequence[LiftProfile], of: Curve, names: Sequence[Sequence[str]]) -> Array:
    """One curve of as many heads in each of some lifts, (n_lift, n_head, n_pos).

    A head's positions lie side by side, however many lifts there are: NumPy's sums depend on where numbers lie.
    """
    return np.ascontiguousarray([curve(p, of, own).T for p, own in zip(found, names, strict=True)])


def measured(found: LiftProfile, names: Sequence[str]) -> Array:
    """MEASURES of some heads, (n_head, 5)."""
    heads = found.heads
    if isinstance(heads, Heads):
        return np.asarray(heads.parts["measure"][heads.places(names)])
    return np.array([[getattr(heads[n].measures, m) for m in MEASURES] for n in names])
