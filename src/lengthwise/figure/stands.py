"""What stands in a gym: benches on their frames, racks, pulley columns, blocks, shoulder pads [m]. Sizes from memory."""

from dataclasses import replace

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.gear_pieces import Piece, beam, box, by, plate, rod
from lengthwise.figure.touching import roller_middle, underside

_BOARD_M, _WIDE_M, _BEYOND_M, _WHEELS_OUT_M, _LEG_BACK_M = 0.07, 0.30, 0.11, 0.12, 0.15
_RAIL_OUT_M, _RAIL_OVER_M, _POST_OVER_M = 0.6, 0.3, 0.2
_ROLLER_M, _SOLE_M = 0.05, 0.03
_LEFT = np.array([0.0, 1.0, 0.0])
_LEVEL, _EVEN_M = 0.95, 0.1
_DOWNWARDS = -0.3
"""A pad that pushes down holds a thigh or a back: it has no legs and is half clear, since it lies on what may be taught."""
_WEIGHTS, _SHOWN_LIFTED = 14, 9
_BEHIND = -0.7
"""A column that does not stand so much behind the body or on its left is half clear, since it may hide it (own choice)."""


def bench(push: Array, points: Array, flesh: Array, floor: float) -> list[Piece]:
    """A padded board that touches the flesh behind landmarks (n, 3) which rest on it, on a frame with feet."""
    n = push / np.linalg.norm(push)
    t, across, middle = _laid(points, n)
    along, aside = points @ t, (points - middle) @ across
    low, high = along.min() - _BEYOND_M, along.max() + _BEYOND_M
    wide = max(_WIDE_M, 2 * float(np.abs(aside).max()) + 0.1)
    top = underside(flesh, points, n)
    centre = across * float(middle @ across)
    mid = centre + t * (low + high) / 2 + n * (top - _BOARD_M / 2)
    out = [Piece("pad", box((high - low, wide, _BOARD_M), mid, t, across, n))]
    if n[2] < _DOWNWARDS:
        return [replace(out[0], clear=True), *_held_down(mid - n * _BOARD_M / 2, wide, floor)]
    under = [centre + t * (low + (high - low) * s) + n * (top - _BOARD_M - 0.02) for s in (0.15, 0.85)]
    out.append(beam(under[0], under[1], 0.05))
    return out + (_two_feet(under, across, floor) if n[2] > _LEVEL else _one_foot(under, n, floor))


def _laid(points: Array, n: Array) -> tuple[Array, Array, Array]:
    """Which way a board under points (n, 3) is long and which way it is wide, and a place on its middle line, (3,) each.

    It lies along the body's front and back, about the body's middle; where the points do not mirror one another, about their own, and across
    where they lie so: under a body on its side.
    """
    t = np.cross(n, _LEFT)
    t /= np.linalg.norm(t)
    t = -t if t[2] < -1e-6 or (abs(t[2]) < 1e-6 and t[0] < 0) else t
    twins = np.linalg.norm(points[:, None] * [1, -1, 1] - points, axis=-1).min(1)
    if twins.max() < _EVEN_M:
        return t, np.cross(n, t), np.zeros(3)
    middle = (points.min(0) + points.max(0)) / 2
    lies_across = n[2] > _LEVEL and float(np.ptp(points[:, 1])) > float(np.ptp(points @ t))
    return (_LEFT, np.cross(n, _LEFT), middle) if lies_across else (t, np.cross(n, t), middle)


def roller(push: Array, points: Array, flesh: Array, floor: float) -> list[Piece]:
    """A round pad across both limbs that it holds, on a post beside them."""
    n = push / np.linalg.norm(push)
    mids = np.array([roller_middle(flesh, p, n, _LEFT, _ROLLER_M) for p in points])
    mid = mids.mean(0)
    ends = [np.array([mid[0], y, mid[2]]) for y in (mids[:, 1].min() - 0.08, mids[:, 1].max() + 0.08)]
    foot = np.array([mid[0], ends[1][1] + 0.06, floor + 0.02])
    hold = foot * [1, 1, 0] + [0, 0, mid[2]]
    return [
        rod(ends[0], ends[1], _ROLLER_M, "pad"),
        rod(ends[0], hold, 0.014),
        beam(hold, foot, 0.045),
        beam(foot - by(0.2, 0, 0), foot + by(0.2, 0, 0), 0.045),
    ]


