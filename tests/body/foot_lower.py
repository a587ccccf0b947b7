"""How hard the calf can push on the floor with every axis of the foot in balance."""

import numpy as np
from rows_lower import MAN
from scipy.optimize import linprog

from lengthwise.body.model import body_of
from lengthwise.body.muscles import settle
from lengthwise.body.posture import coordinates

SUBTALAR_NM = 12.0
"""What the foot's ligaments carry (angles.toml)."""


def pushing(ankle_deg: float) -> tuple[float, float]:
    """Largest plantarflexion moment [Nm] standing on the ball of the foot: subtalar joint balanced, and held by straps.

    The floor pushes square to the sole at the inner and the outer ball of the foot, in any proportion.
    """
    body = body_of(MAN)
    qs = coordinates(body, {"ankle_dorsiflexion": ankle_deg, "knee_flexion": 5.0})
    seen = body.survey(qs, ("ball_inner_right", "ball_outer_right"))
    of = body.lines
    force = settle(seen.path_m, of.slack_m, of.optimal_m, of.pennation_rad, 1.0).force[0] * of.max_force_n
    here = [i for i, s in enumerate(of.sides) if s == "right"]
    ankle, subtalar = (body.velocity_slice[f"{j}_right"].start for j in ("ankle", "subtalar"))
    pull = -seen.arms[0][here] * force[here, None]
    up = seen.frames[0, 0] @ np.array([0.0, 0.0, 1.0])  # square to the sole
    floor = np.einsum("k,pkc->pc", up, seen.jacobians[0])
    columns = np.vstack([pull, floor])
    n = len(here)
    cost = np.concatenate([pull[:, ankle], [0, 0]])
    bounds = [(0, 1)] * n + [(0, None)] * 2
    equal = columns[:, [ankle]].T
    tilt = columns[:, subtalar]
    free = linprog(cost, A_eq=equal, b_eq=[0], A_ub=[tilt, -tilt], b_ub=[SUBTALAR_NM] * 2, bounds=bounds)
    strapped = linprog(cost, A_eq=equal, b_eq=[0], bounds=bounds)
    return -float(free.fun), -float(strapped.fun)
