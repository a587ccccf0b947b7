"""Sets that count."""

from itertools import pairwise

import numpy as np
import pytest

from lengthwise.actions.lifts import all_lifts
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.facts import facts_of
from lengthwise.mechanics.profile import Request, profile
from lengthwise.training.counted_sets import convention, fractions, head_shares

TARGETS, MOVERS = ("biceps_long",), ("biceps_long", "brachialis", "triceps_long")


def test_by_hand():
    """Full set at 0.2: 0.1 is half a set; what nobody names holds (0.01) or gives way, and counts for nothing."""
    work = {"biceps_long": 0.4, "brachialis": 0.1, "deltoid_anterior": 0.01, "triceps_long": -0.2}
    assert fractions(work, TARGETS, MOVERS) == {"biceps_long": 1.0, "brachialis": pytest.approx(0.5)}


def test_a_target_gets_a_whole_set_and_a_clear_helper_about_half():
    assert fractions({"biceps_long": 0.08, "brachialis": 0.08}, TARGETS, MOVERS) == {"biceps_long": 1.0, "brachialis": 0.7}
    assert fractions({"biceps_long": 0.2, "brachialis": 0.03}, TARGETS, MOVERS) == {"biceps_long": 1.0, "brachialis": 0.3}
    assert fractions({}, TARGETS, MOVERS) == {"biceps_long": 1.0}


def test_a_head_that_nobody_names_gets_half_at_most():
    found = fractions({"biceps_long": 0.3, "supraspinatus": 0.3, "subscapularis": 0.05}, TARGETS, MOVERS)
    assert found == {"biceps_long": 1.0, "supraspinatus": 0.5}


def test_more_work_never_counts_less():
    rng = np.random.default_rng(3)
    for _ in range(200):
        work = {h: float(w) for h, w in zip(MOVERS, rng.uniform(0, 0.5, 3), strict=True)}
        found = fractions(work, (), MOVERS)
        ranked = sorted(work, key=lambda h: work[h])
        assert all(found.get(a, 0) <= found.get(b, 0) for a, b in pairwise(ranked))
        assert all(0.3 <= f <= 1 for f in found.values())


def test_the_fixed_convention():
    assert convention(["a"], ["a", "b"]) == {"a": 1.0, "b": 0.5}


def test_shares_make_the_best_lift_one_set():
    share = head_shares({"a": 300.0, "b": 100.0}, ("a", "b"), [{"a": 1.0}, {"a": 0.6, "b": 1.0}])
    # force shares 0.75 and 0.25; lifts count 0.75 and 0.70: the first is the best
    assert share == {"a": pytest.approx(1.0), "b": pytest.approx(1 / 3)}


def test_assisting_heads_get_about_half_a_set_on_average():
    """Reference: V006, an assisting muscle counts 0.5 of a set (Pelland et al. 2024); every sixth lift of the library, base body."""
    body, lifts = body_of(Person()), all_lifts().lifts
    found = []
    for lift_id in sorted(lifts)[::6]:
        lift = lifts[lift_id]
        facts = facts_of(profile(body, lift_id, lift, Request(n_pos=11)))
        counted = fractions({h: own.shortening for h, own in facts.heads.items()}, lift.targets, lift.prime_movers)
        found += [counted.get(h, 0.0) for h in lift.prime_movers if h not in lift.targets]
    assert len(found) > 50
    assert np.mean(found) == pytest.approx(0.5, abs=0.1)
