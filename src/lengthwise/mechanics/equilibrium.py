"""The balance of the whole floating body at every position of a lift, as matrices.

−Rᵀ(F_active + F_passive) + Jᵀf + λ·Jᵀw + s = g: muscles, supports, the resistance and passive joint structures carry the weight of the
segments. A lift that both sides do alike is folded to one side: rows of the midline count both sides, rows of the left repeat the right's.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body, Pass
from lengthwise.body.muscles import force_velocity, settle
from lengthwise.body.structures import structure_bounds, structure_ease
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.motion import Path, move
from lengthwise.lifts.resistance import FULL, Part, Pull, axis_marks, course_of, loaded_marks, pull_of
from lengthwise.lifts.supports import Hold, holds_of
from lengthwise.mechanics import reserve, ribs
from lengthwise.mechanics.matrices import Asked, Matrices, Tension, assembled
from lengthwise.mechanics.problem import Balance
from lengthwise.mechanics.row_scale import row_scale

_PELVIS = 6  # coordinates of the floating pelvis, which nothing but supports holds


@dataclass(frozen=True, kw_only=True, eq=False)
class Setting:
    """A lift set up for one body: everything the three questions are asked of.

    Attributes:
        body, lift, path: who, what and how it moves.
        lines: indices of the muscle lines in the columns of the balance, (n_line,).
        folded: whether one side stands for both.
        seen: the body's survey along the lift, landmarks `marks`.
        marks: names of the surveyed landmarks.
        tension: of the lines in `lines`.
        holds: what each support column is; ribs and sled contacts included.
        pull: the resistance at size 1 kg.
        balance: the matrices.
        coordinates: a readable name of each row.
    """

    body: Body
    lift: Lift
    path: Path
    lines: NDArray[np.intp]
    folded: bool
    seen: Pass
    marks: tuple[str, ...]
    tension: Tension
    holds: tuple[Hold, ...]
    pull: Pull
    balance: Balance
    coordinates: tuple[str, ...]


def set_up(body: Body, lift: Lift, phase: Array, setup: Mapping[str, float] | None = None, part: Part = FULL) -> Setting:
    """The balance of a body in a lift at each phase.

    Args:
        phase: positions along the lifting phase, (n_pos,).
        setup: set-up values that differ from the lift's defaults.
        part: of the lift that is asked for, see `lifts.motion.move`.

    Raises:
        NoSolutionError: the lift's closed chain cannot be met by this person.
        UnknownNameError, InputError: a set-up value that the lift does not have or allow.
    """
    return set_up_along(body, lift, move(body, lift, phase, setup, part))


def set_up_along(body: Body, lift: Lift, path: Path) -> Setting:
    """The balance of a body on its way through a lift."""
    folded = lift.mirrored
    holds = tuple(holds_of(lift, path.names, ("right",) if folded else anatomy.SIDES))
    loaded, axis, marks = loaded_marks(lift), axis_marks(lift), marks_of(lift, holds)
    seen = body.survey(path.q, marks, alike=folded)
    at = [marks.index(m) for m in (*loaded, *axis)]
    pull = pull_of(lift, course_of(lift, path.phase, seen.points[:, at]), path.law, path.names)
    return _balanced(body, lift, path, _Posed(folded, seen, marks, holds, pull))


def marks_of(lift: Lift, holds: tuple[Hold, ...]) -> tuple[str, ...]:
    """The landmarks that a balance needs to know."""
    touched = [*(h.mark for h in holds), *(h.on for h in holds if h.on)]
    return tuple(dict.fromkeys([*loaded_marks(lift), *axis_marks(lift), *touched, *ribs.MARKS]))


def set_up_again(setting: Setting, body: Body, some: NDArray[np.intp]) -> Setting:
    """Some positions of a lift set up before, for a body that moves alike and differs in nothing but its lines.

    Args:
        body: the same, or one whose lines are stronger or longer or have other moment arms.
        some: which of the positions, (n_pos,).
    """
    seen = body.seen_again(Pass(**{f.name: getattr(setting.seen, f.name)[some] for f in fields(Pass)}))
    posed = _Posed(setting.folded, seen, setting.marks, setting.holds, setting.pull.at(some))
    return _balanced(body, setting.lift, setting.path.at(some), posed)


@dataclass(frozen=True)
class _Posed:
    """What is known of the postures of a lift before muscles come in: see `Setting`."""

    folded: bool
    seen: Pass
    marks: tuple[str, ...]
    holds: tuple[Hold, ...]
    pull: Pull


def _balanced(body: Body, lift: Lift, path: Path, posed: _Posed) -> Setting:
    folded, seen, marks, holds, pull = posed.folded, posed.seen, posed.marks, posed.holds, posed.pull
    tension = _moving(_tension(body, seen, folded), speeds(body, seen, path, lift))
    rows, weight = balance_rows(body, folded)
    matrices = assembled(
        Asked(body=body, seen=seen, marks=marks, tension=tension, holds=holds, pull=pull, rows=rows, weight=weight)
    )
    joint, joint_lower, joint_upper = _joints(body, path.q, rows, matrices.muscle)
    if pull.rail is not None:
        each = getattr(lift.resistance, "each", False)
        matrices, joint = _with_sled(matrices, joint, holds, pull, 0.5 if folded and not each else 1.0)
    lower, upper = _support_bounds(holds, matrices.support)
    balance = Balance(
        muscle=matrices.muscle, support=matrices.support, joint=joint, load=matrices.load, rest=matrices.rest, support_lower=lower, support_upper=upper, joint_lower=joint_lower, joint_upper=joint_upper,
        scale=row_scale(body, rows, guided=pull.rail is not None), ease=_ease(body, rows, joint.shape[2]),
    )  # fmt: skip
    names = tuple(body.coordinate_names[r] for r in rows) + (("sled",) if pull.rail is not None else ())
    lines = np.arange(tension.active_n.shape[1])
    return Setting(
        body=body,
        lift=lift,
        path=path,
        lines=lines,
        folded=folded,
        seen=seen,
        marks=marks,
        tension=tension,
        holds=holds,
        pull=pull,
        balance=balance,
        coordinates=names,
    )


def _tension(body: Body, seen: Pass, folded: bool) -> Tension:
    """What every line of the balance can do: the right side's where both sides do alike."""
    lines = body.lines
    n = len(lines.names) // (2 if folded else 1)
    made = (seen.path_m[:, :n], lines.slack_m[:n], lines.optimal_m[:n], lines.pennation_rad[:n])
    full, rest = (settle(*made, a).force for a in (1.0, 0.0))
    return Tension((full - rest) * lines.max_force_n[:n], rest * lines.max_force_n[:n])


