"""Carriages on rails: foot plates and shoulder pads that slide, the rails, and what carries them [m]. Sizes from memory."""

from dataclasses import replace

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.gear_pieces import Piece, beam, box, plate, rod
from lengthwise.figure.hung import fists
from lengthwise.figure.touching import underside
from lengthwise.mechanics.equilibrium import Setting

_BESIDE_M, _RAIL_M = 0.34, 0.022
_LEFT = np.array([0.0, 1.0, 0.0])


def sled(setting: Setting, k: int, flesh: Array, floor: float) -> list[Piece]:
    """The carriage of a lift at a position, on its rails.

    Args:
        flesh: points of the body there [m], (n, 3). floor: its height [m].
    """
    rail = setting.pull.rail
    assert rail is not None
    index = [setting.marks.index(m) for m in setting.pull.marks]
    points, way = setting.seen.points[:, index].mean(1) * [1, 0, 1], rail[k, 0]
    travel = np.array([points[0], points[-1]]) @ way
    on_feet = not setting.pull.marks[0].startswith("shoulder")
    own = setting.seen.points[k, index]
    make = _foot_plate if on_feet else _shoulders
    carriage, middle = make(setting, own, flesh, way)
    step = middle - way * float(middle @ way)
    low, high = step + way * (float(travel.min()) - (0.15 if on_feet else 0.75)), step + way * (float(travel.max()) + 0.35)
    if not on_feet:
        carriage += fists(setting, k, np.array([p * [1, s, 1] - way * 0.02 for p in own for s in (1, -1)]))
    return carriage + _rails(low, high, floor) + ([] if setting.lift.resistance.stack_ratio else _weights(middle))  # type: ignore[union-attr]


def _foot_plate(setting: Setting, marks: Array, flesh: Array, way: Array) -> tuple[list[Piece], Array]:
    """A plate under the soles, with a carriage behind it."""
    n = _sole(marks, way)
    both = np.concatenate([marks, marks * [1, -1, 1]])
    t = np.cross(_LEFT, n)
    tall = float(np.ptp(both @ t)) + 0.16
    mid = both.mean(0)
    mid = mid + n * (underside(flesh, both, n, 0.05, 0.1) - float(mid @ n) - 0.02)
    middle = mid - n * 0.16
    out = [Piece("frame", box((tall, 0.62, 0.035), mid, t, _LEFT, n))]
    out += [beam(mid + _LEFT * s * 0.2 + t * h, middle + _LEFT * s * 0.2, 0.045) for s in (-1, 1) for h in (-0.12, 0.12)]
    return [*out, rod(middle - _LEFT * 0.5, middle + _LEFT * 0.5, 0.025)], middle


def _sole(marks: Array, way: Array) -> Array:
    """The plane of the soles, square to it towards the body, (3,)."""
    flat = np.linalg.svd(marks[:, [0, 2]] - marks[:, [0, 2]].mean(0))[2][-1]
    n = np.array([flat[0], 0.0, flat[1]])
    return np.asarray(n * (-1 if n @ way > 0 else 1))


def _shoulders(setting: Setting, tops: Array, flesh: Array, way: Array) -> tuple[list[Piece], Array]:
    """Pads over the shoulders on a carriage behind the back."""
    both = np.concatenate([tops, tops * [1, -1, 1]])
    back = np.cross(_LEFT, way)
    back = back * (-1 if back[0] > 0 else 1)
    behind = float((flesh[np.abs(flesh @ way - float((both @ way).mean())) < 0.5] @ back).max()) + 0.1
    out = []
    for p in both:
        top = p - way * (underside(flesh, p[None], -way) + float(p @ way)) + way * 0.04
        out += [
            Piece("pad", box((0.22, 0.11, 0.08), top, back, _LEFT, way)),
            beam(top + back * 0.08, top + back * (behind - float(top @ back)), 0.045),
        ]
    middle = both.mean(0) + back * (behind - float(both.mean(0) @ back))
    return [*out, rod(middle - _LEFT * 0.5, middle + _LEFT * 0.5, 0.025)], middle


def _weights(middle: Array) -> list[Piece]:
    return [plate(middle + _LEFT * s * (0.42 + 0.05 * i), _LEFT, 0.2, 0.04) for s in (-1, 1) for i in range(2)]


def _rails(low: Array, high: Array, floor: float) -> list[Piece]:
    """Two rails, each on a leg at both ends, half clear where they stand before the body."""
    out = []
    for s in (-1, 1):
        a, b = low + _LEFT * s * _BESIDE_M, high + _LEFT * s * _BESIDE_M
        out.append(replace(rod(a, b, _RAIL_M), clear=True))
        for end in (a, b):
            if end[2] > floor + 0.1:
                out.append(replace(beam([end[0], end[1], floor + 0.03], end, 0.05), clear=True))
        out.append(beam([a[0], a[1], floor + 0.03], [b[0], b[1], floor + 0.03], 0.05))
    ends = [e * [1, 0, 1] for e in (low, high)]
    return out + [beam([e[0], -_BESIDE_M, floor + 0.03], [e[0], _BESIDE_M, floor + 0.03], 0.05) for e in ends]
