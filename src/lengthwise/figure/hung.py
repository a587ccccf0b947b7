"""What hangs from a bar or from both hands, and the box that is sat down to [m]. Sizes from memory."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.figure.gear_pieces import Piece, box, by, dumbbell, kettlebell, rod
from lengthwise.figure.meshes import tube
from lengthwise.figure.placement import Placement
from lengthwise.figure.stands import bar_rack
from lengthwise.mechanics.equilibrium import Setting

Array = NDArray[np.float64]
TOGETHER_M = 0.25
"""Hands that are nearer than this hold one thing between them (own choice)."""
BOXED = ("Box squat",)
"""Lifts whose lowest position touches a box behind the feet."""
_UP = np.array([0.0, 0.0, 1.0])
_LINKS, _LINK_M, _BOX_M = 48, (0.007, 0.016), 0.4
_BAR_END_M, _BEHIND_M, _SEAT_M = 1.06, 0.03, 0.1
_FIST_MM = np.array([[-62.0, 20, -76], [62, 20, -76]])
"""Along the inside of a closed fist, little finger to thumb."""
_STRAPS_M, _STIRRUP_M = 2.1, 0.16
_PRESSED = 1.5
"""Share of the nearest flesh that a box presses flat [%] (own choice)."""


def between_hands(gear: str, hands: Array) -> list[Piece]:
    """One weight held by both hands (2, 3): a dumbbell hangs upright below them, a kettlebell from its handle."""
    mid = hands.mean(0)
    if gear == "kettlebell":
        return kettlebell(mid + 0.02 * _UP, hands[1] - hands[0])
    return dumbbell(mid - 0.05 * _UP, _UP)


def fists(setting: Setting, k: int, to: Array) -> list[Piece]:
    """A handle through each closed fist, on a strut to the nearest of some places (n, 3) of the machine."""
    placed = Placement(setting.body, setting.path.q[[k]])
    ends = (placed.at("hand", _FIST_MM, s)[1] for s in anatomy.SIDES)
    return [p for a, b in ends for p in (rod(a, b, 0.016, "rubber"), rod(b, to[np.linalg.norm(to - b, axis=1).argmin()], 0.013))]


def fist_middles(setting: Setting, k: int) -> Array:
    """Where both closed fists hold something [m], (2, 3)."""
    placed = Placement(setting.body, setting.path.q[[k]])
    return np.array([placed.at("hand", _FIST_MM, s)[1].mean(0) for s in anatomy.SIDES])


def straps(setting: Setting, k: int, marks: list[str], floor: float) -> list[Piece]:
    """Two handles in the fists at a position, each on a strap to a bar overhead, half clear, that stays where it is."""
    hands = setting.seen.points[:, [setting.marks.index(m) for m in marks]]
    hands = np.concatenate([hands, hands * [1, -1, 1]], 1) if setting.folded else hands
    top = hands.mean(0) * [1, 1, 0] + (floor + _STRAPS_M) * _UP
    placed = Placement(setting.body, setting.path.q[[k]])
    out = bar_rack(top[top[:, 1].argmax()], top[top[:, 1].argmin()], floor)
    for side in anatomy.SIDES:
        a, b = placed.at("hand", _FIST_MM, side)[1]
        high = top[np.linalg.norm(top - a, axis=1).argmin()]
        join = (a + b) / 2 + _STIRRUP_M * (high - a) / np.linalg.norm(high - a)
        out += [rod(a, b, 0.016, "rubber"), *(rod(p, join, 0.008, "rope") for p in (a, b)), rod(join, high, 0.009, "rope")]
    return out


def chains(left: Array, right: Array, floor: float) -> list[Piece]:
    """A chain from each end of a bar through these hands or shoulders down to the floor."""
    mid, axis = (left + right) / 2, (left - right) / np.linalg.norm(left - right)
    return [_chain(mid + s * axis * _BAR_END_M, floor) for s in (-1, 1)]


def _chain(top: Array, floor: float) -> Piece:
    height = np.linspace(top[2], floor + 0.01, _LINKS)
    path = np.column_stack([np.broadcast_to(top[:2], (_LINKS, 2)), height])
    return Piece("iron", tube(path, np.where(np.arange(_LINKS) % 2, *_LINK_M), 8, up=[1, 0, 0]))


def seat_box(flesh: Array, heels: Array, floor: float) -> list[Piece]:
    """The box under the buttocks of a body (n, 3) at its lowest, behind its heels (n_heel, 3)."""
    seat = flesh[(flesh[:, 0] < heels[:, 0].min() - _BEHIND_M) & (np.abs(flesh[:, 1]) < _BOX_M / 2)]
    seat = seat[seat[:, 2] < seat[:, 2].min() + _SEAT_M]
    top, front = float(np.percentile(seat[:, 2], _PRESSED)), float(seat[:, 0].max())
    return [Piece("frame", box((_BOX_M, _BOX_M + 0.1, top - floor), by(front - _BOX_M / 2, 0, (top + floor) / 2)))]
