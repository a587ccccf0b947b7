"""The table that comes with Lengthwise: counted by hand, its trait against scipy, its words, and back from its file."""

import numpy as np
import pytest
from scipy.stats import spearmanr

from lengthwise.populations import pairs
from lengthwise.populations.order_words import adults_sentence
from lengthwise.populations.pairs import in_adults, packed_pairs, read_pairs, table_of

N = 300


@pytest.fixture
def made(rng):
    """Three lifts over 300 people; the first beats the second where the shoulder is supple, and nobody of the last 30 can take the third."""
    shoulder, age = rng.normal(165, 8, N), rng.uniform(18, 80, N)
    growth = np.stack([np.exp(0.03 * (shoulder - 158) + rng.normal(0, 0.1, N)), np.ones(N), np.full(N, 0.5)])
    growth[2, -30:] = np.nan
    return growth, {"age_y": age, "most_shoulder_flexion": shoulder}


def test_shares_are_counts(made):
    growth, traits = made
    found = table_of(growth, traits)
    assert found["both"][0, 1] == found["both"][1, 0] == N and found["both"][0, 2] == N - 30
    assert found["better"][0, 1] == (growth[0] > 1).sum() and found["better"][1, 0] == (growth[0] < 1).sum()
    assert found["better"][1, 2] == N - 30 and found["trait"][1, 2] == -1


def test_the_trait_it_depends_on_is_the_one_with_the_largest_rank_correlation(made):
    growth, traits = made
    found = table_of(growth, traits)
    assert found["trait"][0, 1] == int(np.argmax([abs(spearmanr(v, growth[0]).statistic) for v in traits.values()])) == 1
    low, high = np.quantile(traits["most_shoulder_flexion"], (0.2, 0.8))
    holds = growth[0] > 1
    assert found["low"][0, 1] == round(100 * holds[traits["most_shoulder_flexion"] <= low].mean())
    assert found["high"][0, 1] == round(100 * holds[traits["most_shoulder_flexion"] >= high].mean())


@pytest.fixture
def table(made, monkeypatch):
    growth, traits = made
    content = packed_pairs(
        {"people": N, "seed": 1}, list(traits), {"triceps_long": ["a", "b", "c"]}, {"triceps_long": table_of(growth, traits)}
    )
    monkeypatch.setattr(pairs, "shipped", lambda: read_pairs(content))
    return content


def test_the_table_comes_back_from_its_file_and_says_the_order_in_words(table, made):
    found = in_adults("triceps_long", "a", "b")
    assert found.share.value == pytest.approx((made[0][0] > 1).mean()) and found.trait == "most_shoulder_flexion"
    said = adults_sentence(found, "the long head of the triceps", "Overhead extension", "Push-down")
    assert said.startswith(
        f"On {found.share.value:.0%} of {N} modelled bodies the overhead extension grows the long head of the triceps more than the push-down (how much bodies differ, not how sure trials are); by shoulder"
    )
    other = in_adults("triceps_long", "b", "a")
    assert other.share.value == pytest.approx(1 - found.share.value)


def test_what_the_table_does_not_know_is_not_told(table):
    assert in_adults("triceps_long", "a", "a") is None
    assert in_adults("triceps_long", "a", "z") is None
    assert in_adults("soleus", "a", "b") is None


def test_a_copy_without_a_table_tells_nothing(monkeypatch):
    monkeypatch.setattr(pairs, "shipped", lambda: None)
    assert in_adults("triceps_long", "overhead_rope_extension", "cable_push_down") is None


def test_the_same_people_give_the_same_bytes(table, made):
    growth, traits = made
    again = packed_pairs(
        {"people": N, "seed": 1}, list(traits), {"triceps_long": ["a", "b", "c"]}, {"triceps_long": table_of(growth, traits)}
    )
    assert again == table
