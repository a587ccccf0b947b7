"""Long halves beside an order: where they end, what makes them safe, and never a bar over the body without help."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.draws import streams
from lengthwise.grading.facts import facts_of
from lengthwise.grading.long_half import SURE, safety_of
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.practice.long_halves import long_halves
from lengthwise.training.client import Client
from lengthwise.weeks.clients import methods_on

LIFTS = built_in().lifts


def test_nothing_ends_in_a_long_half_without_help_where_the_lift_says_it_is_not_safe():
    unsafe = {i: lift for i, lift in LIFTS.items() if not lift.ranges["long"].safe}
    assert {"bench_press", "lying_barbell_extension"} <= unsafe.keys()
    assert all(safety_of(lift).startswith("only with") for lift in unsafe.values() if lift.spotting)
    assert all(safety_of(lift) == "" for lift in unsafe.values() if not lift.spotting)


@pytest.mark.parametrize(
    ("lift", "says"),
    [("bench_press", "spotter"), ("back_squat", "safety bars"), ("overhead_rope_extension", "stack"), ("push_up", "feet, knees")],
)
def test_each_says_what_makes_it_safe(lift, says):
    assert says in safety_of(LIFTS[lift])


def test_a_long_half_is_offered_where_length_favours_it_and_says_where_it_ends(fit, own_folder):
    """The leg extension keeps the quadriceps longer in its lower half, with most of the drive: chance 0.8.

    The rope overhead stood here; its chance (0.68, 0.65 since leg presses work the hips) lies at the bound itself.
    """
    lift = "leg_extension"
    facts = facts_of(profile(body_of(Person()), lift, LIFTS[lift], Request(n_pos=21)))
    draws = fit[1].sample(200)
    source = streams(200, np.random.default_rng(1))
    (found,) = long_halves(Person(), [Studied(facts, {}, ())], target_named("quadriceps"), draws, source)
    assert found.better >= SURE
    assert 1.05 < found.growth.mean < 1.4
    assert LIFTS[lift].ranges["long"].cue in found.sentence and "stack" in found.sentence


def test_a_planned_lift_offers_its_long_half_only_where_the_estimate_favours_it(fit, own_folder):
    """The extension keeps the quadriceps longer in its lower half; the cable crunch loses drive there (chance under two in three)."""
    client = Client.model_validate({"name": "Ida Invented", "training": "advanced", "training_years": 5})
    offered = {i: [m.how for m in methods_on(client, i) if m.claim == "long_half"] for i in ("leg_extension", "cable_crunch")}
    (how,) = offered["leg_extension"]
    assert LIFTS["leg_extension"].ranges["long"].cue in how and "stack comes to rest" in how
    assert offered["cable_crunch"] == []
