"""Cables and bands from where they hang to the hand, the wrist or the ankle [m]. Sizes from memory."""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.gear_pieces import Piece, beam, box, by, cuff, pulley, ring, rod
from lengthwise.figure.hung import fist_middles
from lengthwise.figure.meshes import tube
from lengthwise.figure.routing import N_ALONG, NEAR_HAND_M, ON_TRUNK_M, Around, clear_m, spread
from lengthwise.figure.stands import column
from lengthwise.mechanics.equilibrium import Setting

_HANDS = ("grip", "palm", "fingers", "lever")
_TRUNK = ("bar_", "hip_crease")
_ON_LINE = 0.8
_CLEAR_M, _HIGH_M, _LIMB_M = 0.22, 1.75, 0.075
_STIRRUP_M, _ROPES_M, _LOOKED_AT = 0.14, (0.36, 0.62), 5


def cable(around: Around, end: Array, whole: Array, floor: float) -> list[Piece]:
    """Pulley columns whose stacks have risen as far as the cable was pulled, and the cables to what is held.

    Args:
        around: the body at the position that is drawn. whole: the body in every drawn position [m], (n, 3).
        end: where the cable of each landmark comes from [m], (n_mark, 3).
    """
    setting, k = around.setting, around.k
    index = [setting.marks.index(m) for m in setting.pull.marks]
    points, ways = setting.seen.points[:, index], setting.seen.frames[k, index, :, 0]
    if len(index) > 1 and np.ptp(end[:, 1]) > 0.3 and not setting.lift.bar:
        return [p for i in range(len(index)) for p in _one(around, points[:, [i]], ways[[i]], end[i], whole, floor)]
    return _one(around, points, ways, end.mean(0), whole, floor)


def _one(around: Around, points: Array, ways: Array, end: Array, whole: Array, floor: float) -> list[Piece]:
    reach = np.linalg.norm(points.mean(1) - end, axis=1)
    away = (end - points.mean((0, 1))) * [1, 1, 0]
    away = away / np.linalg.norm(away) if np.linalg.norm(away) > 0.05 else np.eye(3)[0]
    clear = _CLEAR_M if end[2] < floor + _HIGH_M else max(_CLEAR_M, float((whole @ away).max() - end @ away) + 0.12)
    out = column(end, away, floor, float(reach[around.k] - reach.min()), clear)
    out.append(pulley(end, np.cross([0, 0, 1.0], away)))
    return out + held(Cord(around, end, "rubber", 0.005), around.setting.pull.marks, points[around.k], ways)


def band(around: Around, end: Array, whole: Array, floor: float) -> list[Piece]:
    """Elastic bands, each from a hook on a post, or from under a foot."""
    setting, k = around.setting, around.k
    index = [setting.marks.index(m) for m in setting.pull.marks]
    hands, ways = setting.seen.points[k, index], setting.seen.frames[k, index, :, 0]
    out = []
    for i in range(len(hands)):
        out += held(Cord(around, end[i], "band", 0.009), setting.pull.marks[i : i + 1], hands[[i]], ways[[i]])
    near = float(np.linalg.norm(whole - end.mean(0), axis=1).min())
    return out if near < 0.12 else out + [p for e in _apart(end) for p in _hook(e, hands.mean(0), floor)]


def band_across(setting: Setting, k: int) -> list[Piece]:
    """A band drawn between a landmark and its mirror image."""
    i = setting.marks.index(setting.pull.marks[0])
    at, front = setting.seen.points[k, i], setting.seen.frames[k, i, :, 0]
    if setting.pull.marks[0].startswith(_HANDS):
        return [rod(at, at * [1, -1, 1], 0.009, "band")]
    half = front * _LIMB_M * [1, 0, 1]
    return [ring(at * [1, 0, 1], half, by(0, abs(at[1]) + 0.01, 0), 0.016, "band")]


@dataclass(frozen=True)
class Cord:
    """A cable or band from its end (3,) [m], round the body."""

    around: Around
    end: Array
    material: str
    radius: float

    def to(self, hand: Array, near_m: float = NEAR_HAND_M) -> Piece:
        """From a hand (3,) to the end; see `Around.taut`."""
        return self.along(self.around.taut(hand, self.end, near_m))

    def along(self, line: Array) -> Piece:
        """Along a line (n, 3)."""
        return Piece(self.material, tube(line, self.radius, 8))


def held(cord: Cord, marks: tuple[str, ...], hands: Array, ways: Array) -> list[Piece]:
    """From an end to hands that hold a bar, a rope or a handle, to a cuff round a limb, or over the trunk."""
    if marks[0].startswith(_TRUNK):
        return _over_trunk(cord, hands)
    if not marks[0].startswith(_HANDS):
        return [p for h in hands for p in (cord.to(h), cuff(h, h - cord.end))]
    if len(hands) == 1:
        return _one_handle(cord, hands[0], ways[0] / np.linalg.norm(ways[0]))
    line = hands[0] - hands[-1]
    wide = float(np.linalg.norm(line))
    if wide > 0.05 and min(abs(float(w @ line)) / wide / np.linalg.norm(w) for w in ways) > _ON_LINE:
        ends = [h + s * line / wide * 0.12 for h, s in ((hands[0], 1), (hands[-1], -1))]
        return [rod(ends[0], ends[1], 0.014), cord.to(hands.mean(0))]
    return _rope(cord, hands)


def _over_trunk(cord: Cord, marks: Array) -> list[Piece]:
    """A band over the shoulders or the hips; a cable's rope lies in both fists, which hold it beside the head."""
    if cord.material == "band":
        return [cord.to(m, ON_TRUNK_M) for m in marks]
    return _rope(cord, fist_middles(cord.around.setting, cord.around.k))


def _one_handle(cord: Cord, hand: Array, way: Array) -> list[Piece]:
    path = cord.around.taut(hand, cord.end)
    at = hand + (path[1] - hand) / np.linalg.norm(path[1] - hand) * _STIRRUP_M
    ends = [hand + s * way * 0.07 for s in (-1, 1)]
    return [rod(ends[0], ends[1], 0.016, "rubber"), *(rod(e, at, 0.006, "rope") for e in ends), cord.along(_beyond(path, at))]


def _rope(cord: Cord, hands: Array) -> list[Piece]:
    """Both halves of a rope from the hands to a knot, past the head where that is between, and the cable from there."""
    mid = hands.mean(0)
    long = cord.end - mid
    far = float(np.linalg.norm(long))
    knot = mid + long / far * min(_rope_m(cord), 0.5 * far)
    ropes = [Piece("rope", tube(cord.around.beside(h, knot), 0.012, 8)) for h in hands]
    return [cord.to(knot, ON_TRUNK_M), *ropes]


def _rope_m(cord: Cord) -> float:
    """How long each half of a rope is, the same all along the lift: so long that no position has its knot before or in the head [m]."""
    setting = cord.around.setting
    index = [setting.marks.index(m) for m in setting.pull.marks]
    each = np.linspace(0, len(setting.path.q) - 1, _LOOKED_AT).astype(int)
    return float(max(clear_m(setting, int(k), setting.seen.points[k, index].mean(0), cord.end, _ROPES_M) for k in each))


def _beyond(path: Array, at: Array) -> Array:
    """A line from a place near its beginning on, (N_ALONG, 3)."""
    gone = np.linalg.norm(path - path[0], axis=1) <= np.linalg.norm(at - path[0])
    return spread(np.concatenate([at[None], path[~gone]]), N_ALONG)


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
