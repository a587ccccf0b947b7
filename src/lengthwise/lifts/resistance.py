"""Which way, and how hard per kilogram, a resistance pulls on the body at each position of a lift."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.definition import Band, BandAcross, BodyWeight, Cable, FreeWeight, Lever, Lift, Sled
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.once import once
from lengthwise.units import GRAVITY

_CM = 0.01
_DOWN = np.array([0.0, 0.0, -1.0])
WAY = np.linspace(0.0, 1.0, 9)
"""The phases that every position of a closed chain sets out from."""


@dataclass(frozen=True)
class Pull:
    """The resistance at size 1 kg.

    Attributes:
        marks: landmarks it acts on.
        force_n: force on each landmark [N/kg], (n_pos, n_mark, 3); zero for what is guided, which acts through its contacts.
        rail: unit vector along which what is guided (a sled, or the handle of a lever) is pushed, (n_pos, n_mark, 3), else None.
        rail_n: force that it opposes along its rail on each landmark that bears it alone [N/kg], (n_pos,).
    """

    marks: tuple[str, ...]
    force_n: Array
    rail: Array | None = None
    rail_n: Array | None = None

    def at(self, some: NDArray[np.intp]) -> "Pull":
        """The resistance at some of the positions."""
        rail, rail_n = self.rail, self.rail_n
        return Pull(self.marks, self.force_n[some], None if rail is None else rail[some], None if rail_n is None else rail_n[some])


@once
def loaded_marks(lift: Lift) -> tuple[str, ...]:
    """The landmarks that carry the resistance, each with its side; a lift of one side works the right."""
    sides = anatomy.SIDES if lift.sides == "both" else ("right",)
    return tuple(m for n in lift.resistance.at for m in ([n] if n.endswith(("_right", "_left")) else [f"{n}_{s}" for s in sides]))


@dataclass(frozen=True)
class Course:
    """Where the loaded landmarks of a lift are at some phases.

    Attributes:
        phase: (n_pos,). points: where `loaded_marks(lift)` are [m], (n_pos, n_mark, 3).
        axis: where a lever's `axis_at` landmarks are [m], (n_pos, n_mark, 3), else None.
    """

    phase: Array
    points: Array
    axis: Array | None = None


def course_of(lift: Lift, phase: Array, points: Array) -> Course:
    """From the loaded landmarks and, behind them, those on a lever's axis (n_pos, n_mark or twice as many, 3)."""
    n = len(loaded_marks(lift))
    return Course(phase, points[:, :n], points[:, n:] if points.shape[1] > n else None)


N_WHOLE = 41
"""Phases at which the reach of a band or the height of chains is looked at."""
Part = tuple[float, float]
"""Where a part of the lifting phase starts and ends, 0-1."""
FULL: Part = (0.0, 1.0)


def whole_phases(lift: Lift, part: Part) -> Array:
    """The phases at which a resistance must know its landmarks, whatever positions of a part of the lift are asked; none for most."""
    kind = lift.resistance
    if isinstance(kind, Lever):
        return WAY
    if isinstance(kind, FreeWeight) and kind.chain_share > 0:
        return np.linspace(*FULL, N_WHOLE)
    return np.linspace(*part, N_WHOLE) if isinstance(kind, Band | BandAcross) else WAY[:0]


@dataclass(frozen=True)
class Law:
    """What a resistance knows of the part of the lift that is asked for, so that no position's answer depends on which others are.

    Attributes:
        reach_m: longest reach of a band in that part, whose 1 kg is its pull there; lowest height of a weight with chains in the whole
            lift. rise_m: of that weight.
        side: of each loaded landmark, on which side of its axis a lever pushes against the movement: 1, -1, or 0 where it stands still.
    """

    reach_m: float
    rise_m: float
    side: Array


