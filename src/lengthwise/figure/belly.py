"""Muscles with one belly: a flattened spindle along a path, its tendons thin."""

from collections.abc import Sequence

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.obstacles import obstacles
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Part
from lengthwise.figure.skin import Skin, tendon_of
from lengthwise.figure.strands import across, blurred, fibre_profile, rounded, unit

N_ALONG, N_ROUND = 20, 12
_OVER_BONE_M = 0.006
_TENDON_M2, _STRONG_TENDON_M2 = 16e-6, 45e-6
_TYPICAL_M2 = 2e-3
_SLIM, _BROAD = 0.8, 0.5
"""A broad, flat belly ends bluntly, a round one tapers: powers of the sine that it follows (own choices)."""
STRONG = ("rectus_femoris", "vastus_lateralis", "vastus_medialis", "vastus_intermedius", "soleus")
"""Heads whose drawn tendon is thick; sections of tendons are own choices."""


def laid(placed: Placement, some: Sequence[Part]) -> list[Skin]:
    """Bellies in every posture, without their thickness, about their middles; all worked out together."""
    path = np.stack(middles(placed, some))
    along, out = axes(path, placed, some)
    flatness = np.array([p.flat for p in some])
    powers = _SLIM + (_BROAD - _SLIM) * np.clip((flatness - 1.5) / 2, 0, 1)
    profile = np.stack([fibre_profile(own, p.belly, n, p.cuts) for own, p, n in zip(path, some, powers, strict=True)])
    flat = 3.0 + (flatness[:, None, None] - 3.0) * np.clip(profile * 2.5, 0, 1)
    angle = np.linspace(0, 2 * np.pi, N_ROUND, endpoint=False)
    sine = np.sin(angle) * np.where(np.sin(angle) < 0, 0.8, 1.08)
    wide, thick = np.sqrt(flat / np.pi)[..., None, None], np.sqrt(1 / flat / np.pi)[..., None, None]
    round_ = wide * np.cos(angle)[:, None] * np.cross(along, out)[..., None, :] + thick * sine[:, None] * out[..., None, :]
    ends = np.clip(np.minimum(np.arange(N_ALONG), np.arange(N_ALONG)[::-1]) / 1.5, 0.3, 1)[:, None, None]
    tendon = np.sqrt([_STRONG_TENDON_M2 if p.head in STRONG else _TENDON_M2 for p in some])[:, None, None, None, None]
    fleshy, share = np.sqrt(profile * _TYPICAL_M2)[..., None, None], np.clip(profile * 3, 0, 1)[..., None, None]
    thin, outwards = path[..., None, :] + ends * ((1 - share) * tendon + share * 1e-3) * round_, ends * fleshy * round_
    tendons = [tendon_of(np.repeat(own[..., None], N_ROUND, 2), 3.0) for own in profile]
    each = zip(thin, outwards, tendons, strict=True)
    return [Skin(thin=t, outwards=o, power=0.5, tendon=own, fibre=angle / np.pi) for t, o, own in each]


def middle(placed: Placement, part: Part) -> Array:
    """The path of a belly's middle in every posture [m], (n_pos, N_ALONG, 3)."""
    return middles(placed, (part,))[0]


def middles(placed: Placement, some: Sequence[Part]) -> list[Array]:
    """As `middle`, of several bellies; those with as many places are rounded together."""
    lines: dict[Part, Array] = {}
    for n in dict.fromkeys(len(p.rows[0]) for p in some):
        own = [p for p in some if len(p.rows[0]) == n]
        rows = np.stack([np.stack([placed.of(place) for place in p.rows[0]], 1) for p in own], 2)
        lines |= dict(zip(own, np.moveaxis(rounded(rows, N_ALONG, 10), 2, 0), strict=True))
    return [_over_bones(placed, p, lines[p]) for p in some]


def _over_bones(placed: Placement, part: Part, path: Array) -> Array:
    """A path drawn out of what it avoids, (n_pos, N_ALONG, 3)."""
    line = path.copy()
    if part.avoid:
        under = obstacles(placed, part.avoid)
        for _ in range(8):
            d, way = under.clearance(line[:, 1:-1])
            line[:, 1:-1] += np.maximum(_OVER_BONE_M - d, 0)[..., None] * way
            line[:, 1:-1] += 0.2 * (line[:, :-2] + line[:, 2:] - 2 * line[:, 1:-1])
    return line


def axes(path: Array, placed: Placement, some: Sequence[Part]) -> tuple[Array, Array]:
    """Unit vectors along paths and outwards from what pushes them, else from their bones, both (n_part, n_pos, n, 3)."""
    along = unit(np.gradient(path, axis=2))
    ways = [obstacles(placed, p.avoid or p.segments).clearance(own)[1] for p, own in zip(some, path, strict=True)]
    out = across(np.stack(ways), along)
    for _ in range(6):
        out = blurred(unit(out), 2)
    return along, unit(across(out, along))
