"""What a row of `rank` says of the one gate beside growth."""

from types import SimpleNamespace

import pytest

from lengthwise.grading.growth_value import FULL_WAY
from lengthwise.grading.sentences import _gated
from lengthwise.grading.target import target_named

GLUTES = target_named("glutes")


def said(gate, peak=0.6):
    head = SimpleNamespace(drive=0.3, shortening=0.3 * gate * FULL_WAY, drive_at_length=0.1, peak_activation=peak)
    return _gated(SimpleNamespace(heads=dict.fromkeys(GLUTES.heads, head)), GLUTES, gate)


def test_a_gated_row_says_how_little_the_target_shortens_and_what_counts():
    assert (
        said(0.24)
        == "the glutes shorten by only 7% of the fibre's length under load (30% counts whole), so 24% of its growth counts"
    )


@pytest.mark.parametrize(("gate", "peak"), [(0.95, 0.6), (0.24, 0.1)])
def test_nothing_is_said_of_an_open_gate_or_of_what_hardly_works(gate, peak):
    assert said(gate, peak) == ""


def test_a_hold_says_why_it_counts_nothing():
    assert said(0.0) == "you cannot load a hold up as you do a lift, so none of its growth counts"