def law_of(lift: Lift, whole: Course, names: Mapping[str, float]) -> Law:
    """The law of a resistance from its landmarks at `whole_phases(lift, part)`."""
    kind, marks, none = lift.resistance, loaded_marks(lift), np.zeros(len(loaded_marks(lift)))
    match kind:
        case Band():
            return Law(float(np.linalg.norm(_anchor(kind, marks, names) - whole.points, axis=-1).max()), 0.0, none)
        case BandAcross():
            return Law(float(np.linalg.norm(whole.points[:, ::-1] - whole.points, axis=-1).max()), 0.0, none)
        case Lever():
            axis = lever_axis(kind, marks, names) if whole.axis is None else whole.axis
            turns = lever_turns(kind, whole.points, np.broadcast_to(axis, whole.points.shape))
            return Law(0.0, 0.0, np.asarray(turns @ _TURNS[kind.turns]))
        case FreeWeight() if kind.chain_share:
            height = whole.points[..., 2].mean(axis=1)
            return Law(float(height.min()), float(np.ptp(height)), none)
    return Law(0.0, 0.0, none)


def pull_of(lift: Lift, course: Course, law: Law, names: Mapping[str, float]) -> Pull:
    """The resistance of a lift for landmark positions along it.

    Args:
        course: the positions. law: of the part of the lift that is asked for.
        names: set-up values and body lengths.
    """
    points = course.points
    marks = loaded_marks(lift)
    kind = lift.resistance
    each = 1.0 if getattr(kind, "each", False) else 1.0 / len(marks)
    match kind:
        case FreeWeight():
            force = np.broadcast_to(_DOWN * GRAVITY, points.shape) * _chain_factor(points, law, kind.chain_share)
        case BodyWeight():
            force = np.broadcast_to(_DOWN * GRAVITY, points.shape)
        case Cable():
            force = _unit(_anchor(kind, marks, names) - points) * GRAVITY * kind.ratio
        case Band():
            force = _band_force(_anchor(kind, marks, names) - points, law, kind.slack_cm, names)
        case BandAcross():
            return Pull(marks, _band_force(points[:, ::-1] - points, law, kind.slack_cm, names))
        case Lever():
            force = _lever_force(kind, marks, course, law, names)
            if is_held_lever(lift):
                size = np.linalg.norm(force, axis=-1)
                return Pull(marks, np.zeros_like(points), -_unit(force), size[:, 0])
        case Sled():
            rail, rail_n = guiding(kind, names)
            return Pull(marks, np.zeros_like(points), np.broadcast_to(rail, points.shape), np.full(len(points), rail_n))
    return Pull(marks, force * each)


def guiding(kind: Sled, names: Mapping[str, float]) -> tuple[Array, float]:
    """Along a sled's rail (3,), and the force it opposes there at 1 kg [N]."""
    lean = np.radians(evaluate(kind.rail_deg, names))
    rail = np.array([np.cos(lean) * (-1 if kind.backward else 1), 0.0, np.sin(lean)])
    share = np.sin(lean) + kind.friction * np.cos(lean) if kind.stack_ratio is None else kind.stack_ratio
    return rail, GRAVITY * float(share)


def is_held_lever(lift: Lift) -> bool:
    """Whether the hands hold a lever: its bearing takes whatever they push along its arm, so only what they push along its path counts."""
    alike = lift.mirrored or lift.sides == "one"
    return isinstance(lift.resistance, Lever) and alike and all(m.startswith("grip") for m in lift.resistance.at)


def anchors(lift: Lift, names: Mapping[str, float]) -> Array | None:
    """Where the cable or band of each loaded landmark comes from [m], (n_mark, 3); None for any other resistance."""
    kind = lift.resistance
    return _anchor(kind, loaded_marks(lift), names) if isinstance(kind, Cable | Band) else None


def _unit(vector: Array) -> Array:
    return np.asarray(vector / np.linalg.norm(vector, axis=-1, keepdims=True))


def _outward(marks: Sequence[str]) -> Array:
    return np.array([-1.0 if m.endswith("right") else 1.0 for m in marks])