def _held_down(mid: Array, wide: float, floor: float) -> list[Piece]:
    """A post in front of a pad that holds thighs down, beyond the left knee."""
    y = mid[1] + wide / 2 + 0.06
    side, foot = np.array([mid[0], y, mid[2]]), np.array([mid[0], y, floor + 0.02])
    return [beam(mid, side, 0.04), beam(side, foot, 0.04)]


def _two_feet(under: list[Array], across: Array, floor: float) -> list[Piece]:
    out = []
    for u in under:
        foot = np.array([u[0], u[1], floor + 0.02])
        out += [beam(u, foot + by(0, 0, 0.02), 0.05), beam(foot - across * 0.24, foot + across * 0.24, 0.05)]
    return out


def _one_foot(under: list[Array], n: Array, floor: float) -> list[Piece]:
    """A leg behind a leaning or upright board, down to the floor."""
    hold = under[1] * 0.6 + under[0] * 0.4
    foot = np.array([hold[0] - 0.22 * np.sign(n[0] or 1.0), hold[1], floor + 0.02])
    cross = [beam(foot - by(0, 0.26, 0), foot + by(0, 0.26, 0), 0.05)]
    return [beam(hold, foot, 0.05), *cross]


def block(points: Array, push: Array, flesh: Array, floor: float) -> list[Piece]:
    """A block that touches the soles at landmarks (n, 3), or a plate that leans against them."""
    low, high = points.min(0), points.max(0)
    wide = high[1] - low[1] + 0.24
    if push[2] > 0.85:
        top = underside(flesh, points, np.array([0.0, 0, 1]), _SOLE_M, _SOLE_M)
        size = (max(high[0] - low[0] + 0.16, 0.2), wide, max(top - floor, 0.02))
        return [Piece("frame", box(size, [(low[0] + high[0]) / 2 + 0.02, (low[1] + high[1]) / 2, top - size[2] / 2]))]
    t = np.cross([0, 1.0, 0], push)
    mid = points.mean(0) * [1, 0, 1] + [0, (low[1] + high[1]) / 2, 0] - push * 0.02
    tall = float(np.ptp(points @ t)) + 0.2
    plate = Piece("frame", box((tall, wide, 0.03), mid, t, np.cross(push, t), push))
    back = mid - push * 0.03
    return [plate, *(_leg(back + by(0, s * wide * 0.35, 0), push, floor) for s in (-1, 1))]


def _leg(hold: Array, push: Array, floor: float) -> Piece:
    """A leg behind a plate that leans, down to the floor."""
    return beam(hold, [hold[0] - _LEG_BACK_M * np.sign(push[0] or 1.0), hold[1], floor], 0.045)


def bar_rack(left: Array, right: Array, floor: float) -> list[Piece]:
    """A bar through two hands on two posts that one can look through, so that they hide nobody from the side."""
    axis, mid = (left - right) / np.linalg.norm(left - right), (left + right) / 2
    ends = (mid + axis * 0.62, mid - axis * 0.62)
    out = [rod(ends[0], ends[1], 0.016)]
    for p in ends:
        foot = np.array([p[0], p[1], floor + 0.03])
        out.append(replace(beam(foot, p + by(0, 0, 0.06), 0.05), clear=True))
        out += [beam(foot - by(0.4, 0, 0), foot + by(0.4, 0, 0), 0.05)]
    return out


def bar_rails(hands: Array, floor: float) -> list[Piece]:
    """Two upright rails that guide a bar through all places of two hands or shoulders (n_pos, 2, 3), within its plates, half clear."""
    x, tall = float(hands[..., 0].mean()), float(hands[..., 2].max()) + _RAIL_OVER_M
    feet = [by(x, s * _RAIL_OUT_M, floor + 0.03) for s in (-1, 1)]
    tops = [by(x, s * _RAIL_OUT_M, tall) for s in (-1, 1)]
    rails = [replace(beam(a, b, 0.04), clear=True) for a, b in (*zip(feet, tops, strict=True), tops)]
    return rails + [beam(f - by(0.45, 0, 0), f + by(0.45, 0, 0), 0.05) for f in feet]


