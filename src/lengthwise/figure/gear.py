"""Everything of a lift that is not the body, whole: what is lifted moves with the hands, what carries the body stands still."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.figure.arm_stand import arm_pads, knee_platform
from lengthwise.figure.cables import band, band_across, cable
from lengthwise.figure.gear_pieces import Piece, barbell, beam, box, by, dumbbell, kettlebell, rod
from lengthwise.figure.hung import BOXED, TOGETHER_M, belt, between_hands, chains, seat_box, straps
from lengthwise.figure.load_arrows import BARS
from lengthwise.figure.machines import lever
from lengthwise.figure.routing import Around
from lengthwise.figure.sleds import sled
from lengthwise.figure.stands import bar_rack, bar_rails, bench, block, roller, rolling_bar, upright
from lengthwise.figure.touching import inward, on_flesh
from lengthwise.lifts.definition import Sled
from lengthwise.lifts.resistance import anchors
from lengthwise.mechanics.equilibrium import Setting

_FLOOR_M = 0.05
_STILL_M = _WITH_M = 0.02
_STEP_M, _OVERHEAD_M, _UP, _BESIDE_M = 0.09, 1.6, 0.9, 0.08
_FEET = ("ball_", "toes", "heel", "mid_foot")
_LIMBS = ("calf", "shin", "instep")
_LAID = ("forearm", "wrist", "palm", "knee", "ankle", "foot_")
"""Landmarks of limbs that are laid on others: forearms on thighs, a leg on a leg."""


def gear_of(setting: Setting, at: NDArray[np.intp], flesh: Array, floor: float) -> list[list[Piece]]:
    """The pieces of gear in each drawn position, in the same order with the same triangles in all of them.

    Args:
        at: positions of the lift that are drawn, (n_drawn,).
        flesh: points of the body in each of them [m], (n_drawn, n, 3), on which pads lie.
        floor: its height [m].
    """
    still = _stands(setting, int(at[0]), flesh[0], floor, moving=False) + _box(setting, flesh, floor)
    whole = flesh.reshape(-1, 3)
    return [
        _lifted(setting, int(k), own, whole, floor) + _stands(setting, int(k), own, floor, moving=True) + still
        for k, own in zip(at, flesh, strict=True)
    ]


def _box(setting: Setting, flesh: Array, floor: float) -> list[Piece]:
    """The box that is sat down to, under the lowest body that is drawn."""
    if setting.lift.name not in BOXED:
        return []
    heels = setting.seen.points[:, [i for i, m in enumerate(setting.marks) if m.startswith("heel")]].mean(0)
    return seat_box(flesh[int(flesh[..., 2].max(1).argmin())], heels, floor)


def _lifted(setting: Setting, k: int, flesh: Array, whole: Array, floor: float) -> list[Piece]:
    """What the resistance is made of at a position; a column stands clear of the body in every drawn one, `whole` (n, 3) [m]."""
    lift, places = setting.lift, _places(setting, k)
    marks, kind = setting.pull.marks, setting.lift.resistance.kind
    anchor = anchors(lift, setting.path.names)
    if kind == "lever":
        return lever(setting, k, flesh, floor)
    if kind == "sled":
        return sled(setting, k, flesh, floor)
    if kind == "band_across":
        return band_across(setting, k)
    if kind == "band" and anchor is not None:
        return band(Around(setting, k, flesh), anchor, whole, floor)
    if anchor is not None:
        return cable(Around(setting, k, flesh), anchor, whole, floor)
    if kind == "body_weight" and lift.gear == "lever":
        return knee_platform(setting, k, flesh, whole, floor)
    if kind != "free_weight":
        return []
    if lift.gear in BARS and len(marks) == 2:
        bar = barbell(places[marks[1]], places[marks[0]], lift.gear, _grips(setting, k))
        if lift.gear == "guided_bar":
            return bar + bar_rails(setting.seen.points[:, [setting.marks.index(m) for m in marks]], floor)
        return bar + (chains(places[marks[1]], places[marks[0]], floor) if lift.gear == "chains" else [])
    if lift.gear == "plate_lever" and marks[0].startswith("belt"):
        return belt(setting, k, flesh, floor)
    if lift.gear in ("dumbbell", "kettlebell") and _in_both_hands(setting):
        return between_hands(lift.gear, np.array([places[m] for m in marks]))
    if lift.gear in ("dumbbell", "kettlebell"):
        make = dumbbell if lift.gear == "dumbbell" else kettlebell
        return [p for m in marks for p in make(places[m], setting.seen.frames[k, setting.marks.index(m), :, 0])]
    return []


def _grips(setting: Setting, k: int) -> Array | None:
    """Which way the left and the right fist hold a bent bar, (2, 3); nothing where the bar is straight."""
    if setting.lift.gear != "ez_bar":
        return None
    return np.array([setting.seen.frames[k, setting.marks.index(m), :, 0] for m in setting.pull.marks[::-1]])


def _in_both_hands(setting: Setting) -> bool:
    """Whether one weight is held by both hands: they are near each other all the way."""
    marks = setting.pull.marks
    if len(marks) != 2 or not all(m.startswith("grip") for m in marks):
        return False
    right, left = (setting.seen.points[:, setting.marks.index(m)] for m in marks)
    return bool(np.linalg.norm(right - left, axis=1).max() < TOGETHER_M)


def _stands(setting: Setting, k: int, flesh: Array, floor: float, moving: bool) -> list[Piece]:
    """What carries the body, where that is not the floor: what stands still, or what goes along with it."""
    places, out = _places(setting, k), []
    for marks, push in (r for found in _rests(setting, places, floor) for r in _levels(*found, places)):
        if _moves(setting, marks, push) != moving or not (moving or _on_gear(setting, marks, push, flesh, places)):
            continue
        points = np.array([places[m] for m in marks])
        if setting.folded:
            points = np.concatenate([points, points * [1, -1, 1]])
        if push is None:
            out += _held(setting, marks, points, floor)
            if len(legs := points[[m.startswith(_LIMBS) for m in marks] * (len(points) // len(marks))]):
                out += roller(inward(flesh, legs[0]), legs, flesh, floor)
        elif setting.lift.posture == "hanging" and marks[0].startswith("forearm"):
            out += arm_pads(setting, k, points, flesh, floor)
        elif _rolls(setting, marks):
            out += rolling_bar(points, floor)
        elif _hangs(setting, marks):
            out += straps(setting, k, marks, floor)
        elif any(marks[0].startswith(f) for f in _FEET):
            out += block(_on_balls(marks, points), push, flesh, floor)
        elif any(marks[0].startswith(f) for f in _LIMBS) and push[2] < 0.5:
            out += roller(push, points, flesh, floor)
        elif abs(push[1]) < 0.3:
            out += bench(push, points, flesh, floor)
    return out


def _on_balls(marks: list[str], points: Array) -> Array:
    """Of a foot's landmarks (n, 3) those that stay where they are when the toes bend: the balls, or all where those carry nothing."""
    balls = np.array([m.startswith("ball_") for m in marks] * (len(points) // len(marks)))
    heels = any(m.startswith(("heel", "mid_foot")) for m in marks)
    return points[balls] if balls.any() and not heels else points


def _on_gear(setting: Setting, marks: list[str], push: Array | None, flesh: Array, places: dict[str, Array]) -> bool:
    """Whether gear carries landmarks: not what lies on another limb for the most part, nor a foot that rises off while its leg is held."""
    if push is None or push[2] < _UP:
        return True
    if 2 * sum(m.startswith(_LAID) and on_flesh(flesh, places[m]) for m in marks) >= len(marks):
        return False
    index = [setting.marks.index(m) for m in marks]
    return not (marks[0].startswith("foot_") and float(np.ptp(setting.seen.points[:, index] @ push, axis=0).min()) > _STEP_M)


def _levels(marks: list[str], push: Array | None, places: dict[str, Array]) -> list[tuple[list[str], Array | None]]:
    """Landmarks that are pushed the same way, apart where they lie at different heights along it."""
    if push is None:
        return [(marks, push)]
    order = sorted(marks, key=lambda m: float(places[m] @ push))
    out = [[order[0]]]
    for before, mark in pairwise(order):
        if float((places[mark] - places[before]) @ push) > _STEP_M:
            out.append([])
        out[-1].append(mark)
    return [(group, push) for group in out]


def _moves(setting: Setting, marks: list[str], push: Array | None) -> bool:
    """Whether what landmarks rest on goes along with them: a sled's, a rolling bar, hanging straps, or a stand's on which a whole body is carried that moves over it."""
    if _adrift(setting):
        return True
    index = [setting.marks.index(m) for m in marks]
    far = float(np.ptp(setting.seen.points[:, index].mean(1), axis=0).max()) > _WITH_M
    return (
        far and push is not None and (isinstance(setting.lift.resistance, Sled) or _rolls(setting, marks) or _hangs(setting, marks))
    )


def _rolls(setting: Setting, marks: list[str]) -> bool:
    """Whether hands lean on a bar that rolls along the floor."""
    return setting.lift.bar and setting.lift.posture == "kneeling" and marks[0].startswith("grip")


def _adrift(setting: Setting) -> bool:
    """Whether nothing that carries the body stays where it is: the lift says how the body bends and not where its stand is."""
    index = [setting.marks.index(h.mark) for h in setting.holds if not h.turn and h.on is None and not h.sled]
    return bool(index) and bool(np.ptp(setting.seen.points[:, index], axis=0).max(-1).min() > _WITH_M)


def _hangs(setting: Setting, marks: list[str]) -> bool:
    """Whether fists lean on handles that hang and sway."""
    return setting.lift.unstable and marks[0].startswith("grip")


def _rests(setting: Setting, places: dict[str, Array], floor: float) -> list[tuple[list[str], Array | None]]:
    """Landmarks that rest on the same surface, with the way in which it pushes; None for what is held by a handle."""
    found: dict[str, tuple[list[str], Array | None]] = {}
    for mark in dict.fromkeys(h.mark for h in setting.holds if not h.turn and h.on is None and not h.sled):
        own = [h for h in setting.holds if h.mark == mark and not h.turn and not h.sled]
        push = np.sum([h.direction for h in own], axis=0) if own[0].lower >= 0 else np.zeros(3)
        size = float(np.linalg.norm(push))
        if size < 1e-9:
            found.setdefault("handle", ([], None))[0].append(mark)
        elif not (push[2] > _UP * size and places[mark][2] < floor + _FLOOR_M):
            key = ("feet " if any(mark.startswith(f) for f in _FEET) else "") + np.array2string(push / size, precision=1)
            found.setdefault(key, ([], push / size))[0].append(mark)
    return list(found.values())


def _held(setting: Setting, marks: list[str], points: Array, floor: float) -> list[Piece]:
    """A fixed bar above the head, or handles where hands hold on."""
    hands = [m for m in marks if "grip" in m or "fingers" in m]
    if hands and _slides(setting, hands[0]):
        high = float(setting.seen.points[:, setting.marks.index(hands[0]), 2].max())
        return [piece for at in points for piece in upright(at, high, floor)]
    if not hands or setting.lift.gear in ("barbell", "guided_bar", "dumbbell"):
        return []
    left, right = points[points[:, 1].argmax()], points[points[:, 1].argmin()]
    still = float(np.ptp(setting.seen.points[:, setting.marks.index(hands[0]), 2])) < _STILL_M
    if still and (left[2] > floor + _OVERHEAD_M or setting.lift.bar) and left[1] - right[1] > 0.1:
        return bar_rack(left, right, floor)
    return [p for at in points if still for p in _post(at, floor)]


def _slides(setting: Setting, mark: str) -> bool:
    """Whether a hand of who stands steadies itself at something upright, along which it goes up and down."""
    lift = setting.lift
    steadies = lift.posture == "standing" and lift.gear in ("body", "dumbbell", "kettlebell") and mark not in setting.pull.marks
    way = np.ptp(setting.seen.points[:, setting.marks.index(mark)], axis=0)
    return bool(steadies and way[2] > _STILL_M and np.linalg.norm(way[:2]) < _BESIDE_M)


def _post(at: Array, floor: float) -> list[Piece]:
    """A handle on a post that stands on the floor, half clear, so that it hides no thigh."""
    ends = [at + s * np.array([0.16, 0.0, 0.0]) for s in (-1, 1)]
    foot = np.array([ends[0][0], at[1], floor])
    base = Piece("frame", box((0.3, 0.12, 0.03), foot + by(0, 0, 0.015)))
    handle = rod(ends[0], ends[1], 0.017)
    return [handle, replace(beam(foot, ends[0], 0.045), clear=True), base] if at[2] > floor + 0.15 else [handle]


def _places(setting: Setting, k: int) -> dict[str, Array]:
    return {m: setting.seen.points[k, i] for i, m in enumerate(setting.marks)}
