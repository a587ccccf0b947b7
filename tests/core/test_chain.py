"""Closed chains of the core: equal to the NumPy steps (lifts/descent.py), and each position's answer its own."""

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from lengthwise.body import anatomy, muscles
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.posture import PELVIS_PLACE_M, _clinical_by_numpy, _coordinates_by_numpy, clinical, coordinates
from lengthwise.core import door
from lengthwise.errors import InputError
from lengthwise.lifts import chain
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.keys import monotone
from lengthwise.lifts.motion import move

SOME = (
    "back_squat",
    "deadlift",
    "bench_press_chains",
    "cable_chop",
    "band_overhead_extension",
    "hip_thrust",
    "cable_internal_rotation",
)
PHASES = np.linspace(0, 1, 7)


@pytest.fixture(scope="module")
def body():
    return body_of(Person(sex="woman", stature_m=1.66, mass_kg=62))


@pytest.mark.parametrize("lift_id", SOME)
def test_the_core_closes_chains_as_numpy_does(body, lift_id, monkeypatch):
    """1e-9 rad: both take the same steps, rounding apart."""
    lift = built_in().lifts[lift_id]
    found = move(body, lift, PHASES)
    monkeypatch.setattr(chain.door, "available", lambda: False)
    assert np.abs(found.q - move(body, lift, PHASES).q).max() < 1e-9


@pytest.mark.parametrize("lift_id", SOME[:3])
def test_a_position_is_its_own(body, lift_id):
    """The same bits whether it is asked alone, among others, or in another order."""
    lift = built_in().lifts[lift_id]
    whole, some = move(body, lift, np.linspace(0, 1, 41)).q, move(body, lift, np.array([0.25, 0.5, 1.0])).q
    assert np.array_equal(whole[[10, 20, 40]], some)


@pytest.mark.parametrize("left", [False, True], ids=["alike", "sides differ"])
@pytest.mark.parametrize("flat", [False, True], ids=["swing", "horizontal"])
def test_coordinates_equal_numpy(body, left, flat, rng):
    names = {n: a for n, a in anatomy.angles().items() if flat or n != "shoulder_horizontal_adduction"}
    posture = {n: rng.uniform(a.low, a.high, 50) for n, a in names.items()}
    if left:
        posture |= {f"{n}_left": rng.uniform(a.low, a.high, 50) for n, a in names.items() if a.paired}
    expected = _coordinates_by_numpy(body, posture, np.array(PELVIS_PLACE_M), 50)
    assert np.abs(coordinates(body, posture) - expected).max() < 1e-12


def test_keys_are_joined_as_scipy_joins_them(rng):
    """Reference: scipy.interpolate.PchipInterpolator."""
    knots, values = np.array([0, 0.2, 0.5, 0.55, 1]), rng.normal(size=(5, 6))
    values[:, 0] = 3.0
    phase = np.linspace(0, 1, 33)
    assert np.abs(monotone(knots, values, phase) - PchipInterpolator(knots, values)(phase)).max() < 1e-12


def test_rows_of_another_length_are_refused(body):
    with pytest.raises(InputError, match="rows has shape"):
        door.coordinates(body.block, np.zeros((2, 40)), True, np.zeros(2, np.int32))


@pytest.mark.parametrize("lift_id", SOME[:3])
def test_a_position_has_the_speed_of_its_neighbourhood(body, lift_id):
    """Law: central differences over a tenth of the lift's hair."""
    rate = move(body, built_in().lifts[lift_id], np.array([0.3])).rate
    q = move(body, built_in().lifts[lift_id], np.array([0.299, 0.301])).q
    assert np.abs(body.turns(q[:1], q[1:]) / 0.002 - rate).max() < 0.02 * max(1.0, np.abs(rate).max())


def test_turns_between_postures_equal_mujoco(body):
    """Reference: mj_differentiatePos."""
    q = move(body, built_in().lifts["deadlift"], PHASES).q
    assert np.abs(body.turns(q[:-1], q[1:]) - body._turns_by_mujoco(q[:-1], q[1:])).max() < 1e-12


@pytest.mark.parametrize("activation", [0.0, 0.3, 1.0])
def test_fibres_settle_as_numpy_settles_them(body, activation):
    lines = body.lines
    path = body.paths(move(body, built_in().lifts["deadlift"], PHASES).q)
    made = (path, lines.slack_m, lines.optimal_m, lines.pennation_rad, np.full(path.shape, activation))
    found, expected = muscles.settle(*made), muscles._settle_by_numpy(*made)
    assert np.abs(found.length - expected.length).max() < 1e-11
    assert np.abs(found.force - expected.force).max() < 1e-10
    assert np.abs(found.cos_pennation - expected.cos_pennation).max() < 1e-11


def test_clinical_angles_equal_numpy(body):
    q = np.concatenate([move(body, built_in().lifts[lift_id], PHASES).q for lift_id in SOME])
    found, expected = clinical(body, q), _clinical_by_numpy(body, q, False)
    assert set(found) == set(expected)
    assert max(np.abs(found[n] - expected[n]).max() for n in expected) < 1e-10
