"""The steps that close a chain, with NumPy: the oracle of core/chain.c, and what answers where the core could not be built."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.body.posture import coordinates
from lengthwise.body.rows import PLACE
from lengthwise.core import door
from lengthwise.lifts.held import LEVER, NOTHING, WEIGHT
from lengthwise.lifts.pins import LEAN, OVER, UPRIGHT
from lengthwise.lifts.pins import PLACE as AT_PLACE
from lengthwise.units import CM

PIN_WEIGHT = 1000.0
"""Pins are counted in millimetres inside the solution."""
MET = 1e-3
NEAR = 1e-2
"""For a long search pins are met with this left: a slide along them lifts the miss above `MET` at every step."""
SETTLED_DEG = 1e-3
STILL_DEG = 1e-6
"""Less of a turn than this is none: pins that cannot be met go no further."""
GAINED = 0.99
"""Of the miss before: with more than that left the pull towards the start yields to the pins, and a long search goes no further."""
LONGEST_DEG = 15.0
STIFFEST = 1e6
"""A bowl that seems to bend by more is the noise of the slopes: learnt from, it would grow beyond all numbers."""
PATIENCE = 25
"""Steps after which only what is better than all before counts."""
SLOPE_STEP = 1e-3
LEAN_ARM_M = 0.3


class Equations:
    """By how much the pins are missed for given solved angles; arguments as core/door.py's Chain and `close`."""

    def __init__(
        self,
        body: Body,
        chain: door.Chain,
        marks: Sequence[str],
        unknown: list[str],
        posture: dict[str, Array],
        goal: Array,
        held_n: Array,
    ) -> None:
        self.body, self.chain, self.marks, self.unknown = body, chain, marks, unknown
        self.posture, self.goal, self.held_n = posture, goal, held_n

    def at(self, some: NDArray[np.intp]) -> "Equations":
        """The same at some of the positions."""
        posture = {k: v[some] for k, v in self.posture.items()}
        return Equations(self.body, self.chain, self.marks, self.unknown, posture, self.goal[some], self.held_n[some])

    def coordinates(self, u: Array) -> Array:
        """Joint coordinates where the solved angles are u (n_pos, n_unknown), (n_pos, n_q)."""
        posture = {**self.posture, **{n: u[:, k] for k, n in enumerate(self.unknown)}}
        place = np.stack([posture[n] for n in PLACE], -1) * CM
        return coordinates(self.body, {k: v for k, v in posture.items() if k not in PLACE}, place)

    def residuals(self, u: Array) -> Array:
        """By how much each pin is missed [m], (n_pos, n_equation)."""
        c = self.chain
        points, frames, centre = self.body.places(self.coordinates(u), self.marks)
        press, middle = self._pressed(points, centre), points[:, c.middle].mean(axis=1) if len(c.middle) else None
        out = np.empty_like(self.goal)
        for e, (kind, first, second, axis) in enumerate(zip(c.kind, c.first, c.second, c.axis, strict=True)):
            goal, up = self.goal[:, e], frames[:, first, :, 2]
            if kind == AT_PLACE:
                out[:, e] = points[:, first, axis] - goal
            elif kind == LEAN:
                out[:, e] = LEAN_ARM_M * (up[:, 0] * np.cos(goal) - up[:, 2] * np.sin(goal))
            elif kind == UPRIGHT:
                out[:, e] = LEAN_ARM_M * up[:, 1]
            elif kind == OVER:
                out[:, e] = points[:, first, axis] - points[:, second, axis] - goal
            elif middle is not None:
                out[:, e] = press[:, axis] - middle[:, axis] - goal
        return out

    def _pressed(self, points: Array, centre: Array) -> Array:
        """Where the ground's force passes while the load is held: below the body's centre when there is none, (n_pos, 3)."""
        c = self.chain
        if c.held_kind == NOTHING:
            return centre
        at, force = points[:, c.held], self._held(points)
        turning = (at[..., 2:] * force - at * force[..., 2:]).sum(1)
        return np.asarray((centre * c.weight_n + turning) / (c.weight_n - force[..., 2].sum(1))[:, None])

    def _held(self, points: Array) -> Array:
        c, at = self.chain, points[:, self.chain.held]
        if c.held_kind == WEIGHT:
            way, grown = np.broadcast_to([0.0, 0.0, -1.0], at.shape), at[..., 2].mean(axis=1)[:, None]
        elif c.held_kind == LEVER:
            arm = at - np.where(c.pivot[:, None] < 0, c.origin, points[:, c.pivot])
            arm = arm - (arm * c.about).sum(-1, keepdims=True) * c.about
            way, grown = np.cross(c.about, arm), np.zeros(at.shape[:2])
        else:
            way = c.origin - at
            grown = np.linalg.norm(way, axis=-1)
        size = np.maximum(self.held_n[:, None] + c.growth * grown, c.least)
        return np.asarray(size[..., None] * way / np.linalg.norm(way, axis=-1, keepdims=True))

    def slopes(self, u: Array) -> Array:
        """∂(weighted miss)/∂(solved angle) by central differences, (n_pos, n_equation, n_unknown)."""
        out = np.empty((*self.goal.shape, u.shape[1]))
        for j in range(u.shape[1]):
            ahead, behind = u.copy(), u.copy()
            ahead[:, j] += SLOPE_STEP
            behind[:, j] -= SLOPE_STEP
            out[:, :, j] = (self.residuals(ahead) - self.residuals(behind)) * (PIN_WEIGHT / (2 * SLOPE_STEP))
        return out


