"""Every muscle part of a body in a batch of postures, each with the volume that the body's data give it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.figure import belly, broad_muscles
from lengthwise.figure.filling import filled
from lengthwise.figure.flesh import Flesh
from lengthwise.figure.meshes import Faces
from lengthwise.figure.obstacles import bare_bones
from lengthwise.figure.placement import MIRROR, Placement
from lengthwise.figure.settling import settled
from lengthwise.figure.shapes import Part, parts, sheets
from lengthwise.figure.skin import Skin

CONNECTIVE = 1.1
"""Volume of a muscle with its connective tissue over that of its fibres (from memory; own choice)."""
_CM2 = 1e-4


@dataclass(frozen=True, kw_only=True)
class MuscleVolume:
    """One part of a head.

    Attributes:
        part: where it is attached. side: "right" or "left".
        points: in each posture [m], (n_pos, n, 3). faces: triangles that serve all of them, (m, 3).
        walls: how many of the last triangles lie where a sheet meets the next of its mass; they do not turn the normals there.
        tendon: how much each point is tendon, 0-1, (n,). fibre: which fibre it lies on, 0-1 across a sheet, 0-2 round a belly, (n,).
    """

    part: Part
    side: str
    points: Array
    faces: Faces
    walls: int
    tendon: Array
    fibre: Array


def muscles(
    placed: Placement, sides: tuple[str, ...] = anatomy.SIDES, first: Sequence[MuscleVolume] | None = None
) -> list[MuscleVolume]:
    """Every part of these sides in the drawn postures, laid on bones and neighbours, right side first, in the order of the table.

    Sides are drawn together: the left in a posture is the right in the mirrored one.

    Args:
        first: the same at the first of these postures alone, where that was worked out before.
    """
    own = placed.as_right(sides)
    kinds = tuple(sorted(parts(), key=lambda p: not p.is_sheet))
    bellies = [p for p in kinds if not p.is_sheet]
    skins = [skin for mass in sheets() for skin in broad_muscles.laid(own, mass)]
    skins += belly.laid(own, bellies)
    flesh, points = _fleshed(kinds, skins, np.array([_volumes(placed, p, sides, own.n_pos) for p in kinds]))
    new = np.arange(len(points)).reshape(len(sides), -1)[:, 1 if first else 0 :].ravel()
    both = settled(bare_bones(own).at(new), flesh, points[new]).reshape(len(sides), -1, *points.shape[1:])
    found = [m for side, p in zip(sides, both, strict=True) for m in _of_side(flesh, skins, side, p)]
    return [replace(m, points=np.concatenate([f.points, m.points])) for f, m in zip(first, found, strict=True)] if first else found


def _of_side(flesh: Flesh, skins: list[Skin], side: str, points: Array) -> list[MuscleVolume]:
    """The muscles of a side in the order of the table; their points (n_pos, n_point, 3) [m] are those of a right side."""
    mirror, way = (MIRROR, -1) if side == "left" else (1, 1)
    made = [
        MuscleVolume(
            part=part, side=side, points=p, faces=flesh.faces_of(n)[:, ::way], walls=flesh.walls_of(n), tendon=skin.tendon.ravel(),
            fibre=np.tile(skin.fibre, belly.N_ALONG),
        )
        for n, (part, skin, p) in enumerate(zip(flesh.parts, skins, flesh.split(points * mirror), strict=True))
    ]  # fmt: skip
    return [made[k] for k in _table_order()]


@cache
def _table_order() -> tuple[int, ...]:
    """Where each part of the table is among sheets first, bellies then."""
    kinds = sorted(range(len(parts())), key=lambda i: not parts()[i].is_sheet)
    return tuple(kinds.index(i) for i in range(len(kinds)))


def _fleshed(kinds: tuple[Part, ...], skins: list[Skin], wanted: Array) -> tuple[Flesh, Array]:
    """Skins filled to their volumes (n_part, n_pos) [m³]: which points are whose, and where they are in the drawn postures."""
    tendon = np.concatenate([s.tendon.ravel() for s in skins])
    inwards = np.zeros(len(skins), bool)
    flesh = Flesh(kinds, tendon, inwards)
    points = np.empty((wanted.shape[1] - 1, len(tendon), 3))
    for (own, _), kind in zip(flesh.grids, flesh.kinds(points), strict=True):
        surface, inwards[own] = filled([skins[i] for i in own], wanted[own])
        kind[...] = surface[:, 1:].swapaxes(0, 1).reshape(kind.shape)
    return flesh, points


def _volumes(placed: Placement, part: Part, sides: tuple[str, ...], n_pos: int) -> Array:
    """Volumes of a part at rest and in the drawn postures of each side, (n_pos,) [m³]."""
    each = [part_volume(placed.body, part, side) for side in sides]
    return np.concatenate([each[:1], np.repeat(each, (n_pos - 1) // len(sides))])


def part_volume(body: Body, part: Part, side: str) -> float:
    """Volume of a part [m³]: cross-section (in proportion to strength) × optimal fibre length × CONNECTIVE."""
    lines = body.lines.of_head(part.head, side)
    known = [anatomy.lines()[body.lines.names[i].removesuffix(f"_{side}")] for i in lines]
    per_newton = np.array([k.pcsa_cm2 / k.max_force_n * _CM2 for k in known])
    fibres = per_newton * body.lines.max_force_n[lines] * body.lines.optimal_m[lines]
    return float(fibres.sum()) * part.share * CONNECTIVE
