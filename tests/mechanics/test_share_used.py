"""What of their strength people bring to bear in a lift: less while they begin, and under a bar that bends them."""

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.scaling import lifting_skill
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.training.lift_strength import pose, strength_of

BEGINNER, TRAINED = Person(), Person(training="trained")
UNDER_A_BAR = ("good_morning", "seated_good_morning")


def test_beginners_lack_more_in_a_press_than_in_a_squat_and_who_trains_lacks_nothing():
    press, squat = (built_in().lifts[i].prime_movers for i in ("bench_press", "back_squat"))
    assert lifting_skill(BEGINNER, press) < lifting_skill(BEGINNER, squat) < 1
    assert lifting_skill(TRAINED, press) == lifting_skill(TRAINED, squat) == 1


def test_a_lift_of_several_families_lies_between_them():
    both = lifting_skill(BEGINNER, ["pectoralis_major_sternal", "vastus_lateralis"])
    alone = [lifting_skill(BEGINNER, [head]) for head in ("pectoralis_major_sternal", "vastus_lateralis")]
    assert both == pytest.approx((alone[0] * alone[1]) ** 0.5)


@pytest.mark.parametrize("lift_id", UNDER_A_BAR)
def test_under_a_bar_that_bends_them_people_hold_back(lift_id):
    """Whichever way the largest load is found."""
    lift, body = built_in().lifts[lift_id], body_of(TRAINED)
    freely = lift.model_copy(update={"used": 1.0})
    told, all_of_it = (profile(body, lift_id, one, Request(n_pos=9)).one_rm_kg for one in (lift, freely))
    assert told == pytest.approx(lift.used * all_of_it, rel=1e-6)
    assert strength_of(pose(body, lift, n_pos=9)).largest_kg == pytest.approx(told, rel=0.01)


def test_nothing_else_is_held_back():
    assert {i for i, lift in built_in().lifts.items() if lift.used < 1} == set(UNDER_A_BAR)
