"""A person's body as a multibody model, and what it looks like in given postures.

MuJoCo does kinematics, Jacobians and tendon paths. Segment frames are x forward, y left, z up. Everything here is in metres,
radians, newtons and kilograms.
"""

import threading
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy, scaling
from lengthwise.body import person as people
from lengthwise.body.building import build, mirrored, sided
from lengthwise.body.compiled import block_of
from lengthwise.body.engine import mujoco
from lengthwise.body.muscle_lines import Lines
from lengthwise.body.person import Person
from lengthwise.core import door
from lengthwise.errors import unknown
from lengthwise.units import MM

_of_thread = threading.local()


@dataclass(frozen=True, kw_only=True)
class Pass:
    """What the model says in a batch of postures.

    Attributes:
        path_m: length of each muscle line [m], (n_pos, n_line).
        arms: ∂path/∂q [m/rad or 1], (n_pos, n_line, n_coord).
        gravity: generalised force that carries the segments' weight [Nm, N], (n_pos, n_coord).
        points: landmark positions [m], (n_pos, n_point, 3).
        jacobians: ∂point/∂q, (n_pos, n_point, 3, n_coord).
        frames: orientation of the landmarks' segments, (n_pos, n_point, 3, 3).
        turns: rotation Jacobian of the landmarks' segments, (n_pos, n_point, 3, n_coord).
        centre: centre of mass of the whole body [m], (n_pos, 3).
    """

    path_m: Array
    arms: Array
    gravity: Array
    points: Array
    jacobians: Array
    frames: Array
    turns: Array
    centre: Array


