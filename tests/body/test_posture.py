"""Clinical angles to coordinates and back, and the mirror."""

import numpy as np
import pytest

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.posture import PELVIS, check_reach, clinical, coordinates, parse_posture
from lengthwise.errors import InputError, UnknownNameError


def random_postures(rng: np.random.Generator, n: int) -> dict[str, np.ndarray]:
    """Postures over the whole range of every angle; arm elevation stays below straight overhead, where swing is not unique."""
    out = {p: rng.uniform(-80, 80, n) for p in PELVIS}
    for name, a in anatomy.angles().items():
        for tail in ("_right", "_left") if a.paired else ("",):
            out[name + tail] = rng.uniform(a.low, a.high, n)
    for tail in ("_right", "_left"):
        raised = np.hypot(out["shoulder_flexion" + tail], out["shoulder_abduction" + tail])
        shrink = np.minimum(1, 175 / raised)
        out["shoulder_flexion" + tail] *= shrink
        out["shoulder_abduction" + tail] *= shrink
    return out


def test_swing_postures_come_back_over_the_whole_range(rng):
    body = body_of(Person())
    posture = {k: v for k, v in random_postures(rng, 300).items() if "horizontal" not in k}
    back = clinical(body, coordinates(body, posture))
    assert max(np.abs(back[k] - v).max() for k, v in posture.items()) < 1e-9


def test_horizontal_postures_come_back_over_the_whole_range(rng):
    body = body_of(Person())
    posture = {k: v for k, v in random_postures(rng, 300).items() if not k.startswith("shoulder_flexion")}
    for side in anatomy.SIDES:
        posture[f"shoulder_abduction_{side}"] = rng.uniform(5, 175, 300)
    back = clinical(body, coordinates(body, posture), horizontal=True)
    assert max(np.abs(back[k] - v).max() for k, v in posture.items()) < 1e-9


def test_left_mirrors_right(rng):
    """A posture with both sides alike gives equal path lengths and mirrored landmarks."""
    body = body_of(Person())
    posture = {
        n: rng.uniform(a.low, a.high, 20) for n, a in anatomy.angles().items() if a.paired and n != "shoulder_horizontal_adduction"
    } | {"trunk_flexion": rng.uniform(-20, 60, 20)}
    qs = coordinates(body, posture)
    path = body.paths(qs)
    half = path.shape[1] // 2
    assert np.abs(path[:, :half] - path[:, half:]).max() < 1e-9
    points, _, centre = body.places(qs, ["grip_right", "grip_left"])
    assert np.abs(points[:, 0] - points[:, 1] * [1, -1, 1]).max() < 1e-9
    assert np.abs(centre[:, 1]).max() < 1e-9


def test_a_posture_is_read_from_text():
    assert parse_posture("shoulder_flexion=90 elbow_flexion=60") == {"shoulder_flexion": 90, "elbow_flexion": 60}


def test_a_misspelt_angle_gets_the_nearest():
    with pytest.raises(UnknownNameError, match="elbow_flexion"):
        parse_posture("elbow_flex=60")


def test_a_posture_that_is_no_number_is_refused():
    with pytest.raises(InputError, match="write angle=degrees"):
        parse_posture("elbow_flexion=bent")


def test_a_posture_beyond_reach_names_the_range():
    with pytest.raises(InputError, match=r"knee_flexion = 190 deg .* allowed 0 to 150"):
        check_reach(body_of(Person()), {"knee_flexion": 190.0})
