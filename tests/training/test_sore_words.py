"""Sore joints in the words that people use, and one line for a joint that is none."""

import pytest

from lengthwise.errors import DataFileError
from lengthwise.records.people import client_of
from lengthwise.training.client_template import TEMPLATE
from lengthwise.training.record_words import joint_named

BODY = {"name": "Bea Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 65, "age_y": 40, "training": "trained"}


@pytest.mark.parametrize("word", ["low back", "Lower back", "low_back", "back", "trunk"])
def test_the_commonest_complaint_of_a_gym_is_understood(word):
    found = client_of({**BODY, "sore_joints": {word: "moderate"}}, "back.toml")
    assert dict(found.sore_joints) == {"trunk": None} and dict(found.soreness) == {"trunk": "moderate"}


def test_knees_are_a_knee_and_an_unknown_word_stays():
    assert joint_named("Knees") == "knee" and joint_named("big toe") == "big toe"


@pytest.mark.parametrize(
    ("joints", "line"),
    [
        ({"sholder": "mild"}, "sore_joints.sholder: no joint is called 'sholder'; did you mean shoulder"),
        ({"hip": "awful"}, 'sore_joints.hip: found \'awful\'; allowed "mild", "moderate" or "severe"'),
    ],
)
def test_a_fault_is_told_once_with_what_is_allowed(joints, line):
    with pytest.raises(DataFileError) as told:
        client_of({**BODY, "sore_joints": joints}, "back.toml")
    assert len(told.value.faults) == 1 and line in told.value.faults[0]


def test_one_joint_under_two_names_is_told():
    with pytest.raises(DataFileError, match="one joint twice"):
        client_of({**BODY, "sore_joints": {"back": "mild", "trunk": "mild"}}, "back.toml")


def test_the_template_gives_the_words_before_any_number():
    part = TEMPLATE[TEMPLATE.index("# Joints that hurt") :]
    assert part.index('"mild"') < part.index("N·m")
