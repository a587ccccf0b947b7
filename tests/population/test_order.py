"""For how many an order holds: against the grading's own growth, statsmodels' interval, and repeated draws."""

import numpy as np
import pytest
from statsmodels.stats.proportion import proportion_confint

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError, UnknownNameError
from lengthwise.grading.draws import streams
from lengthwise.grading.facts import facts_of
from lengthwise.grading.growth_value import drawn_growth
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.known.trial_answers import learned
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.populations.order_held import GROWTH_FACTS, drawn_value, held, needed_heads, order_asked
from lengthwise.populations.proportion import share_of


@pytest.mark.parametrize("target", ["triceps", "triceps_long", "latissimus"])
def test_growth_over_a_population_is_the_growth_that_ranking_counts(target):
    """One body as a population of two equals grading without its shifts of body and technique."""
    target = target_named(target)
    facts = facts_of(
        profile(body_of(Person()), "overhead_rope_extension", built_in().lifts["overhead_rope_extension"], Request(n_pos=5))
    )
    x = learned()[1].sample(20)
    one = drawn_growth(Studied(facts, {}, ()), target, x, streams(20, np.random.default_rng(1)))
    heads = needed_heads(target)
    table = {n: np.array([[getattr(facts.heads[h], n) for h in heads]] * 2) for n in GROWTH_FACTS}
    found = drawn_value(table, heads, target, x)
    assert found.shape == (20, 2)
    assert found[:, 1] == pytest.approx(one.law * one.gate, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("count", "of"), [(0, 10), (10, 10), (94, 100), (1, 7), (1880, 2000)])
def test_the_interval_of_a_share_is_wilsons(count, of):
    """statsmodels 0.15 is the outside source."""
    s = share_of(count, of)
    assert (s.low, s.high) == pytest.approx(proportion_confint(count, of, method="wilson"), abs=1e-12)


@pytest.mark.parametrize("true", [0.94, 0.5, 0.99])
def test_the_interval_covers_the_true_share_on_repeated_draws(true):
    counts = np.random.default_rng(3).binomial(200, true, 4000)
    covered = np.mean([s.low <= true <= s.high for s in (share_of(int(c), 200) for c in counts)])
    assert 0.93 <= covered <= 0.985


def test_nobody_asked_is_told_as_such():
    assert share_of(0, 0).of == 0 and (share_of(0, 0).low, share_of(0, 0).high) == (0.0, 1.0)


@pytest.mark.parametrize(
    "text", ["triceps_long: overhead rope extension > cable push-down", "triceps_long: cable_push_down < overhead_rope_extension"]
)
def test_an_order_is_read_either_way_round(text):
    order = order_asked(text, built_in())
    assert (order.target.name, order.better, order.worse) == ("triceps_long", "overhead_rope_extension", "cable_push_down")


@pytest.mark.parametrize(
    ("text", "error", "says"),
    [
        ("overhead is better", InputError, 'write "head or muscle: lift > lift"'),
        ("triceps: cable_push_down > cable_push_down", InputError, "name two lifts"),
        ("triceps: cable_push_down > no such thing", UnknownNameError, "no such thing"),
        ("tricepz: cable_push_down > back_squat", UnknownNameError, "triceps"),
    ],
)
def test_an_order_that_cannot_be_asked_says_what_can(text, error, says):
    with pytest.raises(error, match=says):
        order_asked(text, built_in())


def test_the_share_counts_bodies_and_the_range_counts_draws():
    """Three bodies, two draws, worked out by hand: means 2 > 1, 1 < 2, 3 > 1; draw 1 holds in all three, draw 2 in one."""
    better, worse = np.array([[3.0, 1.5, 3.0], [1.0, 0.5, 3.0]]), np.array([[1.0, 1.0, 1.0], [1.0, 3.0, 1.0]])
    order = order_asked("triceps_long: overhead_rope_extension > cable_push_down", built_in())
    found = held(order, better, worse, np.arange(3), {"cable_push_down": 1, "overhead_rope_extension": 0}, 4)
    assert found.share.value == pytest.approx(2 / 3) and found.share.of == 3 and found.people == 4
    assert found.ratio == pytest.approx([2, 0.5, 3])
    assert found.known == pytest.approx((1 / 3 + 0.05 * 2 / 3, 1 / 3 + 0.95 * 2 / 3))
