"""The clinical angles of a posture as one row of numbers, in the order the compiled core reads them (core/coordinates.h)."""

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy

Posture = Mapping[str, float | Array]

PLACE = ("pelvis_x", "pelvis_y", "pelvis_z")
PELVIS = ("pelvis_tilt", "pelvis_list", "pelvis_turn")
TRUNK_SHARE = {"trunk_flexion": 0.60, "trunk_side_bending": 0.50, "trunk_rotation": 0.20}
"""Lumbar share of each trunk angle, the rest is thoracic: White & Panjabi 1990, segment ranges (from memory)."""
NECK = ("neck_flexion", "neck_side_bending", "neck_rotation")
HIP = ("hip_flexion", "hip_abduction", "hip_internal_rotation")
HINGES = {
    "elbow": "elbow_flexion",
    "pronation": "forearm_pronation",
    "wrist_flexion": "wrist_flexion",
    "radial_deviation": "wrist_radial_deviation",
    "knee": "knee_flexion",
    "ankle": "ankle_dorsiflexion",
    "subtalar": "subtalar_inversion",
}
SHOULDER = ("shoulder_flexion", "shoulder_abduction", "shoulder_horizontal_adduction", "shoulder_internal_rotation")
BLADE = ("scapula_elevation", "scapula_protraction")
PAIRED = (*HIP, *HINGES.values(), *SHOULDER, *BLADE)
_MIDDLE = (*PLACE, *PELVIS, *TRUNK_SHARE, *NECK)
_SLOT = {name: k for k, name in enumerate((*_MIDDLE, *(f"{n}_{s}" for s in anatomy.SIDES for n in PAIRED)))}
ANGLE_SLOT = {n: k for n, k in _SLOT.items() if n not in PLACE and not n.startswith("shoulder_horizontal")}
"""Where each angle stands in a row, the shoulder's as swing."""
_FLAT = "shoulder_horizontal_adduction"


@dataclass(frozen=True)
class Rows:
    """A batch of postures as numbers.

    Attributes:
        values: angles [deg] and the pelvis's place [cm], (n_pos, 44).
        alike: whether no angle names a side, so that the left mirrors the right, whose numbers alone are set.
        flat: for right and left, whether the shoulder is given by horizontal adduction, (2,).
    """

    values: Array
    alike: bool
    flat: NDArray[np.int32]

    def posture(self) -> dict[str, Array]:
        """The batch as a posture that names every angle of both sides."""
        gone = [
            f"{name}_{s}"
            for s, flat in zip(anatomy.SIDES, self.flat, strict=True)
            for name in ((SHOULDER[0],) if flat else (_FLAT,))
        ]
        return {n: self.values[:, k] for n, k in _SLOT.items() if n not in (*PLACE, *gone)}


def slots(name: str, alike: bool, own: Container[str] = ()) -> tuple[int, ...]:
    """Where an angle stands in a row: twice where it means both sides, but not for a side that has a name of its `own`."""
    if name in _SLOT:
        return (_SLOT[name],)
    sides = anatomy.SIDES[:1] if alike else anatomy.SIDES
    return tuple(_SLOT[f"{name}_{s}"] for s in sides if f"{name}_{s}" not in own)


def is_alike(posture: Posture) -> bool:
    """Whether no angle of a posture names a side."""
    return not any(name.endswith(("_right", "_left")) for name in posture)


def rows(posture: Posture, n_pos: int) -> Rows:
    """A batch of postures; angles it does not name are 0, but an arm given by horizontal adduction is raised to 90 degrees."""
    return _filled(posture, n_pos, is_alike(posture))


def turned_rows(posture: Posture, n_pos: int, names: Sequence[str], by_deg: float) -> Rows:
    """The postures with each of some angles larger by `by_deg`, one after the other: n_name batches of n_pos rows."""
    base = _filled(posture, n_pos, alike=False)
    values = np.tile(base.values, (len(names), 1, 1))
    for k, name in enumerate(names):
        values[k, :, _SLOT[name]] += by_deg
    return Rows(values.reshape(-1, base.values.shape[1]), False, base.flat)


def _filled(posture: Posture, n_pos: int, alike: bool) -> Rows:
    values = np.zeros((n_pos, len(_SLOT)))
    flat, raised, places = _layout(tuple(posture), alike)
    values[:, raised] = 90.0
    for name, slot in places:
        values[:, slot] = posture[name]
    return Rows(values, alike, flat)


@lru_cache(maxsize=4096)
def _layout(names: tuple[str, ...], alike: bool) -> tuple[NDArray[np.int32], list[int], list[tuple[str, int]]]:
    """Which shoulders are given by horizontal adduction, where these are raised, and the slots of each name of a posture."""
    flat = np.array([any(n in names for n in (_FLAT, f"{_FLAT}_{s}")) for s in anatomy.SIDES], np.int32)
    flat.setflags(write=False)
    raised = [_SLOT[f"shoulder_abduction_{s}"] for s, given in zip(anatomy.SIDES, flat, strict=True) if given]
    return flat, raised, [(name, slot) for name in names for slot in slots(name, alike, names)]