@dataclass(frozen=True, eq=False)
class Body:
    """A person's body: build it with `body_of`."""

    person: Person
    scale: scaling.Scale
    model: "mujoco.MjModel"
    lines: Lines

    @property
    def n_coord(self) -> int:
        """Number of generalised velocities."""
        return int(self.model.nv)

    @cached_property
    def neutral(self) -> Array:
        """Coordinates of standing upright with hanging arms, (n_q,)."""
        return np.array(self.model.qpos0)

    @cached_property
    def position_slice(self) -> dict[str, slice]:
        """Where each joint sits in the coordinates q, by sided joint name."""
        size = {0: 7, 1: 4, 2: 1, 3: 1}
        m = self.model
        return {
            m.joint(i).name: slice(int(m.jnt_qposadr[i]), int(m.jnt_qposadr[i]) + size[int(m.jnt_type[i])]) for i in range(m.njnt)
        }

    @cached_property
    def velocity_slice(self) -> dict[str, slice]:
        """Where each joint sits in the generalised velocities, by sided joint name."""
        size = {0: 6, 1: 3, 2: 1, 3: 1}
        m = self.model
        return {
            m.joint(i).name: slice(int(m.jnt_dofadr[i]), int(m.jnt_dofadr[i]) + size[int(m.jnt_type[i])]) for i in range(m.njnt)
        }

    @cached_property
    def coordinate_names(self) -> tuple[str, ...]:
        """A readable name of each generalised velocity, (n_coord,)."""
        names = [""] * self.n_coord
        for joint, part in self.velocity_slice.items():
            n = part.stop - part.start
            tags = {
                1: [""],
                3: [" x", " y", " z"],
                6: [" along x", " along y", " along z", " about x", " about y", " about z"],
            }
            for k, tag in enumerate(tags[n]):
                names[part.start + k] = joint + tag
        return tuple(names)

    @cached_property
    def _tendon_index(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        m = self.model
        rows = np.repeat(np.arange(m.ntendon), np.asarray(m.ten_J_rownnz))
        return rows, np.asarray(m.ten_J_colind, dtype=np.intp)[: len(rows)]

    @cached_property
    def block(self) -> door.BodyBlock:
        """The body as the compiled core reads it."""
        return block_of(self.model) if self.comes_from is None else self.comes_from.block

    @cached_property
    def _known_landmarks(self) -> dict[str, tuple[int, Array]]:
        return {}

    def marks(self, landmarks: Sequence[str]) -> tuple[NDArray[np.int32], Array]:
        """Segments (n_mark,) and places [m] (n_mark, 3) of landmarks."""
        known = self._known_landmarks
        marks = [known[n] if n in known else known.setdefault(n, self.landmark(n)) for n in landmarks]
        return np.array([s for s, _ in marks], np.int32), np.array([p for _, p in marks]).reshape(-1, 3)

    def landmark(self, name: str) -> tuple[int, Array]:
        """Segment index and place [m] of a landmark such as `heel_right`, or of a midline landmark's side.

        Raises:
            UnknownNameError: no such landmark.
        """
        stem, _, side = name.rpartition("_")
        known = anatomy.skeleton().landmark
        if stem not in known or side not in anatomy.SIDES:
            raise unknown("landmark", name, [f"{n}_{s}" for n in known for s in anatomy.SIDES])
        mark = known[stem]
        segment = self.model.body(sided(mark.on, side)).id
        return segment, mirrored(mark.at_mm, side, MM * self.scale.length[mark.on])

    def _scratch(self) -> "mujoco.MjData":
        """Room to work in for this thread, kept while it works with this body: making it costs as much as a hundred postures."""
        if getattr(_of_thread, "model", None) is not self.model:
            _of_thread.model, _of_thread.data = self.model, mujoco.MjData(self.model)
        return _of_thread.data

    def places(self, qs: Array, landmarks: Sequence[str]) -> tuple[Array, Array, Array]:
        """Where landmarks are: positions (n_pos, n_point, 3), frames (n_pos, n_point, 3, 3), centre of mass (n_pos, 3)."""
        segments, local = self.marks(landmarks)
        if door.available():
            return door.places(self.block, qs, segments, local)
        return self._places_by_mujoco(qs, segments, local)

    def _places_by_mujoco(self, qs: Array, segments: NDArray[np.int32], local: Array) -> tuple[Array, Array, Array]:
        m, d = self.model, self._scratch()
        turned, origin = np.empty((len(qs), len(local), 9)), np.empty((len(qs), len(local), 3))
        masses = np.empty((len(qs), m.nbody, 3))
        qpos, xmat, xpos, xipos, pose = d.qpos, d.xmat, d.xpos, d.xipos, mujoco.mj_kinematics
        for i, q in enumerate(qs):
            qpos[:] = q
            pose(m, d)
            xmat.take(segments, 0, turned[i], "clip")
            xpos.take(segments, 0, origin[i], "clip")
            masses[i] = xipos
        frames = turned.reshape(len(qs), len(local), 3, 3)
        points = origin + (frames @ local[:, :, None])[..., 0]
        return points, frames, (np.asarray(m.body_mass) / m.body_mass.sum()) @ masses

    def paths(self, qs: Array) -> Array:
        """Path lengths [m] of all muscle lines, (n_pos, n_line)."""
        return door.paths(self.block, qs) if door.available() else self._paths_by_mujoco(qs)

    def path_ends(self, qs: Array, asked: NDArray[np.uint8]) -> Array:
        """Shortest and longest path of all muscle lines [m] over some postures, (2, n_line).

        Args:
            qs: (n_pos, n_q). asked: not 0 where it is enough to look at a line, as it is there no longer and no shorter than in all of them, (n_pos, n_line).
        """
        if door.available():
            return door.path_ends(self.block, qs, asked)
        path = self._paths_by_mujoco(qs)
        return np.stack([path.min(0), path.max(0)])

    def _paths_by_mujoco(self, qs: Array) -> Array:
        m, d = self.model, self._scratch()
        out = np.empty((len(qs), m.ntendon))
        for i, q in enumerate(qs):
            d.qpos[:] = q
            mujoco.mj_kinematics(m, d)
            mujoco.mj_tendon(m, d)
            out[i] = d.ten_length
        return out

    @property
    def comes_from(self) -> "Body | None":
        """The body that this one is but for some of its lines; None where there is none."""
        return None

    def paths_again(self, path_m: Array) -> Array:
        """Path lengths [m] of this body where the body it comes from has `path_m`, (n_pos, n_line)."""
        return path_m

    def arm_factors(self) -> tuple[Array, Array]:
        """By how much more each path differs from its length at rest than the model says, and that length [m], (n_line,) each."""
        return np.ones(len(self.lines.names)), np.zeros(len(self.lines.names))

    def seen_again(self, seen: Pass) -> Pass:
        """What this body shows in postures that the body it comes from was surveyed in: the same, unless its lines run otherwise."""
        return seen

    def survey(self, qs: Array, landmarks: Sequence[str] = (), alike: bool = False) -> Pass:
        """Everything the mechanics needs in each posture of `qs` (n_pos, n_q); `alike` where left mirrors right in all of them."""
        on, local = self.marks(landmarks)
        if not door.available():
            return self._survey_by_mujoco(qs, on, local)
        seen = door.survey(self.block, qs, on, local, alike)
        return Pass(
            path_m=seen.length,
            arms=seen.arms,
            gravity=seen.gravity,
            points=seen.points,
            jacobians=seen.jacobians,
            frames=seen.frames,
            turns=seen.turns,
            centre=seen.centre,
        )

    def _survey_by_mujoco(self, qs: Array, on: NDArray[np.int32], local: Array) -> Pass:
        m, d = self.model, self._scratch()
        segments = sorted(set(on.tolist()))
        n_pos, nv = len(qs), m.nv
        rows, cols = self._tendon_index
        path, arms = np.empty((n_pos, m.ntendon)), np.zeros((n_pos, m.ntendon, nv))
        gravity, centre = np.empty((n_pos, nv)), np.empty((n_pos, 3))
        origin, frame = np.empty((n_pos, len(segments), 3)), np.empty((n_pos, len(segments), 3, 3))
        jac, turn = np.empty((n_pos, len(segments), 3, nv)), np.empty((n_pos, len(segments), 3, nv))
        mujoco.mj_forward(m, d)
        for i, q in enumerate(qs):
            d.qpos[:] = q
            mujoco.mj_kinematics(m, d)
            mujoco.mj_comPos(m, d)
            mujoco.mj_tendon(m, d)
            mujoco.mj_comVel(m, d)
            mujoco.mj_rne(m, d, 0, gravity[i])
            path[i] = d.ten_length
            arms[i, rows, cols] = d.ten_J.ravel()[: len(rows)]
            centre[i] = d.subtree_com[0]
            origin[i] = d.xpos[segments]
            frame[i] = d.xmat[segments].reshape(-1, 3, 3)
            for k, segment in enumerate(segments):
                mujoco.mj_jacBody(m, d, jac[i, k], turn[i, k], segment)
        where = [segments.index(s) for s in on.tolist()]
        frames, turns = frame[:, where], turn[:, where]
        arm = np.einsum("pkij,kj->pki", frames, local)
        swept = np.cross(np.swapaxes(turns, 2, 3), arm[:, :, None, :])
        return Pass(
            path_m=path,
            arms=arms,
            gravity=gravity,
            points=origin[:, where] + arm,
            jacobians=jac[:, where] + np.swapaxes(swept, 2, 3),
            frames=frames,
            turns=turns,
            centre=centre,
        )

    def steps(self, qs: Array) -> Array:
        """Velocities that turn each posture into the next in unit time, (n_pos - 1, n_coord)."""
        return self.turns(qs[:-1], qs[1:])

    def turns(self, start: Array, end: Array) -> Array:
        """Velocities that turn each posture of `start` into that of `end` in unit time, (n_pos, n_coord)."""
        return door.turns(self.block, start, end) if door.available() else self._turns_by_mujoco(start, end)

    def _turns_by_mujoco(self, start: Array, end: Array) -> Array:
        out = np.empty((len(start), self.n_coord))
        for k in range(len(start)):
            mujoco.mj_differentiatePos(self.model, out[k], 1.0, start[k], end[k])
        return out

    def segment_places(self, q: Array) -> dict[str, tuple[Array, Array]]:
        """Origin [m] and orientation of every segment in one posture, for drawing."""
        m, d = self.model, self._scratch()
        d.qpos[:] = q
        mujoco.mj_kinematics(m, d)
        return {m.body(i).name: (d.xpos[i].copy(), d.xmat[i].reshape(3, 3).copy()) for i in range(1, m.nbody)}

    def line_points(self, q: Array) -> dict[str, Array]:
        """The polyline that each muscle line follows in one posture, (n_point, 3) [m], for drawing."""
        m, d = self.model, self._scratch()
        d.qpos[:] = q
        mujoco.mj_kinematics(m, d)
        mujoco.mj_tendon(m, d)
        wrap = np.asarray(d.wrap_xpos).reshape(-1, 3)
        return {name: wrap[a : a + n].copy() for name, a, n in zip(self.lines.names, d.ten_wrapadr, d.ten_wrapnum, strict=True)}


@lru_cache(maxsize=16)
def body_of(person: Person) -> Body:
    """The body of a person, in about 0.1 s.

    Raises:
        InputError: the person's file names something the body does not have, or a size out of bounds.
    """
    people.check(person)
    scale = scaling.scale(person)
    model = build(scale, person.sex)
    ratio = _path_at_rest(model) / _base_path_at_rest()
    lines = anatomy.lines()
    strength = {group: scaling.strength_factor(person, group) for group in dict.fromkeys(line.group for line in lines.values())}
    both = [(n, line, side) for side in anatomy.SIDES for n, line in lines.items()]
    return Body(
        person,
        scale,
        model,
        Lines(
            names=tuple(sided(n, side) for n, _, side in both),
            heads=tuple(line.head for _, line, _ in both),
            groups=tuple(line.group for _, line, _ in both),
            sides=tuple(side for _, _, side in both),
            optimal_m=_frozen(np.array([line.fibre_mm for _, line, _ in both]) * MM * ratio),
            slack_m=_frozen(np.array([line.slack_mm for _, line, _ in both]) * MM * ratio),
            pennation_rad=_frozen(np.radians([line.pennation_deg for _, line, _ in both])),
            max_force_n=_frozen(np.array([line.max_force_n * strength[line.group] for _, line, _ in both])),
        ),
    )


def _frozen(a: Array) -> Array:
    a.setflags(write=False)
    return a


def _path_at_rest(model: "mujoco.MjModel") -> Array:
    d = mujoco.MjData(model)
    mujoco.mj_kinematics(model, d)
    mujoco.mj_tendon(model, d)
    return np.array(d.ten_length)


@cache
def _base_path_at_rest() -> Array:
    names = anatomy.skeleton().segment
    return _path_at_rest(build(scaling.Scale({n: 1.0 for n in names}, scaling.scale(Person()).mass_kg), "man"))
