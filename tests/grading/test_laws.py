"""What must hold whatever the numbers are."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lengthwise.errors import InputError, NoSolutionError, UnknownNameError
from lengthwise.grading.acceptability import acceptability
from lengthwise.grading.criteria import criteria, head_values, names, preferences, score, values_of
from lengthwise.grading.criterion_weights import default_weights, read_weights, write_weights
from lengthwise.grading.draws import streams
from lengthwise.grading.filters import LiftWishes, hard_sets_in, refused_solved, spared_joints
from lengthwise.grading.growth_value import drawn_growth, growth_per_set, reference_lifts, reference_of
from lengthwise.grading.ranking import RankQuestion, rank
from lengthwise.grading.studied_lift import Refused, Shift, Studied
from lengthwise.grading.target import Target, target_named
from lengthwise.grading.variation import Direction
from lengthwise.growth.law import NAMES
from lengthwise.lifts.catalogue import built_in

TARGET = Target("triceps", ("triceps_long", "triceps_lateral"))


def studied(facts):
    moved = {
        h: replace(f, long_range_load=f.long_range_load + 0.1, peak_activation=f.peak_activation - 0.02)
        for h, f in facts.heads.items()
    }
    off = Shift(
        Direction("technique", "elbow_flexion"),
        1,
        {h: replace(f, span_reached=f.span_reached - 0.05) for h, f in facts.heads.items()},
    )
    return Studied(facts, facts.heads, (Shift(Direction("strength", "triceps"), 1, moved), off))


@pytest.mark.parametrize("name", names())
def test_curves_are_monotone_and_bounded(name):
    c = criteria()[name]
    x = np.linspace(c.points[0][0] - 1, c.points[-1][0] + 1, 400)
    steps = np.diff(c.value(x))
    assert (steps >= 0).all() if c.rises else (steps <= 0).all()
    assert c.value(x).min() == 0 and c.value(x).max() == 1


@given(st.integers(0, 10), st.floats(0, 1), st.floats(0, 1))
def test_a_better_criterion_never_lowers_the_value(place, low, more):
    values = dict.fromkeys(names(), 0.5)
    name = names()[place]
    a, b = sorted((low, more))
    weights = default_weights().value
    assert score(values | {name: b}, weights) >= score(values | {name: a}, weights)


@given(st.lists(st.lists(st.sampled_from([0.1, 0.2, 0.3, 0.3, 0.5]), min_size=5, max_size=5), min_size=1, max_size=8))
def test_acceptability_shares_sum_to_one_over_ranks_and_over_lifts(rows):
    found = acceptability(np.array(rows))
    assert found.rank_share.sum(0) == pytest.approx(np.ones(5))
    assert found.rank_share.sum(1) == pytest.approx(np.ones(5))
    assert found.first_share.sum() == pytest.approx(1)
    assert (found.rank_low <= found.rank_high).all()


def test_acceptability_agrees_with_a_plain_count(rng):
    values = rng.normal(size=(300, 4)) + np.array([0.5, 0, 0.2, -1])
    found = acceptability(values)
    assert found.first_share == pytest.approx([(values.argmax(1) == k).mean() for k in range(4)])


def test_the_order_of_files_does_not_matter(first, second, taught):
    third = replace(first, lift_id="third", balance_demand=0.9)
    some = [studied(f) for f in (first, second, third)]
    question = RankQuestion(target=TARGET, learned=taught, weights=default_weights())
    a = rank(some, question, np.random.default_rng(5))
    b = rank(some[::-1], question, np.random.default_rng(5))
    assert a.lifts == b.lifts and a.turns == b.turns


def test_a_lift_added_or_left_out_does_not_move_the_draws_of_another(first, second, taught):
    alone, other, again = (
        drawn_growth(studied(f), TARGET, taught, streams(100, np.random.default_rng(2))).seen for f in (first, second, first)
    )
    assert (alone == again).all()
    assert not (alone == other).all()


def test_a_silent_head_is_worth_nothing_and_never_a_part_of_its_muscle(first, taught):
    idle = {h: replace(f, drive=0.0 if h == "triceps_long" else f.drive) for h, f in first.heads.items()}
    still = Studied(replace(first, heads=idle), idle, ())
    drawn = drawn_growth(still, Target("triceps_long", ("triceps_long",)), taught, streams(100, np.random.default_rng(2)))
    assert (drawn.seen == 0).all()
    assert drawn.gate == 0


def test_growth_comes_first_and_preferences_order_what_it_cannot_tell_apart(first, second, taught):
    """Twice the growth beats every preference; the same growth leaves the order to them."""
    better = {h: replace(f, loaded_length=f.loaded_length + 1.5) for h, f in second.heads.items()}
    longer = Studied(replace(second, heads=better), better, ())
    plain = Studied(first, first.heads, ())
    found = rank(
        [plain, longer],
        RankQuestion(target=TARGET, learned=taught, weights=default_weights(), reference=plain),
        np.random.default_rng(1),
    )
    assert [(r.facts.lift_id, r.tier) for r in found.lifts] == [("second", 1), ("first", 2)]
    assert found.lifts[0].growth.mean > 1.5 > found.lifts[1].growth.mean == 1.0
    assert found.lifts[0].better_than_reference > 0.9
    assert found.turns == ()
    alike = rank(
        [plain, Studied(second, first.heads, ())],
        RankQuestion(target=TARGET, learned=taught, weights=default_weights()),
        np.random.default_rng(1),
    )
    assert [r.tier for r in alike.lifts] == [1, 1]
    assert alike.lifts[0].preference > alike.lifts[1].preference


def test_growth_for_a_minute_counts_the_time_of_a_set(first, second, taught):
    """240 s a set against 195 s leaves 195/240 as many sets, and growth goes with their power γ."""
    plain, slow = Studied(first, first.heads, ()), Studied(replace(first, lift_id="slow", seconds_per_set=240.0), first.heads, ())
    found = rank(
        [plain, slow],
        RankQuestion(target=TARGET, learned=taught, weights=default_weights(), per="minute", reference=plain),
        np.random.default_rng(1),
    )
    ratio = {r.facts.lift_id: r.growth.mean for r in found.lifts}
    law = drawn_growth(plain, TARGET, taught, streams(100, np.random.default_rng(1))).law
    sets = np.exp(taught[:, NAMES.index("log_sets")])
    assert ratio["slow"] == pytest.approx((law * (195 / 240) ** sets).mean() / law.mean())


def test_a_hard_set_is_worth_nothing_to_a_head_that_only_holds(first, taught):
    holding = {h: replace(f, shortening=0.0 if h == "triceps_long" else f.shortening) for h, f in first.heads.items()}
    worth = growth_per_set(replace(first, heads=holding), TARGET.heads, taught)
    assert (worth["triceps_long"].mean, worth["triceps_long"].high) == (0.0, 0.0)
    assert worth["triceps_lateral"].low < worth["triceps_lateral"].mean < worth["triceps_lateral"].high


def test_only_preferences_have_weights():
    assert set(preferences()) >= {"balance", "time", "load_step", "joint_caution"} and "load_at_length" not in preferences()
    with pytest.raises(InputError, match="growth is estimated"):
        default_weights().with_values({"load_at_length": 3.0}, "mine")


def test_every_reference_lift_is_in_the_library():
    assert set(reference_lifts().values()) <= set(built_in().lifts)
    assert reference_of(target_named("triceps_long")) == "cable_push_down"
    assert reference_of(target_named("rectus_femoris")) == "leg_extension"


def test_only_ratios_of_weights_matter(first):
    weights = default_weights().value
    values = values_of(first, TARGET)
    assert score(values, {n: 7 * w for n, w in weights.items()}) == pytest.approx(score(values, weights))


def test_forces_in_another_unit_change_nothing(first):
    heads = {h: replace(f, strength_n=f.strength_n / 9.81) for h, f in first.heads.items()}
    assert values_of(replace(first, heads=heads), TARGET) == pytest.approx(values_of(first, TARGET))


def test_a_head_at_rest_gets_nothing_for_being_long():
    x = np.array([[c.points[-1][0] if c.rises else c.points[0][0]] for c in criteria().values()])
    values = head_values(x, np.zeros(1))[:, 0]
    assert {n for n, c in criteria().items() if c.engaged} == {n for n, v in zip(names(), values, strict=True) if v == 0}


def test_filters_say_why_and_hide_nothing(first, second, taught):
    wishes = LiftWishes(spare_nm=spared_joints(["shoulder"]), minutes=7.0)
    gone = Refused("pinned", "Pinned", "this person cannot reach 'grip'")
    found = rank(
        [studied(first), studied(second), gone],
        RankQuestion(target=TARGET, learned=taught, weights=default_weights(), wishes=wishes),
        np.random.default_rng(1),
    )
    assert [r.facts.lift_id for r in found.lifts] == ["first"]
    reasons = {r.key: r.reason for r in found.excluded}
    assert reasons["pinned"] == gone.reason
    assert "shoulder carries 20 N·m" in reasons["second"] and "hard sets need 8.0 min" in reasons["second"]


def test_nothing_left_says_why_each_is_out(first, taught):
    with pytest.raises(NoSolutionError, match=r"elbow carries 30 N·m.*allowed 12"):
        rank(
            [studied(first)],
            RankQuestion(
                target=TARGET, learned=taught, weights=default_weights(), wishes=LiftWishes(spare_nm=spared_joints(["elbow"]))
            ),
            np.random.default_rng(1),
        )


def test_minutes_count_whole_sets(first):
    assert hard_sets_in(first, 6.5) == 2 and hard_sets_in(first, 6.49) == 1
    assert refused_solved(first, LiftWishes(minutes=6.5)) is None


def test_names_are_checked():
    with pytest.raises(UnknownNameError, match="triceps"):
        target_named("tricepps")
    with pytest.raises(UnknownNameError, match="joint"):
        spared_joints(["sholder"])
    with pytest.raises(InputError, match="shoulder=20"):
        spared_joints(["shoulder=a lot"])
    with pytest.raises(UnknownNameError, match="equipment"):
        LiftWishes(gear=frozenset({"cabel"}))
    with pytest.raises(InputError, match="allowed 0 to 100"):
        default_weights().with_values({"time": -1}, "bad")


def test_weights_read_back_as_written():
    made = default_weights().with_values({"time": 2.5}, "mine")
    again = read_weights("mine", write_weights(made))
    assert (dict(again.value), dict(again.reason), again.neighbourhood) == (dict(made.value), dict(made.reason), made.neighbourhood)


def test_weights_are_drawn_within_the_neighbourhood(rng):
    drawn = default_weights().draw(2000, rng)
    base = default_weights().array
    ratio = drawn / drawn[:, :1] / (base / base[0])
    assert drawn.sum(1) == pytest.approx(np.ones(2000))
    assert ratio.max() <= 3.0 + 1e-9 and ratio.min() >= 1 / 3 - 1e-9  # (1 + n) / (1 - n) with n = 0.5
