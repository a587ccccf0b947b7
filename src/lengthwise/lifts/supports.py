"""What can push or pull on the body besides the resistance: surfaces, handles, one body part resting on another."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from lengthwise.arrays import Array
from lengthwise.lifts.definition import Lever, Lift, Support
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.resistance import is_held_lever, lever_about, loaded_marks


@dataclass(frozen=True, kw_only=True)
class Hold:
    """One direction in which a support can act on one landmark.

    Attributes:
        mark: the landmark, with its side.
        on: the landmark that takes the opposite force, or None for the ground.
        direction: force on the body per unit, (3,).
        turn: True for a couple [Nm] instead of a force [N].
        lower, upper: bounds of its size [N or Nm].
        sled: whether it belongs to what is guided (a sled, a lever's handle), so that its force must balance the load along the rail.
    """

    mark: str
    on: str | None
    direction: Array
    turn: bool
    lower: float
    upper: float
    sled: bool = False


BAR_SIDE_N = 150.0
BAR_COUPLE_NM = 25.0
"""What two hands on one bar can push against each other along it, and twist against each other across it; estimate."""
LEVER_HANDLE_N = 3000.0
"""Most that a handle on a lever's arm takes in each direction; the bearing is never what fails (own choice)."""
SLED_SIDEWAYS, SLED_ALONG = 0.5, 0.1
"""How far from square to a sled's plate or pad people push, as a share of the square force: sideways, where the legs lean in to the plate,
and along it, up or down. Friction would hold 0.5 either way; with it along the plate as well the line of force passes so near the hip that
the gluteus idles, where electromyography finds a third to half of what a squat asks, more with high feet (Da Silva 2008, J Strength Cond
Res 22:1059-1065, from memory). Estimate, chosen with that in view: 0.5, 0.2 and 0.1 were tried."""
HANDLE_COUPLE_NM = 3.0
"""What a hand that hangs from or leans on a fixed handle can turn about it by friction: 350 N x 0.6 x 0.015 m; estimate. Without it
a body hanging from a bar could be held only with its centre of mass exactly below the bar."""


_SIDEWAYS = np.array([0.0, 1, 0])
_SIDEWAYS.setflags(write=False)


def holds_of(lift: Lift, names: Mapping[str, float], sides: tuple[str, ...]) -> list[Hold]:
    """Every direction in which the supports of a lift can act, on the given sides."""
    out: list[Hold] = []
    for support in lift.supports:
        for mark in _sided(support.points, sides):
            out += _holds(_contact(lift, support, mark, names))
    if lift.resistance.kind == "sled":
        lean = np.radians(evaluate(lift.resistance.rail_deg, names))
        facing = np.array([-np.cos(lean) * (-1 if lift.resistance.backward else 1), 0.0, -np.sin(lean)])
        for mark in _sided(lift.resistance.at, sides):
            out += [
                Hold(mark=mark, on=None, direction=d, turn=False, lower=0.0, upper=np.inf, sled=True) for d in _square_to(facing)
            ]
    if is_held_lever(lift):
        out += [_handle_of_lever(m, d) for m in loaded_marks(lift) if m.rpartition("_")[2] in sides for d in np.eye(3)]
    if lift.bar and lift.sides == "both":
        out += _bar("grip_right", None if sides == ("right",) else "grip_left")
    return out


def _handle_of_lever(mark: str, direction: Array) -> Hold:
    return Hold(mark=mark, on=None, direction=direction, turn=False, lower=-LEVER_HANDLE_N, upper=LEVER_HANDLE_N, sled=True)


def _sided(marks: list[str], sides: tuple[str, ...]) -> list[str]:
    return [m for n in marks for m in ([n] if n.endswith(("_right", "_left")) else [f"{n}_{s}" for s in sides])]


class _Contact(NamedTuple):
    """A support at one landmark, with what of it is one person's worked out; `along` is the axis of a lever's arm, else None."""

    kind: str
    mark: str
    on: str | None
    facing_deg: float
    outward: int
    friction: float
    most_n: float
    by_arm: bool
    along: tuple[float, ...] | None


def _contact(lift: Lift, support: Support, mark: str, names: Mapping[str, float]) -> _Contact:
    on = support.on
    if on and not on.endswith(("_right", "_left")):
        on += "_right" if mark.endswith("right") else "_left"
    along = tuple(lever_about(lift.resistance).tolist()) if support.by_arm and isinstance(lift.resistance, Lever) else None
    facing = evaluate(support.facing_deg, names) if support.kind == "surface" else 0.0
    return _Contact(support.kind, mark, on, facing, support.outward, support.friction, support.most_n, support.by_arm, along)


@lru_cache(maxsize=4096)
def _holds(contact: _Contact) -> tuple[Hold, ...]:
    """A handle or rest can push in every direction; one that is on a lever's arm along its axis alone."""
    mark, most = contact.mark, contact.most_n
    if contact.kind == "surface":
        edges = _edges(tuple(_normal(contact).tolist()), contact.friction)
        return tuple(Hold(mark=mark, on=None, direction=d, turn=False, lower=0.0, upper=np.inf) for d in edges)
    directions = np.array([contact.along]) if contact.along else np.eye(3)
    directions.setflags(write=False)
    out = [Hold(mark=mark, on=contact.on, direction=d, turn=False, lower=-most, upper=most) for d in directions]
    if contact.kind == "handle" and not contact.by_arm:
        out.append(Hold(mark=mark, on=None, direction=_SIDEWAYS, turn=True, lower=-HANDLE_COUPLE_NM, upper=HANDLE_COUPLE_NM))
    return tuple(out)


def _normal(contact: _Contact) -> Array:
    if contact.outward:
        return np.array([0.0, (-1.0 if contact.mark.endswith("right") else 1.0) * contact.outward, 0.0])
    facing = np.radians(contact.facing_deg)
    return np.array([np.sin(facing), 0.0, np.cos(facing)])


def _square_to(facing: Array) -> list[Array]:
    """Edges of the directions in which a body pushes what is guided, for a plate or pad that faces it."""
    side = np.array([0.0, 1.0, 0.0])
    edges = np.array([SLED_SIDEWAYS * side, SLED_ALONG * np.cross(facing, side)])
    return [facing + sign * e for e in edges for sign in (1.0, -1.0)]


@lru_cache(maxsize=256)
def _edges(normal: tuple[float, ...], friction: float) -> tuple[Array, ...]:
    out = np.array(normal)
    across = np.linalg.svd(out[None])[2][1:] if friction else out[:0]
    edges = [out + friction * sign * t for t in across for sign in (1.0, -1.0)] or [out]
    for edge in edges:
        edge.setflags(write=False)
    return tuple(edges)


def _bar(mark: str, other: str | None) -> list[Hold]:
    """Both hands on one stiff bar push against each other along it and twist it against each other across it.

    Where one side stands for both, its mirror image is the other hand.
    """
    side, x, z = np.array([0.0, 1, 0]), np.array([1.0, 0, 0]), np.array([0.0, 0, 1])
    return [
        Hold(mark=mark, on=other, direction=side, turn=False, lower=-BAR_SIDE_N, upper=BAR_SIDE_N),
        Hold(mark=mark, on=other, direction=x, turn=True, lower=-BAR_COUPLE_NM, upper=BAR_COUPLE_NM),
        Hold(mark=mark, on=other, direction=z, turn=True, lower=-BAR_COUPLE_NM, upper=BAR_COUPLE_NM),
    ]
