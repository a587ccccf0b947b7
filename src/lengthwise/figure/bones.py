"""Bones, head, hands, feet and the lining under the muscles, for the base body: they move with their segments and only change size."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.figure.meshes import Mesh, joined, outward, rings, tube, turned
from lengthwise.figure.round_cones import carved
from lengthwise.figure.shapes import SKIN, tables

_STEP_MM = {"hand": 4.2, "palm": 4.2, "head": 6.0, "foot": 5.0, "toes": 4.0, "scapula": 4.5, "pelvis": 6.5}
_USUAL_STEP_MM = 5.5
_EYES = np.array([[103.0, 30.0, 34.0, 14.0], [103.0, -30.0, 34.0, 14.0]])
_TUCK_MM = {"thorax": 3.0, "lumbar": 8.0, "pelvis": 2.0, "neck": 4.0}
_RIB_FRONT_MM = (238, 222, 202, 180, 158, 138, 118, 100, 82, 62)
_BREASTBONE = ((60, 242, 15), (74, 215, 14), (84, 180, 13), (91, 145, 13), (93, 120, 8))


@dataclass(frozen=True)
class Rigid:
    """A solid that moves with a segment.

    Attributes:
        kind: "bone", "skin", "flesh" or "fascia". segment: without its side; left ones are mirrored.
        mesh: of the base body's right side, in the segment's frame [mm].
    """

    kind: str
    segment: str
    mesh: Mesh

    @property
    def sides(self) -> tuple[str, ...]:
        """The sides on which it stands."""
        return ("right",) if self.segment in anatomy.MIDLINE else anatomy.SIDES


@cache
def rigids() -> tuple[Rigid, ...]:
    """Every solid of the base body; made once."""
    known = tables()
    out = [Rigid("skin" if s in SKIN else "bone", s, bone_mesh(s)) for s in known.bones]
    out += [Rigid("bone", "thorax", rib_cage()), Rigid("bone", "lumbar", lumbar()), Rigid("bone", "neck", cervical())]
    out += [Rigid("flesh", s, lining(s)) for s in known.trunk]
    for kind, own, step in (("flesh", known.flesh, 9.0), ("fascia", known.fascia, 6.0)):
        out += [Rigid(kind, s, carved(b, step, np.empty((0, 4)))) for s, b in own.items()]
    return tuple(out)


@cache
def bone_mesh(segment: str) -> Mesh:
    """The bones of a segment with their joints, or its skin where it has one [mm]."""
    hollows = _EYES if segment == "head" else np.empty((0, 4))
    return carved(tables().bones[segment], _STEP_MM.get(segment, _USUAL_STEP_MM), hollows)


def lining(segment: str) -> Mesh:
    """What fills the trunk under its muscles on a segment [mm]."""
    z, x, a, b = tables().trunk[segment].T
    fine, angle = np.linspace(z[0], z[-1], 20), np.linspace(0, 2 * np.pi, 32, endpoint=False)
    tuck = _TUCK_MM[segment]
    x, a, b = (np.interp(fine, z, v)[:, None] for v in (x, a - tuck, b - tuck))
    ring = np.stack([x + a * np.cos(angle), b * np.sin(angle), np.broadcast_to(fine[:, None], (20, 32))], -1)
    return outward(Mesh(ring.reshape(-1, 3), rings(20, 32)))


def rib_cage() -> Mesh:
    """Ribs with their cartilage, breastbone and the thoracic spine [mm]."""
    ribs = [tube(_rib(k) * [1, side, 1], 6.5 - 0.1 * k, 7, 0.6) for k in range(10) for side in (1, -1)]
    path = [[x, 0.0, z] for x, z, _ in _BREASTBONE]
    breastbone = tube(path, [float(r) for *_, r in _BREASTBONE], 12, 0.45, up=[1, 0, 0])
    spine = [vertebra(-56 - 22 * np.sin(np.pi * (k + 1) / 13), 12 + 23 * k, 15 + (11 - k) * 0.4, 19) for k in range(12)]
    return joined([*ribs, breastbone, *spine])


def _rib(k: int) -> Array:
    """The middle of a rib on the right, from the spine to its cartilage [mm], (22, 3)."""
    z, x, a, b = tables().trunk["thorax"].T
    back, front = 272 - 26 * k, _RIB_FRONT_MM[k] - 12
    low = back - 34 - 4 * k
    end = np.radians(12 + (0 if k < 6 else 7 * (k - 5)))
    t = np.linspace(0, 1, 22)
    angle = np.radians(168) + (end - np.radians(168)) * t
    high = back + (low - back) * np.minimum(t / 0.72, 1) ** 1.2 + np.maximum(t - 0.72, 0) / 0.28 * (front - low)
    depth, width = np.interp(high, z, a) - 4, np.interp(high, z, b) - 4
    return np.stack([np.interp(high, z, x) + depth * np.cos(angle), -width * np.sin(angle), high], -1)


def lumbar() -> Mesh:
    """The lumbar vertebrae [mm]."""
    return joined([vertebra(-14 + 9 * np.sin(np.pi * k / 4) - 4 * k, 10 + 36 * k, 23, 30) for k in range(5)])


def cervical() -> Mesh:
    """The neck's vertebrae [mm]."""
    return joined([vertebra(-4 + 3 * k, 4 + 17 * k, 12, 13) for k in range(6)])


def vertebra(x: float, z: float, r: float, h: float) -> Mesh:
    """A vertebra with its three processes; middle, radius and height of its body [mm]."""
    y, s = np.array([-0.5, -0.42, 0, 0.42, 0.5]) * h, r * np.array([0.85, 1, 0.9, 1, 0.85])
    body = turned(list(zip(y.tolist(), s.tolist(), strict=True)), 14).placed([x, 0, z], [1, 0, 0], [0, 0, 1], [0, -1, 0])
    tip = tube([[x - r, 0, z], [x - r - 9, 0, z - 5], [x - r - 17, 0, z - 12]], [7.0, 5, 4], 8, 1.6, up=[0, 1, 0])
    wing = tube([[x - r, -26, z + 2], [x - r + 2, 0, z], [x - r, 26, z + 2]], [4.0, 6, 4], 8)
    return joined([outward(body), tip, wing])
