"""What lies under the muscles in each posture, and how far points are from it: in the core, or with NumPy where there is none."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.clearing import clearance as core_clearance
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import SKIN, tables

PADDING = 0.6
"""Share of the radius of a limb's lining that pushes muscles outwards (own choice)."""


@dataclass(frozen=True)
class Obstacles:
    """Round cones and trunk sections.

    Attributes:
        cones: two balls, x, y, z, radius each, (n_pos, n_cone, 8) [m].
        frames: axes row by row, origin and size [m per mm] of each trunk, (n_pos, n_section, 13).
        n_row: rows of each trunk, (n_section,). rows: height, middle x, half depth, half width [mm], (n_section, most, 4).
    """

    cones: Array
    frames: Array
    n_row: NDArray[np.int32]
    rows: Array

    def clearance(self, points: Array) -> tuple[Array, Array]:
        """Distance [m] of points (n_pos, ..., 3) to the nearest solid, negative inside, and the way out of it."""
        flat = np.ascontiguousarray(points.reshape(len(points), -1, 3))
        answer = core_clearance if door.available() else numpy_clearance
        d, way = answer(flat, self.cones, self.frames, self.n_row, self.rows)
        return d.reshape(points.shape[:-1]), way.reshape(points.shape)

    def at(self, positions: NDArray[np.intp]) -> "Obstacles":
        """The same in some of the positions."""
        return _kept(self.cones[positions], self.frames[positions], self.n_row, self.rows)


@lru_cache(maxsize=64)
def obstacles(placed: Placement, segments: tuple[str, ...]) -> Obstacles:
    """What lies under the muscles of the right side on these segments, or in these linings."""
    known = tables()
    cones = [c for s in segments for c in _cones_of(placed, s)]
    trunks = [s for s in segments if s in known.trunk]
    most = max((len(known.trunk[s]) for s in trunks), default=2)
    rows = np.zeros((len(trunks), most, 4))
    for i, s in enumerate(trunks):
        rows[i, : len(known.trunk[s])] = known.trunk[s]
    frames = [placed.frame(s, "right") for s in trunks]
    n = placed.n_pos
    return _kept(
        np.concatenate(cones, 1) if cones else np.empty((n, 0, 8)),
        np.stack(frames, 1) if frames else np.empty((n, 0, 13)),
        np.array([len(known.trunk[s]) for s in trunks], np.int32),
        rows,
    )


@lru_cache(maxsize=4)
def bare_bones(placed: Placement) -> Obstacles:
    """The bones themselves of the right side in the drawn postures, without what is drawn as skin."""
    cones = [c for s, b in tables().bones.items() if s not in SKIN for c in _chained(placed, s, b.chains, 1.0)]
    n = placed.n_pos - 1
    return _kept(np.concatenate([c[1:] for c in cones], 1), np.empty((n, 0, 13)), np.empty(0, np.int32), np.empty((0, 2, 4)))


def _kept(cones: Array, frames: Array, n_row: NDArray[np.int32], rows: Array) -> Obstacles:
    """Obstacles that nobody can write to, so that the core looks at their numbers once."""
    for values in (cones, frames, n_row, rows):
        values.flags.writeable = False
    return Obstacles(cones, frames, n_row, rows)


def _cones_of(placed: Placement, segment: str) -> list[Array]:
    known = tables()
    if segment in known.linings:
        return [c for s, ball in known.linings[segment] for c in _chained(placed, s, [ball], 1.0)]
    balls = known.balls.get(segment, ())
    limb, share = (known.flesh[segment], PADDING) if segment in known.flesh else (known.bones.get(segment), 1.0)
    out = _chained(placed, segment, [np.array([b, b]) for b in balls], 1.0)
    if limb is not None and segment not in known.trunk:
        out += _chained(placed, segment, limb.chains, share)
    return out


def _chained(placed: Placement, segment: str, chains: Iterable[Array], share: float) -> list[Array]:
    """Cones between the neighbours of chains, in every posture, each (n_pos, n, 8)."""
    return [_coned(placed, segment, rows if len(rows) > 1 else np.concatenate([rows, rows]), share) for rows in chains]


def _coned(placed: Placement, segment: str, rows: Array, share: float) -> Array:
    balls = np.empty((placed.n_pos, len(rows), 4))
    balls[..., :3] = placed.at(segment, rows[:, :3], "right")
    balls[..., 3] = rows[:, 3] * (share * placed.size(segment))
    return np.concatenate([balls[:, :-1], balls[:, 1:]], 2)


def numpy_clearance(points: Array, cones: Array, frames: Array, n_row: NDArray[np.int32], rows: Array) -> tuple[Array, Array]:
    """As `lengthwise.core.clearing.clearance`, with NumPy: the core's oracle, and what answers without it."""
    best, way = np.full(points.shape[:-1], np.inf), np.zeros_like(points)
    answers = [_from_cone(points, cones[:, k]) for k in range(cones.shape[1])]
    answers += [_from_sections(points, frames[:, k], rows[k, : n_row[k]]) for k in range(frames.shape[1])]
    for d, own in answers:
        near = d < best
        best, way = np.where(near, d, best), np.where(near[..., None], own, way)
    return best, way


def _from_cone(points: Array, cone: Array) -> tuple[Array, Array]:
    a, ra, b, rb = cone[:, None, :3], cone[:, None, 3], cone[:, None, 4:7], cone[:, None, 7]
    axis = b - a
    t = np.clip(((points - a) * axis).sum(-1) / ((axis**2).sum(-1) + 1e-18), 0, 1)
    out = points - a - t[..., None] * axis
    n = np.linalg.norm(out, axis=-1)
    return n - (ra + (rb - ra) * t), out / (n + 1e-12)[..., None]


def _from_sections(points: Array, frame: Array, rows: Array) -> tuple[Array, Array]:
    turn, size = frame[:, :9].reshape(-1, 3, 3), frame[:, 12]
    at = np.einsum("nji,npj->npi", turn, points - frame[:, None, 9:12]) / size[:, None, None]
    x, depth, width = (np.interp(at[..., 2], rows[:, 0], rows[:, k]) for k in (1, 2, 3))
    own = np.stack([(at[..., 0] - x) / depth**2, at[..., 1] / width**2, np.zeros_like(x)], -1)
    e = np.sqrt(((at[..., 0] - x) / depth) ** 2 + (at[..., 1] / width) ** 2)
    d = (e - 1) * np.minimum(depth, width)
    over = np.maximum(rows[0, 0] - at[..., 2], at[..., 2] - rows[-1, 0])
    ends = np.stack([np.zeros_like(x), np.zeros_like(x), np.where(at[..., 2] > rows[-1, 0], 1.0, -1.0)], -1)
    own = np.where((over > d)[..., None], ends, own)
    own = own / (np.linalg.norm(own, axis=-1, keepdims=True) + 1e-12)
    return np.maximum(d, over) * size[:, None], np.einsum("nij,npj->npi", turn, own)
