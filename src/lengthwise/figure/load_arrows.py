"""Where the arrows of a load are drawn: at the plates of a bar, else where the load meets the skin, so that none starts inside the body."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.figure_path import figure_path
from lengthwise.figure.gear_pieces import plates_m
from lengthwise.lifts.definition import BodyWeight, FreeWeight, Lever, Sled
from lengthwise.mechanics.equilibrium import Setting

BARS = ("barbell", "guided_bar", "chains", "ez_bar")
_STEPS_M = np.linspace(0, 0.24, 25)
"""How far from a landmark the skin is looked for [m]."""
_PAD_M, _BARE = 0.12, ("grip", "palm", "fingers")
"""How thick the pad of a lever is that an arrow ends at; hands hold handles, which hide no arrow."""
_MORE = 0.3
"""A load with so much more of the body before it than behind it presses on the body; any other pulls it (own choice)."""


@dataclass(frozen=True)
class Arrows:
    """The arrows of a load at every position; `n_mark` counts the landmarks that it acts on, or the sides where a side has several.

    Attributes:
        sides: of each, "right", "left" or "" for the middle.
        at: where each begins, or ends where it pushes [m], (n_pos, n_mark, 3). way: unit vectors, as many.
        force_n: how large the force is at a load of 1 kg [N/kg], (n_pos, n_mark).
        pushes: whether an arrow ends at its place, pressing on the skin, rather than beginning there, (n_mark,).
    """

    sides: tuple[str, ...]
    at: Array
    way: Array
    force_n: Array
    pushes: NDArray[np.bool_]


def arrows(setting: Setting) -> Arrows:
    """The arrows of a lift's load."""
    pull, lift = setting.pull, setting.lift
    force = pull.force_n if pull.rail is None or pull.rail_n is None else -pull.rail * pull.rail_n[:, None, None]
    points = setting.seen.points[:, [setting.marks.index(m) for m in pull.marks]]
    sides = tuple(s if (s := m.rpartition("_")[2]) in anatomy.SIDES else "" for m in pull.marks)
    if len(set(sides)) < len(sides):
        own = tuple(dict.fromkeys(sides))
        points, force = (np.stack([v[:, [s == o for s in sides]].mean(1) for o in own], 1) for v in (points, force))
        sides = own
    size = np.linalg.norm(force, axis=-1)
    way = force / np.maximum(size, 1e-9)[..., None]
    if lift.gear in BARS and len(sides) == 2 and isinstance(lift.resistance, FreeWeight):
        return Arrows(sides, _at_plates(points, lift.gear), way, size, np.zeros(2, bool))
    if _hangs(setting):
        points = np.broadcast_to(points.mean(1, keepdims=True), points.shape)
    at, pushes = _placed(setting, points, way)
    return Arrows(sides, at, way, size, pushes)


def _hangs(setting: Setting) -> bool:
    """Whether what is lifted hangs from a belt between the legs: what is added to the body's own weight, or a lever."""
    belted = setting.lift.gear == "plate_lever" and setting.pull.marks[0].startswith("belt")
    return belted or (isinstance(setting.lift.resistance, BodyWeight) and setting.lift.posture == "hanging")


def _at_plates(hands: Array, gear: str) -> Array:
    """The middle of the plates beyond each of two landmarks (n_pos, 2, 3)."""
    mid, axis = hands.mean(1, keepdims=True), hands[:, :1] - hands[:, 1:]
    axis = axis / np.linalg.norm(axis, axis=-1, keepdims=True) * plates_m(gear)
    return np.asarray(mid + np.concatenate([axis, -axis], 1))


def _placed(setting: Setting, points: Array, way: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Where loads (n_pos, n_mark, 3) meet the skin along their ways, and which of them press on it."""
    path = figure_path(setting.body, setting.path.q, ())
    before, behind = (_within(points, s * way, path.ends, path.radii) for s in (1, -1))
    pushes = np.median(before[..., 1:].mean(-1) - behind[..., 1:].mean(-1), axis=0) > _MORE
    pushes |= isinstance(setting.lift.resistance, Sled)
    padded = isinstance(setting.lift.resistance, Lever) and not setting.pull.marks[0].startswith(_BARE)
    return points + np.where(pushes, -_left_after(behind) - padded * _PAD_M, _left_after(before))[..., None] * way, pushes


def _within(points: Array, way: Array, ends: Array, radii: Array) -> NDArray[np.bool_]:
    """Whether places along a way from points (n_pos, n_mark, 3) are in the body's capsules (n_pos, n_capsule, 2, 3), (n_pos, n_mark, n_step)."""
    tried = points[:, :, None] + _STEPS_M[:, None] * way[:, :, None]
    first, axis = ends[:, None, None, :, 0], np.diff(ends, axis=2)[:, None, None, :, 0]
    to = tried[:, :, :, None] - first
    t = np.clip((to * axis).sum(-1) / ((axis**2).sum(-1) + 1e-12), 0, 1)
    deep = radii[:, 0] + (radii[:, 1] - radii[:, 0]) * t - np.linalg.norm(to - t[..., None] * axis, axis=-1)
    return np.asarray(deep.max(-1) > 0)


def _left_after(within: NDArray[np.bool_]) -> Array:
    """How far along a way the body is left [m], (n_mark,): nothing where it is left at once, or too far away.

    One distance serves all positions, so that the path of the load has no jumps.
    """
    out = ~within
    return np.median(np.where(out.any(-1), _STEPS_M[out.argmax(-1)], 0.0), axis=0)
