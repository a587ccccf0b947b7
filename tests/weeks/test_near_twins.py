"""What is refused takes its near twins along, and what stays steady for older clients (common practice, no source)."""

import pytest

from lengthwise.practice.week_lifts import practice_for
from lengthwise.training.client import Client
from lengthwise.weeks.week_candidates import near_twins
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_plans import NO_CHANGES, question_of

DAYS = [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday")]


def client(**own):
    return Client.model_validate({"name": "A (invented)", "days": DAYS, "places": {"gym": {"preset": "full_gym"}}, **own})


@pytest.mark.parametrize(
    ("refused", "goes", "stays"),
    [
        ("bench_press", "guided_bar_bench_press", "dumbbell_bench_press"),
        ("back_squat", "guided_bar_squat", "front_squat"),
        ("barbell_curl", "cambered_bar_curl", "hammer_curl"),
        ("cable_push_down", "rope_push_down", "overhead_rope_extension"),
        ("hip_thrust", "machine_hip_thrust", "romanian_deadlift"),
        ("back_squat", "banded_squat", "belt_squat"),
        ("good_morning", "", "deadlift"),
    ],
)
def test_a_twin_is_the_same_lift_on_gear_that_is_handled_alike(refused, goes, stays):
    twins = near_twins({refused})
    assert (not goes or twins[goes] == refused) and stays not in twins and refused not in twins


def test_a_refused_bench_press_does_not_come_back_on_rails_unless_it_is_liked():
    for liked, out in (((), True), (("guided_bar_bench_press",), False)):
        who = client(training="trained", training_years=4, wishes={"refused": ["bench_press"], "liked": liked})
        question = question_of(who, offer_of(who), NO_CHANGES)
        assert "bench_press" in question.refused and ("guided_bar_bench_press" in question.refused) == out


@pytest.mark.parametrize(
    ("age", "training", "first"), [(67, "recreational", True), (52, "untrained", False), (30, "untrained", True)]
)
def test_an_older_beginner_is_not_laid_under_a_bar_on_rails(age, training, first):
    assert practice_for(client(age_y=age, training=training), "guided_bar_bench_press").staple == first


def test_an_older_beginner_stands_on_both_legs():
    who = client(age_y=55, training="untrained")
    offered = question_of(who, offer_of(who), NO_CHANGES).choices
    families = {c.practice.family for c in offered if not c.practice.one_leg}
    assert not [c.lift for c in offered if c.practice.one_leg and c.practice.family in families]
