"""The multibody model of a body, compiled by MuJoCo: segments, joints, and muscle lines with what they wrap."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from threading import Lock
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy, scaling
from lengthwise.body.engine import mujoco
from lengthwise.body.person import Sex
from lengthwise.units import GRAVITY, MM

_MIRROR = {"right": 1, "left": -1}


def sided(name: str, side: str) -> str:
    """The full name of a right or left part: `thigh` → `thigh_right`; midline parts keep their name."""
    return name if name in anatomy.MIDLINE else f"{name}_{side}"


_ONE_AT_A_TIME = Lock()


def build(scale: scaling.Scale, sex: Sex) -> "mujoco.MjModel":
    """Compile the model of both sides; the left mirrors the right."""
    with _ONE_AT_A_TIME:
        frame = _frame()
        frame.fit(scale, sex)
        return frame.spec.compile()


@dataclass(frozen=True)
class _Frame:
    """The body before it has a size: it is put together once and fitted to every person.

    Attributes:
        placed: what has a place in its segment, with that segment; points: that place in the base body [mm], (n_placed, 3).
        segments: with their names and sides. wrapped: surfaces, with their segment and radius in the base body [mm].
    """

    spec: "mujoco.MjSpec"
    placed: list[tuple[Any, str]]
    points: NDArray[np.float64]
    segments: list[tuple[Any, str, str]]
    wrapped: list[tuple[Any, str, float]]

    def fit(self, scale: scaling.Scale, sex: Sex) -> None:
        """Give everything the place and size that it has in a person."""
        for body, name, side in self.segments:
            _size_segment(body, name, side, scale, sex)
        places = self.points * np.array([[MM * scale.length[on]] for _, on in self.placed])
        for (part, _), place in zip(self.placed, places, strict=True):
            part.pos = place
        for surface, on, radius in self.wrapped:
            surface.size = [radius * (MM * scale.length[on]), 0.05, 0]


@cache
def _frame() -> _Frame:
    spec = _base_spec()
    at = {p.name: p for p in (*spec.bodies, *spec.sites, *spec.geoms)}
    placed, points, segments, wrapped = [], [], [], []
    for name, side in _both(anatomy.skeleton().segment):
        segments.append((at[sided(name, side)], name, side))
    for name, side in product(anatomy.lines(), anatomy.SIDES):
        for k, way in enumerate(anatomy.lines()[name].path):
            part = at[f"{sided(name, side)}:{k}"]
            placed.append((part, way.on))
            points.append(mirrored(way.at, side, 1.0))
            if radius := way.cylinder or way.sphere:
                wrapped.append((part, way.on, radius))
            if radius and way.side:
                placed.append((at[part.name + " side"], way.side_on or way.on))
                points.append(mirrored(way.side, side, 1.0))
    return _Frame(spec, placed, np.array(points), segments, wrapped)


def _both(segments: Iterable[str]) -> list[tuple[str, str]]:
    """Segments with their sides; those of the midline once."""
    return [(n, side) for n in segments for side in (("right",) if n in anatomy.MIDLINE else anatomy.SIDES)]


def _base_spec() -> "mujoco.MjSpec":
    one = {n: 1.0 for n in anatomy.skeleton().segment}
    ones = scaling.Scale(one, one)
    spec = mujoco.MjSpec()
    spec.compiler.degree = False
    spec.option.gravity = [0, 0, -GRAVITY]
    bodies = {"world": spec.worldbody}
    for name, side in _both(anatomy.skeleton().segment):
        _add_segment(bodies, name, side, ones, "man")
    for side in anatomy.SIDES:
        for name in anatomy.lines():
            _add_line(spec, bodies, name, side, ones)
    return spec


def mirrored(point: Sequence[float], side: str, factor: float) -> NDArray[np.float64]:
    """A point of the right side on a side, times a factor."""
    x, y, z = point
    return np.array([x * factor, _MIRROR[side] * y * factor, z * factor])


def _add_segment(bodies: dict[str, "mujoco.MjsBody"], name: str, side: str, scale: scaling.Scale, sex: Sex) -> None:
    segment = anatomy.skeleton().segment[name]
    parent = segment.parent if segment.parent == "world" else sided(segment.parent, side)
    body = bodies[parent].add_body(name=sided(name, side))
    _size_segment(body, name, side, scale, sex)
    bodies[sided(name, side)] = body
    if segment.parent == "world":
        body.add_freejoint(name=name)
    for joint in segment.joints:
        _add_joint(body, joint, side, name)


def _size_segment(body: "mujoco.MjsBody", name: str, side: str, scale: scaling.Scale, sex: Sex) -> None:
    segment = anatomy.skeleton().segment[name]
    inertia, factor = segment.man if sex == "man" else segment.woman, scale.length[name]
    body.pos = mirrored(segment.at_mm, side, MM * (1.0 if segment.parent == "world" else scale.length[segment.parent]))
    body.explicitinertial = True
    body.mass = scale.mass_kg[name]
    body.ipos = mirrored(inertia.com_mm, side, MM * factor)
    body.inertia = body.mass * (np.array(inertia.gyration_mm) * MM * factor) ** 2


def _add_joint(body: "mujoco.MjsBody", joint: str, side: str, segment: str) -> None:
    spec = anatomy.skeleton().joint[joint]
    name = joint if segment in anatomy.MIDLINE else f"{joint}_{side}"
    if spec.kind == "ball":
        body.add_joint(name=name, type=mujoco.mjtJoint.mjJNT_BALL)
        return
    axis = np.array(spec.axis, float)
    if side == "left":  # a mirrored axis is a pseudo-vector: x and z change sign, y stays
        axis = axis * [-1, 1, -1]
    body.add_joint(name=name, type=mujoco.mjtJoint.mjJNT_HINGE, axis=axis / np.linalg.norm(axis))


def _add_line(spec: "mujoco.MjSpec", bodies: dict[str, "mujoco.MjsBody"], name: str, side: str, scale: scaling.Scale) -> None:
    line = anatomy.lines()[name]
    tendon = spec.add_tendon(name=sided(name, side))
    for k, way in enumerate(line.path):
        tag = f"{sided(name, side)}:{k}"
        body = bodies[sided(way.on, side)]
        factor = MM * scale.length[way.on]
        radius = way.cylinder or way.sphere
        if radius is None:
            body.add_site(name=tag, pos=mirrored(way.at, side, factor))
            tendon.wrap_site(tag)
            continue
        kind = mujoco.mjtGeom.mjGEOM_CYLINDER if way.cylinder else mujoco.mjtGeom.mjGEOM_SPHERE
        geom = body.add_geom(name=tag, type=kind, pos=mirrored(way.at, side, factor), contype=0, conaffinity=0, mass=0)
        geom.size = [radius * factor, 0.05, 0]
        if way.cylinder:  # the quaternion must be set here: an alternative axis without its type is silently ignored
            quat = np.zeros(4)
            mujoco.mju_quatZ2Vec(quat, mirrored(way.axis or (0, 1, 0), side, 1.0))
            geom.quat = quat
        if way.side is None:
            tendon.wrap_geom(tag, "")
            continue
        on = way.side_on or way.on
        bodies[sided(on, side)].add_site(name=tag + " side", pos=mirrored(way.side, side, MM * scale.length[on]))
        tendon.wrap_geom(tag, tag + " side")
