"""What a lift pins, as equations between landmarks: each says by how much it is missed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.errors import UnknownNameError
from lengthwise.lifts.definition import Lift, Pin, Value
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.keys import Keys, SumsOfAngles
from lengthwise.lifts.once import once
from lengthwise.lifts.resistance import axis_marks, loaded_marks
from lengthwise.units import CM, DEG

Index = NDArray[np.int32]
PLACE, LEAN, UPRIGHT, OVER, BALANCE = range(5)
"""Kinds of equation (core/chain.h): a landmark's coordinate; a segment's lean forward; no lean sideways; a landmark over another; the
ground's force over the middle of some landmarks."""


@dataclass(frozen=True, kw_only=True)
class Equation:
    """One condition on landmarks.

    Attributes:
        label: the pin it belongs to. kind: PLACE to BALANCE. first, second: landmarks. axis: 0 to 2.
        value: the goal as written, one entry a key or one for all. unit: what makes it metres or radians, with its sign.
    """

    label: str
    kind: int
    first: str
    second: str
    axis: int
    value: Value
    unit: float


@dataclass(frozen=True, kw_only=True)
class Pins:
    """The equations of a lift.

    Attributes:
        equations: in the order of the lift's pins. marks: landmarks they need.
        middle: landmarks in whose middle a balance is asked. held: landmarks of the load held meanwhile; none without load.
        pivots: landmarks on a lever's axis, one for each of `held`, or none. holding_kg: that load. values: goals as written.
    """

    equations: tuple[Equation, ...]
    marks: tuple[str, ...]
    middle: tuple[str, ...]
    held: tuple[str, ...]
    pivots: tuple[str, ...]
    holding_kg: float
    values: SumsOfAngles

    def index(self, names: tuple[str, ...]) -> Index:
        """Where landmarks stand in `marks`."""
        return np.array([self.marks.index(n) for n in names], np.int32)

    def goals(self, keys: Keys) -> Array:
        """The goal of each equation [m or rad] at every key, (n_key, n_equation)."""
        return np.asarray(self.values.numbers(keys.names) * np.array([e.unit for e in self.equations]))


def pins_of(lift: Lift, names: Mapping[str, float]) -> Pins:
    """The pins of a lift for one person's set-up; at most one of them asks for balance.

    Raises:
        UnknownNameError: a pin on a segment that carries no landmark.
    """
    unheld = _unheld(lift)
    balance = next((p for p in lift.motion.pins if p.balance), None)
    holding = evaluate(balance.holding_kg, names) if balance else 0.0
    if not holding:
        return unheld
    held, pivots = loaded_marks(lift), axis_marks(lift)
    return replace(
        unheld, marks=tuple(dict.fromkeys([*unheld.marks, *held, *pivots])), held=held, pivots=pivots, holding_kg=holding
    )


@once
def _unheld(lift: Lift) -> Pins:
    """The pins of a lift while no load is held."""
    sides = ("right",) if lift.mirrored else anatomy.SIDES
    equations = tuple(e for pin in lift.motion.pins for e in _equations(pin, sides))
    balance = next((p for p in lift.motion.pins if p.balance), None)
    middle = _sided(balance.balance, sides) if balance and balance.balance else []
    marks = dict.fromkeys([*(m for e in equations for m in (e.first, e.second)), *middle])
    values = SumsOfAngles([e.value for e in equations], len(lift.motion.keys))
    return Pins(equations=equations, marks=tuple(marks), middle=tuple(middle), held=(), pivots=(), holding_kg=0.0, values=values)


def _equations(pin: Pin, sides: tuple[str, ...]) -> list[Equation]:
    label = (
        pin.point
        or (pin.level and f"{pin.level} level")
        or (pin.over and f"{pin.over} over {pin.on}")
        or f"balance over {pin.balance}"
    )
    if pin.point:
        axes = [(k, v) for k, v in enumerate((pin.x_cm, pin.y_cm, pin.z_cm)) if v is not None]
        marks = _sided(pin.point, sides)
        return [
            Equation(
                label=label, kind=PLACE, first=m, second=m, axis=k, value=v, unit=-CM if k == 1 and m.endswith("right") else CM
            )
            for m in marks
            for k, v in axes
        ]
    if pin.level:
        marks = _sided(_mark_on(pin.level), sides)
        return [
            Equation(label=label, kind=kind, first=m, second=m, axis=0, value=pin.tilt_deg, unit=DEG)
            for m in marks
            for kind in (LEAN, UPRIGHT)
        ]
    gaps = [("xyz".index(axis), pin.gap_cm if k == 0 else 0.0) for k, axis in enumerate(pin.axes)]
    if pin.over and pin.on:
        pairs = zip(_sided(pin.over, sides), _sided(pin.on, sides), strict=True)
        return [
            Equation(label=label, kind=OVER, first=a, second=b, axis=k, value=gap, unit=CM) for a, b in pairs for k, gap in gaps
        ]
    mark = _sided(str(pin.balance), sides)[0]
    return [Equation(label=label, kind=BALANCE, first=mark, second=mark, axis=k, value=gap, unit=CM) for k, gap in gaps]


def _sided(name: str, sides: tuple[str, ...]) -> list[str]:
    """`name` itself when it says a side, else each side that has to be solved."""
    return [name] if name.endswith(("_right", "_left")) else [f"{name}_{s}" for s in sides]


def _mark_on(segment: str) -> str:
    """Some landmark that sits on a segment (with or without its side), to read the segment's orientation."""
    stem = segment.removesuffix("_right").removesuffix("_left")
    tail = segment[len(stem) :]
    for name, mark in anatomy.skeleton().landmark.items():
        if mark.on == stem:
            return name + (tail or ("_right" if stem in anatomy.MIDLINE else ""))
    raise UnknownNameError(f"no landmark sits on {segment!r}", asked=segment)
