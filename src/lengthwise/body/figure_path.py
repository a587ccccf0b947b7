"""The shape of the body along a whole movement: capsules and muscle lines of many postures in one pass."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.building import sided
from lengthwise.body.engine import mujoco
from lengthwise.body.figure import shapes
from lengthwise.body.model import Body
from lengthwise.units import MM


@dataclass(frozen=True)
class FigurePath:
    """A body's figure in a batch of postures.

    Attributes:
        segments: the sided segment of each capsule.
        radii: of its two balls [m], (n_capsule, 2).
        ends: centres of its two balls [m], (n_pos, n_capsule, 2, 3).
        points: the polyline of each muscle line in each posture, by position then line, (n_point, 3) [m].
    """

    segments: tuple[str, ...]
    radii: Array
    ends: Array
    points: tuple[tuple[Array, ...], ...]


def figure_path(body: Body, qs: Array, lines: Sequence[int] | NDArray[np.intp]) -> FigurePath:
    """The figure in each posture of `qs` (n_pos, n_q), with the muscle lines of these indices."""
    m, d = body.model, mujoco.MjData(body.model)
    segments, on, local, radii = _placed(body)
    ends, points = np.empty((len(qs), len(segments), 2, 3)), []
    for i, q in enumerate(qs):
        d.qpos[:] = q
        mujoco.mj_kinematics(m, d)
        mujoco.mj_tendon(m, d)
        frames = d.xmat[on].reshape(-1, 3, 3)
        ends[i] = d.xpos[on][:, None] + np.einsum("cij,cej->cei", frames, local)
        wrap = np.asarray(d.wrap_xpos).reshape(-1, 3)
        points.append(tuple(wrap[d.ten_wrapadr[k] : d.ten_wrapadr[k] + d.ten_wrapnum[k]].copy() for k in lines))
    return FigurePath(segments, radii, ends, tuple(points))


def _placed(body: Body) -> tuple[tuple[str, ...], NDArray[np.intp], Array, Array]:
    """Segment names and indices of every capsule, both sides, its ends in the segment's frame [m] and its radii [m]."""
    names, ends, radii = [], [], []
    for shape in shapes():
        for side in ("right",) if shape.on in anatomy.MIDLINE else anatomy.SIDES:
            factor = MM * body.scale.length[shape.on]
            names.append(sided(shape.on, side))
            ends.append(np.array([shape.from_mm, shape.to_mm]) * [1, 1 if side == "right" else -1, 1] * factor)
            radii.append(np.array(shape.radius_mm) * factor)
    on = np.array([body.model.body(n).id for n in names], dtype=np.intp)
    return tuple(names), on, np.array(ends), np.array(radii)
