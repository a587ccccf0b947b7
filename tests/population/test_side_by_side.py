"""Lifts side by side: the numbers of an order of lifts, sentences that follow from them, and what trials of the same lifts saw."""

import pytest

from lengthwise.body.person import Person
from lengthwise.evidence.claims import starter_library
from lengthwise.grading.growth_value import Growth
from lengthwise.growth.beside import trialled
from lengthwise.known.trial_answers import learned
from lengthwise.populations.side_by_side import InLift, gain_sentence
from lengthwise.questions.answering.grading import rank_lifts
from lengthwise.questions.compare import CompareAsk, run
from lengthwise.questions.rank import RankAsk

NAMES = ("Overhead rope extension", "Cable push-down")


@pytest.fixture(scope="module")
def found():
    return run(CompareAsk(person=Person(), lifts=("overhead_rope_extension", "cable_push_down")), lambda *_: None)


def test_one_pair_has_one_number_in_both_answers(found):
    """`rank` and `compare` tell the growth of a lift as the same multiple of the same lift's."""
    ranked = {r.facts.lift_id: r for r in rank_lifts(RankAsk(muscle="triceps_long", draws=500)).lifts}
    for facts, own in zip(found.facts, found.growth["triceps_long"], strict=True):
        assert own.mean == pytest.approx(ranked[facts.lift_id].growth.mean, abs=0.005)
    assert found.reference["triceps_long"] == "Cable push-down"


def test_the_sentence_tells_the_ratio_of_the_two_numbers(found):
    over, down = found.growth["triceps_long"]
    assert f"about {over.mean / down.mean:.1f} times" in found.gains["triceps_long"]


def inside(mean: float, gate: float = 1.0) -> InLift:
    return InLift(Growth(mean, mean - 0.3, mean + 0.3), gate)


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        (inside(1.05), inside(1.0), "about equally"),
        (inside(0.9), inside(1.0), "most from the cable push-down: about 1.1 times"),
        (inside(1.4, 0.1), inside(1.0), "in the overhead rope extension it holds"),
        (inside(0.01), inside(1.0), "from the cable push-down alone"),
        (inside(0.01), inside(0.02), "hardly grows"),
        (inside(1.0, 0.1), inside(1.0, 0.2), "holds more than it lifts in each"),
    ],
)
def test_gains_in_words(one, other, said):
    assert said in gain_sentence("triceps_long", NAMES, (one, other))


def test_trials_of_the_same_two_lifts_are_told_by_the_smallest_group_of_heads():
    """T02 measured the short head of biceps femoris alone (no difference) and in the whole hamstrings (seated ahead)."""
    trials = learned(starter_library().studies)[0]
    (t,) = trialled(trials, "biceps_femoris_short", ("seated_leg_curl", "lying_leg_curl"))
    assert (t.trial, t.ahead) == ("T02", 0)
    (t,) = trialled(trials, "pectoralis_major_clavicular", ("bench_press", "incline_bench_press"))
    assert (t.trial, t.first, t.ahead) == ("T38", "incline_bench_press", 1)
    assert trialled(trials, "soleus", ("bench_press", "incline_bench_press")) == ()
