"""How long the fibres of a muscle line are, and how hard they pull, for a path length and an activation.

Curves: De Groote, Kinney, Rao & Fregly 2016, Ann Biomed Eng 44(10):2922-2936, with the constants in the form coded in OpenSim
(reference rows T7-019 to T7-042). Tendon: same paper, 4.9 % strain at maximal isometric force. Fibres keep their thickness
(constant width across the line of pull) when they turn, as in Zajac 1989 (from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_B1 = np.array([0.8150671134243542, 0.433004984392647, 0.1])
_B2 = np.array([1.055033428970575, 0.71677541339776, 1.0])
_B3 = np.array([0.162384573599574, -0.029947116970696, 0.353553390593274])
_B4 = np.array([0.063303448465465, 0.200356847296188, 0.0])
_PASSIVE_SHAPE, _PASSIVE_STRAIN = 4.0, 0.6
_TENDON_SCALE, _TENDON_STRAIN = 0.2, 0.049
_TENDON_SHAPE = float(np.log(1 / _TENDON_SCALE + 1) / _TENDON_STRAIN)
SHORTEST, LONGEST = 0.2, 1.8
"""Fibre lengths between which the curves are meant to be used (reference rows T7-041, T7-042)."""


def active_force_length(fibre_length: Array) -> Array:
    """Share of maximal isometric force that fully active fibres reach at `fibre_length` [of optimal], any shape."""
    x = fibre_length[..., None]
    return np.asarray((_B1 * np.exp(-0.5 * ((x - _B2) / (_B3 + _B4 * x)) ** 2)).sum(-1))


def _active_and_slope(x: Array) -> tuple[Array, Array]:
    value, slope = np.zeros_like(x), np.zeros_like(x)
    for b1, b2, b3, b4 in zip(_B1, _B2, _B3, _B4, strict=True):
        width = b3 + b4 * x
        u = (x - b2) / width
        g = b1 * np.exp(-0.5 * u * u)
        value += g
        slope -= g * u * (b3 + b4 * b2) / width**2
    return value, slope


def passive_force_length(fibre_length: Array) -> Array:
    """Force of resting fibres [of maximal isometric force] at `fibre_length` [of optimal]; zero up to optimal length."""
    stretch = np.maximum(fibre_length - 1.0, 0.0)
    return np.asarray(np.expm1(_PASSIVE_SHAPE / _PASSIVE_STRAIN * stretch) / np.expm1(_PASSIVE_SHAPE))


def _passive_slope(x: Array) -> Array:
    rate = _PASSIVE_SHAPE / _PASSIVE_STRAIN
    return np.asarray(np.where(x > 1, rate * np.exp(rate * np.maximum(x - 1, 0)), 0) / np.expm1(_PASSIVE_SHAPE))


def tendon_force(strain: Array) -> Array:
    """Force of a tendon [of maximal isometric force] at `strain` (change of length ÷ slack length); zero when slack."""
    return _TENDON_SCALE * np.asarray(np.expm1(_TENDON_SHAPE * np.maximum(strain, 0.0)))


@dataclass(frozen=True)
class Fibres:
    """What the fibres of each line do at given path lengths.

    Attributes:
        length: fibre length over optimal, (n_pos, n_line).
        cos_pennation: cosine of the angle between fibres and line of pull, (n_pos, n_line).
        force: tension along the path over maximal isometric force, (n_pos, n_line).
    """

    length: Array
    cos_pennation: Array
    force: Array


def settle(path_m: Array, slack_m: Array, optimal_m: Array, pennation_rad: Array, activation: Array | float) -> Fibres:
    """Where fibres and stretched tendon balance at a path length [m] and an activation [0-1].

    Args:
        path_m: path length [m], (n_pos, n_line).
        slack_m: tendon slack length [m], (n_line,).
        optimal_m: optimal fibre length [m], (n_line,).
        pennation_rad: pennation at optimal length [rad], (n_line,).
        activation: (n_pos, n_line) or one number.

    Newton's method inside a bracket on the fibre's share of the path, in units of optimal length. A path shorter than the slack
    tendon leaves the fibres at SHORTEST without force.
    """
    width = np.sin(pennation_rad)
    reach = path_m / optimal_m
    slack = slack_m / optimal_m
    lo = np.full(reach.shape, 0.02)
    hi = np.maximum(reach - slack, 0.03)
    x = np.clip(hi - 0.03 * slack, lo, hi)
    for _ in range(40):
        fibre = np.hypot(x, width)
        cos = x / fibre
        active, active_slope = _active_and_slope(fibre)
        pull = activation * active + passive_force_length(fibre)
        strain = (reach - x) / slack - 1
        tendon = tendon_force(strain)
        gap = pull * cos - tendon
        slope = (
            (activation * active_slope + _passive_slope(fibre)) * cos * cos
            + pull * (1 - cos * cos) / fibre
            + _TENDON_SHAPE / slack * (tendon + _TENDON_SCALE) * (strain > 0)
        )
        lo, hi = np.where(gap < 0, x, lo), np.where(gap > 0, x, hi)
        step = np.where(slope > 1e-6, gap / np.maximum(slope, 1e-6), np.inf)
        new = x - step
        new = np.where((new > lo) & (new < hi), new, (lo + hi) / 2)
        done = np.abs(new - x).max() < 1e-10
        x = new
        if done:
            break
    fibre = np.hypot(x, width)
    force = tendon_force((reach - x) / slack - 1)
    return Fibres(np.maximum(fibre, SHORTEST), x / fibre, force)
