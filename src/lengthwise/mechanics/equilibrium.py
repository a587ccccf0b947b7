"""The balance of the whole floating body at every position of a lift, as matrices.

−Rᵀ(F_active + F_passive) + Jᵀf + λ·Jᵀw + s = g: muscles, supports, the resistance and passive joint structures carry the weight of the
segments. A lift that both sides do alike is folded to one side: rows of the midline count both sides, rows of the left repeat the right's.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import Body, Pass
from lengthwise.body.muscles import settle
from lengthwise.body.structures import structure_bounds
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.motion import Path, move
from lengthwise.lifts.resistance import Pull, axis_marks, loaded_marks, pull_of
from lengthwise.lifts.supports import Hold, holds_of
from lengthwise.mechanics import ribs
from lengthwise.mechanics.problem import Balance

Array = NDArray[np.float64]
_PELVIS = 6  # coordinates of the floating pelvis, which nothing but supports holds


@dataclass(frozen=True)
class Tension:
    """What each muscle line can do at each position.

    Attributes:
        active_n: force along the path that full activation adds [N], (n_pos, n_line).
        passive_n: force at rest [N], (n_pos, n_line).
    """

    active_n: Array
    passive_n: Array


@dataclass(frozen=True)
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


def set_up(body: Body, lift: Lift, phase: Array, setup: Mapping[str, float] | None = None) -> Setting:
    """The balance of a body in a lift at each phase.

    Args:
        phase: positions along the lifting phase, (n_pos,).
        setup: set-up values that differ from the lift's defaults.

    Raises:
        NoSolutionError: the lift's closed chain cannot be met by this person.
        UnknownNameError, InputError: a set-up value that the lift does not have or allow.
    """
    path = move(body, lift, phase, setup)
    folded = lift.mirrored
    sides = ("right",) if folded else anatomy.SIDES
    holds = tuple(holds_of(lift, path.names, sides))
    loaded = loaded_marks(lift)
    pulled = tuple(m for m in loaded if not folded or m.endswith("_right"))
    axis = axis_marks(lift)
    marks = tuple(dict.fromkeys([*loaded, *axis, *(h.mark for h in holds), *(h.on for h in holds if h.on), *ribs.MARKS]))
    seen = body.survey(path.q, marks)
    at = [marks.index(m) for m in loaded]
    pull = pull_of(lift, seen.points[:, at], seen.points[:, [marks.index(m) for m in axis]] if axis else None, path.names)
    tension = _tension(body, seen, folded)
    rows, weight = _rows(body, folded)
    n_line = len(body.lines.names) // (2 if folded else 1)

    def fold(columns: Array) -> Array:
        return columns[:, rows] * weight[:, None]

    muscle = fold(-np.swapaxes(seen.arms, 1, 2)[:, :, :n_line] * tension.active_n[:, None, :n_line])
    support, lower, upper = _supports(body, holds, seen, marks, folded)
    joint, joint_lower, joint_upper = _joints(body, path.q, rows)
    load = np.stack([pull.force_n[:, loaded.index(m)] for m in pulled], 1)
    carried = np.einsum("pmk,pmkc->pc", load, seen.jacobians[:, [marks.index(m) for m in pulled]])
    passive = np.einsum("plc,pl->pc", seen.arms, tension.passive_n)
    matrices = [muscle, fold(support), joint, fold(carried[..., None]), (seen.gravity + passive)[:, rows, None]]
    if pull.rail is not None:
        matrices = _with_sled(matrices, holds, pull, 0.5 if folded else 1.0)
    muscle, support, joint, load, rest = matrices
    balance = Balance(muscle, support, joint, load[..., 0], rest[..., 0], lower, upper, joint_lower, joint_upper)
    names = tuple(body.coordinate_names[r] for r in rows) + (("sled",) if pull.rail is not None else ())
    lines = np.arange(n_line)
    return Setting(
        body, lift, path, lines, folded, seen, marks, Tension(tension.active_n[:, :n_line], tension.passive_n[:, :n_line]),
        holds, pull, balance, names,
    )  # fmt: skip


def _tension(body: Body, seen: Pass, folded: bool) -> Tension:
    """What every line can do; where both sides do alike the left's is copied from the right's."""
    lines = body.lines
    n = len(lines.names) // (2 if folded else 1)
    settled = (
        settle(seen.path_m[:, :n], lines.slack_m[:n], lines.optimal_m[:n], lines.pennation_rad[:n], a).force for a in (1.0, 0.0)
    )
    full, rest = (np.concatenate([f, f], axis=1) if folded else f for f in settled)
    return Tension((full - rest) * lines.max_force_n, rest * lines.max_force_n)


def _rows(body: Body, folded: bool) -> tuple[NDArray[np.intp], Array]:
    """Which coordinates must be in balance, and how often a right-side column counts in each."""
    if not folded:
        return np.arange(body.n_coord), np.ones(body.n_coord)
    sagittal = [0, 2, 4]  # of the pelvis: forward, up, tilt
    middle = [body.velocity_slice[j].start + 1 for j in ("lumbar", "thoracic", "neck")]
    right = [k for j, s in body.velocity_slice.items() if j.endswith("_right") for k in range(s.start, s.stop)]
    rows = np.array(sagittal + middle + right)
    return rows, np.where(np.arange(len(rows)) < len(sagittal) + len(middle), 2.0, 1.0)


def _hold_column(hold: Hold, seen: Pass, marks: tuple[str, ...]) -> Array:
    source = seen.turns if hold.turn else seen.jacobians
    column = np.einsum("k,pkc->pc", hold.direction, source[:, marks.index(hold.mark)])
    if hold.on is not None:
        column = column - np.einsum("k,pkc->pc", hold.direction, seen.jacobians[:, marks.index(hold.on)])
    return np.asarray(column)


def _supports(body: Body, holds: tuple[Hold, ...], seen: Pass, marks: tuple[str, ...], folded: bool) -> tuple[Array, Array, Array]:
    """Columns of supports and ribs (n_pos, n_coord, n_force) and their bounds (n_pos, n_force)."""
    contact = [_hold_column(h, seen, marks) for h in holds]
    rib = ribs.rib_contacts(body, seen, marks.index(ribs.MARKS[0]))[..., : 2 if folded else 4]
    columns = np.concatenate([np.stack(contact, -1), rib], -1) if contact else rib
    lower = np.concatenate([[h.lower for h in holds], np.zeros(rib.shape[-1])])
    upper = np.concatenate([[h.upper for h in holds], np.full(rib.shape[-1], np.inf)])
    return columns, np.tile(lower, (len(rib), 1)), np.tile(upper, (len(rib), 1))


def _joints(body: Body, qs: Array, rows: NDArray[np.intp]) -> tuple[Array, Array, Array]:
    """Columns of the passive structures, one for each row that is no place of the pelvis, and their bounds (n_pos, n_joint)."""
    own = rows >= _PELVIS
    columns = np.zeros((len(qs), len(rows), int(own.sum())))
    columns[:, np.flatnonzero(own), np.arange(own.sum())] = 1.0
    lower, upper = structure_bounds(body, qs)
    return columns, lower[:, rows[own]], upper[:, rows[own]]


def _with_sled(matrices: list[Array], holds: tuple[Hold, ...], pull: Pull, share: float) -> list[Array]:
    """Add the sled's own balance along its rail: what the body pushes equals the load (half of it for one side)."""
    assert pull.rail is not None
    out = [np.concatenate([m, np.zeros((m.shape[0], 1, m.shape[2]))], axis=1) for m in matrices]
    for k, hold in enumerate(holds):
        if hold.sled:
            out[1][:, -1, k] = -hold.direction @ pull.rail
    out[3][:, -1, 0] = -pull.rail_n * share
    return out
