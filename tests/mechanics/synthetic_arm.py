"""A forearm held level, small enough to be worked out on paper.

Free body of the forearm, elbow E at the left, moments about E counted positive when they flex:

        A ↑   ↑ B
          │   │
    E ●───┴───┴────────┬──────────────┬
          4   5 cm     │ 15 N, 16 cm  │ λ kg, 32 cm
                       ↓              ↓

    flexor A: 1000 N at 0.04 m = 40 N·m;  flexor B: 500 N at 0.05 m = 25 N·m;  extensor C: -30 N·m
    40·a + 25·b - 30·c - g·0.32·λ + s = 15·0.16 = 2.4 N·m,  s: ligament, at most 5 N·m either way
"""

import numpy as np
from numpy.typing import NDArray

from lengthwise.mechanics.problem import Balance
from lengthwise.units import GRAVITY

LOAD_NM = GRAVITY * 0.32
REST_NM = 15.0 * 0.16
LIGAMENT_NM = 5.0


def forearm(ligament_nm: float = 0.0, n_pos: int = 1) -> Balance:
    muscle = np.tile(np.array([[[40.0, 25.0, -30.0]]]), (n_pos, 1, 1))
    bound = np.full((n_pos, 1), ligament_nm)
    load, rest = np.full((n_pos, 1), -LOAD_NM), np.full((n_pos, 1), REST_NM)
    return without_supports(muscle, load, rest, bound)


def without_supports(
    muscle: NDArray[np.float64], load: NDArray[np.float64], rest: NDArray[np.float64], bound: NDArray[np.float64]
) -> Balance:
    """A balance of muscles and one ligament per coordinate alone."""
    n_pos, n_coord, _ = muscle.shape
    none = np.zeros((n_pos, 0))
    joint = np.tile(np.eye(n_coord), (n_pos, 1, 1))
    return Balance(
        muscle=muscle,
        support=np.zeros((n_pos, n_coord, 0)),
        joint=joint,
        load=load,
        rest=rest,
        support_lower=none,
        support_upper=none,
        joint_lower=-bound,
        joint_upper=bound,
    )


def two_joints_in_series(first_nm: float, second_nm: float) -> Balance:
    """One line at each of two joints; 1 kg loads either joint with 1 N·m, so the weaker joint decides."""
    muscle = np.diag([first_nm, second_nm])[None]
    return without_supports(muscle, np.full((1, 2), -1.0), np.zeros((1, 2)), np.zeros((1, 2)))
