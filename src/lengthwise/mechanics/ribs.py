"""How the rib cage carries the shoulder blades: two frictionless contacts a side that only push."""

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body, Pass
from lengthwise.units import MM

MARKS = tuple(f"{mark}_{side}" for side in anatomy.SIDES for mark in ("blade_root", "blade_tip", "chest_centre"))


def axes_m(body: Body) -> Array:
    """Half depth and half width of the rib cage [m], (2,)."""
    cage = anatomy.skeleton().rib_cage
    return np.array([cage.half_depth_mm, cage.half_width_mm]) * MM * body.scale.length["thorax"]


def rib_contacts(body: Body, seen: Pass, first: int) -> Array:
    """Generalised force of a unit push of the ribs on each of four points, right first, (n_pos, n_coord, 4).

    Args:
        seen: a survey whose landmarks from index `first` on are MARKS.
    """
    axes = axes_m(body)
    columns = []
    for side in (0, 1):
        centre = first + 3 * side + 2
        for point in (first + 3 * side, first + 3 * side + 1):
            arm = seen.points[:, point] - seen.points[:, centre]
            frame = seen.frames[:, centre]
            local = np.einsum("pij,pi->pj", frame, arm)
            normal = np.zeros_like(local)
            normal[:, :2] = local[:, :2] / axes**2
            normal /= np.linalg.norm(normal, axis=1, keepdims=True)
            world = np.einsum("pij,pj->pi", frame, normal)
            # velocity of the blade's point relative to the ribs at the same place, along the normal
            moved = seen.jacobians[:, point] - seen.jacobians[:, centre]
            turned = np.einsum("pi,pik->pk", np.cross(arm, world), seen.turns[:, centre])
            columns.append(np.einsum("pi,pik->pk", world, moved) - turned)
    return np.stack(columns, axis=-1)
