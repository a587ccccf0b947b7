"""Where the segments of a body are in a batch of postures."""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.engine import mujoco
from lengthwise.body.model import Body


@dataclass(frozen=True)
class Frames:
    """Frames of all segments.

    Attributes:
        names: sided names of the segments, (n_segment,).
        at: origins [m], (n_pos, n_segment, 3).
        turn: axes as columns, (n_pos, n_segment, 3, 3).
    """

    names: tuple[str, ...]
    at: Array
    turn: Array


def segment_frames(body: Body, qs: Array) -> Frames:
    """Where every segment is in each posture of `qs` (n_pos, n_q)."""
    m, d = body.model, mujoco.MjData(body.model)
    at, turn = np.empty((len(qs), m.nbody, 3)), np.empty((len(qs), m.nbody, 3, 3))
    for i, q in enumerate(qs):
        d.qpos[:] = q
        mujoco.mj_kinematics(m, d)
        at[i], turn[i] = d.xpos, d.xmat.reshape(-1, 3, 3)
    return Frames(tuple(m.body(i).name for i in range(m.nbody)), at, turn)