def upright(hand: Array, high: float, floor: float) -> list[Piece]:
    """A post on the floor through a hand (3,) that steadies itself at it, up to over its highest place."""
    foot = np.array([hand[0], hand[1], floor])
    return [rod(foot, [*hand[:2], high + _POST_OVER_M], 0.017), Piece("frame", box((0.3, 0.3, 0.03), foot + by(0, 0, 0.015)))]


def rolling_bar(hands: Array, floor: float) -> list[Piece]:
    """A bar through hands (n, 3) on two wheels beyond them that stand on the floor."""
    mid, out = hands.mean(0), float(np.ptp(hands[:, 1])) / 2
    ends = [mid + by(0, s * (out + _WHEELS_OUT_M), 0) for s in (-1, 1)]
    wheels = [plate(e, _LEFT, float(mid[2]) - floor, 0.035) for e in ends]
    return [rod(ends[0] - by(0, 0.03, 0), ends[1] + by(0, 0.03, 0), 0.016), *wheels]


def column(end: Array, away: Array, floor: float, travel: float, clear: float = 0.16, tall: float = 2.05) -> list[Piece]:
    """A pulley column `clear` behind the cable's end, its stack risen by `travel`, at least `tall` over the floor [m]."""
    across, base = np.cross([0, 0, 1.0], away), end + away * clear
    top = max(end[2] + 0.25, floor + tall)

    def at(sideways: float, height: float) -> Array:
        return np.array([*(base + across * sideways)[:2], height])

    out = [beam(at(s * 0.17, floor), at(s * 0.17, top), 0.05) for s in (-1, 1)]
    out += [beam(at(-0.17, top), at(0.17, top), 0.05), beam(at(-0.3, floor + 0.025), at(0.3, floor + 0.025), 0.05)]
    out += [rod(at(s * 0.06, floor), at(s * 0.06, top), 0.009) for s in (-1, 1)]
    for k in range(_WEIGHTS):
        height = floor + 0.09 + 0.042 * k + (min(travel, 1.2) if k >= _SHOWN_LIFTED else 0.0)
        out.append(Piece("iron", box((0.10, 0.24, 0.038), at(0, height), away, across)))
    stem = min(floor + 0.09 + 0.042 * _WEIGHTS + min(travel, 1.2), top - 0.01)
    out += [rod(at(0, stem), at(0, top), 0.004, "rubber"), beam(end, at(0, end[2]), 0.03)]
    return [replace(p, clear=bool(away[0] > _BEHIND and away[1] < -_BEHIND)) for p in out]


def shoulder_pads(tops: Array, flesh: Array, floor: float) -> list[Piece]:
    """Pads on both shoulders, on arms from a half clear post in front."""
    post = np.array([tops[:, 0].mean() + 0.75, 0.0, floor])
    up = by(0, 0, 1)
    tops = np.array([[p[0], p[1], -underside(flesh, p[None], -up, 0.045)] for p in tops])
    high = float(tops[:, 2].max()) + 0.08
    out = []
    for p in tops:
        out.append(Piece("pad", box((0.2, 0.11, 0.07), p + by(-0.01, 0, 0.035))))
        out.append(beam(p + by(0.0, 0, 0.08), [post[0], p[1] * 0.9, p[2] + 0.08], 0.045))
    out.append(beam([post[0], tops[0, 1] * 0.9, high], [post[0], tops[1, 1] * 0.9, high], 0.045))
    out.append(replace(beam(post, [post[0], 0.0, high], 0.06), clear=True))
    feet = (
        beam(post + by(0, -0.35, 0.03), post + by(0, 0.35, 0.03), 0.06),
        beam(post + by(0.1, 0, 0.03), post + by(-0.5, 0, 0.03), 0.06),
    )
    return [*out, *feet]