def descend(equations: Equations, first: Array, start: Array, most: int) -> Array:
    """The angles that meet the pins and lie as near as they can to `start`, each position until its own end, (n_pos, n_unknown).

    Sequential quadratic programming: the distance to `start` is a bowl, how the pins bend it is learnt from step to step (BFGS with
    Powell's damping: Nocedal & Wright 2006, procedure 18.2). Angles stay in reach.
    """
    box = (equations.chain.low, equations.chain.high)
    answer = np.clip(first, *box)
    n_pos, n_unknown = answer.shape
    bend, eager, missed = np.tile(np.eye(n_unknown), (n_pos, 1, 1)), np.ones(n_pos), np.full(n_pos, np.inf)
    step, slope, hold = np.full(answer.shape, np.inf), np.zeros((*equations.goal.shape, n_unknown)), np.zeros(equations.goal.shape)
    going, best = np.arange(n_pos), _Best.of(answer)
    for k in range(most + 1):
        here, u = equations.at(going), answer[going]
        r = here.residuals(u) * PIN_WEIGHT
        worst = np.abs(r).max(axis=1, initial=0.0)
        gained = np.ones(len(going), bool)
        if k >= PATIENCE:
            gained = best.keeps(going, u, start[going], worst)
            answer[going] = u = best.u[going]
            r = here.residuals(u) * PIN_WEIGHT
            worst = np.abs(r).max(axis=1, initial=0.0)
        turned = np.abs(step).max(axis=1, initial=0.0)
        more = np.flatnonzero(((worst >= MET) | (turned >= SETTLED_DEG)) & (turned >= STILL_DEG))
        if not len(more) or k == most:
            break
        going, here, u, r, worst, gained = going[more], here.at(more), u[more], r[more], worst[more], gained[more]
        bend, eager, missed, step, slope, hold = (v[more] for v in (bend, eager, missed, step, slope, hold))
        eager = np.where((worst > GAINED * missed) & (worst > MET), 0.4 * eager, np.minimum(1.2 * eager, 1.0))
        now = here.slopes(u)
        if k:
            learnt = _bent(bend, step, step + np.einsum("pej,pe->pj", now - slope, hold))
            bend = np.where(gained[:, None, None], learnt, bend)
        slope, missed = now, worst
        step, hold = _step(slope, bend, r, (u - start[going]) * eager[:, None], u, (*box, best.share[going]))
        answer[going] = u + step
    return answer


