"""How long the fibres of a muscle line are, and how hard they pull, for a path length and an activation.

Curves: De Groote, Kinney, Rao & Fregly 2016, Ann Biomed Eng 44(10):2922-2936, with the constants in the form coded in OpenSim
(reference rows T7-019 to T7-042). Tendon: same paper, 4.9 % strain at maximal isometric force. Fibres keep their thickness
(constant width across the line of pull) when they turn, as in Zajac 1989 (from memory).
"""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core import door

_B1 = np.array([0.8150671134243542, 0.433004984392647, 0.1])
_B2 = np.array([1.055033428970575, 0.71677541339776, 1.0])
_B3 = np.array([0.162384573599574, -0.029947116970696, 0.353553390593274])
_B4 = np.array([0.063303448465465, 0.200356847296188, 0.0])
_PASSIVE_SHAPE, _PASSIVE_STRAIN = 4.0, 0.6
_TENDON_SCALE, _TENDON_STRAIN = 0.2, 0.049
_D = (-0.3211346127989808, -8.149, -0.374, 0.8825327733249912)
_SETTLED = 1e-7  # of optimal length: the step after it would be its square
_RUPTURE = 0.3  # no tendon survives this strain; keeps a search that starts far off from overflowing
_TENDON_SHAPE = float(np.log(1 / _TENDON_SCALE + 1) / _TENDON_STRAIN)
SHORTEST, LONGEST = 0.2, 1.8
"""Fibre lengths between which the curves are meant to be used (reference rows T7-041, T7-042)."""
FASTEST = 7.0
"""Speed at which fibres shorten without force [optimal lengths/s]. Human knee extension keeps 75 % of its isometric moment at 1.52 rad/s
and 50 % at 3.95 rad/s (Anderson 2007, men 18-25, C4 and C5, from memory), which vasti of 42 mm of arm and 99 mm of fibre do at 7;
models take 10 (T7-056)."""
LENGTHENED_MOST = 1.2
"""Most that lengthened fibres give over what they hold. Muscle alone reaches 1.4 to 1.5 (T7-017, T7-057), people 0.9 to 1.3 (T3-056; Westing
1988, Hortobagyi 1990, from memory); estimate."""


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
    """Force of resting fibres [of maximal isometric force] at `fibre_length` [of optimal]; zero up to optimal length.

    Beyond the strain at maximal isometric force the curve goes on straight (estimate: nobody has measured there).
    """
    stretch = np.maximum(fibre_length - 1.0, 0.0)
    rate, steep = _PASSIVE_SHAPE / _PASSIVE_STRAIN, np.expm1(_PASSIVE_SHAPE)
    within = np.minimum(stretch, _PASSIVE_STRAIN)
    return np.asarray(np.expm1(rate * within) / steep + (stretch - within) * rate * (1 + 1 / steep))


def _passive_slope(x: Array) -> Array:
    rate = _PASSIVE_SHAPE / _PASSIVE_STRAIN
    return np.asarray(np.where(x > 1, rate * np.exp(rate * np.clip(x - 1, 0, _PASSIVE_STRAIN)), 0) / np.expm1(_PASSIVE_SHAPE))


def tendon_force(strain: Array) -> Array:
    """Force of a tendon [of maximal isometric force] at `strain` (change of length ÷ slack length); zero when slack."""
    return _TENDON_SCALE * np.asarray(np.expm1(_TENDON_SHAPE * np.clip(strain, 0.0, _RUPTURE)))


def force_velocity(speed: Array) -> Array:
    """Force of active fibres over what they hold, at a speed of lengthening [optimal lengths/s] (negative: shortening), any shape.

    De Groote 2016, same constants' source (T7-035 to T7-038), at most LENGTHENED_MOST.
    """
    d1, d2, d3, d4 = _D
    return np.clip(d1 * np.arcsinh(d2 * speed / FASTEST + d3) + d4, 0.0, LENGTHENED_MOST)


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
    act = np.broadcast_to(np.asarray(activation, float), path_m.shape)
    if door.available() and path_m.ndim == 2:
        return Fibres(*door.settle(path_m, slack_m, optimal_m, pennation_rad, act))
    return _settle_by_numpy(path_m, slack_m, optimal_m, pennation_rad, act)


def _settle_by_numpy(path_m: Array, slack_m: Array, optimal_m: Array, pennation_rad: Array, activation: Array) -> Fibres:
    shape = path_m.shape
    width, slack, reach, act = (
        np.broadcast_to(v, shape).ravel() for v in (np.sin(pennation_rad), slack_m / optimal_m, path_m / optimal_m, activation)
    )
    x = _along_path(reach, slack, width, act)
    fibre = np.hypot(x, width)
    force = tendon_force((reach - x) / slack - 1)
    return Fibres(np.maximum(fibre, SHORTEST).reshape(shape), (x / fibre).reshape(shape), np.asarray(force).reshape(shape))


def _along_path(reach: Array, slack: Array, width: Array, activation: Array) -> Array:
    """The fibres' share of the path, in optimal lengths, at which fibres and tendon pull alike; all arguments (n,)."""
    hi = np.maximum(reach - slack, 0.03)
    lo = np.clip(hi - _RUPTURE * slack, 0.02, hi - 0.005)
    x = np.maximum(hi - 0.03 * slack * activation, lo)
    resting = (activation == 0) & (np.hypot(hi, width) <= 1)
    x = np.where(resting, hi, x)
    todo = np.flatnonzero(~resting)
    for _ in range(60):
        if not len(todo):
            break
        here, r, s, w = x[todo], reach[todo], slack[todo], width[todo]
        gap, slope = _gap_and_slope(here, r, s, w, activation[todo])
        low, high = np.where(gap < 0, here, lo[todo]), np.where(gap > 0, here, hi[todo])
        lo[todo], hi[todo] = low, high
        new = here - gap / np.maximum(slope, 1e-6)
        new = np.where((new > low) & (new < high), new, (low + high) / 2)
        x[todo] = new
        todo = todo[np.abs(new - here) > _SETTLED]
    return x


def _gap_and_slope(x: Array, reach: Array, slack: Array, width: Array, activation: Array) -> tuple[Array, Array]:
    """By how much the path is too short for these fibres and the tendon they stretch [optimal lengths], and its slope in x.

    Asked as a length rather than a force: the tendon's stretch is the logarithm of its pull, so the gap is nearly straight and Newton's
    method needs a handful of steps where the exponential would need dozens.
    """
    fibre = np.hypot(x, width)
    cos = x / fibre
    active, active_slope = _active_and_slope(fibre)
    pull = activation * active + passive_force_length(fibre)
    slope = (activation * active_slope + _passive_slope(fibre)) * cos * cos + pull * (1 - cos * cos) / fibre
    stretch = np.log1p(pull * cos / _TENDON_SCALE) / _TENDON_SHAPE
    return x + slack * (1 + stretch) - reach, 1 + slack / _TENDON_SHAPE * slope / (pull * cos + _TENDON_SCALE)
