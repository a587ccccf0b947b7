"""What an order of lifts leaves out as too light for a hard set is no whole set of a week."""

import pytest

from lengthwise.body.model import body_of
from lengthwise.grading.studied_lift import too_light
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.profile import Request, profile
from lengthwise.practice.hard_sets import ends_beyond, hard_part
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.training.client import Client
from lengthwise.weeks.week_choices import offer_of

BAND = [i for i, lift in all_lifts().lifts.items() if lift.gear == "band"]


def client(gear, **who):
    days = [{"day": d, "place": "home", "minutes": 50} for d in ("monday", "thursday")]
    return Client.model_validate(
        {
            "name": "Invented",
            **who,
            "days": days,
            "places": {"home": {"stations": ["flat_bench", "box", "heel_anchor"], "gear": {"body": {}, **gear}}},
        }
    )


STRONG = client({"band": {}}, sex="man", stature_m=1.86, mass_kg=92, age_y=31, training="trained", training_years=4)
SMALL = client(
    {"band": {}, "dumbbell": {"rack_kg": [2, 4, 6, 8]}}, sex="woman", stature_m=1.6, mass_kg=58, age_y=50, training="recreational"
)


@pytest.mark.parametrize("who", [STRONG, SMALL], ids=["strong", "small"])
def test_a_week_and_an_order_agree_on_which_bands_are_too_light(who):
    """The order asks the whole profile, the week the facts that it keeps: the same bands end no hard set."""
    person, offer = calibrated_person(who), offer_of(who)
    facts = facts_of_lifts(person, [(i, all_lifts().lifts[i], "full") for i in BAND])
    light = {i for i in BAND if too_light(profile(body_of(person), i, all_lifts().lifts[i], Request(n_pos=21)))}
    assert light == {i for i in BAND if ends_beyond(who, facts[i, "full"], offer.days)}
    counted = {c.lift for c in offer.choices} & light
    assert all(hard_part(who, facts[i, "full"], offer.days) < 1 for i in counted)


def test_bands_end_no_hard_bridge_of_a_strong_man():
    """An outside coach's case on another body: a bridge or thrust with a band beside one on one leg."""
    assert "band_hip_thrust" in offer_of(STRONG).out


def test_the_heaviest_of_a_light_rack_is_asked_by_what_the_body_bears():
    """A cautious first load hides that two dumbbells of 8 kg end no seated calf raise."""
    reason = offer_of(SMALL).out["seated_dumbbell_calf_raise"]
    assert "too light for this client" in reason
