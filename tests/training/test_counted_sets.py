"""Sets that count."""

from itertools import pairwise

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.facts import facts_of
from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.profile import Request, profile
from lengthwise.practice.lift_growth import counted_of, growth_draws
from lengthwise.training.counted_sets import convention, fractions, head_shares

HAMSTRINGS = ("biceps_femoris_long", "semitendinosus", "semimembranosus")
TARGETS, MOVERS = ("triceps_lateral",), ("triceps_lateral", "deltoid_anterior", "triceps_medial")


def test_by_hand():
    """A helper worth half a set gets it; what nobody names counts for nothing (common practice: a pulldown is no set for the chest)."""
    worth = {"triceps_lateral": 0.4, "deltoid_anterior": 0.5, "pectoralis_major_costal": 1.0, "triceps_medial": 0.0}
    assert fractions(worth, TARGETS, MOVERS) == {"triceps_lateral": 1.0, "deltoid_anterior": 0.5}


def test_a_target_gets_a_whole_set_and_a_clear_helper_about_half():
    target = {"triceps_lateral": 1.0}
    assert fractions({"triceps_lateral": 0.3, "triceps_medial": 0.9}, TARGETS, MOVERS) == target | {"triceps_medial": 0.7}
    assert fractions({"triceps_lateral": 1.0, "triceps_medial": 0.15}, TARGETS, MOVERS) == target | {"triceps_medial": 0.3}
    assert fractions({"triceps_lateral": 1.0, "triceps_medial": 0.05}, TARGETS, MOVERS) == target
    assert fractions({}, TARGETS, MOVERS) == target


def test_elbow_flexors_count_together():
    """Reference: pulldowns grew the elbow flexors as curls did, Int J Sports Physiol Perform 2015 (from memory), where the least effort leaves the biceps idle."""
    pull = ("latissimus_middle", "biceps_long", "brachialis", "triceps_long")
    found = fractions({"latissimus_middle": 0.8, "biceps_long": 0.02, "brachialis": 0.9}, pull[:1], pull)
    assert found == {"latissimus_middle": 1.0, "biceps_long": pytest.approx(0.46), "brachialis": 0.7}


def test_more_worth_never_counts_less():
    rng = np.random.default_rng(3)
    for _ in range(200):
        worth = {h: float(w) for h, w in zip(MOVERS, rng.uniform(0, 1, 3), strict=True)}
        found = fractions(worth, (), MOVERS)
        ranked = sorted(worth, key=lambda h: worth[h])
        assert all(found.get(a, 0) <= found.get(b, 0) for a, b in pairwise(ranked))
        assert all(0.3 <= f <= 0.7 for f in found.values())


def test_the_fixed_convention():
    assert convention(["a"], ["a", "b"]) == {"a": 1.0, "b": 0.5}


def test_shares_make_the_best_lift_one_set():
    share = head_shares({"a": 300.0, "b": 100.0}, ("a", "b"), [{"a": 1.0}, {"a": 0.6, "b": 1.0}])
    # force shares 0.75 and 0.25; lifts count 0.75 and 0.70: the first is the best
    assert share == {"a": pytest.approx(1.0), "b": pytest.approx(1 / 3)}


def test_assisting_heads_get_about_half_a_set_on_average():
    """Reference: V006, an assisting muscle counts 0.5 of a set (Pelland et al. 2024); every sixth lift of the library, base body."""
    body, lifts, draws = body_of(Person()), all_lifts().lifts, growth_draws()
    found = []
    for lift_id in sorted(lifts)[::6]:
        lift = lifts[lift_id]
        facts = facts_of(profile(body, lift_id, lift, Request(n_pos=11)))
        counted = counted_of(facts, draws)
        found += [counted.get(h, 0.0) for h in lift.movers if h not in lift.targets]
    assert len(found) > 50
    assert np.mean(found) == pytest.approx(0.5, abs=0.1)


@pytest.mark.parametrize(("lift_id", "heads"), [("back_squat", HAMSTRINGS), ("close_grip_bench_press", ("triceps_long",))])
def test_what_trials_found_not_to_grow_does_not_count(lift_id, heads):
    """Squats grew no hamstrings (T24), presses hardly the triceps long head (T34): evidence/data/studies.csv, read from abstracts."""
    found = counted_of(facts_of(profile(body_of(Person()), lift_id, all_lifts().lifts[lift_id], Request(n_pos=11))), growth_draws())
    assert not set(heads) & set(found)
