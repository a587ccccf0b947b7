"""Where a lift ends because this person's joints end: people go less deep, or less far, and stop there."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.body.person import Person
from lengthwise.lifts.chain import TOLERANCE_M, closed, reach, stem
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.keys import Keys, own_ends
from lengthwise.lifts.motion import set_names
from lengthwise.lifts.pins import Pins, pins_of
from lengthwise.lifts.resistance import FULL, Part

N_TRIED = 41
AT_ITS_END_DEG = 0.1
TOLD_DEG = 2.0
"""A key posture that passes a joint's end by less is not worth a word."""


@dataclass(frozen=True)
class Reached:
    """The part of the lifting phase that a person can take, 0-1, and what ends it; empty where nothing does."""

    part: Part = FULL
    why: str = ""


WHOLE = Reached()


def reached(body: Body, lift: Lift, setup: Mapping[str, float]) -> Reached:
    """The longest part of the lifting phase in which this person meets every pin, one step of 1/40 inside its ends.

    `part` is empty (0, 0) where no position meets them.
    """
    names, phase = set_names(body, lift, setup), np.linspace(*FULL, N_TRIED)
    pins = pins_of(lift, names)
    posture, miss = closed(body, lift, Keys(lift.motion, names, body.person), pins, phase)
    met = np.asarray((np.abs(miss) <= TOLERANCE_M).all(axis=1))
    if met.all():
        return WHOLE
    first, last = _longest(met)
    useful = last - first >= 3
    beyond = (first - 1 if first else last + 1) if useful else int(np.argmin(met))
    why = _why(body, lift, {n: float(v[beyond]) for n, v in posture.items()}) or _missed(pins, miss[beyond])
    if not useful:
        return Reached((0.0, 0.0), why)
    start, end = first + (first > 0), last - (last < N_TRIED - 1)
    return Reached((float(phase[start]), float(phase[end])), why)


def _longest(met: NDArray[np.bool_]) -> tuple[int, int]:
    """First and last place of the longest run of True; (0, -1) where there is none."""
    best, first = (0, -1), 0
    for k, ok in enumerate([*met, False]):
        if not ok:
            best = (first, k - 1) if k - 1 - first > best[1] - best[0] else best
            first = k + 1
    return best


def _why(body: Body, lift: Lift, posture: Mapping[str, float]) -> str:
    """Which joints are at their ends in a posture that does not do; empty where none is."""
    low, high = reach(body, lift.motion.solve)
    ended = []
    for name, least, most in zip(lift.motion.solve, low, high, strict=True):
        if min(posture[name] - least, most - posture[name]) < AT_ITS_END_DEG:
            ended.append(f"{stem(name).replace('_', ' ')} {posture[name]:.0f}°")
    return f"{' and '.join(dict.fromkeys(ended))}: this person's joints end there" if ended else ""


def _missed(pins: Pins, miss: Array) -> str:
    missed = pins.equations[int(np.argmax(np.abs(miss)))].label.replace("_", " ")
    return f"this person's segments do not reach '{missed}'"


def stopped(lift: Lift, names: Mapping[str, float], person: Person) -> list[str]:
    """Typed angles of the key postures that this person's joints do not reach, one line each: they stop at the joint's end."""
    out: dict[str, str] = {}
    at_keys = Keys(lift.motion, names).at_keys()
    stopped_at = own_ends(list(at_keys), np.stack(list(at_keys.values()), 1), person)
    for (name, values), own in zip(at_keys.items(), stopped_at.T, strict=True):
        far = values - own
        worst = int(np.argmax(np.abs(far)))
        if name not in lift.motion.solve and abs(far[worst]) > TOLD_DEG:
            joint = stem(name).replace("_", " ")
            out[joint] = f"{joint} stops at {values[worst] - far[worst]:.0f}°, this person's limit ({values[worst]:.0f}° as set up)"
    return list(out.values())
