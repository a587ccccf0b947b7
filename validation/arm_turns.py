"""How fast moment arms change, along a sweep and about any axis of the arm."""

from collections.abc import Mapping

import numpy as np

from lengthwise.body import rotation
from lengthwise.body.model import Body
from lengthwise.body.posture import _blade_of, _girdle_slice, coordinates
from line_model import Array

STEP_DEG = 0.5
_ABOUT = {"shoulder_flexion": (0, -1, 0), "shoulder_abduction": (-1, 0, 0), "shoulder_horizontal_adduction": (0, 0, 1)}
_HINGE = {
    "elbow_flexion": "elbow",
    "forearm_pronation": "pronation",
    "wrist_flexion": "wrist_flexion",
    "wrist_radial_deviation": "radial_deviation",
}
AXES = (*_ABOUT, "shoulder_internal_rotation", *_HINGE)


def turned(body: Body, qs: Array, axis: str, by_deg: float) -> Array:
    """`qs` with the right arm turned about an axis fixed in the thorax (or its own, or a hinge)."""
    out = qs.copy()
    if axis in _HINGE:
        out[:, body.position_slice[f"{_HINGE[axis]}_right"]] += np.radians(by_deg)
        return out
    ball = body.position_slice["shoulder_right"]
    if axis not in _ABOUT:
        step = rotation.swung(np.array([[0.0, 0.0, np.radians(by_deg)]]))
        out[:, ball] = rotation.product(qs[:, ball], np.repeat(step, len(qs), 0))
        return out
    blade = _blade_of(qs[:, _girdle_slice(body, "right")])
    step = np.repeat(rotation.swung(np.radians(by_deg) * np.array([_ABOUT[axis]], float)), len(qs), 0)
    arm = rotation.product(step, rotation.product(blade, qs[:, ball]))
    out[:, ball] = rotation.product(rotation.inverse(blade), arm)
    return out


def steepness(body: Body, qs: Array, axis: str) -> Array:
    """Change of every line's arm when the arm turns about an axis and the blade is held [mm per degree], (n_pos, n_line)."""
    ahead, here, behind = (body.paths(turned(body, qs, axis, s * STEP_DEG)) for s in (1, 0, -1))
    return np.abs(ahead - 2 * here + behind) * 1e3 / np.radians(STEP_DEG) / STEP_DEG


def sweep(body: Body, angle: str, at_deg: Array, held: Mapping[str, float]) -> Array:
    """Steepest change of every line's arm along a sweep in steps of `at_deg` [mm per degree], (n_line,).

    The arm is that of the arm's own joint; the blade follows its rhythm from one posture of the sweep to the next.
    """
    qs = coordinates(body, {**held, angle: at_deg})
    ahead, behind = (body.paths(turned(body, qs, angle, s * STEP_DEG / 10)) for s in (1, -1))
    arm = (ahead - behind) * 1e3 / np.radians(STEP_DEG / 5)
    return np.asarray((np.abs(np.diff(arm, axis=0)) / np.diff(at_deg)[:, None]).max(0))


def neighbours(body: Body, posture: Mapping[str, Array]) -> Array:
    """Steepest change of every line's arm about any arm axis in each posture [mm per degree], (n_pos, n_line)."""
    qs = coordinates(body, posture)
    return np.max([steepness(body, qs, axis) for axis in AXES], axis=0)
