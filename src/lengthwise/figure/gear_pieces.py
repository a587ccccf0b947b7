"""Bars, plates, dumbbells, boards, beams, pulleys: pieces of gear as triangles [m]. Sizes of usual gym gear, from memory."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lengthwise.arrays import Array
from lengthwise.figure.meshes import Mesh, outward, slab, tube, turned
from lengthwise.figure.strands import rounded

MATERIALS = ("steel", "iron", "rubber", "pad", "frame", "rope", "band")
_UP = np.array([0.0, 0.0, 1.0])
_SLEEVE_M, _PLATE_M = 0.43, 0.035
_HANDLE_M, _MIDDLE = 0.1, 0.4
"""Where a bent bar is straight in the fist, and how much of the way between the fists its middle keeps (own choices)."""


@dataclass(frozen=True)
class Piece:
    """A piece of gear: one of MATERIALS, its triangles, and whether one can look through it."""

    material: str
    mesh: Mesh
    clear: bool = False


def by(x: float, y: float, z: float) -> Array:
    """A step [m]."""
    return np.array([x, y, z], float)


def basis(y: ArrayLike) -> tuple[Array, Array, Array]:
    """Three axes at right angles, the second along `y`."""
    along = np.asarray(y, float) / np.linalg.norm(y)
    x = np.cross(along, _UP if abs(along[2]) < 0.9 else np.eye(3)[0])
    x /= np.linalg.norm(x)
    return x, along, np.cross(x, along)


def spun(profile: Sequence[tuple[float, float]], at: ArrayLike, axis: ArrayLike, n_round: int) -> Mesh:
    """A turned solid about an axis through a place."""
    return outward(turned(profile, n_round).placed(at, *basis(axis)))


def rod(a: ArrayLike, b: ArrayLike, r: float, material: str = "steel") -> Piece:
    """A round rod between two points."""
    way = np.asarray(b, float) - np.asarray(a, float)
    n = max(float(np.linalg.norm(way)), 1e-3)
    way = way if np.linalg.norm(way) > 1e-3 else _UP
    return Piece(material, spun([(0, r * 0.6), (0.001, r), (n - 0.001, r), (n, r * 0.6)], a, way, 14))


def beam(a: ArrayLike, b: ArrayLike, size: float, material: str = "frame") -> Piece:
    """A square beam between two points."""
    start, end = np.asarray(a, float), np.asarray(b, float)
    n = float(np.linalg.norm(end - start))
    mesh = slab((size, n + size * 0.8, size), 0.006).placed((start + end) / 2, *basis(end - start))
    return Piece(material, outward(mesh))


def box(size: Sequence[float], at: ArrayLike, x: ArrayLike = (1, 0, 0), y: ArrayLike = (0, 1, 0), z: ArrayLike = (0, 0, 1)) -> Mesh:
    """A box with rounded edges in a frame."""
    return outward(slab(size, min(0.025, min(size) * 0.35)).placed(at, x, y, z))


def plate(at: Array, axis: Array, radius: float, thick: float) -> Piece:
    """A weight plate with rim and hub, half clear, so that it hides nobody's head."""
    h, r = thick / 2, radius
    half = [(h * 0.8, 0.026), (h * 0.8, 0.05), (h * 0.35, 0.06), (h * 0.35, r * 0.80), (h, r * 0.86), (h, r * 0.97), (h * 0.6, r)]
    return Piece("rubber", spun([(-y, s) for y, s in half] + [(y, s) for y, s in half[::-1]], at, axis, 40), clear=True)


def plates_m(gear: str) -> float:
    """How far from the middle of a bar of this kind its large plates are [m]."""
    return _bar_m(gear)[0] - _SLEEVE_M + _PLATE_M


def _bar_m(gear: str) -> tuple[float, float]:
    """Half the length of a bar and the radius of its large plates [m]."""
    return (0.72, 0.15) if gear == "ez_bar" else (1.1, 0.225)


