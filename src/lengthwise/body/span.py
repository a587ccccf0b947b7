"""How long and how short the fibres of each head can be over a person's joint ranges."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.person import joint_range
from lengthwise.body.posture import coordinates

Array = NDArray[np.float64]

LONGEST = 1.6
"""Fibre length [of optimal] beyond which resting tension stops a person (De Groote 2016: passive force equals the maximal at 1.6)."""
_POSTURES = 900
_STEPS = {"knee_flexion": 4, "elbow_flexion": 3, "hip_flexion": 4, "shoulder_flexion": 4}


@lru_cache(maxsize=32)
def spans(body: Body) -> tuple[Array, Array]:
    """Shortest and longest length of fully active fibres [of optimal] of every line, (n_line,) each.

    Looked for over postures that put every clinical angle at the ends and some steps between of the person's range, combined at random
    (seeded, so the same person always gets the same span); the longest is cut at LONGEST.
    """
    rng = np.random.default_rng(7)
    posture = {}
    for name in anatomy.angles():
        if name == "shoulder_horizontal_adduction":
            continue
        low, high = joint_range(body.person, name)
        if name == "shoulder_abduction":
            low = max(low, 0.0)
        posture[name] = rng.choice(np.linspace(low, high, _STEPS.get(name, 3)), _POSTURES)
    raised = np.hypot(posture["shoulder_flexion"], posture["shoulder_abduction"])
    for name in ("shoulder_flexion", "shoulder_abduction"):
        posture[name] = posture[name] * np.minimum(1, 170 / np.maximum(raised, 1))
    for name in ("trunk_side_bending", "trunk_rotation", "neck_side_bending", "neck_rotation"):
        posture[name] = posture[name] * 0.7  # a trunk bent forward bends and turns less: common practice, no source
    lines = body.lines
    length = settle(body.paths(coordinates(body, posture)), lines.slack_m, lines.optimal_m, lines.pennation_rad, 1.0).length
    half = length.shape[1] // 2
    both = np.concatenate([length[:, :half], length[:, half:]])  # a mirrored posture is as possible
    low_, high_ = np.tile(both.min(0), 2), np.tile(np.minimum(both.max(0), LONGEST), 2)
    return low_, high_
