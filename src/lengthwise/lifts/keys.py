"""What a lift's key postures say at each phase: values given at the keys, joined smoothly."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.person import Person, joint_range
from lengthwise.body.posture import PELVIS_PLACE_M
from lengthwise.lifts.definition import PLACE_NAMES, Motion, Value
from lengthwise.lifts.expression import evaluate
from lengthwise.units import CM

Array = NDArray[np.float64]
MOST_STOPPED_DEG = 30.0
"""How far a key posture may give way to a stiff joint and stay the same lift; own choice."""


class Keys:
    """The keys of a lift for one person.

    Args:
        motion: of the lift.
        names: set-up values and body lengths that its sums use.
        person: whose joints end typed angles; as typed where none is given.
    """

    def __init__(self, motion: Motion, names: Mapping[str, float], person: Person | None = None) -> None:
        self.knots = np.array([float(k["at"]) for k in motion.keys])
        self.names = names
        rest = dict(zip(PLACE_NAMES, (v / CM for v in PELVIS_PLACE_M), strict=True))
        angles = dict.fromkeys(a for k in motion.keys for a in k if a != "at")
        values: dict[str, Value] = {a: [k.get(a, 0.0) for k in motion.keys] for a in angles}
        table = {**rest, **dict.fromkeys(motion.solve, 0.0), **values}
        self._angles, self._at_keys = list(table), self.numbers(list(table.values()))
        if person:
            typed = [k for k, name in enumerate(self._angles) if name not in motion.solve]
            self._at_keys[:, typed] = own_ends([self._angles[k] for k in typed], self._at_keys[:, typed], person)

    def posture(self, phase: Array) -> dict[str, Array]:
        """Clinical angles [deg] and place [cm] by name at each phase, (n_pos,) each; solved angles as the keys have them."""
        at = monotone(self.knots, self._at_keys, phase)
        return {name: at[:, k] for k, name in enumerate(self._angles)}

    def at_keys(self) -> dict[str, Array]:
        """The same at the keys themselves, (n_key,) each."""
        return {name: self._at_keys[:, k] for k, name in enumerate(self._angles)}

    def numbers(self, values: Sequence[Value]) -> Array:
        """Values with one entry a key, or one for all, at every key, (n_key, n_value)."""
        return np.array([self._numbers(v) for v in values]).T.reshape(len(self.knots), len(values))

    def _numbers(self, value: Value) -> list[float]:
        if isinstance(value, list):
            return [v if type(v) is float else evaluate(v, self.names) for v in value]
        return [evaluate(value, self.names)] * len(self.knots)


def own_ends(names: Sequence[str], values: Array, person: Person) -> Array:
    """Values of clinical angles [deg], stopped at the ends of this person's joints, (n_value, n_name); of a place they stay.

    An angle that passes the end by more than MOST_STOPPED_DEG stays as it is: stopped there, it would be another lift.
    """
    stems = [n.removesuffix("_right").removesuffix("_left") for n in names]
    ends = [joint_range(person, s) if s in anatomy.angles() else (-np.inf, np.inf) for s in stems]
    low, high = np.array(ends).reshape(-1, 2).T
    past = np.maximum(low - values.min(axis=0), values.max(axis=0) - high)
    return np.where((past > 0) & (past <= MOST_STOPPED_DEG), np.clip(values, low, high), values)


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
