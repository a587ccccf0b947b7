"""Many lifts on one body: the same bits whatever the number of threads, and reasons instead of answers where there are none; in outline, what
is told of profiles."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.rows import ANGLE_SLOT
from lengthwise.core import door
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.many import each_outline
from lengthwise.mechanics.profile import LiftProfile, Outline, Request, profile, profiles
from lengthwise.mechanics.trained import trained
from lengthwise.populations.adults import draw
from lengthwise.populations.differing import body_of_adult

SOME = ("back_squat", "one_leg_extension_leaned_back", "lat_pulldown", "cable_rotation", "push_up_close", "leg_press")


def told(found):
    heads = [(h.activation.tobytes(), h.fibre_length.tobytes(), h.measures) for h in found.heads.values()]
    return found.working_kg, found.capacity_kg.tobytes(), heads, dict(found.limiting)


def outlined(found):
    own = (found.sticking_at, found.sticking_kg, found.moved_kg, found.set_load, found.balance_demand, found.one_rm_kg)
    sides = trained(found)
    arrays = sides.facts.tobytes(), sides.effort.tobytes(), found.reach_deg[:, list(ANGLE_SLOT.values())].tobytes()
    return own, found.seconds_per_set, found.load_step_fraction, dict(found.limiting), sides.names, arrays


@pytest.fixture(scope="module")
def asked():
    return [(i, built_in().lifts[i], Request(n_pos=5)) for i in SOME]


@pytest.fixture(scope="module")
def alone(asked):
    return profiles(body_of(Person()), asked)


@pytest.mark.parametrize("threads", [2, 4])
def test_the_number_of_threads_changes_no_bit(asked, alone, threads):
    assert [*map(told, profiles(body_of(Person()), asked, threads))] == [*map(told, alone)]
    assert [*map(outlined, each_outline(body_of(Person()), asked, threads))] == [*map(outlined, alone)]


def test_in_outline_a_lift_is_told_as_its_profile_is(asked, alone):
    found = each_outline(body_of(Person()), asked, 1)
    assert {type(p) for p in found} == {Outline} and {type(p) for p in alone} == {LiftProfile}
    assert [*map(outlined, found)] == [*map(outlined, alone)]


def test_a_lift_that_the_core_leaves_has_its_profile_among_outlines():
    adult, lift = body_of_adult(draw(1, 5)), built_in().lifts["frog_bridge"]
    found = each_outline(adult, [("frog_bridge", lift, Request(n_pos=3))], 1)[0]
    assert isinstance(found, LiftProfile)
    assert outlined(found) == outlined(profile(adult, "frog_bridge", lift, Request(n_pos=3)))


def test_a_lift_that_cannot_be_set_up_gives_its_reason(asked):
    wrong = (SOME[0], built_in().lifts[SOME[0]], Request(setup={"no_such": 1.0}, n_pos=5))
    found = each_outline(body_of(Person()), [wrong, asked[1]], threads=2)
    assert isinstance(found[0], InputError) and "no_such" in str(found[0])
    assert not isinstance(found[1], Exception)


def test_no_thread_is_refused(asked):
    with pytest.raises(InputError, match="threads = 0"):
        each_outline(body_of(Person()), asked, threads=0)


def test_numbers_that_are_not_finite_are_seen_wherever_they_stand():
    for bad in (np.nan, np.inf, -np.inf):
        for at in (0, 700, 1999):
            values = np.ones(2000)
            values[at] = bad
            assert not door.is_finite(values)
    assert door.is_finite(np.full(2000, 1e308))