def speeds(body: Body, seen: Pass, path: Path, lift: Lift) -> Array:
    """How fast each line is lengthened along the lift [optimal lengths/s]; negative where it shortens, (n_pos, n_line)."""
    lengthened = np.einsum("plc,pc->pl", seen.arms, path.rate)
    return np.asarray(lengthened / (body.lines.optimal_m * lift.lifting_s))


def _moving(tension: Tension, speed: Array) -> Tension:
    """Tension of a lift that moves: what shortens gives less than it could hold, what only steadies the body gives all."""
    return Tension(tension.active_n * force_velocity(speed[:, : tension.active_n.shape[1]]), tension.passive_n)


@lru_cache(maxsize=64)
def balance_rows(body: Body, folded: bool) -> tuple[NDArray[np.intp], Array]:
    """Which coordinates must be in balance, and how often a right-side column counts in each."""
    if not folded:
        return _kept(np.arange(body.n_coord), np.ones(body.n_coord))
    sagittal = [0, 2, 4]  # of the pelvis: forward, up, tilt
    middle = [body.velocity_slice[j].start + 1 for j in ("lumbar", "thoracic", "neck")]
    right = [k for j, s in body.velocity_slice.items() if j.endswith("_right") for k in range(s.start, s.stop)]
    rows = np.array(sagittal + middle + right)
    return _kept(rows, np.where(np.arange(len(rows)) < len(sagittal) + len(middle), 2.0, 1.0))


def _kept(rows: NDArray[np.intp], weight: Array) -> tuple[NDArray[np.intp], Array]:
    """Both as nobody can write to them, since they serve many lifts."""
    rows.setflags(write=False)
    weight.setflags(write=False)
    return rows, weight


def _support_bounds(holds: tuple[Hold, ...], support: Array) -> tuple[Array, Array]:
    """Least and largest size of each support, ribs last, (n_pos, n_force) each."""
    n_pos, _, n_force = support.shape
    free = n_force - len(holds)
    lower = np.array([h.lower for h in holds] + [0.0] * free)
    upper = np.array([h.upper for h in holds] + [np.inf] * free)
    return np.tile(lower, (n_pos, 1)), np.tile(upper, (n_pos, 1))


def _joints(body: Body, qs: Array, rows: NDArray[np.intp], muscle: Array) -> tuple[Array, Array, Array]:
    """Columns and bounds (n_pos, n_joint) of the passive structures, one for each row that is no place of the pelvis, then of the
    weight's shift. The reserve is that of the body's sex, age, mass and training: known lifts change muscles alone.
    """
    own = rows >= _PELVIS
    columns = np.zeros((len(qs), len(rows), int(own.sum())))
    columns[:, np.flatnonzero(own), np.arange(own.sum())] = 1.0
    known = known_factor(body)[: muscle.shape[2]]
    lower, upper = (bound[:, rows[own]] for bound in structure_bounds(body, qs))
    lower, upper = reserve.widened(muscle, own, known, (lower, upper))
    shift, most = reserve.weight_shift(body, qs, rows)
    return np.concatenate([columns, shift], 2), np.concatenate([lower, -most], 1), np.concatenate([upper, most], 1)


def _ease(body: Body, rows: NDArray[np.intp], n_joint: int) -> Array:
    """How much cheaper than others each passive structure is to load, (n_joint,); the weight's shift is as dear as the rest."""
    own = structure_ease(body)[rows[rows >= _PELVIS]]
    return np.concatenate([own, np.ones(n_joint - len(own))])


@lru_cache(maxsize=32)
def known_factor(body: Body) -> Array:
    """Factor on the strength of each line from known lifts, (n_line,)."""
    return np.array([body.person.strength.get(group, 1.0) for group in body.lines.groups])


def _with_sled(matrices: Matrices, joint: Array, holds: tuple[Hold, ...], pull: Pull, share: float) -> tuple[Matrices, Array]:
    """Add the balance of what is guided along its rail: what the body pushes equals the load (`share` of it for one side)."""
    assert pull.rail is not None and pull.rail_n is not None
    m = matrices
    muscle, support, joint = (np.pad(a, ((0, 0), (0, 1), (0, 0))) for a in (m.muscle, m.support, joint))
    load, rest = (np.pad(a, ((0, 0), (0, 1))) for a in (m.load, m.rest))
    for k, hold in enumerate(holds):
        if hold.sled:
            support[:, -1, k] = -pull.rail[:, pull.marks.index(hold.mark)] @ hold.direction
    load[:, -1] = -pull.rail_n * share
    return Matrices(muscle, support, load, rest), joint
