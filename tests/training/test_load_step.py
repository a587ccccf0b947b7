"""The jump to the next load: by hand from the loads of a place."""

from math import inf

import pytest

from lengthwise.grading.criteria import criteria
from lengthwise.lifts.catalogue import built_in
from lengthwise.training.client import GearAtPlace, Place
from lengthwise.training.load_step import step_over_load, takes_load

HOME = Place(gear={"dumbbell": GearAtPlace(rack_kg=[4, 8, 16]), "body": GearAtPlace(plates_kg=[5, 2.5])})


@pytest.mark.parametrize(
    ("load_kg", "jump"),
    [(8, 8 / 8), (9, 8 / 9), (4, 4 / 4), (3, 4 / 3), (16, inf)],
)
def test_a_rack_of_4_8_16(load_kg, jump):
    assert step_over_load("dumbbell_curl", "dumbbell", load_kg, 0.0, [HOME]) == pytest.approx(jump)


def test_plates_on_a_belt_count_over_the_whole_body():
    assert step_over_load("pull_up", "body", 0.0, 70.0, [HOME]) == pytest.approx(2.5 / 70)


def test_nothing_hangs_on_a_clamshell():
    assert step_over_load("clamshell", "body", 11.0, 8.0, [HOME]) == inf


def test_a_place_without_plates_has_nothing_to_hang():
    assert step_over_load("pull_up", "body", 0.0, 70.0, [Place(gear={"band": GearAtPlace()})]) == inf


def test_a_gym_that_nobody_described_has_small_weights():
    assert step_over_load("cable_push_down", "cable", 20.0, 0.0) == pytest.approx(2.5 / 20)


def test_the_nearest_of_several_places_counts():
    gym = Place(gear={"dumbbell": GearAtPlace(rack_kg=[8, 9])})
    assert step_over_load("dumbbell_curl", "dumbbell", 8.0, 0.0, [HOME, gym]) == pytest.approx(1 / 8)


def test_lifts_that_take_a_load_are_lifts_of_the_body():
    lifts = built_in().lifts
    assert all(lifts[i].gear == "body" for i in takes_load())


def test_ends_of_the_scale_are_what_repetitions_bridge():
    """Epley, 1RM = load · (1 + r/30): 8 to 12 repetitions with 2 left, (1 + 14/30)/(1 + 10/30) = 1.10; 10 to 35: 67/42 = 1.60."""
    value = criteria()["load_step"].value
    assert value((1 + 14 / 30) / (1 + 10 / 30) - 1) == pytest.approx(1.0)
    assert value((1 + 37 / 30) / (1 + 12 / 30) - 1) == pytest.approx(0.0, abs=0.01)
