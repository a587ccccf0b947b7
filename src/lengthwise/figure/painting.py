"""A lift at one position as a picture for paper: the triangles that the browser shows, lit and outlined, on nothing.

Seen from far away, without perspective, so that arrows and marks can be drawn over it in metres. The core finds what is seen at each
pixel; without it nothing can be painted (`can_paint`).
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.rastering import raster
from lengthwise.figure.meshes import Mesh, normals
from lengthwise.figure.placement import MIRROR
from lengthwise.figure.scene import Scene, solid_at

RGB = tuple[float, float, float]
COLOURS: dict[str, RGB] = {
    "bone": (0.93, 0.89, 0.80), "skin": (0.91, 0.86, 0.79), "flesh": (0.64, 0.51, 0.47), "fascia": (0.87, 0.80, 0.72), "tendon": (0.94, 0.91, 0.85),
    "steel": (0.66, 0.67, 0.69), "iron": (0.46, 0.47, 0.49), "rubber": (0.35, 0.35, 0.37), "pad": (0.42, 0.37, 0.36),
    "frame": (0.62, 0.62, 0.64), "rope": (0.75, 0.70, 0.60), "band": (0.54, 0.35, 0.20),
}  # fmt: skip
_FINE = 2
_BEYOND_M = np.array([0.85, 1.6])
"""How far beside and above the body gear is shown: a column far away is cut rather than the body made small (own choice)."""
_CLEAR = 0.32
_JUMP_M, _FAINT = 0.012, 0.35
_EDGE = 0.75


@dataclass(frozen=True)
class View:
    """From where a body is seen [deg]: heading from straight ahead towards its left, and height of the eye."""

    heading: float
    height: float = 0.0

    @property
    def axes(self) -> Array:
        """Unit vectors to the right and upwards in the picture, and towards the eye, (3, 3)."""
        turn, rise = np.radians([self.heading, self.height])
        eye = np.array([np.cos(turn) * np.cos(rise), np.sin(turn) * np.cos(rise), np.sin(rise)])
        across = np.array([-np.sin(turn), np.cos(turn), 0.0])
        return np.array([across, np.cross(eye, across), eye])


SIDE, FRONT = View(-90.0), View(0.0)
"""Seen from the right, and from ahead."""


@dataclass(frozen=True)
class Painted:
    """A picture (height, width, 4), 0-1, clear where nothing is; left, right, low and high end [m]."""

    image: Array
    extent: tuple[float, float, float, float]


@dataclass(frozen=True)
class _Solid:
    mesh: Mesh
    colour: Array
    walls: int = 0
    gear: bool = False
    clear: bool = False


def can_paint() -> bool:
    """Whether pictures can be painted on this machine."""
    return door.available()


def painted(scene: Scene, view: View, colour_of: Callable[[str, str], RGB], pixel_m: float = 0.0025, key: int = 0) -> Painted:
    """A key position of a scene, the first one where none is asked for.

    Args:
        colour_of: colour of a head on a side, sRGB 0-1. pixel_m: how much a pixel shows [m].
    """
    solids = _solids(scene, colour_of, key)
    low, high = _box(solids, view)
    step = pixel_m / _FINE
    size = np.ceil((high - low) / pixel_m).astype(int) * _FINE
    opaque, depth = _layer([s for s in solids if not s.clear], view, low, step, size)
    image = opaque * opaque[..., 3:]
    if through := [s for s in solids if s.clear]:
        clear, nearer = _layer(through, view, low, step, size)
        before = (nearer < depth) & (clear[..., 3] > 0)
        image[before] = _through(clear[before], opaque[before])
    small = np.asarray(sum(image[i::_FINE, k::_FINE] for i in range(_FINE) for k in range(_FINE))) / _FINE**2
    small[..., :3] /= np.maximum(small[..., 3:], 1e-9)
    return Painted(
        np.clip(small, 0, 1), (float(low[0]), float(low[0] + size[0] * step), float(low[1]), float(low[1] + size[1] * step))
    )


def _through(clear: Array, opaque: Array) -> Array:
    """What is clear before what is not, each (n, 4): colours times alpha, and alpha, (n, 4)."""
    colour = opaque[:, :3] * (1 - _CLEAR) + clear[:, :3] * _CLEAR
    alpha = np.maximum(opaque[:, 3:], _CLEAR)
    return np.hstack([np.where(opaque[:, 3:] > 0, colour, clear[:, :3]) * alpha, alpha])


def _solids(scene: Scene, colour_of: Callable[[str, str], RGB], key: int) -> list[_Solid]:
    out = []
    for m in scene.muscles:
        t = m.tendon[:, None]
        for side, mirror in ((m.side, False), ("left", True)) if scene.folded else ((m.side, False),):
            colour = np.array(colour_of(m.part.head, side)) * (1 - t) + np.array(COLOURS["tendon"]) * t
            grain = 1 + 0.05 * np.sin(m.fibre * 56.5)[:, None]
            out.append(_Solid(_mirrored(Mesh(m.points[key], m.faces), mirror), colour * grain, m.walls))
    for r in scene.rigids:
        for side in r.sides:
            mesh = Mesh(solid_at(scene, r.segment, side, r.mesh.points)[key], r.mesh.faces[:, :: -1 if side == "left" else 1])
            out.append(_plain(mesh, r.kind))
    out += [_plain(Mesh(points[key], faces), "bone") for points, faces in scene.kneecaps]
    gear = [replace(_plain(p.mesh, p.material), gear=True, clear=p.clear) for p in scene.gear[key]]
    return out + gear


def _plain(mesh: Mesh, name: str) -> _Solid:
    return _Solid(mesh, np.broadcast_to(np.array(COLOURS[name]), mesh.points.shape))


def _mirrored(mesh: Mesh, mirror: bool) -> Mesh:
    return Mesh(mesh.points * MIRROR, mesh.faces[:, ::-1]) if mirror else mesh


def _box(solids: list[_Solid], view: View) -> tuple[Array, Array]:
    """What is shown: the body, and gear near it [m]."""
    axes = view.axes[:2].T
    body = np.concatenate([s.mesh.points @ axes for s in solids if not s.gear])
    low, high = body.min(0) - 0.02, body.max(0) + 0.02
    every = np.concatenate([s.mesh.points @ axes for s in solids])
    shown = every[((every > low - _BEYOND_M) & (every < high + _BEYOND_M)).all(1)]
    return shown.min(0) - 0.01, shown.max(0) + 0.01


def _layer(solids: list[_Solid], view: View, low: Array, step: float, size: NDArray[np.intp]) -> tuple[Array, Array]:
    """Lit colours with alpha (height, width, 4) and depth [m] of some solids, upper row first."""
    starts = np.cumsum([0, *(len(s.mesh.points) for s in solids)])
    faces = np.concatenate([s.mesh.faces + n for s, n in zip(solids, starts[:-1], strict=True)])
    across, up, near = view.axes @ np.concatenate([s.mesh.points for s in solids]).T
    at = np.column_stack([(across - low[0]) / step, size[1] - 1 - (up - low[1]) / step, -near])
    nearest, depth, share = raster(at, faces.astype(np.int32), int(size[0]), int(size[1]))
    seen = nearest >= 0
    corner, weight = faces.take(nearest[seen], 0), share[seen]
    weight = np.column_stack([1 - weight.sum(1), weight])
    own = np.concatenate([normals(s.mesh.points, s.mesh.faces[: len(s.mesh.faces) - s.walls])[0] for s in solids])
    normal, colour = (_between(each, corner, weight) for each in (own, np.concatenate([s.colour for s in solids])))
    out = np.zeros((*seen.shape, 4))
    out[seen] = np.column_stack([_lit(colour, normal, view), np.ones(len(colour))])
    _outline(out, np.where(seen, depth, depth[seen].max(initial=0.0) + 1))
    return out, depth


def _between(values: Array, corner: NDArray[np.intp], weight: Array) -> Array:
    """What points (n, 3) have at places between three of them, by the share of each, (m, 3)."""
    out = values.take(corner[:, 0], 0) * weight[:, :1]
    for k in (1, 2):
        out += values.take(corner[:, k], 0) * weight[:, k : k + 1]
    return np.asarray(out)


def _lit(colour: Array, normal: Array, view: View) -> Array:
    """Colours under a sun from the front and above, a sky, and a rim that darkens."""
    n = normal / np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-9)
    side, _, eye = view.axes
    sun = eye * 0.8 + side * 0.55 + np.array([0, 0, 1.1])
    sun /= np.linalg.norm(sun)
    facing = np.clip(n @ eye, 0, 1)
    light = 0.62 * np.clip((n @ sun + 0.25) / 1.25, 0, 1) + 0.42 * (0.65 + 0.35 * n[:, 2]) * (0.55 + 0.45 * facing)
    return np.asarray(np.clip(colour**2.2 * light[:, None] * 1.12, 0, 1) ** (1 / 2.2))


def _outline(image: Array, depth: Array) -> None:
    """Darken an image where the depth jumps: outlines, and soft creases between muscles."""
    jump = np.zeros_like(depth)
    np.abs(np.diff(depth, axis=0), out=jump[1:])
    np.maximum(jump[:, 1:], np.abs(np.diff(depth, axis=1)), out=jump[:, 1:])
    inked = jump > _FAINT * _JUMP_M
    ink = np.clip(jump[inked] / _JUMP_M - _FAINT, 0, 1)[:, None] * _EDGE
    image[inked, :3] = image[inked, :3] * (1 - ink) + np.array([0.2, 0.17, 0.17]) * ink
