"""Triangles: tubes, turned solids and slabs; their normals and volume."""

from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lengthwise.arrays import Array
from lengthwise.core import door, surfaces
from lengthwise.core.surfaces import volumes

Faces = NDArray[np.intp]


class Mesh(NamedTuple):
    """Points (n, 3) and triangles (m, 3), counter-clockwise seen from outside."""

    points: Array
    faces: Faces

    def placed(self, at: ArrayLike, x: ArrayLike = (1, 0, 0), y: ArrayLike = (0, 1, 0), z: ArrayLike = (0, 0, 1)) -> "Mesh":
        """The same with its axes laid along x, y, z and its origin at a place."""
        return Mesh(self.points @ np.array([x, y, z], float) + np.asarray(at, float), self.faces)


@cache
def rings(n: int, m: int) -> Faces:
    """Triangles of a closed tube of n rings with m points each, with flat ends."""
    i, j = np.meshgrid(np.arange(n - 1), np.arange(m), indexing="ij")
    a, b = i * m + j, i * m + (j + 1) % m
    side = [np.stack([a, b, b + m], -1).reshape(-1, 3), np.stack([a, b + m, a + m], -1).reshape(-1, 3)]
    fan = np.arange(1, m - 1)
    first = np.stack([0 * fan, fan + 1, fan], -1)
    last = np.stack([0 * fan, fan, fan + 1], -1) + (n - 1) * m
    out = np.concatenate([*side, first, last])
    out.flags.writeable = False
    return out


def tube(path: ArrayLike, radius: ArrayLike, n_round: int = 8, flat: float = 1.0, up: Sequence[float] | None = None) -> Mesh:
    """A tube along a path (n, 3); with `up` (3,) flattened along it."""
    line = np.asarray(path, float)
    t = np.gradient(line, axis=0)
    t /= np.linalg.norm(t, axis=1, keepdims=True)
    ref = np.asarray(up if up is not None else np.eye(3)[np.argmin(np.abs(t).sum(0))], float)
    side = np.cross(t, ref)
    side /= np.linalg.norm(side, axis=1, keepdims=True)
    over = np.cross(side, t)
    r = np.broadcast_to(np.asarray(radius, float), len(line))[:, None, None]
    a = np.linspace(0, 2 * np.pi, n_round, endpoint=False)[None, :, None]
    ring = line[:, None] + r * (np.cos(a) * side[:, None] - np.sin(a) * over[:, None] * flat)
    return outward(Mesh(ring.reshape(-1, 3), rings(len(line), n_round)))


def turned(profile: Sequence[tuple[float, float]], n_round: int = 32) -> Mesh:
    """A solid turned about the y axis; profile: (y, radius) pairs."""
    a = np.linspace(0, 2 * np.pi, n_round, endpoint=False)
    p = np.asarray(profile, float)
    y = np.broadcast_to(p[:, 0, None], (len(p), n_round))
    ring = np.stack([p[:, 1, None] * np.sin(a), y, p[:, 1, None] * np.cos(a)], -1)
    return outward(Mesh(ring.reshape(-1, 3), rings(len(p), n_round)))


def slab(size: Sequence[float], radius: float = 0.015) -> Mesh:
    """A box of this size with rounded edges about the origin."""
    x, y, z = size
    return _slab((float(x), float(y), float(z)), radius)


@lru_cache(maxsize=256)
def _slab(size: tuple[float, float, float], radius: float) -> Mesh:
    half, a = np.asarray(size, float) / 2, np.linspace(0, np.pi / 2, 4)
    outline = []
    for k, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        turn = a + k * np.pi / 2
        corner = np.stack([sx * (half[0] - radius) + radius * np.cos(turn), sy * (half[1] - radius) + radius * np.sin(turn)], -1)
        outline.append(corner)
    flat = np.concatenate(outline)
    middle = np.stack([np.sign(flat[:, 0]) * (half[0] - radius), np.sign(flat[:, 1]) * (half[1] - radius)], -1)
    rise = [(-half[2] + radius - radius * np.cos(t), np.sin(t)) for t in a]
    levels = rise + [(-z, s) for z, s in rise[::-1]]
    ring = np.array([np.column_stack([middle + (flat - middle) * s, np.full(len(flat), z)]) for z, s in levels])
    points = ring.reshape(-1, 3)
    points.flags.writeable = False
    return outward(Mesh(points, rings(*ring.shape[:2])))


def joined(meshes: Iterable[Mesh]) -> Mesh:
    """Several meshes as one."""
    points, faces, start = [], [], 0
    for p, f in meshes:
        points.append(p)
        faces.append(f + start)
        start += len(p)
    return Mesh(np.concatenate(points), np.concatenate(faces))


def volume(points: Array, faces: Faces) -> Array:
    """Volume within closed surfaces [unit of the points, cubed]; negative where the triangles look inwards.

    Args:
        points: (..., n, 3), the same triangles serving all of them.
    """
    flat = points.reshape(-1, *points.shape[-2:])
    return np.asarray((volumes if door.available() else numpy_volumes)(flat, faces).reshape(points.shape[:-2]))


def outward(mesh: Mesh) -> Mesh:
    """The same with its triangles looking outwards."""
    return mesh if volume(*mesh) >= 0 else Mesh(mesh.points, mesh.faces[:, ::-1])


def normals(points: Array, faces: Faces) -> tuple[Array, Array]:
    """Unit normals at the points (..., n, 3), by area, and the areas of the surfaces (...) [unit of the points, squared]."""
    flat = points.reshape(-1, *points.shape[-2:])
    n, area = (surfaces.normals if door.available() else numpy_normals)(flat, faces)
    return n.reshape(points.shape), area.reshape(points.shape[:-2])


def numpy_volumes(points: Array, faces: Faces) -> Array:
    """As `lengthwise.core.surfaces.volumes`, with NumPy: the core's oracle, and what answers without it."""
    p = points - points.mean(-2, keepdims=True)
    a, b, c = (p[:, faces[:, i]] for i in range(3))
    return np.asarray(np.einsum("pij,pij->p", a, np.cross(b, c)) / 6)


def numpy_normals(points: Array, faces: Faces) -> tuple[Array, Array]:
    """As `lengthwise.core.surfaces.normals`, with NumPy."""
    a, b, c = (points[:, faces[:, i]] for i in range(3))
    n, out = np.cross(b - a, c - a), np.zeros_like(points)
    for here, own in zip(out, n, strict=True):
        for i in range(3):
            np.add.at(here, faces[:, i], own)
    return out / np.maximum(np.linalg.norm(out, axis=-1, keepdims=True), 1e-12), np.linalg.norm(n, axis=-1).sum(1) / 2
