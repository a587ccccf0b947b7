"""One muscle line in a model of its own, whose points and wraps can be moved without building the body again.

Postures, axes and arms are those of the whole body (`lengthwise.body`); only the path is free. Millimetres and degrees here, as in the
data files.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import mujoco
import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy, building, scaling
from lengthwise.body import posture as postures
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person

Array = NDArray[np.float64]
STEP_DEG = 0.05


def base_body() -> Body:
    """The body that the data files describe."""
    return body_of(Person())


def axes_of(body: Body, posture: Mapping[str, Array | float], angle: str) -> tuple[Array, Array]:
    """Coordinates (n_pos, n_q) of a batch of postures, and their velocity per radian of a clinical angle, (n_pos, n_coord).

    The shoulder blade is held for shoulder angles. A batch must not mix the two descriptions of the shoulder.
    """
    here = {**posture, angle: posture.get(angle, 0.0)}
    qs = postures.coordinates(body, here)
    if angle.startswith("shoulder"):
        rows = [{k: float(np.broadcast_to(v, len(qs))[i]) for k, v in here.items()} for i in range(len(qs))]
        axes = np.zeros((len(qs), body.n_coord))
        part = body.velocity_slice["shoulder_right"]
        for i, row in enumerate(rows):
            axes[i, part] = postures._shoulder_axis(body, qs[i], row, angle, "right")
        return qs, axes
    ends = [postures.coordinates(body, {**here, angle: np.asarray(here[angle]) + s * STEP_DEG}) for s in (-0.5, 0.5)]
    axes = np.empty((len(qs), body.n_coord))
    for i, (a, b) in enumerate(zip(*ends, strict=True)):
        mujoco.mj_differentiatePos(body.model, axes[i], np.radians(STEP_DEG), a, b)
    return qs, axes


@dataclass(frozen=True)
class Knob:
    """A number of the path that a fit may turn: `key` of waypoint `index`; `axis` for a coordinate of its place."""

    index: int
    key: str
    axis: int
    start: float
    reach: float


def knobs(line: anatomy.Line) -> list[Knob]:
    """Every number of a path that has a tolerance. A cylinder is not moved along its own axis."""
    out: list[Knob] = []
    for k, way in enumerate(line.path):
        size = way.cylinder or way.sphere
        if way.tol:
            skip = int(np.argmax(np.abs(way.axis or (0, 1, 0)))) if way.cylinder else -1
            out += [Knob(k, "at", a, way.at[a], way.tol) for a in range(3) if a != skip]
        if size and way.radius_tol:
            out.append(Knob(k, "cylinder" if way.cylinder else "sphere", 0, size, way.radius_tol))
    return out


class LineModel:
    """The right side's line `name`."""

    def __init__(self, name: str) -> None:
        self.name, self.line = name, anatomy.lines()[name]
        spec = mujoco.MjSpec()
        spec.compiler.degree = False
        bodies = {"world": spec.worldbody}
        ones = scaling.Scale({n: 1.0 for n in anatomy.skeleton().segment}, scaling.scale(Person()).mass_kg)
        for segment in anatomy.skeleton().segment:
            for side in ("right",) if segment in anatomy.MIDLINE else anatomy.SIDES:
                building._add_segment(bodies, segment, side, ones, "man")
        building._add_line(spec, bodies, name, "right", ones)
        self.model = spec.compile()
        self.model.site_sameframe[:] = 0  # else a moved site or wrap is ignored
        self.model.geom_sameframe[:] = 0
        self.data = mujoco.MjData(self.model)
        self.knobs = knobs(self.line)
        self._wraps = [(k, self._id(k)) for k, w in enumerate(self.line.path) if w.cylinder or w.sphere]

    def _id(self, k: int) -> int:
        way, tag = self.line.path[k], f"{building.sided(self.name, 'right')}:{k}"
        return int(self.model.geom(tag).id if way.cylinder or way.sphere else self.model.site(tag).id)

    def put(self, x: Array) -> None:
        """Turn the knobs to x [mm]."""
        for value, knob in zip(x, self.knobs, strict=True):
            i, way = self._id(knob.index), self.line.path[knob.index]
            if knob.key != "at":
                self.model.geom_size[i, 0] = value * 1e-3
            elif way.cylinder or way.sphere:
                self.model.geom_pos[i, knob.axis] = value * 1e-3
            else:
                self.model.site_pos[i, knob.axis] = value * 1e-3

    def arms(self, qs: Array, axes: Array) -> tuple[Array, Array]:
        """Moment arms −∂length/∂angle and lengths [mm], each (n_pos,), about the axes given with the postures."""
        m, d = self.model, self.data
        n = int(m.ten_J_rownnz[0])
        cols = np.asarray(m.ten_J_colind, dtype=np.intp)[:n]
        arm, length = np.empty(len(qs)), np.empty(len(qs))
        for i, q in enumerate(qs):
            d.qpos[:] = q
            mujoco.mj_kinematics(m, d)
            mujoco.mj_comPos(m, d)
            mujoco.mj_tendon(m, d)
            arm[i] = -np.asarray(d.ten_J).ravel()[:n] @ axes[i, cols]
            length[i] = d.ten_length[0]
        return arm * 1e3, length * 1e3

    def inside(self, qs: Array, margin_mm: float) -> Array:
        """How far [mm] the points next to a wrap come inside its radius plus a margin, (n_pos, 2 n_wrap): inside, it lets go."""
        m, d = self.model, self.data
        out = np.zeros((len(qs), 2 * len(self._wraps)))
        for i, q in enumerate(qs if self._wraps else []):
            d.qpos[:] = q
            mujoco.mj_kinematics(m, d)
            for w, (k, g) in enumerate(self._wraps):
                frame = d.geom_xmat[g].reshape(3, 3)
                for e, near in enumerate((k - 1, k + 1)):
                    v = frame.T @ (d.site_xpos[self._id(near)] - d.geom_xpos[g])
                    r = np.linalg.norm(v[:2] if self.line.path[k].cylinder else v)
                    out[i, 2 * w + e] = max(0.0, m.geom_size[g, 0] * 1e3 + margin_mm - r * 1e3)
        return out
