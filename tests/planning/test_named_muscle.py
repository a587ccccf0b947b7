"""What a lift is said to be mainly for does not change with wishes or weeks."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.planning.pairing import named_muscle
from lengthwise.planning.question import DayOffer, WeekQuestion


def named(choice, *muscles):
    day = DayOffer(day="monday", place="gym", minutes=60.0, gear=frozenset({"cable"}))
    return named_muscle(WeekQuestion(choices=(choice,), days=(day,), muscles=muscles), choice)


@pytest.mark.parametrize("raised", [0.5, 1.0, 2.0])
@pytest.mark.parametrize(("of_hams", "of_glutes"), [(0.94, 0.96), (0.96, 0.94), (0.90, 0.98)])
def test_muscles_served_about_as_much_are_named_as_the_lift_names_them(raised, of_hams, of_glutes):
    hinge = replace(lift(1, hams=of_hams, glutes=of_glutes), practice=practice(["hams", "glutes"]))
    assert named(hinge, muscle("glutes", priority=raised), muscle("hams")) == "hams"


def test_the_muscle_that_a_set_counts_clearly_more_for_is_named():
    thrust = replace(lift(1, hams=0.4, glutes=1.0), practice=practice(["hams", "glutes"]))
    assert named(thrust, muscle("glutes"), muscle("hams", priority=2.0)) == "glutes"
