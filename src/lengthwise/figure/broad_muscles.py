"""Broad muscles: fibres side by side over ribs, pelvis or shoulder, pushed off what lies beneath; sheets of one mass as one."""

from collections.abc import Sequence

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.obstacles import obstacles
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Part
from lengthwise.figure.skin import Skin, tendon_of
from lengthwise.figure.strands import at_shares, blurring, fibre_profile, lengths, rounded, shared_out, unit
from lengthwise.units import MM

N_ALONG, N_ACROSS = 20, 9
_ROUNDS = 14
_TOWARDS, _SMOOTHED = 0.7, 9
_SIDED, _OWN_SIDE, _DEEP_M = 3, 3.0, (0.004, 0.010)
"""In so many first rounds, how much a sheet's own side counts beside the nearest way out, and how deep that begins and is whole (own choices)."""
_RISE = np.clip((np.minimum(np.arange(N_ALONG), np.arange(N_ALONG)[::-1]) + 0.5) / 4, 0, 1)
"""A sheet lies on the bone where it is attached and rises to its `lift` within four rings (own choice)."""
_FLAT = ("scapula", "clavicle")
_EDGE_M, _UNDER_M, _TYPICAL_M = 0.0012, 0.0018, 0.012


def laid(placed: Placement, mass: Sequence[Part]) -> list[Skin]:
    """The sheets of a mass in every posture, side by side with a strand in common, without their thickness."""
    rows = [[shared_out(np.stack([placed.of(p) for p in row], 1), N_ACROSS) for row in part.rows] for part in mass]
    grid = _pushed(_joined([rounded(np.stack(own, 1), N_ALONG, 6) for own in rows]), placed, mass)
    out = _outwards(grid, placed, mass)
    profile = _joined([_profile(own.mean(2), part)[..., None] for own, part in zip(_each(grid), mass, strict=True)])
    each = zip(mass, _each(grid), _each(out), _each(profile), _edges(mass), strict=True)
    return [_skin(part, own, way * edge[..., None], flesh[..., 0]) for part, own, way, flesh, edge in each]


def _skin(part: Part, grid: Array, out: Array, profile: Array) -> Skin:
    under, top = grid - out * _UNDER_M, grid + out * _EDGE_M
    thick = out * profile[..., None] * _TYPICAL_M
    u = np.linspace(0, 1, N_ACROSS)
    return Skin(
        thin=np.concatenate([top, under[:, :, ::-1]], 2),
        outwards=np.concatenate([thick, -part.under * thick[:, :, ::-1]], 2),
        power=1.0,
        tendon=tendon_of(np.concatenate([profile, profile[..., ::-1]], 2), 2.2),
        fibre=np.concatenate([u, u[::-1]]),
    )


def _joined(grids: list[Array]) -> Array:
    """Sheets (n_pos, N_ALONG, N_ACROSS, k) as one, where they meet half-way between them."""
    out = grids[0]
    for own in grids[1:]:
        seam = 0.5 * (out[:, :, -1:] + own[:, :, :1])
        out = np.concatenate([out[:, :, :-1], seam, own[:, :, 1:]], 2)
    return out


def _each(grid: Array) -> list[Array]:
    """The sheets of a mass again, each with the strands that it shares."""
    n = N_ACROSS - 1
    return [grid[:, :, k : k + N_ACROSS] for k in range(0, grid.shape[2] - 1, n)]


def _edges(mass: Sequence[Part]) -> list[Array]:
    """How thick each sheet is from side to side, 0-1: thin at the sides of the mass alone."""
    out, last = [], len(mass) - 1
    for k, part in enumerate(mass):
        rim = np.linspace(1.0 if k else part.rim[0], part.rim[1] if k == last else 1.0, N_ACROSS)
        out.append(rim + (1 - rim) * (1 - np.abs(np.linspace(-1, 1, N_ACROSS)) ** part.edge))
    return out


def _profile(path: Array, part: Part) -> Array:
    """Relative cross-section along each strand, (n_pos, N_ALONG, N_ACROSS)."""
    start, first = part.belly
    last = first if part.belly_last is None else part.belly_last
    known = {stop: fibre_profile(path, (start, stop), 0.55, part.cuts) for stop in np.linspace(first, last, N_ACROSS)}
    return np.stack([known[stop] for stop in np.linspace(first, last, N_ACROSS)], 2)


def _pushed(grid: Array, placed: Placement, mass: Sequence[Part]) -> Array:
    """Strands relaxed to lie `lift` over what they avoid."""
    avoid = _avoided(mass)
    if not avoid:
        return grid
    each = [np.full((1, 1, N_ACROSS, 1), part.lift * MM) for part in mass]
    under, lift = obstacles(placed, avoid), _RISE[:, None] * _joined(each)[0, 0, :, 0]
    for k in range(_ROUNDS):
        d, way = under.clearance(grid[:, 1:-1])
        way = _on_own_side(grid, d, way) if k < _SIDED else way
        grid[:, 1:-1] += np.maximum(lift[1:-1] - d, 0)[..., None] * way
        grid[:, 1:-1] += 0.25 * (grid[:, :-2] + grid[:, 2:] - 2 * grid[:, 1:-1])
        grid[:, 1:-1, 1:-1] += 0.12 * (grid[:, 1:-1, :-2] + grid[:, 1:-1, 2:] - 2 * grid[:, 1:-1, 1:-1])
    grid = _spread(grid) if mass[0].spread else grid
    d, way = under.clearance(grid)
    return np.asarray(grid + np.maximum(0.6 * lift - d, 0)[..., None] * way)


def _on_own_side(grid: Array, d: Array, way: Array) -> Array:
    """Ways out, (n_pos, N_ALONG - 2, n, 3), of what lies deep turned to the sheet's own outer side, so that no strand goes round behind."""
    n = unit(np.cross(np.gradient(grid, axis=1), np.gradient(grid, axis=2)))[:, 1:-1]
    n = n * np.sign((n[0] * way[0]).sum() + 1e-12)
    deep = np.clip((-d - _DEEP_M[0]) / (_DEEP_M[1] - _DEEP_M[0]), 0, 1)
    return unit(way + _OWN_SIDE * deep[..., None] * n)


def _spread(grid: Array) -> Array:
    """Strands as far apart on the way as their attachments ask, so that a sheet is nowhere much thinner than its neighbour."""
    across = grid.swapaxes(1, 2)
    width = lengths(across)
    share = width / width[:, -1:]
    u = np.linspace(0, 1, N_ALONG)
    return at_shares(across, share[:, :, :1] * (1 - u) + share[:, :, -1:] * u).swapaxes(1, 2)


def _avoided(mass: Sequence[Part]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(s for part in mass for s in part.avoid))


def _outwards(grid: Array, placed: Placement, mass: Sequence[Part]) -> Array:
    """Smoothed normals of a mass, drawn towards the way out of what lies beneath it, so that crumpled sheets do not fold over."""
    avoid = _avoided(mass)
    n = unit(np.cross(np.gradient(grid, axis=1), np.gradient(grid, axis=2)))
    way = obstacles(placed, avoid or mass[0].segments).clearance(grid)[1]
    n = n * np.sign((n[0] * way[0]).sum() + 1e-12)
    full = tuple(s for s in avoid if s not in _FLAT)
    if full:
        n = n + _TOWARDS * obstacles(placed, full).clearance(grid)[1]
    along, across = blurring(N_ALONG, _SMOOTHED), blurring(n.shape[2], _SMOOTHED)
    return unit(across @ (along @ n.reshape(*n.shape[:2], -1)).reshape(n.shape))
