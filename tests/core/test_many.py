"""Many lifts on one body: the same bits whatever the number of threads, and reasons instead of answers where there are none."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import door
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.many import each_profile
from lengthwise.mechanics.profile import Request

SOME = ("back_squat", "one_leg_extension_leaned_back", "lat_pulldown", "cable_rotation", "push_up_close", "leg_press")


def told(profiles):
    return [_told(p) for p in profiles]


def _told(profile):
    heads = [(h.activation.tobytes(), h.fibre_length.tobytes(), h.measures) for h in profile.heads.values()]
    return profile.working_kg, profile.capacity_kg.tobytes(), heads, dict(profile.limiting)


@pytest.fixture(scope="module")
def asked():
    return [(i, built_in().lifts[i], Request(n_pos=5)) for i in SOME]


@pytest.fixture(scope="module")
def alone(asked):
    return each_profile(body_of(Person()), asked, told, threads=1)


@pytest.mark.parametrize("threads", [2, 4])
def test_the_number_of_threads_changes_no_bit(asked, alone, threads):
    assert each_profile(body_of(Person()), asked, told, threads) == alone


def test_a_lift_that_cannot_be_set_up_gives_its_reason(asked):
    wrong = (SOME[0], built_in().lifts[SOME[0]], Request(setup={"no_such": 1.0}, n_pos=5))
    found = each_profile(body_of(Person()), [wrong, asked[1]], told, threads=2)
    assert isinstance(found[0], InputError) and "no_such" in str(found[0])
    assert not isinstance(found[1], Exception)


def test_no_thread_is_refused(asked):
    with pytest.raises(InputError, match="threads = 0"):
        each_profile(body_of(Person()), asked, told, threads=0)


def test_numbers_that_are_not_finite_are_seen_wherever_they_stand():
    for bad in (np.nan, np.inf, -np.inf):
        for at in (0, 700, 1999):
            values = np.ones(2000)
            values[at] = bad
            assert not door.is_finite(values)
    assert door.is_finite(np.full(2000, 1e308))
