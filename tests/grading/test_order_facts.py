"""Order facts that coaches agree on (common practice, no source), asked of the model on the base body."""

import pytest

from lengthwise.grading.criteria import score, values_of
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.target import target_named

LONG_HEAD = target_named("triceps_long")
OVERHEAD, FOREHEAD, PUSH_DOWN = "overhead_cable_extension_one_arm", "lying_barbell_extension", "cable_push_down"


def value(facts, target=LONG_HEAD):
    return score(values_of(facts, target), default_weights().value)


def test_overhead_before_forehead_before_push_down_for_the_long_head(trained):
    """The higher the arm, the longer the head that crosses the shoulder; with both hands, as the other two are done. Of one who trains: at a
    beginner's 11 kg the rope's step of 2.5 kg decides."""
    assert value(trained("overhead_rope_extension")) > value(trained(FOREHEAD)) > value(trained(PUSH_DOWN))


@pytest.mark.parametrize("measure", ["loaded_span", "long_range_load"])
def test_overhead_before_forehead_before_push_down_by_length_alone(library, measure):
    a, b, c = (getattr(library(i).heads["triceps_long"], measure) for i in (OVERHEAD, FOREHEAD, PUSH_DOWN))
    assert a > b > c


def test_standing_overhead_cable_before_the_same_on_an_unstable_surface(library):
    assert value(library(OVERHEAD)) > value(library("overhead_cable_extension_wobble_board"))
    assert library(OVERHEAD).sticking_kg > library("overhead_cable_extension_wobble_board").sticking_kg


@pytest.mark.parametrize(
    ("seated", "standing", "head"),
    [
        ("seated_overhead_cable_extension_one_arm", OVERHEAD, "triceps_long"),
        ("seated_overhead_rope_extension", "overhead_rope_extension", "triceps_long"),
        ("seated_barbell_press", "overhead_press", "deltoid_anterior"),
    ],
)
def test_a_seat_saves_effort_that_standing_costs(library, seated, standing, head):
    """The backrest carries what legs and trunk would hold, so seated stands above standing by economy."""
    target = target_named(head)
    sat, stood = (values_of(library(i), target)["economy"] for i in (seated, standing))
    assert sat > stood


@pytest.mark.parametrize("extension", ["overhead_cable_extension_one_arm", "overhead_rope_extension"])
def test_seated_and_standing_overhead_cable_load_the_long_head_alike_in_length(library, extension):
    """The arms do the same: only what holds the body differs."""
    seated, standing = (library(i).heads["triceps_long"] for i in (f"seated_{extension}", extension))
    assert seated.loaded_length == pytest.approx(standing.loaded_length, abs=0.03)


def test_a_barbell_beats_cable_and_dumbbell_on_load_step_and_loses_on_time(trained):
    bar, cable, dumbbells = (trained(i) for i in (FOREHEAD, "lying_cable_extension", "lying_dumbbell_extension"))
    step, time = (lambda f: values_of(f, LONG_HEAD)["load_step"]), (lambda f: values_of(f, LONG_HEAD)["time"])
    assert step(bar) > step(dumbbells)
    assert step(bar) > step(cable) - 0.05  # both step by 2.5 kg, at loads of 24 and 28 kg
    assert time(bar) < time(cable) and time(bar) < time(dumbbells)


@pytest.mark.parametrize("press", ["bench_press", "overhead_press"])
def test_presses_score_below_isolation_for_the_long_head(library, press):
    assert value(library(press)) < min(value(library(i)) for i in (OVERHEAD, FOREHEAD))


@pytest.mark.parametrize("head", ["triceps_lateral", "triceps_medial"])
def test_presses_are_fair_for_lateral_and_medial_heads(library, head):
    """They shorten these heads under load, which they hardly do for the long head."""
    press = library("bench_press")
    action = {h: values_of(press, target_named(h))["joint_action"] for h in (head, "triceps_long")}
    assert action[head] > 0.5 > action["triceps_long"]
    assert value(press, target_named(head)) > value(press)


@pytest.mark.parametrize("head", ["triceps_lateral", "triceps_medial"])
def test_blocks_deepen_the_push_up_for_lateral_and_medial_heads(library, head):
    """With the hands on blocks the chest sinks deeper and the elbows bend more."""
    assert library("push_up_blocks").heads[head].span_longest > library("push_up").heads[head].span_longest
