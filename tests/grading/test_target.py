"""What lifts are chosen for: one head, a muscle, several."""

import pytest

from lengthwise.errors import UnknownNameError
from lengthwise.grading.target import target_named


@pytest.mark.parametrize(
    "asked", ["triceps, chest", "triceps + chest", "triceps and chest", "triceps;chest", "triceps, chest, triceps_long"]
)
def test_several_are_one_target_with_each_head_once(asked):
    found = target_named(asked)
    assert found.heads == (*target_named("triceps").heads, *target_named("chest").heads)
    assert target_named(found.name) == found or "triceps_long" in asked


def test_one_is_as_before():
    assert target_named("triceps_long").heads == ("triceps_long",)
    assert target_named("hamstrings").name == "hamstrings"


def test_the_one_that_is_unknown_is_named():
    with pytest.raises(UnknownNameError, match=r"'chst'; did you mean chest"):
        target_named("triceps, chst")
