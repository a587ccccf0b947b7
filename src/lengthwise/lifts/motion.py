"""How a person's body moves through a lift: key postures joined smoothly, closed chains solved."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.scaling import region_factor
from lengthwise.errors import InputError, NoSolutionError, unknown
from lengthwise.lifts.chain import TOLERANCE_M, solve
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.keys import Keys
from lengthwise.lifts.pins import pins_of
from lengthwise.lifts.resistance import FULL, Law, Part, axis_marks, course_of, law_of, loaded_marks, whole_phases


@dataclass(frozen=True, kw_only=True)
class Path:
    """A body's way through a lift.

    Attributes:
        phase: 0 at the start of the lifting phase, 1 at its end, (n_pos,).
        posture: clinical angles [deg] by name, (n_pos,) each, as typed and solved.
        q: joint coordinates, (n_pos, n_q).
        rate: how fast each coordinate changes [rad or m per lifting phase], (n_pos, n_coord); that of the position itself,
            whatever other positions were asked.
        names: set-up values and body lengths [their unit] that the lift's sums use.
        miss_m: largest distance by which a pin is missed [m].
        law: what the resistance knows of the part of the lift that was asked for.
    """

    phase: Array
    posture: dict[str, Array]
    q: Array
    rate: Array
    names: dict[str, float]
    miss_m: float
    law: Law

    def at(self, some: NDArray[np.intp]) -> "Path":
        """The way's postures at some of the positions."""
        posture = {n: v[some] for n, v in self.posture.items()}
        return Path(
            phase=self.phase[some],
            posture=posture,
            q=self.q[some],
            rate=self.rate[some],
            names=self.names,
            miss_m=self.miss_m,
            law=self.law,
        )


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


def move(body: Body, lift: Lift, phase: Array, setup: Mapping[str, float] | None = None, part: Part = FULL) -> Path:
    """The body's coordinates at each phase of a lift; a phase's answer does not depend on which others are asked.

    Args:
        phase: (n_pos,), rising within 0-1.
        setup: set-up values that differ from the defaults.
        part: of the lift that is asked for, over which a band is counted.

    Raises:
        NoSolutionError: the pins cannot be met by this person; the message names the worst one and by how much.
    """
    names = set_names(body, lift, setup or {})
    pins = pins_of(lift, names)
    found = solve(body, lift, Keys(lift.motion, names, body.person), pins, phase, part)
    missed = np.abs(found.miss)
    if missed.size and missed.max() > TOLERANCE_M:
        position, worst = np.unravel_index(int(np.argmax(missed)), missed.shape)
        raise NoSolutionError(
            f"{lift.name}: this person cannot reach '{pins.equations[worst].label}': {missed.max() * 100:.1f} cm short at "
            f"{phase[position]:.0%} of the lifting phase; change the set-up, the key postures or the joint limits",
            asked=pins.equations[worst].label,
        )
    points = body.places(found.whole_q, (*loaded_marks(lift), *axis_marks(lift)))[0]
    law = law_of(lift, course_of(lift, whole_phases(lift, part), points), names)
    return Path(
        phase=phase, posture=found.posture, q=found.q, rate=found.rate, names=names, miss_m=float(missed.max(initial=0.0)), law=law
    )
