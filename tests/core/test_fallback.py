"""Where the core could not be built: the same answers from NumPy, MuJoCo and HiGHS, and one word about it."""

import logging

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import build, door
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile


@pytest.fixture
def without_core(monkeypatch):
    monkeypatch.setattr(build, "is_current", lambda: False)
    door._library.cache_clear()
    yield
    door._library.cache_clear()


def test_it_is_said_once_that_answers_are_slow(without_core, caplog):
    with caplog.at_level(logging.WARNING):
        assert not door.available() and not door.available()
    assert [r.message for r in caplog.records if "python -m lengthwise.core.build" in r.message] == [
        r.message for r in caplog.records
    ]
    assert len(caplog.records) == 1


@pytest.mark.parametrize("lift_id", ["back_squat", "band_overhead_extension", "cable_front_raise"])
def test_a_profile_is_the_same_without_the_core(lift_id, request):
    """Activation 1e-6, load 1e-4 kg, as the core promises; validation/core_proof.py asks it of every lift."""
    body, lift, asked = body_of(Person()), built_in().lifts[lift_id], Request(n_pos=3)
    found = profile(body, lift_id, lift, asked)
    request.getfixturevalue("without_core")
    expected = profile(body, lift_id, lift, asked)
    assert np.abs(found.capacity_kg - expected.capacity_kg).max() < 1e-4
    assert found.working_kg == pytest.approx(expected.working_kg, abs=1e-4)
    for head, own in expected.heads.items():
        assert np.abs(found.heads[head].activation - own.activation).max() < 1e-6
        assert np.abs(found.heads[head].fibre_length - own.fibre_length).max() < 1e-8
    assert expected.limiting == pytest.approx(found.limiting, abs=1e-5)
