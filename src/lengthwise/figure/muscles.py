"""Every muscle part of a body in a batch of postures, each with the volume that the body's data give it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.figure import belly, sheet
from lengthwise.figure.meshes import Faces, rings, volume
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Part, parts
from lengthwise.figure.skin import Skin

Array = NDArray[np.float64]
CONNECTIVE = 1.1
"""Volume of a muscle with its connective tissue over that of its fibres (from memory; own choice)."""
_CM2 = 1e-4
_ROUNDS, _CLOSE = 5, 1e-3


@dataclass(frozen=True, kw_only=True)
class Muscle:
    """One part of a head.

    Attributes:
        part: where it is attached. side: "right" or "left".
        points: in each posture [m], (n_pos, n, 3). faces: triangles that serve all of them, (m, 3).
        tendon: how much each point is tendon, 0-1, (n,). fibre: which fibre it lies on, 0-1 across a sheet, 0-2 round a belly, (n,).
    """

    part: Part
    side: str
    points: Array
    faces: Faces
    tendon: Array
    fibre: Array


def muscles(placed: Placement, sides: tuple[str, ...] = anatomy.SIDES) -> list[Muscle]:
    """Every part of these sides in the drawn postures, right side first, deep before superficial."""
    return [muscle(placed, part, side) for side in sides for part in parts()]


def muscle(placed: Placement, part: Part, side: str) -> Muscle:
    """One part in the drawn postures."""
    skin = (sheet if part.is_sheet else belly).laid(placed, part, side)
    points, faces = filled(skin, part_volume(placed.body, part, side))
    n_along = skin.profile.shape[1]
    tendon = 1 - np.clip(skin.profile[1 if len(skin.profile) > 1 else 0] * (2.2 if part.is_sheet else 3.0), 0, 1)
    return Muscle(
        part=part, side=side, points=points[1:], faces=faces,
        tendon=np.repeat(tendon, len(skin.fibre)), fibre=np.tile(skin.fibre, n_along),
    )  # fmt: skip


def part_volume(body: Body, part: Part, side: str) -> float:
    """Volume of a part [m³]: cross-section (in proportion to strength) × optimal fibre length × CONNECTIVE."""
    lines = body.lines.of_head(part.head, side)
    known = [anatomy.lines()[body.lines.names[i].removesuffix(f"_{side}")] for i in lines]
    per_newton = np.array([k.pcsa_cm2 / k.max_force_n * _CM2 for k in known])
    fibres = per_newton * body.lines.max_force_n[lines] * body.lines.optimal_m[lines]
    return float(fibres.sum()) * part.share * CONNECTIVE


def filled(skin: Skin, target: float) -> tuple[Array, Faces]:
    """Points of a skin made as thick as its volume [m³] asks, in every posture, and its triangles, looking outwards.

    What tendons and thin edges hold anyway is part of the volume, so the thickness is found by secant steps on the closed surface.
    """
    first = skin.surface(np.zeros(len(skin.profile)))
    n = first.shape[1] // len(skin.fibre)
    faces = rings(n, len(skin.fibre))
    if volume(skin.surface(np.ones(len(skin.profile)))[0], faces) < 0:
        faces = faces[:, ::-1]
    a, va = np.zeros(len(skin.profile)), volume(first, faces)
    b = np.ones(len(skin.profile))
    for _ in range(_ROUNDS):
        vb = volume(skin.surface(b), faces)
        if (np.abs(target - vb) < _CLOSE * target).all():
            break
        slope = (vb - va) / np.where(b == a, 1, b - a)
        step = np.clip((target - vb) / np.where(slope > 1e-9, slope, np.inf), -0.6 * b, 1.5 * b)
        a, va, b = b, vb, np.clip(b + step, 0.02, 6.0)
    return skin.surface(b), faces
