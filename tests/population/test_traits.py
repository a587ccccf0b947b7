"""What an order depends on: planted, found, and silent where there is nothing; scipy's rank correlation is the outside source."""

import numpy as np
import pytest
from scipy.stats import spearmanr

from lengthwise.populations.adults import draw
from lengthwise.populations.traits import FEWEST, effect_sentence, effects, in_words, relevant, traits_of

N = 400


@pytest.fixture(scope="module")
def traits():
    rows = [traits_of(draw(1, n)) for n in range(N)]
    return {name: np.array([r[name] for r in rows]) for name in rows[0]}


def test_what_was_planted_is_found_first_with_its_effect(traits, rng):
    shoulder = traits["most_shoulder_flexion"]
    ratio = np.exp(0.05 * (shoulder - 160) + rng.normal(0, 0.3, N))
    found = effects(ratio, traits)
    assert found[0].trait == "most_shoulder_flexion"
    assert found[0].effect == pytest.approx(spearmanr(shoulder, ratio).statistic, abs=1e-12)
    assert found[0].share_low < found[0].share_high
    assert "Shoulder flexion" in effect_sentence(found[0]) and "°" in effect_sentence(found[0])


def test_where_nothing_was_planted_hardly_anything_is_found(traits, rng):
    """Some 200 traits at three standard errors: about one in two tables finds one by chance."""
    counts = [len(effects(np.exp(rng.normal(0, 0.3, N)), traits)) for _ in range(5)]
    assert sum(counts) <= 6


def test_few_people_say_nothing_about_traits(traits, rng):
    few = {n: v[: FEWEST - 1] for n, v in traits.items()}
    assert effects(few["age_y"], few) == ()


def test_women_are_told_beside_men(traits):
    found = effects(np.where(traits["woman"] > 0, 2.0, 0.5), {"woman": traits["woman"]})
    assert effect_sentence(found[0]) == "True for 100% of women (2.00 times as much), 0% of men (0.50 times as much)."


def test_a_question_about_one_head_leaves_other_heads_out():
    names = ["age_y", "strength_vasti", "fibre_triceps_long", "fibre_soleus"]
    assert relevant(names, ["triceps_long"]) == names[:3]


def test_every_trait_has_words(traits):
    for name in traits:
        assert "_" not in in_words(name)
