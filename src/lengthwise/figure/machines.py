"""Lever machines: the pad or handle on its arm, the axis it turns about, and what carries that [m]. Sizes from memory."""

from dataclasses import dataclass, replace

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.gear_pieces import Piece, beam, box, by, disc, plate, rod, sphere
from lengthwise.figure.hung import fists
from lengthwise.figure.stands import column, shoulder_pads
from lengthwise.figure.touching import outermost, roller_middle, underside
from lengthwise.lifts.definition import Lever
from lengthwise.lifts.resistance import axis_marks, lever_axis
from lengthwise.mechanics.equilibrium import Setting

_ROLLER_M, _ARM_M, _CAM_M = 0.055, 0.04, 0.11
_BESIDE_M = 0.05
_ARM_BEFORE_M, _ARM_OVER_M = 0.25, 0.09
_LIMBS = ("calf", "shin", "instep", "hip_crease", "thigh_top")
_TRUNK = ("chest", "upper_back")
_OVER_HEAD_M, _PAD_ASIDE_M = 0.1, 0.26
_STACK_BESIDE_M, _STACK_BEYOND_M, _STACK_TALL_M = 0.3, 0.2, 1.35
_LEFT = np.array([0.0, 1.0, 0.0])


@dataclass(frozen=True)
class Arm:
    """One landmark of a lever at one position.

    Attributes:
        mark: its name. at: where it is, (3,) [m]. axis: where the lever turns, (3,) [m].
        push: unit vector in which the pad pushes the body, (3,). hand: the way of a handle through the fist, (3,).
    """

    mark: str
    at: Array
    axis: Array
    push: Array
    hand: Array


def lever(setting: Setting, k: int, flesh: Array, floor: float) -> list[Piece]:
    """The lever of a lift at a position.

    Args:
        flesh: points of the body there [m], (n, 3). floor: its height [m].
    """
    arms, turns = _arms(setting, k), setting.lift.resistance.turns  # type: ignore[union-attr]
    first = arms[0]
    if first.mark.startswith("shoulder_top"):
        tops = _both(setting, [a.at for a in arms])
        return shoulder_pads(tops, flesh, floor) + fists(setting, k, tops + by(_ARM_BEFORE_M, 0, _ARM_OVER_M))
    if setting.lift.gear == "band":
        return [_ball(_both(setting, [a.at for a in arms]))]
    if setting.lift.gear == "barbell" or (
        setting.lift.gear == "plate_lever" and first.mark.startswith("grip") and first.axis[2] < 0.4
    ):
        return _one_end_down(arms, floor)
    if first.mark.startswith("grip"):
        return [p for a in _mirrored(setting, arms) for p in _handle(a, turns, floor)] + _between(setting, arms, turns, floor)
    if first.mark.startswith(_LIMBS):
        return _roller(setting, k, arms, flesh, floor)
    if turns == "upright":
        return _pad_across(setting, arms, flesh, floor)
    if turns == "flat" and first.mark.startswith(_TRUNK):
        return _turning_frame(arms, flesh, floor)
    return [p for a in _mirrored(setting, arms) for p in _side_pad(a, turns, flesh, floor)]


def _arms(setting: Setting, k: int) -> list[Arm]:
    kind, marks = setting.lift.resistance, setting.pull.marks
    assert isinstance(kind, Lever)
    index = [setting.marks.index(m) for m in marks]
    at, frames = setting.seen.points[k, index], setting.seen.frames[k, index]
    own = axis_marks(setting.lift)
    axis = setting.seen.points[k, [setting.marks.index(m) for m in own]] if own else lever_axis(kind, marks, setting.path.names)
    force = setting.pull.force_n[k]
    if setting.pull.rail is not None:
        force = -setting.pull.rail[k]
    size = np.linalg.norm(force, axis=1, keepdims=True)
    push = force / np.where(size > 1e-9, size, 1)
    return [Arm(m, at[i], axis[i], push[i], frames[i][:, 0]) for i, m in enumerate(marks)]


def _mirrored(setting: Setting, arms: list[Arm]) -> list[Arm]:
    """Both sides, where one stands for both."""
    if not setting.folded:
        return arms
    right = [a for a in arms if a.mark.endswith("_right")]
    m = np.array([1.0, -1, 1])
    return right + [Arm(a.mark[:-5] + "left", a.at * m, a.axis * m, a.push * m, a.hand * m) for a in right]


def _both(setting: Setting, points: list[Array]) -> Array:
    out = np.array(points)
    return np.concatenate([out, out * [1, -1, 1]]) if setting.folded and len(out) == 1 else out


def _ball(at: Array) -> Piece:
    """A ball between two knees."""
    ends = at[[at[:, 1].argmin(), at[:, 1].argmax()]]
    return Piece("rubber", sphere(ends.mean(0), max(float(np.ptp(ends[:, 1])) / 2, 0.03)))


