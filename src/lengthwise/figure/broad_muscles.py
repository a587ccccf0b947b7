"""Broad muscles: fibres side by side over ribs, pelvis or shoulder, pushed off what lies beneath."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.figure.obstacles import obstacles
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Part
from lengthwise.figure.skin import Skin, tendon_of
from lengthwise.figure.strands import blurred, fibre_profile, rounded, shared_out, unit
from lengthwise.units import MM

Array = NDArray[np.float64]
N_ALONG, N_ACROSS = 20, 9
_ROUNDS = 14
_TOWARDS = 0.7
_RISE = np.clip((np.minimum(np.arange(N_ALONG), np.arange(N_ALONG)[::-1]) + 0.5) / 4, 0, 1)
"""A sheet lies on the bone where it is attached and rises to its `lift` within four rings (own choice)."""
_FLAT = ("scapula", "clavicle")
_EDGE_M, _UNDER_M, _TYPICAL_M = 0.0012, 0.0018, 0.012


def laid(placed: Placement, part: Part) -> Skin:
    """A sheet in every posture, without its thickness."""
    rows = [shared_out(np.stack([placed.of(p) for p in row], 1), N_ACROSS) for row in part.rows]
    grid = _pushed(rounded(np.stack(rows, 1), N_ALONG, 6), placed, part)
    out = _outwards(grid, placed, part)
    profile = _profile(grid.mean(2), part)
    rim = np.linspace(*part.rim, N_ACROSS)
    edge = rim + (1 - rim) * (1 - np.abs(np.linspace(-1, 1, N_ACROSS)) ** part.edge)
    thick = (profile * edge)[..., None] * _TYPICAL_M
    under, top = grid - out * _UNDER_M, grid + out * _EDGE_M
    u = np.linspace(0, 1, N_ACROSS)
    return Skin(
        thin=np.concatenate([top, under[:, :, ::-1]], 2),
        outwards=np.concatenate([out * thick, np.zeros_like(under)], 2),
        power=1.0,
        tendon=tendon_of(np.concatenate([profile, profile[..., ::-1]], 2), 2.2),
        fibre=np.concatenate([u, u[::-1]]),
    )


def _profile(path: Array, part: Part) -> Array:
    """Relative cross-section along each strand, (n_pos, N_ALONG, N_ACROSS)."""
    start, first = part.belly
    last = first if part.belly_last is None else part.belly_last
    known = {stop: fibre_profile(path, (start, stop), 0.55, part.cuts) for stop in np.linspace(first, last, N_ACROSS)}
    return np.stack([known[stop] for stop in np.linspace(first, last, N_ACROSS)], 2)


def _pushed(grid: Array, placed: Placement, part: Part) -> Array:
    """Strands relaxed to lie `lift` over what they avoid."""
    if not part.avoid:
        return grid
    under, lift = obstacles(placed, part.avoid), part.lift * MM * _RISE[:, None]
    for _ in range(_ROUNDS):
        d, way = under.clearance(grid[:, 1:-1])
        grid[:, 1:-1] += np.maximum(lift[1:-1] - d, 0)[..., None] * way
        grid[:, 1:-1] += 0.25 * (grid[:, :-2] + grid[:, 2:] - 2 * grid[:, 1:-1])
        grid[:, 1:-1, 1:-1] += 0.12 * (grid[:, 1:-1, :-2] + grid[:, 1:-1, 2:] - 2 * grid[:, 1:-1, 1:-1])
    d, way = under.clearance(grid)
    return np.asarray(grid + np.maximum(0.6 * lift - d, 0)[..., None] * way)


def _outwards(grid: Array, placed: Placement, part: Part) -> Array:
    """Smoothed normals of a sheet, drawn towards the way out of what lies beneath it, so that crumpled sheets do not fold over."""
    n = unit(np.cross(np.gradient(grid, axis=1), np.gradient(grid, axis=2)))
    way = obstacles(placed, part.avoid or part.segments).clearance(grid)[1]
    n = n * np.sign((n[0] * way[0]).sum() + 1e-12)
    full = tuple(s for s in part.avoid if s not in _FLAT)
    if full:
        n = n + _TOWARDS * obstacles(placed, full).clearance(grid)[1]
    for _ in range(3):
        n = blurred(blurred(n, 1), 2)
    return unit(n)
