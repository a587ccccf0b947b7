"""What is said beside a lift for a sore joint can be done with the load it has."""

import pytest

from lengthwise.practice.load_sentences import sore_words
from lengthwise.practice.loading import Loading
from lengthwise.training.client import Client
from lengthwise.training.load_notes import STOP, STOP_BODY

RECORD = {"name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 40, "training": "recreational"}


@pytest.mark.parametrize(
    ("lift", "load", "said", "other"),
    [("side_plank", 0.0, STOP_BODY, STOP), ("split_squat_free", 0.0, STOP_BODY, STOP), ("leg_press", 60.0, STOP, STOP_BODY)],
)
def test_nobody_is_told_to_take_half_the_load_of_the_body(lift, load, said, other):
    client = Client.model_validate({**RECORD, "sore_joints": {"low back": "mild", "knee": "mild", "shoulder": "mild"}})
    told = " ".join(sore_words(Loading(client, client, False, {lift: 0.8}), lift, None, load))
    assert said in told and other not in told
