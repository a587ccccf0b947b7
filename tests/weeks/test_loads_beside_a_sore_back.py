"""What a sore back leaves of lifts on the gear of a known one and of hinges: common practice, no source, as an outside coach wrote it down."""

import pytest

from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of

SLED = {"lift": "leg_press", "load_kg": 160, "repetitions": 10, "reserve": 2}


def of(how, *more):
    return Client.model_validate(
        {
            "name": "Invented Bent",
            "sex": "man",
            "stature_m": 1.80,
            "mass_kg": 85,
            "age_y": 50,
            "training": "trained",
            "training_years": 6,
            "sore_joints": {"low back": how} if how else {},
            "screening": {"active_now": True, "intensity": "vigorous"},
            "places": {"gym": {"preset": "full_gym"}},
            "days": [{"day": "monday", "place": "gym", "minutes": 60}],
            "known_lifts": [SLED, *more],
        }
    )


@pytest.mark.parametrize("how", ["mild", "moderate", "severe"])
def test_a_calf_raise_stays_within_what_a_sore_back_leaves_of_the_press_on_its_sled(how):
    """The back holds the same sled out of its rests."""
    press, calf = (load_of(of(how), lift, SetTarget(place="gym")) for lift in ("leg_press", "leg_press_calf_raise"))
    assert calf.guess and calf.load_kg <= press.load_kg <= SLED["load_kg"]
    assert calf.reserve >= press.reserve >= 3 and not calf.first_session


def test_no_back_no_cap():
    calf = load_of(of(None), "leg_press_calf_raise", SetTarget(place="gym"))
    assert calf.reserve == 2 and calf.first_session


@pytest.mark.parametrize("lift", ["cable_pull_through", "kettlebell_deadlift", "one_leg_romanian_deadlift", "back_extension_45"])
def test_no_hinge_is_begun_beside_a_moderately_sore_back_as_one_without(lift):
    """The back holds a hinge up, whoever its prime movers are: less load, three left, no heavier set on the day."""
    free, sore = (load_of(of(how), lift, SetTarget(place="gym")) for how in (None, "moderate"))
    assert sore.reserve >= 3 and not sore.first_session
    assert sore.load_kg < free.load_kg or sore.load_kg == 0


def test_a_hinge_that_was_done_stays():
    done = {"lift": "cable_pull_through", "load_kg": 40, "repetitions": 12, "reserve": 2}
    kept = load_of(of("moderate", done), "cable_pull_through", SetTarget(place="gym"))
    assert not kept.guess and not kept.gentle and 0.7 * 40 <= kept.load_kg <= 40 and kept.reserve >= 3


@pytest.mark.parametrize("lift", ["romanian_deadlift", "kettlebell_deadlift", "one_leg_romanian_deadlift"])
def test_no_deadlift_is_begun_beside_a_moderately_sore_back(lift):
    """Weeks leave it out; asked for alone it is an easy set. Who has done it keeps it."""
    new = load_of(of("moderate"), lift, SetTarget(place="gym"))
    assert new.gentle and "not to start while it is sore" in new.notes[0]
    kept = load_of(of("moderate", {"lift": lift, "load_kg": 20, "repetitions": 12, "reserve": 2}), lift, SetTarget(place="gym"))
    assert "not to start" not in " ".join(kept.notes)


def test_a_mildly_sore_back_gets_no_heavier_set_on_the_day():
    told = load_of(of("mild"), "cable_pull_through", SetTarget(place="gym"))
    assert told.guess and not any("work up set by set" in s for s in told.first_session)