def _one_end_down(arms: list[Arm], floor: float) -> list[Piece]:
    """A bar whose far end turns on the floor, through the hands, its plates beyond them."""
    far, hands = arms[0].axis * [1, 0, 1], np.array([a.at for a in arms])
    near = hands.mean(0) if len(hands) > 1 else hands[0]
    way = (near - far) / np.linalg.norm(near - far)
    out = [rod(far, near + way * 0.36, 0.014), rod(near + way * 0.06, near + way * 0.36, 0.025)]
    out += [plate(near + way * (0.12 + 0.05 * i), way, r, 0.04) for i, r in enumerate((0.2, 0.15))]
    out += [rod(near, a.at, 0.014) for a in arms if np.linalg.norm(a.at - near) > 0.02]
    return [
        *out,
        Piece("frame", box((0.3, 0.3, 0.03), [far[0], far[1], floor + 0.015])),
        beam([far[0], far[1], floor + 0.02], far, 0.05),
    ]


def _handle(arm: Arm, turns: str, floor: float) -> list[Piece]:
    """A handle in a fist on its arm to the axis."""
    way = arm.hand / np.linalg.norm(arm.hand)
    out = np.sign(arm.at[1]) or 1.0
    ends = arm.at - way * 0.075, arm.at + way * 0.075
    outer = max(ends, key=lambda e: e[1] * out) if abs(way[1]) > 0.5 else max(ends, key=lambda e: -e[2])
    grip = rod(ends[0], ends[1], 0.016, "rubber")
    if turns == "flat":
        over = max(ends, key=lambda e: e[2])
        top = max(arm.axis[2], over[2]) + 0.26
        return [grip, beam(over, [over[0], over[1], top], _ARM_M), beam([over[0], over[1], top], [*arm.axis[:2], top], _ARM_M)]
    beside = outer + by(0, out * 0.035, 0)
    hub = np.array([arm.axis[0], beside[1], arm.axis[2]])
    return [grip, beam(outer, beside, 0.03), beam(beside, hub, _ARM_M), disc(hub, _LEFT, 0.05, 0.06), *_post(hub, floor)]


def _between(setting: Setting, arms: list[Arm], turns: str, floor: float) -> list[Piece]:
    """What carries both overhead axes of arms that swing sideways."""
    if turns != "flat":
        return []
    axes, top = _both(setting, [a.axis for a in arms]), max(max(a.axis[2], a.at[2]) for a in arms) + 0.26
    back = -0.34 if setting.lift.posture != "chest_supported" else 0.62
    ends = [np.array([a[0] + back, a[1], top]) for a in axes]
    out = [beam([*a[:2], top], e, 0.05) for a, e in zip(axes, ends, strict=True)]
    mid = np.mean(ends, 0)
    return [*out, beam(ends[0], ends[-1], 0.05), *_post(mid, floor)]


def _roller(setting: Setting, k: int, arms: list[Arm], flesh: Array, floor: float) -> list[Piece]:
    """A roller that both limbs push, on an arm at either side to the axis; the near one is half clear. A cam or plates load it."""
    mids = [roller_middle(flesh, a.at, a.push, _LEFT, _ROLLER_M) for a in arms]
    mid, wide = np.mean(mids, 0), np.array([m[1] for m in mids])
    ends = [np.array([mid[0], y, mid[2]]) for y in (wide.min() - 0.09, wide.max() + 0.09)]
    axis = np.mean([a.axis for a in arms], 0)
    beside = max(outermost(flesh, axis), np.abs(wide).max() + 0.09) + _BESIDE_M
    hubs = [axis * [1, 0, 1] + by(0, s * beside, 0) for s in (-1, 1)]
    feet = [mid * [1, 0, 1] + by(0, s * beside, 0) for s in (-1, 1)]
    out = [rod(ends[0], ends[1], _ROLLER_M, "pad"), rod(feet[0], feet[1], 0.014)]
    near, far = (
        [beam(foot, hub, _ARM_M), disc(hub, _LEFT, 0.05, 0.03), *_post(hub, floor)] for foot, hub in zip(feet, hubs, strict=True)
    )
    out += [replace(p, clear=True) for p in near] + far
    if setting.lift.gear == "plate_lever":
        return [*out, plate(feet[1] + (feet[1] - hubs[1]) * 0.12 + by(0, 0.07, 0), _LEFT, 0.16, 0.04)]
    return out + _stack(setting, k, hubs[1], floor)


def _stack(setting: Setting, k: int, hub: Array, floor: float) -> list[Piece]:
    """A cam on an axis, and beyond it the stack that its cable lifts, on the side that the pad swings away from."""
    turned, swings = _turned(setting)
    cam = hub + by(0, 0.05, 0)
    end = cam + by(-np.sign(swings or 1.0) * _STACK_BESIDE_M, 0, _CAM_M)
    cable = rod(cam + by(0, 0, _CAM_M), end, 0.005, "rubber")
    return [
        disc(cam, _LEFT, _CAM_M, 0.03),
        cable,
        *column(end, _LEFT, floor, _CAM_M * float(turned[k]), _STACK_BEYOND_M, _STACK_TALL_M),
    ]


