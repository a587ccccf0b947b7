"""The shape of the body for drawing: capsules on each segment and the muscle lines between them."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.building import sided
from lengthwise.body.model import Body
from lengthwise.units import MM


class CapsuleShape(anatomy.Strict):
    """Two balls on a segment and what lies between."""

    on: str
    from_mm: anatomy.Point
    to_mm: anatomy.Point
    radius_mm: tuple[float, float]


@dataclass(frozen=True)
class Capsule:
    """A placed capsule.

    Attributes:
        segment: the sided segment it belongs to.
        ends: centres of the two balls [m], (2, 3).
        radii: of the two balls [m], (2,).
    """

    segment: str
    ends: Array
    radii: Array


@cache
def shapes() -> tuple[CapsuleShape, ...]:
    """The capsules of the right side and the midline."""
    text = files("lengthwise.body").joinpath("data", "figure.toml").read_text(encoding="utf-8")
    return tuple(anatomy.read_table(f"figure.toml: {i}", CapsuleShape, t) for i, t in enumerate(tomllib.loads(text)["capsule"]))


def capsules(body: Body, q: Array) -> list[Capsule]:
    """Every capsule of the body in one posture q (n_q,), both sides."""
    places = body.segment_places(q)
    out = []
    for shape in shapes():
        for side in ("right",) if shape.on in anatomy.MIDLINE else anatomy.SIDES:
            origin, frame = places[sided(shape.on, side)]
            mirror = np.array([1, 1 if side == "right" else -1, 1])
            factor = MM * body.scale.length[shape.on]
            ends = np.array([shape.from_mm, shape.to_mm]) * mirror * factor
            out.append(Capsule(sided(shape.on, side), origin + ends @ frame.T, np.array(shape.radius_mm) * factor))
    return out
