"""What a spelling is taken for: never a lift for one arm where it speaks of none."""

import pytest

from lengthwise.records.lift_names import match_lifts


@pytest.mark.parametrize("spelling", ["overhead_cable_extension", "Overhead Cable Extension"])
def test_the_load_of_two_arms_goes_on_no_lift_for_one(spelling):
    (found,) = match_lifts([spelling], {})
    assert found.lift == "overhead_rope_extension" and not found.sure
    assert "overhead_cable_extension_one_arm" in found.others, "it is offered"


@pytest.mark.parametrize("spelling", ["dumbell row", "one arm dumbell row"])
def test_a_name_with_a_letter_missing_is_still_that_lift(spelling):
    (found,) = match_lifts([spelling], {})
    assert found.lift == "one_arm_dumbbell_row" and not found.sure
