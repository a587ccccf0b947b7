"""What each line, support and kilogram does to each coordinate that must be in balance, from a survey: in the core, else with NumPy."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body, Pass
from lengthwise.core import balance_rows, door
from lengthwise.lifts.resistance import Pull
from lengthwise.lifts.supports import Hold
from lengthwise.mechanics import ribs


@dataclass(frozen=True)
class Tension:
    """What each muscle line of the balance can do at each position.

    Attributes:
        active_n: force along the path that full activation adds at the speed of the lift [N], (n_pos, n_line).
        passive_n: force at rest [N], (n_pos, n_line).
    """

    active_n: Array
    passive_n: Array


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What is assembled.

    Attributes:
        body, seen, marks: whom, and the survey of these landmarks; ribs.MARKS among them.
        tension, holds, pull: what muscles, supports and the resistance can do.
        rows, weight: coordinates that must be in balance, and how often a column counts in each, (n_row,).
    """

    body: Body
    seen: Pass
    marks: tuple[str, ...]
    tension: Tension
    holds: tuple[Hold, ...]
    pull: Pull
    rows: NDArray[np.intp]
    weight: Array

    @property
    def loaded(self) -> list[int]:
        """Which of the pull's landmarks carry it: the right side's where that stands for both."""
        folded = self.tension.active_n.shape[1] < self.seen.arms.shape[1]
        return [k for k, m in enumerate(self.pull.marks) if not folded or m.endswith("_right")]


@dataclass(frozen=True)
class Matrices:
    """Columns of muscles (n_pos, n_row, n_line) and supports, ribs last (n_pos, n_row, n_force); load and rest (n_pos, n_row)."""

    muscle: Array
    support: Array
    load: Array
    rest: Array


def assembled(asked: Asked) -> Matrices:
    """The matrices of a lift."""
    if not door.available():
        return _by_numpy(asked)
    seen, marks, loaded = asked.seen, asked.marks, asked.loaded
    contact, cage = _ribs(asked)
    out = balance_rows.assemble(
        balance_rows.Parts(
            row=_integers(asked.rows), weight=asked.weight, arms=seen.arms, active=asked.tension.active_n, passive=asked.tension.passive_n,
            gravity=seen.gravity, point=seen.points, frame=seen.frames, jacobian=seen.jacobians, turn=seen.turns,
            hold_mark=_integers([marks.index(h.mark) for h in asked.holds]),
            hold_on=_integers([-1 if h.on is None else marks.index(h.on) for h in asked.holds]),
            hold_turns=_integers([h.turn for h in asked.holds]),
            hold_direction=np.array([h.direction for h in asked.holds]).reshape(-1, 3),
            rib_point=_integers(contact), rib_centre=_integers(cage), rib_axes=ribs.axes_m(asked.body),
            load_mark=_integers([marks.index(asked.pull.marks[k]) for k in loaded]), load_force=asked.pull.force_n[:, loaded],
        )
    )  # fmt: skip
    for array in out:
        array.setflags(write=False)
    return Matrices(*out)


def _integers(values: object) -> NDArray[np.int32]:
    return np.asarray(values, np.int32)


def _ribs(asked: Asked) -> tuple[list[int], list[int]]:
    """Landmarks of the blade and of the rib cage for each contact, in pairs, right first; the right side's where it stands for both."""
    sides = (0,) if asked.tension.active_n.shape[1] < asked.seen.arms.shape[1] else (0, 1)
    at = [asked.marks.index(m) for m in ribs.MARKS]
    return [at[3 * s + k] for s in sides for k in (0, 1)], [at[3 * s + 2] for s in sides for _ in (0, 1)]


def _by_numpy(asked: Asked) -> Matrices:
    seen, tension, rows, weight = asked.seen, asked.tension, asked.rows, asked.weight
    n_line = tension.active_n.shape[1]
    arms = np.swapaxes(seen.arms[:, :n_line], 1, 2)[:, rows] * weight[:, None]
    rib = ribs.rib_contacts(asked.body, seen, asked.marks.index(ribs.MARKS[0]))[..., : len(_ribs(asked)[0])]
    contact = [_hold_column(h, seen, asked.marks)[..., None] for h in asked.holds]
    support = np.concatenate([*contact, rib], -1)[:, rows] * weight[:, None]
    marks = [asked.marks.index(asked.pull.marks[k]) for k in asked.loaded]
    carried = np.einsum("pmk,pmkc->pc", asked.pull.force_n[:, asked.loaded], seen.jacobians[:, marks])
    rest = seen.gravity[:, rows] + np.einsum("pcl,pl->pc", arms, tension.passive_n)
    return Matrices(-arms * tension.active_n[:, None], support, carried[:, rows] * weight, rest)


def _hold_column(hold: Hold, seen: Pass, marks: tuple[str, ...]) -> Array:
    source = seen.turns if hold.turn else seen.jacobians
    column = np.einsum("k,pkc->pc", hold.direction, source[:, marks.index(hold.mark)])
    if hold.on is not None:
        column = column - np.einsum("k,pkc->pc", hold.direction, source[:, marks.index(hold.on)])
    return np.asarray(column)
