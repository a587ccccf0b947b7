"""The example that docs/method_choosing.md works by hand, reproduced to three digits."""

from pathlib import Path

import numpy as np
import pytest

from lengthwise.grading.acceptability import acceptability
from lengthwise.grading.criteria import preferences, score, values_of
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.ranking import RankQuestion, rank, turn_sentence
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import Target

TARGET = Target("triceps", ("triceps_long", "triceps_lateral"))
DOC = Path(__file__).parents[2] / "docs" / "method_choosing.md"
BY_HAND = {
    "joint_action": 0.680, "limited_by_target": 0.625, "length_reached": 0.690, "load_at_length": 0.525, "long_half_partial": 0.690,
    "joint_conflict": 0.840, "economy": 0.400, "balance": 0.600, "time": 0.700, "load_step": 0.700, "joint_caution": 0.700,
}  # fmt: skip


def worked(facts: LiftFacts) -> dict[str, float]:
    """The values of the criteria that the page works out; there may be others."""
    values = values_of(facts, TARGET)
    return {n: values[n] for n in BY_HAND}


def test_criteria_by_hand(first):
    assert worked(first) == pytest.approx(BY_HAND, abs=5e-4)


def test_values_by_hand(first, second):
    weights = default_weights().value
    assert score(worked(first), weights) == pytest.approx(0.623, abs=5e-4)
    assert score(worked(second), weights) == pytest.approx(0.599, abs=5e-4)


def test_preferences_order_what_growth_cannot_tell_apart_by_hand(first, second, taught):
    """Steadiness 0.6, time 0.7, load step 0.7, joints 0.7 against 0.6, 0.4, 0.4, 0.4: no weight turns that."""
    by_hand = {"balance": 0.6, "time": 0.7, "load_step": 0.7, "joint_caution": 0.7}
    weights = default_weights().with_values({n: 0.0 for n in preferences() if n not in by_hand}, "the page's")
    found = rank(
        [Studied(f, f.heads, ()) for f in (second, first)],
        RankQuestion(target=TARGET, learned=taught, weights=weights),
        np.random.default_rng(1),
    )
    assert [(r.facts.lift_id, r.tier) for r in found.lifts] == [("first", 1), ("second", 1)]
    assert {n: found.lifts[0].fit[n] for n in by_hand} == pytest.approx(by_hand)
    mean = sum(weights.value[n] * v for n, v in by_hand.items()) / sum(weights.value[n] for n in by_hand)
    assert found.lifts[0].preference == pytest.approx(mean)
    assert found.turns == ()
    assert "No single weight puts Second before First" in turn_sentence(found)


def test_the_needed_weight_makes_both_equal(first, second):
    weights = {**default_weights().value, "load_at_length": 4.5}
    assert score(worked(first), weights) == pytest.approx(score(worked(second), weights), abs=1e-9)


def test_acceptability_by_hand():
    found = acceptability(np.array([[0.6, 0.5], [0.4, 0.5], [0.5, 0.5], [0.7, 0.2]]))
    assert found.first_share.tolist() == pytest.approx([0.625, 0.375], abs=5e-4)


def test_the_page_shows_these_numbers():
    text = DOC.read_text(encoding="utf-8")
    for value in [*(f"{v:.3f}" for v in BY_HAND.values()), "0.623", "0.599", "4.5", "0.625", "0.375"]:
        assert value in text, value
    assert all(n in text for n in BY_HAND)
