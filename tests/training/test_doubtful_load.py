"""A load far above what a client can lift is asked about; one that can be is not."""

import pytest

from lengthwise.records.log_doubt import FAR_ABOVE, doubt
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.log import LoggedSet

SQUATS = KnownLift(lift="back_squat", load_kg=100, repetitions=1, reserve=0)
CLIENT = Client(name="Invented", sex="man", known_lifts=(SQUATS,))


@pytest.mark.parametrize(("kg", "asked"), [(105, False), (400, True)])
def test_a_load_is_asked_about_where_it_is_far_above_the_estimate(kg, asked):
    words = doubt(CLIENT, CLIENT, LoggedSet(lift="back_squat", load_kg=kg, repetitions=5))
    assert FAR_ABOVE * 105 < 400
    assert words.startswith("Back squat: 400 kg? The estimate") is asked
    assert ("was 40 kg meant?" in words) is asked
