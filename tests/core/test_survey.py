"""The core's survey against MuJoCo's answer for the same model (the outside reference), and its door against wrong input."""

import mujoco
import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import door
from lengthwise.errors import InputError
from lengthwise.mechanics import ribs

N_POS = 40
METRES, ARMS = 1e-10, 1e-10
BODIES = {
    "man": Person(),
    "small woman": Person(sex="woman", stature_m=1.52, mass_kg=50),
    "tall man": Person(stature_m=2.0, mass_kg=110),
}


def postures(model, rng, n_pos):
    """Coordinates far beyond what a lift asks: hinges anywhere within 1.5 rad, balls turned at random."""
    q = np.tile(model.qpos0, (n_pos, 1))
    for kind, at in zip(model.jnt_type, model.jnt_qposadr, strict=True):
        if kind == mujoco.mjtJoint.mjJNT_HINGE:
            q[:, at] = rng.uniform(-1.5, 1.5, n_pos)
            continue
        at += 3 if kind == mujoco.mjtJoint.mjJNT_FREE else 0
        turn = rng.normal(size=(n_pos, 4)) * [0.3, 0.5, 0.5, 0.5] + [1, 0, 0, 0]
        q[:, at : at + 4] = turn / np.linalg.norm(turn, axis=1)[:, None]
    return q


@pytest.fixture(scope="module", params=BODIES, ids=str)
def both(request):
    body = body_of(BODIES[request.param])
    q = postures(body.model, np.random.default_rng(11), N_POS)
    return body, q, body._survey_by_mujoco(q, *body.marks(ribs.MARKS)), body.survey(q, ribs.MARKS)


def test_the_core_is_built_for_the_tests():
    assert door.available(), "run: python -m lengthwise.core.build"


@pytest.mark.parametrize("field", ["path_m", "arms", "points", "frames", "jacobians", "turns", "centre"])
def test_a_survey_equals_mujoco(both, field):
    _, _, expected, found = both
    assert np.abs(getattr(found, field) - getattr(expected, field)).max() < METRES


def test_weights_equal_mujoco(both):
    """In Nm and N: MuJoCo's recursive Newton-Euler pass at rest."""
    _, _, expected, found = both
    assert np.abs(found.gravity - expected.gravity).max() < 1e-9


def test_lengths_alone_and_places_alone_equal_the_survey(both):
    body, q, _, found = both
    points, frames, centre = body.places(q, ribs.MARKS)
    assert np.array_equal(body.paths(q), found.path_m)
    assert np.array_equal(points, found.points) and np.array_equal(frames, found.frames) and np.array_equal(centre, found.centre)


def test_a_posture_is_answered_alike_alone_and_among_others(both):
    body, q, _, found = both
    alone = body.survey(q[7:8], ribs.MARKS)
    assert np.array_equal(alone.path_m[0], found.path_m[7]) and np.array_equal(alone.arms[0], found.arms[7])


def test_a_moment_arm_is_the_slope_of_the_length():
    """Law: ∂L/∂q by central differences of a hinge."""
    body = body_of(Person())
    knee = body.position_slice["knee_right"].start
    q = np.tile(body.neutral, (2, 1))
    q[:, knee] = 0.8 + np.array([-1e-5, 1e-5])
    low, high = body.paths(q)
    q[0, knee] = 0.8
    arms = body.survey(q[:1]).arms[0, :, body.velocity_slice["knee_right"].start]
    assert np.abs((high - low) / 2e-5 - arms).max() < 1e-8


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda q: q[:, :-1], r"q has shape"),
        (lambda q: q[0], r"q has shape"),
        (lambda q: np.where(np.arange(q.shape[1]) == 9, np.nan, q), "not finite"),
    ],
    ids=["too few coordinates", "no batch", "not a number"],
)
def test_wrong_coordinates_are_refused(change, message):
    body = body_of(Person())
    with pytest.raises(InputError, match=message):
        body.survey(change(np.tile(body.neutral, (2, 1))))


def test_a_landmark_outside_the_body_is_refused():
    body = body_of(Person())
    with pytest.raises(InputError, match="segment has values"):
        door.places(body.block, body.neutral[None], np.array([99], np.int32), np.zeros((1, 3)))


def test_a_block_that_points_outside_itself_is_refused():
    body = body_of(Person())
    tables = dict(body.block._kept)
    tables["way_segment"] = np.full_like(tables["way_segment"], 400)
    counts = {n: getattr(body.block._block, n) for n in ("n_segment", "n_joint", "n_coord", "n_q", "n_line", "n_way")}
    with pytest.raises(InputError, match="way_segment points outside"):
        door.BodyBlock(counts, tables, 9.8)
