"""Where a taut cable runs that the body stands in the way of: round it, on the side that faces the pulley."""

from dataclasses import dataclass, replace

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.figure import capsules
from lengthwise.mechanics.equilibrium import Setting

N_ALONG = 17
NEAR_HAND_M, ON_TRUNK_M = 0.2, 0.02
_IN_FIST_M, _NEAR_END_M, _BESIDE_M, _OVER_M = 0.08, 0.03, 0.03, 0.006
_INSIDE_M, _FURTHEST_M, _LEAST_ACROSS, _UNDERFOOT_M = 0.01, 0.35, 0.3, 0.25
"""How deep a line lies in the body before it is led round it, how far at most, and when the pulley is too much in line (own choices)."""
_NEAR_HEAD_M, _KNOT_M, _HEAD_M = 0.15, 0.03, 0.1
_FEW = 64
"""One in so many points of the flesh is enough for its middle."""
_FORWARDS, _LEFT = np.eye(3)[0], np.eye(3)[1]


@dataclass(frozen=True)
class Around:
    """A body that cables are led round.

    Attributes:
        setting: the lift. k: the position. flesh: points of the body there [m], (n, 3).
    """

    setting: Setting
    k: int
    flesh: Array

    def taut(self, hand: Array, end: Array, near_m: float = NEAR_HAND_M) -> Array:
        """A line from a hand to an end (3,), straight where nothing stands in its way, (N_ALONG, 3) [m].

        Args:
            near_m: flesh that is nearer to the hand than this is passed by.
        """
        return self._led(hand, end, _facing(self.flesh, end, _unit(end - hand)), near_m)

    def beside(self, hand: Array, knot: Array) -> Array:
        """One half of a rope from a hand to a knot (3,), led past the head on the hand's side, within the arms, (N_ALONG, 3) [m]."""
        along = _unit(knot - hand)
        way = np.sign(hand[1] - knot[1]) * _LEFT
        inner = replace(self, flesh=self.flesh[np.abs(self.flesh[:, 1] - knot[1]) < _HEAD_M])
        return inner._led(hand, knot, _unit(way - (way @ along) * along), _IN_FIST_M)

    def _led(self, hand: Array, end: Array, way: Array, near_m: float) -> Array:
        long = float(np.linalg.norm(end - hand))
        blocked = long > 2 * near_m and self._stands_between(hand, end, near_m / long)
        return spread(_over(self.flesh, hand, end, way, near_m) if blocked else np.array([hand, end]), N_ALONG)

    def _stands_between(self, hand: Array, end: Array, near: float) -> bool:
        """Whether a straight line goes through the body beyond a share of it at the hand."""
        line = hand + np.linspace(near, 0.97, 40)[:, None] * (end - hand)
        return bool(inside(self.setting, self.k, line).max() > _INSIDE_M)


def spread(corners: Array, n: int) -> Array:
    """Points at n even lengths along a line through corners (n_corner, 3), (n, 3)."""
    s = _lengths(corners)
    return np.column_stack([np.interp(np.linspace(0, s[-1], n), s, corners[:, i]) for i in range(3)])


def _lengths(line: Array) -> Array:
    """How far along a line each of its points is [m], (n,)."""
    return np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])


def _unit(v: Array) -> Array:
    return np.asarray(v / max(float(np.linalg.norm(v)), 1e-9))


def inside(setting: Setting, k: int, points: Array) -> Array:
    """How far points (n, 3) lie within the body at a position, negative outside [m], (n,)."""
    out = np.full(len(points), -np.inf)
    for c in capsules(setting.body, setting.path.q[k]):
        axis = c.ends[1] - c.ends[0]
        t = np.clip((points - c.ends[0]) @ axis / (axis @ axis + 1e-12), 0, 1)
        far = np.linalg.norm(points - c.ends[0] - t[:, None] * axis, axis=1)
        out = np.maximum(out, c.radii[0] + (c.radii[1] - c.radii[0]) * t - far)
    return out


def clear_m(setting: Setting, k: int, hand: Array, end: Array, between_m: tuple[float, float]) -> float:
    """How far from a hand (3,) a straight line to an end has left the body, not less nor more than `between_m` [m]."""
    tried = np.linspace(_NEAR_HEAD_M, between_m[1], 32)
    within = inside(setting, k, hand + tried[:, None] * _unit(end - hand)) > -_KNOT_M
    return float(np.clip(tried[within].max(initial=0.0), *between_m))


def _facing(flesh: Array, end: Array, along: Array) -> Array:
    """The unit vector across the line towards which the body is passed: from its middle to the end, or before it (3,)."""
    way = (end - flesh[::_FEW].mean(0)) * [1, 1, 0]
    wanted = _unit(way) if np.linalg.norm(way) > _UNDERFOOT_M else _FORWARDS
    across = wanted - (wanted @ along) * along
    return _unit(across if np.linalg.norm(across) > _LEAST_ACROSS else _FORWARDS - (_FORWARDS @ along) * along)


def _over(flesh: Array, hand: Array, end: Array, way: Array, near_m: float) -> Array:
    """Corners of the shortest line from hand to end over what stands out from it along `way`, (n_corner, 3)."""
    long = float(np.linalg.norm(end - hand))
    along = (end - hand) / long
    to = flesh - hand
    s, h, beside = to @ along, to @ way, to @ np.cross(along, way)
    own = (np.abs(beside) < _BESIDE_M) & (s > near_m) & (s < long - _NEAR_END_M) & (h > 0) & (h < _FURTHEST_M)
    order = np.flatnonzero(own)[np.argsort(s[own])]
    out = [(0.0, 0.0)]
    for point in [*zip(s[order], h[order] + _OVER_M, strict=True), (long, 0.0)]:
        while len(out) > 1 and _dips(out[-2], out[-1], point):
            out.pop()
        out.append((float(point[0]), float(point[1])))
    return np.array([hand + a * along + b * way for a, b in out])


def _dips(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    """Whether b lies on or below the line from a to c."""
    return (b[1] - a[1]) * (c[0] - a[0]) <= (c[1] - a[1]) * (b[0] - a[0])
