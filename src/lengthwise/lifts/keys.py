"""What a lift's key postures say at each phase: values given at the keys, joined smoothly."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.person import Person, joint_range
from lengthwise.body.posture import PELVIS_PLACE_M
from lengthwise.lifts.definition import PLACE_NAMES, Motion, Value
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.once import once
from lengthwise.units import CM

_ENDLESS = (-np.inf, np.inf)
MOST_STOPPED_DEG = 30.0
"""How far a key posture may give way to a stiff joint and stay the same lift; own choice."""


class SumsOfAngles:
    """Values with one entry a key, or one for all, some of which are sums over a person's names.

    Args:
        values: as written. n_key: how many keys there are.
    """

    def __init__(self, values: Sequence[Value], n_key: int) -> None:
        self._known = np.zeros((n_key, len(values)))
        self._sums: list[tuple[int | slice, int, str]] = []
        for column, value in enumerate(values):
            written = list(enumerate(value)) if isinstance(value, list) else [(slice(None), value)]
            self._sums += [(key, column, own) for key, own in written if isinstance(own, str)]
            self._known[:, column] = [0.0 if isinstance(own, str) else own for _, own in written]

    def numbers(self, names: Mapping[str, float]) -> Array:
        """What they come to for one person at every key, (n_key, n_value)."""
        out = self._known.copy()
        for key, column, text in self._sums:
            out[key, column] = evaluate(text, names)
        return out


@dataclass(frozen=True)
class _Typed:
    """What the keys of a lift hold: their phases, the angles they name, those that are typed rather than solved, and their values."""

    knots: Array
    angles: tuple[str, ...]
    typed: list[int]
    values: SumsOfAngles


@once
def _typed(motion: Motion) -> _Typed:
    knots = np.array([float(k["at"]) for k in motion.keys])
    knots.setflags(write=False)
    rest = dict(zip(PLACE_NAMES, (v / CM for v in PELVIS_PLACE_M), strict=True))
    angles = dict.fromkeys(a for k in motion.keys for a in k if a != "at")
    values: dict[str, Value] = {a: [k.get(a, 0.0) for k in motion.keys] for a in angles}
    table = {**rest, **dict.fromkeys(motion.solve, 0.0), **values}
    typed = [k for k, name in enumerate(table) if name not in motion.solve]
    return _Typed(knots, tuple(table), typed, SumsOfAngles(list(table.values()), len(knots)))


class Keys:
    """The keys of a lift for one person.

    Args:
        motion: of the lift.
        names: set-up values and body lengths that its sums use.
        person: whose joints end typed angles; as typed where none is given.
    """

    def __init__(self, motion: Motion, names: Mapping[str, float], person: Person | None = None) -> None:
        told = _typed(motion)
        self.knots, self.names, self._angles, self._at_keys = told.knots, names, told.angles, told.values.numbers(names)
        if person:
            own = own_ends([self._angles[k] for k in told.typed], self._at_keys[:, told.typed], person)
            self._at_keys[:, told.typed] = own

    def posture(self, phase: Array) -> dict[str, Array]:
        """Clinical angles [deg] and place [cm] by name at each phase, (n_pos,) each; solved angles as the keys have them."""
        at = monotone(self.knots, self._at_keys, phase)
        return {name: at[:, k] for k, name in enumerate(self._angles)}

    def at_keys(self) -> dict[str, Array]:
        """The same at the keys themselves, (n_key,) each."""
        return {name: self._at_keys[:, k] for k, name in enumerate(self._angles)}


def own_ends(names: Sequence[str], values: Array, person: Person) -> Array:
    """Values of clinical angles [deg], stopped at the ends of this person's joints, (n_value, n_name); of a place they stay.

    An angle that passes the end by more than MOST_STOPPED_DEG stays as it is: stopped there, it would be another lift.
    """
    ranges = _ranges(person)
    low, high = np.array([ranges.get(n.removesuffix("_right").removesuffix("_left"), _ENDLESS) for n in names]).reshape(-1, 2).T
    past = np.maximum(low - values.min(axis=0), values.max(axis=0) - high)
    return np.where((past > 0) & (past <= MOST_STOPPED_DEG), np.clip(values, low, high), values)


@lru_cache(maxsize=8)
def _ranges(person: Person) -> dict[str, tuple[float, float]]:
    return {angle: joint_range(person, angle) for angle in anatomy.angles()}


def monotone(knots: Array, values: Array, phase: Array) -> Array:
    """Columns of values at knots, joined by cubics that never overshoot, (n_pos, n_value).

    Args:
        knots: rising, (n_knot,), at least two. values: (n_knot, n_value). phase: (n_pos,) within the knots.

    Source: Fritsch & Carlson 1980, SIAM J Numer Anal 17:238-246, with the slopes of Fritsch & Butland 1984, SIAM J Sci Stat Comput
    5:300-304 (tests hold it to SciPy's PchipInterpolator).
    """
    width = np.diff(knots)[:, None]
    rise = np.diff(values, axis=0) / width
    slope = _slopes(width, rise)
    k = np.clip(np.searchsorted(knots, phase, side="right") - 1, 0, len(knots) - 2)
    w = width[k]
    t = (phase - knots[k])[:, None] / w
    bend, tail = (3 * rise[k] - 2 * slope[k] - slope[k + 1]) * w, (slope[k] + slope[k + 1] - 2 * rise[k]) * w
    return np.asarray(values[k] + t * (slope[k] * w + t * (bend + t * tail)))


def _slopes(width: Array, rise: Array) -> Array:
    if len(rise) == 1:
        return np.concatenate([rise, rise])
    before, after = rise[:-1], rise[1:]
    near, far = 2 * width[1:] + width[:-1], width[1:] + 2 * width[:-1]
    same = before * after > 0
    mean = np.where(same, near / np.where(same, before, 1.0) + far / np.where(same, after, 1.0), 1.0)
    middle = np.where(same, (near + far) / mean, 0.0)
    first, last = _end(width[0], width[1], rise[0], rise[1]), _end(width[-1], width[-2], rise[-1], rise[-2])
    return np.concatenate([first[None], middle, last[None]])


def _end(width: Array, next_width: Array, rise: Array, next_rise: Array) -> Array:
    """Slope at an end from its two intervals, kept from overshooting."""
    slope = ((2 * width + next_width) * rise - width * next_rise) / (width + next_width)
    turns = (np.sign(rise) != np.sign(next_rise)) & (np.abs(slope) > 3 * np.abs(rise))
    return np.where(np.sign(slope) != np.sign(rise), 0.0, np.where(turns, 3 * rise, slope))