def barbell(left: Array, right: Array, gear: str = "barbell", grips: Array | None = None) -> list[Piece]:
    """A whole bar with a large and a small plate on each sleeve, through two hands or shoulders.

    Args:
        grips: which way each fist holds it, left then right, (2, 3): a bar that is bent to lie along them.
    """
    mid, axis = (left + right) / 2, (left - right) / np.linalg.norm(left - right)
    half_m, large_m = _bar_m(gear)
    collar = half_m - _SLEEVE_M
    ends = mid + axis * collar, mid - axis * collar
    out = [rod(ends[1], ends[0], 0.014) if grips is None else _bent(ends, (left, right), grips)]
    for s in (-1, 1):
        along = s * axis
        out += [rod(mid + along * (collar - 0.01), mid + along * (collar + 0.01), 0.034)]
        out += [rod(mid + along * collar, mid + along * half_m, 0.025)]
        out += [
            plate(mid + along * (collar + _PLATE_M), axis, large_m, 0.05),
            plate(mid + along * (collar + 0.08), axis, large_m * 0.7, 0.034),
        ]
        out += [rod(mid + along * (collar + 0.1), mid + along * (collar + 0.13), 0.036, "iron")]
    return out


def _bent(ends: tuple[Array, Array], hands: tuple[Array, Array], grips: Array) -> Piece:
    """A shaft between its ends (3,), left then right, that lies along each fist and comes back to the middle between them."""
    across, mid = ends[0] - ends[1], (ends[0] + ends[1]) / 2
    held = [h + s * _HANDLE_M / 2 * g * np.sign(g @ across) for h, g in zip(hands, grips, strict=True) for s in (1, -1)]
    dips = [mid + (p - mid) @ across / (across @ across) * across * _MIDDLE for p in (held[1], held[2])]
    corners = np.array([ends[0], held[0], held[1], *dips, held[2], held[3], ends[1]])
    return Piece("steel", tube(rounded(corners[None, :, None], 64, 1)[0, :, 0], 0.014, 12))


def dumbbell(at: Array, axis: Array) -> list[Piece]:
    """A round-headed dumbbell."""
    way = axis / np.linalg.norm(axis)
    head = [(0, 0.03), (0.004, 0.058), (0.012, 0.064), (0.062, 0.064), (0.07, 0.058), (0.074, 0.03)]
    out = [rod(at - way * 0.07, at + way * 0.07, 0.015)]
    return out + [Piece("rubber", spun(head, at + s * way * 0.066, s * way, 24)) for s in (-1, 1)]


def kettlebell(at: Array, axis: Array) -> list[Piece]:
    """A kettlebell that hangs from its handle."""
    way = axis / np.linalg.norm(axis)
    ball = [(-0.09, 0.05), (-0.08, 0.07), (-0.04, 0.094), (0, 0.1), (0.05, 0.086), (0.085, 0.05), (0.095, 0.02)]
    ends = [at + s * way * 0.055 for s in (-1, 1)]
    low = at - _UP * 0.14
    arms = [rod(e, low + 0.6 * (e - at) + _UP * 0.06, 0.015, "iron") for e in ends]
    return [rod(ends[0], ends[1], 0.016, "iron"), *arms, Piece("iron", spun(ball, low, _UP, 28))]


def pulley(at: Array, across: Array) -> Piece:
    """A grooved wheel."""
    wheel = [(-0.014, 0.02), (-0.014, 0.055), (-0.004, 0.046), (0.004, 0.046), (0.014, 0.055), (0.014, 0.02)]
    return Piece("iron", spun(wheel, at, across, 28))


def disc(at: Array, axis: Array, radius: float, thick: float) -> Piece:
    """A hub or a cam."""
    h = thick / 2
    return Piece(
        "iron",
        spun(
            [(-h, 0.012), (-h, radius * 0.96), (-h * 0.7, radius), (h * 0.7, radius), (h, radius * 0.96), (h, 0.012)], at, axis, 28
        ),
    )


def sphere(at: Array, radius: float) -> Mesh:
    """A ball."""
    angle = np.linspace(-np.pi / 2, np.pi / 2, 12)
    return spun([(radius * float(np.sin(a)), max(radius * float(np.cos(a)), 1e-4)) for a in angle], at, _UP, 24)


def ring(at: Array, a: Array, b: Array, thick: float, material: str) -> Piece:
    """A closed band about a place, through the ends of two half axes."""
    turn = np.linspace(0, 2 * np.pi, 33)[:, None]
    return Piece(material, tube(at + np.cos(turn) * a + np.sin(turn) * b, thick, 8))


def cuff(at: Array, away: Array) -> Piece:
    """A strap round a limb, where a cable is fastened."""
    x, _, z = basis(away)
    return ring(at, 0.05 * x, 0.05 * z, 0.012, "pad")