def _turned(setting: Setting) -> tuple[Array, float]:
    """How far a lever has turned at each position from its lowest load on [rad], (n_pos,), and how far ahead of the axis its pad is [m]."""
    arms = [_arms(setting, k) for k in range(len(setting.path.q))]
    to = np.array([np.mean([a.at - a.axis for a in own], 0) for own in arms])
    angle = np.unwrap(np.arctan2(to[:, 2], to[:, 0]))
    return np.abs(angle - angle[0]), float(to[:, 0].mean())


def _pad_across(setting: Setting, arms: list[Arm], flesh: Array, floor: float) -> list[Piece]:
    """A pad across chest, back or head on two arms beside the body."""
    marks = _both(setting, [a.at for a in arms])
    n = np.mean([a.push for a in arms], 0)
    n /= np.linalg.norm(n)
    high = underside(flesh, marks, n)
    mid = marks.mean(0) * [1, 0, 1]
    mid += n * (high - float(mid @ n) - 0.04)
    wide = 0.2 if arms[0].mark.startswith(("head", "forehead")) else 0.36
    out = [Piece("pad", box((0.12, wide, 0.08), mid, np.cross(_LEFT, n), _LEFT, n))]
    hub = np.mean([a.axis for a in arms], 0)
    y = max(outermost(flesh, hub), wide / 2) + _BESIDE_M
    for s in (-1, 1):
        low, turn = mid + by(0, s * y, 0) - n * 0.02, np.array([hub[0], s * y, hub[2]])
        out += [beam(mid + by(0, s * wide * 0.4, 0) - n * 0.02, low, 0.03), beam(low, turn, _ARM_M), disc(turn, _LEFT, 0.05, 0.05)]
        out += _post(turn, floor)
    return out


def _turning_frame(arms: list[Arm], flesh: Array, floor: float) -> list[Piece]:
    """Pads on the trunk, each on an arm beside it up to a yoke that turns over the head, hung from a mast behind."""
    top = float(flesh[:, 2].max()) + _OVER_HEAD_M
    hub = np.array([*np.mean([a.axis for a in arms], 0)[:2], top])
    out = [disc(hub, by(0, 0, 1), 0.07, 0.06)]
    for arm in arms:
        pad, back, aside = _on_trunk(arm, flesh, hub)
        corner = back + _PAD_ASIDE_M * aside
        over = np.array([*corner[:2], top])
        out += [pad, *(replace(beam(a, b, 0.035), clear=True) for a, b in ((back, corner), (corner, over), (over, hub)))]
    behind = np.array([float(flesh[:, 0].min()) - _BESIDE_M, hub[1], top])
    return [*out, beam(hub + by(0, 0, 0.04), behind + by(0, 0, 0.04), 0.05), *_post(behind, floor)]


def _on_trunk(arm: Arm, flesh: Array, hub: Array) -> tuple[Piece, Array, Array]:
    """A pad that pushes the trunk, the middle of its back (3,), and the level way past the body's side that it is nearer to (3,)."""
    n = arm.push * [1, 1, 0] / np.linalg.norm(arm.push[:2])
    mid = arm.at + n * (underside(flesh, arm.at[None], n) - float(arm.at @ n) - 0.035)
    aside = np.cross(n, by(0, 0, 1))
    aside = aside * (np.sign((arm.at - hub) @ aside) or 1.0)
    return Piece("pad", box((0.13, 0.17, 0.07), mid, np.cross(aside, n), aside, n)), mid - n * 0.035, aside


def _side_pad(arm: Arm, turns: str, flesh: Array, floor: float) -> list[Piece]:
    """A pad beside a knee, an arm or the head, on an arm below or behind it."""
    n = arm.push
    mid = arm.at + n * (underside(flesh, arm.at[None], n) - float(arm.at @ n) - 0.035)
    t = np.cross(n, by(1, 0, 0) if abs(n[0]) < 0.7 else _LEFT)
    t /= np.linalg.norm(t)
    pad = Piece("pad", box((0.13, 0.17, 0.07), mid, np.cross(t, n), t, n))
    back = mid - n * 0.03
    if turns == "frontal":
        rear = float(flesh[:, 0].min()) - 0.09
        turn, elbow = np.array([rear, arm.axis[1], arm.axis[2]]), np.array([rear, back[1], back[2]])
        return [pad, beam(back, elbow, 0.035), beam(elbow, turn, _ARM_M), disc(turn, by(1, 0, 0), 0.05, 0.05), *_post(turn, floor)]
    low = arm.axis[2] - 0.24
    turn, corner = np.array([*arm.axis[:2], low]), np.array([back[0], back[1], low])
    return [pad, beam(back, corner, 0.035), beam(corner, turn, _ARM_M), *_post(turn, floor)]


def _post(hub: Array, floor: float) -> list[Piece]:
    """A post from the floor to an axis; none where the axis is at the floor."""
    if hub[2] < floor + 0.12:
        return []
    foot = np.array([hub[0], hub[1], floor + 0.025])
    return [beam(foot, hub, 0.05), beam(foot - by(0.25, 0, 0), foot + by(0.25, 0, 0), 0.05)]