@dataclass
class _Best:
    """The best that long searches have met: a miss that is clearly less, those that count as met being alike; or pins met, and nearer to
    the start. Arrays are (n_pos,), u (n_pos, n_unknown)."""

    u: Array
    missed: Array
    far: Array
    share: Array

    @classmethod
    def of(cls, u: Array) -> "_Best":
        """Nothing met yet."""
        n_pos = len(u)
        return cls(u.copy(), np.full(n_pos, np.inf), np.full(n_pos, np.inf), np.ones(n_pos))

    def keeps(self, going: NDArray[np.intp], u: Array, start: Array, worst: Array) -> NDArray[np.bool_]:
        """Which u are better than all before, and are kept; from the others' best, steps are half as long."""
        missed, far = np.maximum(worst, NEAR), ((u - start) ** 2).sum(1)
        better = (missed < GAINED * self.missed[going]) | ((missed == NEAR) & (far < self.far[going]))
        self.share[going] = np.where(better, np.minimum(2 * self.share[going], 1), 0.5 * self.share[going])
        kept = going[better]
        self.u[kept], self.missed[kept], self.far[kept] = u[better], missed[better], far[better]
        return np.asarray(better)


def _bent(bend: Array, step: Array, change: Array) -> Array:
    """The bowls' curvature (n_pos, n_unknown, n_unknown) after a step along which their slope changed by `change`."""
    pushed = np.einsum("pij,pj->pi", bend, step)
    curved, along = (step * pushed).sum(1), (step * change).sum(1)
    moved = curved >= 1e-16
    short = along < 0.2 * curved
    kept = np.where(short, 0.8 * curved / np.where(short, curved - along, 1.0), 1.0)
    change = kept[:, None] * change + (1 - kept)[:, None] * pushed
    along = np.where(moved, kept * along + (1 - kept) * curved, 1.0)
    moved = moved & ((change * change).sum(1) <= STIFFEST * along)
    along = np.where(moved, along, 1.0)
    gained = change[:, :, None] * change[:, None, :] / along[:, None, None]
    lost = pushed[:, :, None] * pushed[:, None, :] / np.where(moved, curved, 1.0)[:, None, None]
    return np.where(moved[:, None, None], bend + gained - lost, bend)


def _step(slope: Array, bend: Array, r: Array, away: Array, u: Array, within: tuple[Array, Array, Array]) -> tuple[Array, Array]:
    """One step (n_pos, n_unknown) that closes the pins and otherwise leads towards the start, and the pins' multipliers.

    An angle at its bound does not leave it.

    Args:
        within: the bounds, and how much of each step to take (n_pos,).
    """
    low, high, share = within
    stuck = np.zeros(u.shape, bool)
    for _ in range(3):
        free = slope * ~stuck[:, None, :]
        bowl = np.where(stuck[:, :, None] | stuck[:, None, :], np.eye(u.shape[1]), bend)
        wanted = np.linalg.solve(bowl, (away * ~stuck)[..., None])[..., 0]
        reach = np.swapaxes(np.linalg.solve(bowl, np.swapaxes(free, 1, 2)), 1, 2)
        gram = np.einsum("pij,pkj->pik", free, reach)
        gram += np.eye(gram.shape[1]) * (1e-9 + 1e-10 * np.trace(gram, axis1=1, axis2=2)[:, None, None])
        goal = r - np.einsum("pij,pj->pi", free, wanted)
        hold = np.linalg.solve(gram, goal[..., None])[..., 0]
        step = -(wanted + np.einsum("pij,pi->pj", reach, hold))
        leaving = ((u <= low) & (step < 0)) | ((u >= high) & (step > 0))
        if not (leaving & ~stuck).any():
            break
        stuck |= leaving
    longest = np.abs(step).max(axis=1, initial=0.0, keepdims=True)
    step = step * (share[:, None] * np.minimum(1, LONGEST_DEG / np.maximum(longest, 1e-9))) * ~stuck
    return np.asarray(np.clip(u + step, low, high) - u), hold
