"""Arm postures that a lift may reach, drawn at random, for the fit and the search for jumps.

How far the arm turns depends on where it is (common practice, no source): raised overhead it hardly turns in, and across or behind
the body it turns out less.
"""

import numpy as np

from line_model import Array

GIRDLE = {"scapula_elevation": (-10.0, 30.0), "scapula_protraction": (-25.0, 25.0)}
FAR = {
    "elbow_flexion": (0.0, 150.0),
    "forearm_pronation": (-80.0, 75.0),
    "wrist_flexion": (-65.0, 75.0),
    "wrist_radial_deviation": (-30.0, 20.0),
}


def _spread(rng: np.random.Generator, low: Array | float, high: Array | float, n: int) -> Array:
    """Even over the range, a quarter of it at the ends."""
    share = rng.random(n)
    share = np.where(rng.random(n) < 0.25, np.round(share), share)
    return low + share * (np.asarray(high) - low)


def turning_range_deg(flexion: Array, abduction: Array) -> tuple[Array, Array]:
    """Lowest and highest internal rotation [deg] of an arm that is raised so far forward and sideways."""
    raised = np.hypot(flexion, abduction)
    out = np.interp(raised, [0, 60, 90, 130, 172], [-75, -85, -95, -90, -80])
    out = out + np.clip(-flexion, 0, 40) * 1.0 + np.clip(-abduction, 0, 20) * 1.5
    into = np.interp(raised, [0, 60, 90, 130, 172], [65, 65, 60, 30, 10])
    return out, into


def reachable(rng: np.random.Generator, n: int) -> dict[str, Array]:
    """Postures in clinical angles [deg], each (n,); both sides alike."""
    heading = np.radians(_spread(rng, -110.0, 20.0, n))  # 0 straight sideways, -90 straight forward
    flexion_share, abduction_share = -np.sin(heading), np.cos(heading)
    highest = np.interp(np.degrees(heading), [-110, -90, 0, 20], [70, 172, 172, 45])
    raised = _spread(rng, 0.0, highest, n)
    back = rng.random(n) < 0.15  # pulled behind the body
    flexion = np.where(back, -rng.uniform(0, 50, n), raised * flexion_share)
    abduction = np.where(back, rng.uniform(-5, 40, n), raised * abduction_share)
    low, high = turning_range_deg(flexion, abduction)
    pose = {"shoulder_flexion": flexion, "shoulder_abduction": abduction, "shoulder_internal_rotation": _spread(rng, low, high, n)}
    pose |= {k: _spread(rng, *v, n) for k, v in (GIRDLE | FAR).items()}
    pose["scapula_protraction"] = pose["scapula_protraction"] * np.interp(
        np.hypot(flexion, abduction), [0, 95, 130, 180], [1, 1, 0.5, 0.5]
    )
    return pose
