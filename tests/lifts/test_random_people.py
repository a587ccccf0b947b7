"""Lifts on random ordinary people: no fault, whoever comes; the whole count is validation/random_people.py."""

import sys
from pathlib import Path

import pytest

from lengthwise.lifts.catalogue import built_in

sys.path.insert(0, str(Path(__file__).parents[2] / "validation"))
from random_people import attempt, people

PEOPLE = people(6, seed=7)
EVERY, N_POS = 12, 3
NONE = ("", "")


@pytest.mark.parametrize("k", range(len(PEOPLE)))
def test_lifts_of_random_people(k):
    """A twelfth of the library each, another one for each person."""
    said = {lift_id: attempt(PEOPLE[k], lift_id, N_POS) for lift_id in list(built_in().lifts)[k::EVERY]}
    assert {i: why for i, why in said.items() if why != NONE} == {}


def test_a_tall_woman_thrusts_with_one_leg():
    """Her long legs did not fit between bench and foot."""
    tall = next(p for p in people(200, seed=1) if p.sex == "woman" and p.stature_m > 1.9)
    assert attempt(tall, "one_leg_hip_thrust", N_POS) == NONE


def test_a_search_that_went_astray_sets_out_anew():
    """The first round of this chain, with the load held to begin with, left all numbers behind."""
    her = next(p for p in people(200, seed=3) if (p.stature_m, p.mass_kg) == (1.687, 55.7))
    assert attempt(her, "band_push_down", 5) == NONE
