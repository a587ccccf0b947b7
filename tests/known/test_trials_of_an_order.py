"""An order says what trials of two of its lifts saw, and whether it has them the same way round."""

import pytest

from lengthwise.known.order_of_lifts import in_order
from lengthwise.questions.answering.grading import rank_lifts
from lengthwise.questions.rank import RankAsk


@pytest.fixture(scope="module")
def said():
    return in_order(rank_lifts(RankAsk(muscle="pectoralis_major_clavicular", draws=50)), None)


def test_a_trial_of_two_lifts_is_told_with_the_side_that_the_order_takes(said):
    """T38 (Int J Exerc Sci 13:859-872) grew the upper chest more by the incline press; read from its abstract."""
    place = {r.lift.facts.lift_id: i for i, r in enumerate(said.lifts)}
    (sentence,) = said.trials
    assert (
        "(Int J Exerc Sci 2020)" in sentence and "more from the incline bench press than from the barbell bench press" in sentence
    )
    other_way = place["incline_bench_press"] > place["bench_press"]
    assert ("the other way round" in sentence) == other_way
