"""Cables and bands from where they hang to the hand, the wrist or the ankle [m]. Sizes from memory."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.figure.gear_pieces import Piece, beam, box, by, cuff, pulley, ring, rod
from lengthwise.figure.stands import column
from lengthwise.mechanics.equilibrium import Setting

Array = NDArray[np.float64]
_HANDS = ("grip", "palm", "fingers", "lever")
_ON_LINE = 0.8
_CLEAR_M, _HIGH_M, _LIMB_M = 0.22, 1.75, 0.075


def cable(setting: Setting, k: int, end: Array, flesh: Array, floor: float) -> list[Piece]:
    """Pulley columns whose stacks have risen as far as the cable was pulled, and the cables to what is held.

    Args:
        end: where the cable of each landmark comes from [m], (n_mark, 3). flesh: the body in every drawn position [m], (n, 3).
    """
    index = [setting.marks.index(m) for m in setting.pull.marks]
    points, ways = setting.seen.points[:, index], setting.seen.frames[k, index, :, 0]
    if len(index) > 1 and np.ptp(end[:, 1]) > 0.3 and not setting.lift.bar:
        return [p for i in range(len(index)) for p in _one(setting, points[:, [i]], ways[[i]], k, end[i], flesh, floor)]
    return _one(setting, points, ways, k, end.mean(0), flesh, floor)


def _one(setting: Setting, points: Array, ways: Array, k: int, end: Array, flesh: Array, floor: float) -> list[Piece]:
    reach = np.linalg.norm(points.mean(1) - end, axis=1)
    away = (end - points.mean((0, 1))) * [1, 1, 0]
    away = away / np.linalg.norm(away) if np.linalg.norm(away) > 0.05 else np.eye(3)[0]
    clear = _CLEAR_M if end[2] < floor + _HIGH_M else max(_CLEAR_M, float((flesh @ away).max() - end @ away) + 0.12)
    out = column(end, away, floor, float(reach[k] - reach.min()), clear)
    out.append(pulley(end, np.cross([0, 0, 1.0], away)))
    return out + held(setting.pull.marks, points[k], ways, end, "rubber", 0.005)


def band(setting: Setting, k: int, end: Array, flesh: Array, floor: float) -> list[Piece]:
    """Elastic bands, each from a hook on a post, or from under a foot."""
    index = [setting.marks.index(m) for m in setting.pull.marks]
    hands, ways = setting.seen.points[k, index], setting.seen.frames[k, index, :, 0]
    out = []
    for i in range(len(hands)):
        out += held(setting.pull.marks[i : i + 1], hands[[i]], ways[[i]], end[i], "band", 0.009)
    near = float(np.linalg.norm(flesh - end.mean(0), axis=1).min())
    return out if near < 0.12 else out + [p for e in _apart(end) for p in _hook(e, hands.mean(0), floor)]


def band_across(setting: Setting, k: int) -> list[Piece]:
    """A band drawn between a landmark and its mirror image."""
    i = setting.marks.index(setting.pull.marks[0])
    at, front = setting.seen.points[k, i], setting.seen.frames[k, i, :, 0]
    if setting.pull.marks[0].startswith(_HANDS):
        return [rod(at, at * [1, -1, 1], 0.009, "band")]
    half = front * _LIMB_M * [1, 0, 1]
    return [ring(at * [1, 0, 1], half, by(0, abs(at[1]) + 0.01, 0), 0.016, "band")]


def held(marks: tuple[str, ...], hands: Array, ways: Array, end: Array, material: str, radius: float) -> list[Piece]:
    """From an end to hands that hold a bar, a rope or a handle, or to a cuff round a limb."""
    if not marks[0].startswith(_HANDS):
        return [p for h in hands for p in (rod(end, h, radius, material), cuff(h, h - end))]
    if len(hands) == 1:
        way = ways[0] / np.linalg.norm(ways[0])
        at = hands[0] + (end - hands[0]) / np.linalg.norm(end - hands[0]) * 0.14
        ends = [hands[0] + s * way * 0.07 for s in (-1, 1)]
        return [rod(ends[0], ends[1], 0.016, "rubber"), *(rod(e, at, 0.006, "rope") for e in ends), rod(end, at, radius, material)]
    line = hands[0] - hands[-1]
    wide = float(np.linalg.norm(line))
    if wide > 0.05 and min(abs(float(w @ line)) / wide / np.linalg.norm(w) for w in ways) > _ON_LINE:
        ends = [h + s * line / wide * 0.12 for h, s in ((hands[0], 1), (hands[-1], -1))]
        return [rod(ends[0], ends[1], 0.014), rod(end, hands.mean(0), radius, material)]
    knot = hands.mean(0)
    knot = knot + (end - knot) / np.linalg.norm(end - knot) * min(0.2, 0.5 * float(np.linalg.norm(end - knot)))
    return [rod(end, knot, radius, material), *(rod(knot, h, 0.012, "rope") for h in hands)]


def _apart(ends: Array) -> list[Array]:
    return [ends.mean(0)] if np.ptp(ends[:, 1]) < 0.3 else list(ends)


def _hook(end: Array, hand: Array, floor: float) -> list[Piece]:
    """A post with a hook; a short one where the band comes from the floor."""
    away = (end - hand) * [1, 1, 0]
    away = away / np.linalg.norm(away) if np.linalg.norm(away) > 0.05 else np.eye(3)[0]
    foot = np.array([*(end + away * 0.06)[:2], floor])
    top = foot + by(0, 0, max(end[2] - floor + 0.12, 0.1))
    return [
        beam(foot, top, 0.05),
        rod(end, [foot[0], foot[1], end[2]], 0.012),
        Piece("frame", box((0.3, 0.3, 0.03), foot + by(0, 0, 0.015))),
    ]