def _anchor(kind: Cable | Band, marks: Sequence[str], names: Mapping[str, float]) -> Array:
    """Where the pulley or anchor of each landmark is [m], (n_mark, 3)."""
    x, y, z = (evaluate(v, names) * _CM for v in (kind.x_cm, kind.y_cm, kind.z_cm))
    return np.stack([np.full(len(marks), x), y * _outward(marks), np.full(len(marks), z)], -1)


def _chain_factor(points: Array, law: Law, share: float) -> Array:
    if not share:
        return np.ones((len(points), 1, 1))
    height = points[..., 2].mean(axis=1)
    lifted = (height - law.reach_m) / law.rise_m if law.rise_m > 0 else np.ones_like(height)
    return np.asarray((1 - share * (1 - lifted))[:, None, None])


def _band_force(reach: Array, law: Law, slack_cm: float | str, names: Mapping[str, float]) -> Array:
    """A linear band along `reach` [m], (n_pos, n_mark, 3): 1 kg at its longest over the whole lift, nothing at its slack length."""
    length, longest = np.linalg.norm(reach, axis=-1, keepdims=True), law.reach_m
    slack = evaluate(slack_cm, names) * _CM
    if longest <= slack:
        raise NoSolutionError(f"the band is never stretched: slack length {slack:.2f} m, longest reach {longest:.2f} m")
    return np.asarray(reach / length * np.maximum(length - slack, 0) / (longest - slack) * GRAVITY)


_TURNS = {"upright": np.array([0.0, 1, 0]), "flat": np.array([0.0, 0, 1]), "frontal": np.array([1.0, 0, 0])}


@once
def axis_marks(lift: Lift) -> tuple[str, ...]:
    """The landmark on a lever's axis for each loaded landmark; none where the axis stands still or there is no lever."""
    if not isinstance(lift.resistance, Lever) or lift.resistance.axis_at is None:
        return ()
    name = lift.resistance.axis_at
    if name.endswith(("_right", "_left")):
        return tuple(name for _ in loaded_marks(lift))
    return tuple(f"{name}_{m.rpartition('_')[2]}" for m in loaded_marks(lift))


def lever_about(kind: Lever) -> Array:
    """Along a lever's axis, (3,)."""
    return _TURNS[kind.turns]


def lever_axis(kind: Lever, marks: Sequence[str], names: Mapping[str, float]) -> Array:
    """Where the axis of a lever that stands still is beside each landmark [m], (n_mark, 3)."""
    x, z = (evaluate(v if v is not None else 0.0, names) * _CM for v in (kind.axis_x_cm, kind.axis_z_cm))
    y = evaluate(kind.axis_y_cm, names) * _CM * _outward(marks)
    return np.stack([np.full(len(marks), x), y, np.full(len(marks), z)], -1)


def lever_turns(kind: Lever, points: Array, axis: Array) -> Array:
    """Unit vectors along the axis so that about it the pad of each landmark is pushed against its movement, (n_mark, 3)."""
    tangent = _tangent(kind, points, axis)
    along = np.einsum("pmk,pmk->m", np.diff(points, axis=0), (tangent[1:] + tangent[:-1]) / 2)
    return np.asarray(-np.sign(along)[:, None] * _TURNS[kind.turns])


def _tangent(kind: Lever, points: Array, axis: Array) -> Array:
    about = _TURNS[kind.turns]
    arm = points - axis
    return _unit(np.cross(about, arm - (arm @ about)[..., None] * about))


def _lever_force(kind: Lever, marks: Sequence[str], course: Course, law: Law, names: Mapping[str, float]) -> Array:
    """Square to the arm from the axis to the pad, against the pad's movement, by the cam's table at that phase of the whole lift."""
    axis = np.broadcast_to(lever_axis(kind, marks, names) if course.axis is None else course.axis, course.points.shape)
    cam = np.interp(course.phase, np.linspace(0, 1, len(kind.cam)), kind.cam)
    return np.asarray(law.side[None, :, None] * _tangent(kind, course.points, axis) * cam[:, None, None] * GRAVITY)
