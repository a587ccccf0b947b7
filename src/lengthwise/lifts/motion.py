"""How a person's body moves through a lift: key postures joined smoothly, closed chains solved."""

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.person import joint_range
from lengthwise.body.posture import PELVIS, PELVIS_PLACE_M, coordinates
from lengthwise.body.scaling import region_factor
from lengthwise.errors import InputError, NoSolutionError, UnknownNameError, unknown
from lengthwise.lifts.definition import PLACE_NAMES, Lift, Pin, Value
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.resistance import loaded_marks, pull_of
from lengthwise.units import GRAVITY

Array = NDArray[np.float64]
_CM = 0.01
_TOLERANCE_M = 0.003
_PIN_WEIGHT = 1000.0
"""Pins are counted in millimetres inside the solution."""
_MET = 0.02
_SETTLED_DEG = 0.3
_LONGEST_DEG = 15.0
_COARSE = 9
_BORROWED = 5


@dataclass(frozen=True)
class Path:
    """A body's way through a lift.

    Attributes:
        phase: 0 at the start of the lifting phase, 1 at its end, (n_pos,).
        posture: clinical angles [deg] by name, (n_pos,) each, as typed and solved.
        q: joint coordinates, (n_pos, n_q).
        names: set-up values and body lengths [their unit] that the lift's sums use.
        miss_m: largest distance by which a pin is missed [m].
    """

    phase: Array
    posture: dict[str, Array]
    q: Array
    names: dict[str, float]
    miss_m: float


def set_names(body: Body, lift: Lift, setup: Mapping[str, float]) -> dict[str, float]:
    """Set-up values, body lengths [cm], mass [kg] and strength of the shoulders (1: an untrained man of that mass) by name.

    Raises:
        UnknownNameError: the lift has no such set-up parameter.
        InputError: a value out of its range.
    """
    for name, value in setup.items():
        if name not in lift.setup:
            raise unknown(f"set-up parameter of {lift.name}", name, lift.setup)
        allowed = lift.setup[name]
        if not allowed.min <= value <= allowed.max:
            raise InputError(
                f"{name} = {value:g} {allowed.unit}; allowed {allowed.min:g} to {allowed.max:g}",
                asked=value,
                allowed=[allowed.min, allowed.max],
            )
    share, factor = anatomy.skeleton().length_share, body.scale.length
    segment = {"trunk": "thorax", "upper_arm": "humerus", "forearm": "ulna"}
    lengths = {n: s.base_mm * 0.1 * factor[segment.get(n, n)] for n, s in share.items()}
    defaults = {n: s.default for n, s in lift.setup.items()}
    whole = {
        "stature": body.person.stature_m * 100,
        "mass": body.person.mass_kg,
        "strength": region_factor(body.person, "shoulder"),
    }
    return {**lengths, **whole, **defaults, **setup}


def positions(start: float, end: float, n_pos: int) -> Array:
    """Evenly spaced phases from `start` to `end`."""
    return np.linspace(start, end, n_pos)


def move(body: Body, lift: Lift, phase: Array, setup: Mapping[str, float] | None = None) -> Path:
    """The body's coordinates at each phase of a lift.

    Args:
        phase: (n_pos,), rising within 0-1.
        setup: set-up values that differ from the defaults.

    Raises:
        NoSolutionError: the pins cannot be met by this person; the message names the worst one and by how much.
    """
    names = set_names(body, lift, setup or {})
    knots = np.array([k["at"] for k in lift.motion.keys], float)
    angles = dict.fromkeys(a for k in lift.motion.keys for a in k if a != "at")
    posture = {a: _along(knots, [k.get(a, 0.0) for k in lift.motion.keys], phase, names) for a in angles}
    for name, rest in zip(PLACE_NAMES, PELVIS_PLACE_M, strict=True):
        posture.setdefault(name, np.full(len(phase), rest / _CM))
    for name in lift.motion.solve:
        posture.setdefault(name, np.zeros(len(phase)))
    chain = _Chain(body, lift, posture, [_Condition(p, knots, phase, names) for p in lift.motion.pins], names)
    solved = chain.solve() if lift.motion.solve else posture
    miss = chain.miss(solved)
    worst = int(np.argmax(miss)) if len(miss) else 0
    if len(miss) and miss[worst] > _TOLERANCE_M:
        pin, where = chain.label(worst)
        raise NoSolutionError(
            f"{lift.name}: this person cannot meet the pin '{pin}': {miss[worst] * 100:.1f} cm short at {where:.0%} of the lifting "
            "phase; change the set-up, the key postures or the joint limits",
            asked=pin,
        )
    return Path(phase, solved, chain.coordinates(solved), names, float(miss.max(initial=0.0)))


