"""Where a stack or a rack ends it is said, with what comes then; a lift that nothing makes hard is no lift of a week."""

from datetime import date

import pytest

from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.week_choices import offer_of

SMALL = {"lever": {"stack_kg": [5, 50, 5]}, "dumbbell": {"rack_kg": [2, 4, 6, 8, 10]}, "body": {}}
PERSON = {
    "name": "Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 66, "age_y": 36, "training": "trained", "training_years": 3,
    "days": [{"day": "monday", "place": "home", "minutes": 60}], "places": {"home": {"gear": SMALL, "stations": ["flat_bench"]}},
}  # fmt: skip


def done(lift, kg, repetitions):
    known = [{"lift": lift, "load_kg": kg, "repetitions": repetitions, "reserve": 2, "day": date.today()}]
    return Client.model_validate({**PERSON, "known_lifts": known})


@pytest.mark.parametrize(("lift", "kg", "n"), [("seated_leg_curl", 50, 10), ("machine_row", 50, 9), ("dumbbell_curl", 10, 10)])
def test_the_end_of_the_loads_is_said_before_it_is_light(lift, kg, n):
    """More repetitions, then slower, one side at a time or small weights: common practice, no source."""
    p = load_of(done(lift, kg, n), lift, SetTarget())
    (told,) = [note for note in p.notes if note.startswith("The heaviest load here")]
    assert p.load_kg == kg and f"{kg} kg" in told and f"after {p.repetitions[1]} repetitions" in told
    assert "go up to" in told and "one side at a time" in told and "small weights" in told
    assert not any(n.startswith("The heaviest load here") for n in load_of(done(lift, kg / 2, n), lift, SetTarget()).notes)


def test_what_no_load_makes_hard_counts_next_to_nothing():
    """30 kg × 12 with 2 left is a 1RM of 44 kg: 10 kg allows a hundred, and sets of more than 30 are written for nobody. Left over for want of
    another hinge it counts what the law of growth leaves of a set so far from its end; planner and table go by the same fractions."""
    hinge = "dumbbell_romanian_deadlift"
    light, hard = (offer_of(done(hinge, kg, 12)) for kg in (30, 10))
    counts = [
        max((c.fraction.get("semitendinosus", 0.0) for c in o.choices if c.lift == hinge), default=0.0) for o in (light, hard)
    ]
    assert counts[0] < 0.01 and counts[1] == 1.0


def test_a_beginner_with_light_weights_learns_and_is_not_sent_on_without_end():
    """No open-ended sets and no one side at a time in the first months (common practice, no source); who trains still hears of both."""
    light = {"home": {"gear": {**SMALL, "dumbbell": {"rack_kg": [2, 4]}}}}
    hinge, curl = "dumbbell_romanian_deadlift", {"lift": "dumbbell_curl", "load_kg": 4, "repetitions": 10, "reserve": 2}
    new, trained = (
        Client.model_validate({**PERSON, "training": level, "training_years": 0, "places": light, "known_lifts": [curl]})
        for level in ("untrained", "trained")
    )
    learns = load_of(new, hinge, SetTarget())
    told = {
        who.training: [" ".join(load_of(who, i, SetTarget()).notes) for i in (hinge, "dumbbell_curl")] for who in (new, trained)
    }
    assert learns.repetitions[1] <= 20 and "Learn the movement with 15 to 20" in told["untrained"][0]
    assert "small weights" in told["untrained"][1]
    assert not any("ne side at a time" in words or "however many" in words for words in told["untrained"])
    assert all("ne side at a time" in words for words in told["trained"])
