"""Lines through places: evenly spaced, rounded and blurred, many at once."""

from functools import cache

import numpy as np

from lengthwise.arrays import Array

_DENSE = 48


def shared_out(corners: Array, n: int) -> Array:
    """Points at n even shares of a row's corners, (n_pos, n_corner, 3) to (n_pos, n, 3)."""
    x, u = np.linspace(0, 1, corners.shape[1]), np.linspace(0, 1, n)
    k = np.clip(np.searchsorted(x, u, side="right") - 1, 0, len(x) - 2)
    w = ((u - x[k]) / (x[k + 1] - x[k]))[None, :, None]
    return np.asarray(corners[:, k] * (1 - w) + corners[:, k + 1] * w)


def lengths(strands: Array) -> Array:
    """How far along its strand each place lies [m], (n_pos, n_row, n_strand)."""
    step = np.maximum(np.linalg.norm(np.diff(strands, axis=1), axis=-1), 1e-7)
    return np.concatenate([np.zeros_like(step[:, :1]), np.cumsum(step, 1)], 1)


def evenly(strands: Array, n: int) -> Array:
    """Strands (n_pos, n_row, n_strand, 3) at n places of equal length along each, (n_pos, n, n_strand, 3)."""
    return at_shares(strands, np.linspace(0, 1, n)[None, :, None])


def at_shares(strands: Array, shares: Array) -> Array:
    """Strands (n_pos, n_row, n_strand, 3) at shares of their lengths that rise along each, (n_pos or 1, n, n_strand or 1)."""
    s = lengths(strands)
    wanted = shares * s[:, -1:]
    k = (s[:, None, 1:-1] <= wanted[:, :, None]).sum(2) if s.shape[1] > 2 else np.zeros(wanted.shape, int)
    low, high = np.take_along_axis(s, k, 1), np.take_along_axis(s, k + 1, 1)
    w = ((wanted - low) / (high - low))[..., None]
    a, b = (np.take_along_axis(strands, (k + i)[..., None], 1) for i in (0, 1))
    return np.asarray(a * (1 - w) + b * w)


def rounded(strands: Array, n: int, times: int) -> Array:
    """As `evenly`, the corners at the rows rounded `times` over."""
    fine = evenly(strands, _DENSE)
    shape = fine.shape
    return evenly((_rounding(times) @ fine.reshape(shape[0], _DENSE, -1)).reshape(shape), n)


@cache
def _rounding(times: int) -> Array:
    """What a point of a dense strand takes from each, rounded `times` over, (_DENSE, _DENSE)."""
    fine = np.eye(_DENSE)
    for _ in range(times):
        fine[1:-1] += 0.45 * (fine[:-2] + fine[2:] - 2 * fine[1:-1])
    for _ in range(2 * times):
        fine[2:-2] += 0.2 * (fine[:-4] + fine[4:] - 2 * fine[2:-2])
    return fine


def blurred(v: Array, axis: int) -> Array:
    """Each value averaged with its neighbours along an axis."""
    a = v.swapaxes(0, axis)
    b = a.copy()
    b[1:-1] = 0.25 * a[:-2] + 0.5 * a[1:-1] + 0.25 * a[2:]
    b[0], b[-1] = 0.6 * a[0] + 0.4 * a[1], 0.6 * a[-1] + 0.4 * a[-2]
    return b.swapaxes(0, axis)


@cache
def blurring(n: int, times: int) -> Array:
    """What each of n values takes from each when blurred `times` over, (n, n)."""
    out = np.eye(n)
    for _ in range(times):
        out = blurred(out, 0)
    return out


def unit(v: Array) -> Array:
    """Vectors at unit length."""
    return np.asarray(v / np.maximum(np.linalg.norm(v, axis=-1, keepdims=True), 1e-9))


def across(v: Array, along: Array) -> Array:
    """What is left of vectors at right angles to unit vectors."""
    return np.asarray(v - (v * along).sum(-1, keepdims=True) * along)


def fibre_profile(path: Array, belly: tuple[float, float], power: float, cuts: tuple[float, ...]) -> Array:
    """Relative cross-section along a path, (n_pos, n): none in the tendons, which keep their length of the first posture.

    Args:
        path: (n_pos, n, 3). belly: where the fibres lie along the first posture's path, 0-1.
        power: of the sine that the belly follows. cuts: where tendinous intersections narrow it, 0-1 along the fibres.
    """
    step = np.linalg.norm(np.diff(path, axis=1), axis=-1)
    s = np.concatenate([np.zeros((len(path), 1)), np.cumsum(step, 1)], 1)
    rest, whole = s[0, -1], s[:, -1]
    start = np.minimum(belly[0] * rest, 0.35 * whole)
    stop = np.maximum(whole - (1 - belly[1]) * rest, start + 0.3 * whole)
    x = np.clip((s - start[:, None]) / (stop - start)[:, None], 0, 1)
    f = np.maximum(np.sin(np.pi * x), 0) ** power
    for cut in cuts:
        f = f * (1 - 0.6 * np.exp(-(((x - cut) / 0.03) ** 2)))
    return np.asarray(f)