def _along(knots: Array, values: Value, phase: Array, names: Mapping[str, float]) -> Array:
    """A keyed value at each phase, joined smoothly without overshoot (Fritsch & Carlson 1980 monotone cubic)."""
    if not isinstance(values, list):
        return np.full(len(phase), evaluate(values, names))
    numbers = [evaluate(v, names) for v in values]
    if min(numbers) == max(numbers):
        return np.full(len(phase), numbers[0])
    from scipy.interpolate import PchipInterpolator  # only here: slow to load

    return np.asarray(PchipInterpolator(knots, numbers)(phase))


class _Condition:
    """A pin with its values worked out for every position."""

    def __init__(self, pin: Pin, knots: Array, phase: Array, names: Mapping[str, float]) -> None:
        self.pin = pin
        self.place = {
            axis: _along(knots, value, phase, names) * _CM
            for axis, value in (("x", pin.x_cm), ("y", pin.y_cm), ("z", pin.z_cm))
            if value is not None
        }
        self.tilt = np.radians(_along(knots, pin.tilt_deg, phase, names))
        self.gap = _along(knots, pin.gap_cm, phase, names) * _CM
        self.holding_kg = evaluate(pin.holding_kg, names)

    def at(self, some: NDArray[np.intp]) -> "_Condition":
        """The same pin at some of the positions."""
        out = copy(self)
        out.place = {k: v[some] for k, v in self.place.items()}
        out.tilt, out.gap = self.tilt[some], self.gap[some]
        return out

    def label(self) -> str:
        p = self.pin
        return p.point or (p.level and f"{p.level} level") or (p.over and f"{p.over} over {p.on}") or f"balance over {p.balance}"


