"""What hangs from a bar, from both hands or from a belt, and the box that is sat down to [m]. Sizes from memory."""

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.figure.gear_pieces import Piece, beam, box, by, disc, dumbbell, kettlebell, plate, ring, rod
from lengthwise.figure.meshes import tube
from lengthwise.figure.placement import Placement
from lengthwise.figure.stands import bar_rack
from lengthwise.mechanics.equilibrium import Setting

TOGETHER_M = 0.25
"""Hands that are nearer than this hold one thing between them (own choice)."""
BOXED = ("Box squat", "Sit to stand from a box")
"""Lifts whose lowest position touches a box behind the feet."""
_UP, _LEFT = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])
_LINKS, _LINK_M, _BOX_M = 48, (0.007, 0.016), 0.4
_BAR_END_M, _BEHIND_M, _SEAT_M = 1.06, 0.03, 0.1
_FIST_MM = np.array([[-62.0, 20, -76], [62, 20, -76]])
"""Along the inside of a closed fist, little finger to thumb."""
_STRAPS_M, _STIRRUP_M = 2.1, 0.16
_BELT_M, _REACHES_M, _TURNS_M, _LOWEST_M = 0.02, 0.26, (0.95, 0.2), 0.25
"""Half a belt's height, how far from its middle flesh is the hip's, where its lever turns ahead and over the floor, and how low its end comes."""
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


def belt(setting: Setting, k: int, flesh: Array, floor: float) -> list[Piece]:
    """A belt round the hips of a body (n, 3), and a chain from it to a lever with plates that turns on the floor ahead."""
    index = [setting.marks.index(m) for m in setting.pull.marks]
    both, up = setting.seen.points[:, index].mean(1) * [1, 0, 1], setting.seen.frames[k, index[0], :, 2] * [1, 0, 1]
    up /= np.linalg.norm(up)
    ahead = np.cross(_LEFT, up)
    to = flesh - both[k]
    seen = flesh[(np.abs(to @ up) < _BELT_M) & (np.linalg.norm(to, axis=1) < _REACHES_M)] - both[k]
    low, high, wide = (seen @ ahead).min(), (seen @ ahead).max(), np.abs(seen[:, 1]).max()
    middle = both[k] + ahead * (low + high) / 2
    front = middle + ahead * (high - low) / 2
    chain = float(both[:, 2].min()) - floor - _LOWEST_M
    turn = by(both[:, 0].mean() + _TURNS_M[0], 0, floor + _TURNS_M[1])
    end = front * [1, 0, 1] - by(0, 0, chain)
    on = turn + (end - turn) * 0.45
    base = turn * [1, 1, 0] + by(0, 0, floor + 0.03)
    return [
        ring(middle, ahead * (high - low) / 2, _LEFT * wide, _BELT_M, "pad"),
        _chain(front, end[2]),
        beam(end, turn, 0.05),
        *(plate(on + by(0, s * 0.06, 0), _LEFT, 0.18, 0.04) for s in (-1, 1)),
        disc(turn, _LEFT, 0.05, 0.09),
        *(beam(base + by(0, s * 0.08, 0), turn + by(0, s * 0.08, 0), 0.045) for s in (-1, 1)),
        beam(base - by(0, 0.3, 0), base + by(0, 0.3, 0), 0.05),
    ]


def seat_box(flesh: Array, heels: Array, floor: float) -> list[Piece]:
    """The box under the buttocks of a body (n, 3) at its lowest, behind its heels (n_heel, 3)."""
    seat = flesh[(flesh[:, 0] < heels[:, 0].min() - _BEHIND_M) & (np.abs(flesh[:, 1]) < _BOX_M / 2)]
    seat = seat[seat[:, 2] < seat[:, 2].min() + _SEAT_M]
    top, front = float(np.percentile(seat[:, 2], _PRESSED)), float(seat[:, 0].max())
    return [Piece("frame", box((_BOX_M, _BOX_M + 0.1, top - floor), by(front - _BOX_M / 2, 0, (top + floor) / 2)))]
