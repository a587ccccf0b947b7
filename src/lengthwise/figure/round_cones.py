"""Solids from round cones: a smooth distance and its zero surface as triangles."""

from collections.abc import Callable
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.figure.meshes import Mesh, outward
from lengthwise.figure.shapes import Bone

_COARSE = 3


def cone_distance(p: Array, a: Array, b: Array) -> Array:
    """Distance of points (n, 3) from a round cone between balls a and b (x, y, z, radius); negative inside."""
    axis = b[:3] - a[:3]
    off = p - a[:3]
    t = np.clip(off @ axis / max(float(axis @ axis), 1e-12), 0, 1)
    off -= t[:, None] * axis
    off *= off
    return np.asarray(np.sqrt(off[:, 0] + off[:, 1] + off[:, 2]) - (a[3] + (b[3] - a[3]) * t))


def plate_distance(p: Array, corners: Array, half: float) -> Array:
    """Distance of points (n, 3) from a flat triangle (3, 3) thickened by `half` on both sides."""
    a, b, c = corners
    n = np.cross(b - a, c - a)
    n /= np.linalg.norm(n)
    flat = p - ((p - a) @ n)[:, None] * n
    inside, edge = np.ones(len(p), bool), np.full(len(p), np.inf)
    for s, e in ((a, b), (b, c), (c, a)):
        inside &= (flat - s) @ np.cross(n, e - s) >= 0
        edge = np.minimum(edge, cone_distance(p, np.append(s, 0.0), np.append(e, 0.0)))
    return np.asarray(np.where(inside, np.abs((p - a) @ n), edge) - half)


def blend(d: Array, e: Array, k: float) -> Array:
    """Smooth union of two distances with blend radius `k`."""
    h = np.maximum(k - np.abs(d - e), 0) / k
    return np.asarray(np.minimum(d, e) - h * h * k / 4)


def bone_distance(p: Array, bone: Bone) -> Array:
    """Distance of points (n, 3) [mm] from a bone."""
    d = np.full(len(p), 1e3)
    for rows in bone.chains:
        for a, b in pairwise(rows) if len(rows) > 1 else [(rows[0], rows[0])]:
            d = blend(d, cone_distance(p, a, b), bone.blend)
    for corners in bone.plates:
        d = blend(d, plate_distance(p, corners, bone.half), bone.blend)
    return d


def carved(bone: Bone, step: float, hollows: Array) -> Mesh:
    """A bone as triangles of about `step` [mm], with balls (n, 4) taken away from it."""
    pts = np.concatenate([*(g[:, :3] for g in bone.chains), *bone.plates])
    pad = max(g[:, 3].max() for g in bone.chains) + 2 * step

    def distance(p: Array) -> Array:
        d = bone_distance(p, bone)
        for ball in hollows:
            d = -blend(-d, np.linalg.norm((p - ball[:3]) / [1, 1.25, 0.9], axis=1) - ball[3], 10)
        return d

    axes = [np.arange(lo, hi + step * _COARSE, step) for lo, hi in zip(pts.min(0) - pad, pts.max(0) + pad, strict=True)]
    field = _sampled(distance, axes, step)
    return outward(_surface(field, np.array([a[0] for a in axes]), step))


def _sampled(distance: Callable[[Array], Array], axes: list[Array], step: float) -> Array:
    """The distance on a grid: asked everywhere coarsely, finely only where the surface can be."""
    grid = np.stack(np.meshgrid(*axes, indexing="ij"), -1)
    rough = distance(grid[::_COARSE, ::_COARSE, ::_COARSE].reshape(-1, 3))
    rough = rough.reshape([len(a[::_COARSE]) for a in axes])
    out = rough
    for axis in range(3):
        out = np.repeat(out, _COARSE, axis)
    out = out[: len(axes[0]), : len(axes[1]), : len(axes[2])].copy()
    near = np.abs(out) < _COARSE * step * 2.2
    out[near] = distance(grid[near])
    return np.asarray(out)


def _surface(f: Array, low: Array, step: float) -> Mesh:
    """Surface nets: one point in each cell that the zero surface crosses, one quad for each crossed edge."""
    shape = np.array(f.shape) - 1
    cells, points = _cell_points(f, shape)
    number = np.full(shape, -1)
    number[tuple(cells.T)] = np.arange(len(cells))
    faces = []
    for axis in range(3):
        u, v = (axis + 1) % 3, (axis + 2) % 3
        sign = np.moveaxis(f < 0, axis, 0)
        a, b = np.moveaxis(sign[:-1], 0, axis), np.moveaxis(sign[1:], 0, axis)
        for flip, where in ((False, a & ~b), (True, ~a & b)):
            e = np.argwhere(where)
            e = e[(e[:, u] > 0) & (e[:, v] > 0) & (e[:, u] < shape[u]) & (e[:, v] < shape[v])]
            du, dv = np.eye(3, dtype=int)[u], np.eye(3, dtype=int)[v]
            quad = [number[tuple((e - s).T)] for s in (du + dv, dv, 0 * du, du)]
            q = np.stack(quad[::-1] if flip else quad, 1)
            faces += [q[:, [0, 1, 2]], q[:, [0, 2, 3]]]
    return Mesh(points * step + low, np.concatenate(faces))


def _cell_points(f: Array, shape: NDArray[np.intp]) -> tuple[NDArray[np.intp], Array]:
    """Cells that the surface crosses (n, 3), and the mean of its crossings in each [cells] (n, 3)."""
    inside = [(f < 0)[tuple(slice(k, k + n) for k, n in zip(c, shape, strict=True))] for c in np.ndindex(2, 2, 2)]
    cells = np.argwhere(np.any(inside, axis=0) & ~np.all(inside, axis=0))
    total, count = np.zeros((len(cells), 3)), np.zeros(len(cells))
    for a in np.ndindex(2, 2, 2):
        for axis in (k for k in range(3) if a[k] == 0):
            b = tuple(1 if i == axis else v for i, v in enumerate(a))
            fa, fb = f[tuple((cells + a).T)], f[tuple((cells + b).T)]
            cross = (fa < 0) != (fb < 0)
            t = np.where(cross, fa / np.where(fa == fb, 1, fa - fb), 0)
            for i in range(3):
                total[:, i] += np.where(cross, t if i == axis else a[i], 0)
            count += cross
    return cells, cells + total / count[:, None]