class _Chain:
    """The pins of a lift as equations in the solved angles, all positions at once."""

    def __init__(
        self, body: Body, lift: Lift, posture: dict[str, Array], conditions: list[_Condition], names: dict[str, float]
    ) -> None:
        self.body, self.lift, self.base, self.conditions, self.names = body, lift, posture, conditions, names
        self.sides = ("right",) if lift.mirrored else anatomy.SIDES
        self.unknown = list(lift.motion.solve)
        self.short, self.slopes = np.inf, np.zeros((0, 0, 0))
        self.arms = None if any(n.startswith(("shoulder", "scapula")) for n in self.unknown) else self._coordinates(posture, None)
        self.marks = list(dict.fromkeys(m for c in conditions for m in self._marks_of(c.pin)))

    # -- names

    def _sided(self, name: str) -> list[str]:
        """`name` itself when it says a side, else each side that has to be solved."""
        return [name] if name.endswith(("_right", "_left")) else [f"{name}_{s}" for s in self.sides]

    def _marks_of(self, pin: Pin) -> list[str]:
        named = [n for n in (pin.point, pin.over, pin.on, pin.balance) if n]
        if pin.level:
            named.append(_mark_on(pin.level))
        held = loaded_marks(self.lift) if pin.balance and pin.holding_kg else ()
        return [*(m for n in named for m in self._sided(n)), *held]

    # -- equations

    def coordinates(self, posture: Mapping[str, Array]) -> Array:
        """Joint coordinates; where no shoulder angle is solved, shoulders are those of the key postures, once for all."""
        n_pos = len(posture[PLACE_NAMES[0]])
        return self._coordinates(posture, None if self.arms is None else np.tile(self.arms, (n_pos // len(self.arms), 1)))

    def _coordinates(self, posture: Mapping[str, Array], arms: Array | None) -> Array:
        place = np.stack([posture[n] for n in PLACE_NAMES], -1) * _CM
        return coordinates(self.body, {k: v for k, v in posture.items() if k not in PLACE_NAMES}, place, arms)

    def residuals(self, posture: Mapping[str, Array]) -> Array:
        """By how much each pin is missed [m], (n_pos, n_equation)."""
        n_pos = len(next(iter(posture.values())))
        points, frames, centre = self.body.places(self.coordinates(posture), self.marks)
        repeat = n_pos // len(self.conditions[0].gap) if self.conditions else 1
        out: list[Array] = []
        for c in self.conditions:
            out += self._equations(c, points, frames, centre, repeat)
        return np.stack(out, -1) if out else np.zeros((n_pos, 0))

    def _equations(self, c: _Condition, points: Array, frames: Array, centre: Array, repeat: int) -> list[Array]:
        pin, at, out = c.pin, self.marks.index, []
        gap, tilt = np.tile(c.gap, repeat), np.tile(c.tilt, repeat)
        if pin.point:
            for mark in self._sided(pin.point):
                outward = -1.0 if mark.endswith("right") else 1.0
                for axis, value in c.place.items():
                    k = "xyz".index(axis)
                    goal = np.tile(value, repeat) * (outward if k == 1 else 1.0)
                    out.append(points[:, at(mark), k] - goal)
        elif pin.level:
            for mark in self._sided(_mark_on(pin.level)):
                up = frames[:, at(mark), :, 2]
                out += [0.3 * (up[:, 0] * np.cos(tilt) - up[:, 2] * np.sin(tilt)), 0.3 * up[:, 1]]
        elif pin.over and pin.on:
            for a, b in zip(self._sided(pin.over), self._sided(pin.on), strict=True):
                gaps = points[:, at(a)] - points[:, at(b)]
                out += [gaps[:, "xyz".index(axis)] - (gap if k == 0 else 0) for k, axis in enumerate(pin.axes)]
        elif pin.balance:
            middle = np.mean([points[:, at(m)] for m in self._sided(pin.balance)], axis=0)
            pressed = self._pressed(c, points, centre)
            out += [pressed[:, k] - middle[:, k] - (gap if k == 0 else 0) for k in ("xyz".index(a) for a in pin.axes)]
        return out

    def _pressed(self, c: _Condition, points: Array, centre: Array) -> Array:
        """Where the ground's force passes while the pin's load is held: below the body's centre when there is none, (n, 3)."""
        if not c.holding_kg:
            return centre
        at = [self.marks.index(m) for m in loaded_marks(self.lift)]
        n_pos = len(c.gap)
        blocks = [pull_of(self.lift, points[k : k + n_pos, at], None, self.names).force_n for k in range(0, len(points), n_pos)]
        force, place = np.concatenate(blocks) * c.holding_kg, points[:, at]
        weight = self.body.person.mass_kg * GRAVITY
        turning = (place[..., 2:] * force - place * force[..., 2:]).sum(1)
        return np.asarray((centre * weight + turning) / (weight - force[..., 2].sum(1))[:, None])

    def miss(self, posture: Mapping[str, Array]) -> Array:
        """Largest miss of each equation over the positions [m]."""
        self._last = np.abs(self.residuals(posture))
        return np.asarray(self._last.max(axis=0, initial=0.0)) if self._last.size else np.zeros(0)

    def label(self, equation: int) -> tuple[str, float]:
        """Which pin an equation belongs to, and the phase where it is missed most."""
        count = 0
        where = self.base
        for c in self.conditions:
            dummy = len(self._equations(c, *self._dummy(), 1))
            count += dummy
            if equation < count:
                row = int(np.argmax(self._last[:, equation]))
                return c.label(), row / max(len(next(iter(where.values()))) - 1, 1)
        raise UnknownNameError(f"no equation {equation}")

    def _dummy(self) -> tuple[Array, Array, Array]:
        n = len(self.conditions[0].gap)
        return np.zeros((n, len(self.marks), 3)), np.zeros((n, len(self.marks), 3, 3)), np.zeros((n, 3))

    # -- solution

    def solve(self) -> dict[str, Array]:
        """The posture with its solved angles: a few positions from the keys, then all of them from those."""
        start = np.stack([self.base[n] for n in self.unknown], -1)
        n_pos = len(start)
        if n_pos <= 3 * _COARSE:
            return self._with(self.descend(start, start, 40))
        from scipy.interpolate import CubicSpline  # only here: slow to load

        some = np.unique(np.linspace(0, n_pos - 1, _COARSE).round().astype(int))
        coarse = copy(self)
        coarse.base = {k: v[some] for k, v in self.base.items()}
        coarse.conditions = [c.at(some) for c in self.conditions]
        coarse.arms = None if self.arms is None else self.arms[some]
        u_some = coarse.descend(start[some], start[some], 40)
        u = np.asarray(CubicSpline(some, u_some)(np.arange(n_pos)))
        if coarse.short > _TOLERANCE_M * _PIN_WEIGHT:
            return self._with(u)  # the pins cannot be met; `move` says so
        slopes = np.asarray(CubicSpline(some, coarse.slopes)(np.arange(n_pos)))
        return self._with(self.descend(u, start, 40, slopes))

    def descend(self, u: Array, start: Array, most: int, slopes: Array | None = None) -> Array:
        """The angles that meet the pins and lie as near as they can to `start`, all positions at once, (n_pos, n_unknown).

        Each step closes the pins along the shortest way and moves towards `start` only where no pin feels it (projection on the null
        space of the pins: Liegeois 1977, from memory). Angles stay in reach. The first few steps may use given `slopes` of the pins.
        """
        box, turned = self._bounds(), np.inf
        u = np.clip(u, *box)
        eager, missed = np.ones(len(u)), np.full(len(u), np.inf)
        for k in range(most):
            r = self.residuals(self._with(u)) * _PIN_WEIGHT
            worst = np.abs(r).max(axis=1, initial=0.0)
            self.short = float(worst.max())
            if self.short < _MET and turned < _SETTLED_DEG:
                break
            eager = np.where((worst > missed) & (worst > _MET), 0.4 * eager, np.minimum(1.2 * eager, 1.0))
            self.slopes = slopes if slopes is not None and k < _BORROWED else self._jacobian(u)
            step = _step(self.slopes, r, (u - start) * eager[:, None], u, box)
            u, missed, turned = u + step, worst, float(np.abs(step).max())
        return u

    def _with(self, u: Array) -> dict[str, Array]:
        return {**self.base, **{n: u[:, i] for i, n in enumerate(self.unknown)}}

    def _jacobian(self, u: Array, h: float = 0.02) -> Array:
        """∂(weighted residual)/∂(solved angle), (n_pos, n_equation, n_unknown), by forward differences in one batch."""
        n_pos, n = u.shape
        stacked = np.tile(u, (n + 1, 1))
        for i in range(n):
            stacked[(i + 1) * n_pos : (i + 2) * n_pos, i] += h
        base = np.tile(np.stack(list(self.base.values())), n + 1)
        posture = dict(zip(self.base, base, strict=True)) | {name: stacked[:, i] for i, name in enumerate(self.unknown)}
        r = self.residuals(posture).reshape(n + 1, n_pos, -1) * _PIN_WEIGHT
        return np.moveaxis((r[1:] - r[0]) / h, 0, -1)

    def _bounds(self) -> tuple[Array, Array]:
        low, high = [], []
        for name in self.unknown:
            stem = name.removesuffix("_right").removesuffix("_left")
            if stem in PLACE_NAMES or stem in PELVIS:
                low.append(-400.0)
                high.append(400.0)
            else:
                a, b = joint_range(self.body.person, stem)
                low.append(a)
                high.append(b)
        return np.array(low), np.array(high)


def _step(jac: Array, r: Array, away: Array, u: Array, box: tuple[Array, Array]) -> Array:
    """One step of `descend` (n_pos, n_unknown); an angle at its bound does not leave it."""
    low, high = box
    stuck = np.zeros(u.shape, bool)
    for _ in range(3):
        free = jac * ~stuck[:, None, :]
        gram = np.einsum("pij,pkj->pik", free, free)
        gram += np.eye(gram.shape[1]) * (1e-9 + 1e-7 * np.trace(gram, axis1=1, axis2=2)[:, None, None])
        goal = r - np.einsum("pij,pj->pi", free, away * ~stuck)
        close = np.einsum("pij,pi->pj", free, np.linalg.solve(gram, goal[..., None])[..., 0])
        step = -(close + away * ~stuck)
        leaving = ((u <= low) & (step < 0)) | ((u >= high) & (step > 0))
        if not (leaving & ~stuck).any():
            break
        stuck |= leaving
    longest = np.abs(step).max(axis=1, keepdims=True)
    step = step * np.minimum(1, _LONGEST_DEG / np.maximum(longest, 1e-9)) * ~stuck
    return np.asarray(np.clip(u + step, low, high) - u)


def _mark_on(segment: str) -> str:
    """Some landmark that sits on a segment (with or without its side), to read the segment's orientation."""
    stem = segment.removesuffix("_right").removesuffix("_left")
    tail = segment[len(stem) :]
    for name, mark in anatomy.skeleton().landmark.items():
        if mark.on == stem:
            return name + (tail or ("_right" if stem in anatomy.MIDLINE else ""))
    raise UnknownNameError(f"no landmark sits on {segment!r}", asked=segment)
