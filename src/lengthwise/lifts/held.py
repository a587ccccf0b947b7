"""How the load that a balance pin holds pulls while the chain is closed: a law that each position can follow by itself."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.lifts.definition import Band, BandAcross, Cable, FreeWeight, Lever, Lift, Sled
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.resistance import anchors, lever_axis, lever_turns, loaded_marks
from lengthwise.units import CM, GRAVITY

NOTHING, WEIGHT, PULL, LEVER = range(4)
"""Kinds of held force (core/chain.h)."""


@dataclass(frozen=True, kw_only=True)
class Held:
    """The held force on each loaded landmark.

    Attributes:
        kind: NOTHING; WEIGHT: down, grows with the landmarks' mean height; PULL: towards `origin`, grows with the reach; LEVER: square to
            the arm from the axis.
        size_n: before it grows, at each phase, (n_pos,). growth: [N/m]. least: never below this [N].
        origin: of each landmark, where the cable or the lever's axis is [m], (n_mark, 3).
        about: along each lever's axis, against the movement, (n_mark, 3).
    """

    kind: int
    size_n: Array
    growth: float
    least: float
    origin: Array
    about: Array


def depends_on_the_way(lift: Lift) -> bool:
    """Whether the law needs to know where the landmarks go: chains that leave the floor, bands, levers."""
    kind = lift.resistance
    return isinstance(kind, Band | Lever) or (isinstance(kind, FreeWeight) and kind.chain_share > 0)


def held_force(lift: Lift, names: Mapping[str, float], holding_kg: float, phase: Array, way: Array, axis: Array | None) -> Held:
    """The law of a lift's load at each phase.

    Args:
        phase: (n_pos,). way: where the loaded landmarks are over the whole lifting phase [m], (n_way, n_mark, 3).
        axis: where a moving lever's axis is meanwhile [m], the same shape; None where it stands still or there is none.
    """
    kind, n_mark = lift.resistance, way.shape[1]
    size = GRAVITY * holding_kg * (1.0 if getattr(kind, "each", False) else 1.0 / max(n_mark, 1))
    none, full = np.zeros((n_mark, 3)), np.ones(len(phase))
    match kind:
        case _ if not holding_kg:
            return Held(kind=NOTHING, size_n=0.0 * full, growth=0.0, least=-np.inf, origin=none, about=none)
        case Sled() | BandAcross():
            return Held(kind=NOTHING, size_n=0.0 * full, growth=0.0, least=-np.inf, origin=none, about=none)
        case Cable():
            return Held(
                kind=PULL, size_n=size * kind.ratio * full, growth=0.0, least=-np.inf, origin=_origin(lift, names), about=none
            )
        case Band():
            origin = _origin(lift, names)
            slack, longest = evaluate(kind.slack_cm, names) * CM, float(np.linalg.norm(origin - way, axis=-1).max())
            rate = size / max(longest - slack, CM)
            return Held(kind=PULL, size_n=-slack * rate * full, growth=rate, least=0.0, origin=origin, about=none)
        case Lever():
            still = lever_axis(kind, loaded_marks(lift), names)
            turns = lever_turns(kind, way, np.broadcast_to(still, way.shape) if axis is None else axis)
            cam = np.interp(phase, np.linspace(0, 1, len(kind.cam)), kind.cam)
            return Held(kind=LEVER, size_n=size * cam, growth=0.0, least=-np.inf, origin=still, about=turns)
        case FreeWeight() if kind.chain_share:
            height = way[..., 2].mean(axis=1)
            rate = kind.chain_share / max(float(np.ptp(height)), CM)
            left = 1 - kind.chain_share - rate * float(height.min())
            return Held(kind=WEIGHT, size_n=size * left * full, growth=size * rate, least=0.0, origin=none, about=none)
    return Held(kind=WEIGHT, size_n=size * full, growth=0.0, least=-np.inf, origin=none, about=none)


def _origin(lift: Lift, names: Mapping[str, float]) -> Array:
    found = anchors(lift, names)
    assert found is not None
    return found
