"""What a week says of length agrees with the lift's own profile, which looks at 41 positions where a week looks at eleven."""

import pytest

from lengthwise.body.model import body_of
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts, profile_lift
from lengthwise.mechanics.profile import Request
from lengthwise.planning.assembly import why
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week_model import direct, is_long
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.week_lifts import fits
from lengthwise.training.client import Client
from lengthwise.weeks.week_choices import day_offers, offer_of

RECORD = {
    "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 62, "age_y": 32, "training": "trained", "training_years": 5,
    "days": [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday")], "places": {"gym": {"preset": "full_gym"}},
}  # fmt: skip


@pytest.fixture(scope="module")
def offer():
    client = Client.model_validate(RECORD)
    able = [i for i in all_lifts().lifts if any(fits(i, d) for d in day_offers(client))]
    return client, offer_of(client, wanted=able)


def test_every_lift_is_called_long_for_a_muscle_as_its_profile_has_it(offer):
    client, found = offer
    question, person = WeekQuestion(choices=found.choices, days=found.days, muscles=found.muscles), calibrated_person(client)
    facts = facts_of_lifts(person, [(c.lift, all_lifts().lifts[c.lift], "full") for c in found.choices])
    assert len(found.choices) > 150
    for c in found.choices:
        heads = facts[c.lift, "full"].heads
        for m in (m for m in found.muscles if direct(c, m)):
            part = sum(s * heads[h].long_range_load for h, s in m.share.items() if h in c.practice.targets) / sum(m.share.values())
            assert ("loads it long" in why(question, c, m.name)) == (part >= 1 / 3), (c.lift, m.name, part)


@pytest.mark.parametrize(
    ("lift", "muscle", "long"),
    [
        ("hip_thrust", "glutes", False),
        ("cable_push_down", "triceps", False),
        ("overhead_dumbbell_extension", "triceps", True),
        ("back_squat", "glutes", True),
    ],
)
def test_the_page_of_a_lift_has_the_same_numbers(offer, lift, muscle, long):
    client, found = offer
    choice = next(c for c in found.choices if c.lift == lift)
    heads = profile_lift(body_of(calibrated_person(client)), lift, Request()).heads
    assert all(heads[h].measures.long_range_load == pytest.approx(part, abs=0.05) for h, part in choice.at_length.items())
    assert is_long(choice, next(m for m in found.muscles if m.name == muscle)) == long
