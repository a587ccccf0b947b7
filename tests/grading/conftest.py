"""Lifts on the base body, solved once, and facts written by hand."""

from dataclasses import fields, replace
from functools import cache, partial
from typing import Any, TypeVar

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person, Training
from lengthwise.grading.facts import HeadFacts, LiftFacts, facts_of
from lengthwise.grading.joint_load import JointLoad
from lengthwise.growth.law import PRIOR_MEAN, PRIOR_SD
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile

Facts = TypeVar("Facts", HeadFacts, LiftFacts)


def known(kind: type[Facts], **given: Any) -> Facts:
    """Facts of which only these are given; the others are 0."""
    return kind(**{**dict.fromkeys((f.name for f in fields(kind)), 0), **given})


LONG = known(
    HeadFacts,
    span_longest=0.9, loaded_length=1.1, long_range_load=0.45, tension_at_longest=0.8, joint_conflict=0.10, limiting_share=0.30,
    effort_share=0.15, span_reached=0.84, loaded_span=0.7, peak_activation=0.80, drive_at_length=0.3, shortening=0.16,
    length_at_peak=1.2, long_half_load=0.72, strength_n=900.0, drive=0.5, volume_nm=90.0,
)  # fmt: skip
LATERAL = known(
    HeadFacts,
    span_longest=0.7, loaded_length=0.9, long_range_load=0.15, tension_at_longest=0.5, joint_conflict=0.0, limiting_share=0.20,
    effort_share=0.09, span_reached=0.60, loaded_span=0.5, peak_activation=0.30, drive_at_length=0.1, shortening=0.10,
    length_at_peak=0.9, long_half_load=0.40, strength_n=600.0, drive=0.2, volume_nm=50.0,
)  # fmt: skip


@pytest.fixture
def first() -> LiftFacts:
    """The first lift of the worked example in docs/method_choosing.md; invented."""
    return known(
        LiftFacts,
        lift_id="first", name="First", range="full", gear="cable", posture="standing", unstable=False, targets=("triceps_long",),
        working_kg=20.0, sticking_kg=28.0, moved_kg=0.0, sticking=0.2, limiting={"triceps_long": 0.3, "wrist_flexors": 0.25, "triceps_lateral": 0.2},
        balance_demand=0.4, seconds_per_set=195.0, load_step_fraction=0.25, setup_s=30.0, long_safe=True, long_cue="half-way up",
        joints={"elbow": JointLoad(30.0, 0.3, "elbow_flexion", 138.0, 150.0), "shoulder": JointLoad(12.0, 0.0, "shoulder_flexion", 90, 175)},
        heads={"triceps_long": LONG, "triceps_lateral": LATERAL},
    )  # fmt: skip


@pytest.fixture
def second(first) -> LiftFacts:
    """The second lift of the worked example; invented."""
    return replace(
        first,
        lift_id="second",
        name="Second",
        seconds_per_set=240.0,
        load_step_fraction=0.40,
        joints={
            "elbow": JointLoad(40.0, 0.6, "elbow_flexion", 142.0, 150.0),
            "shoulder": JointLoad(20.0, 0.0, "shoulder_flexion", 90, 175),
        },
        heads={"triceps_long": replace(LONG, long_range_load=0.60), "triceps_lateral": LATERAL},
    )


@pytest.fixture
def taught() -> np.ndarray:
    """A hundred draws of the coefficients of growth, near what is believed of them before any trial."""
    return PRIOR_MEAN + 0.1 * PRIOR_SD * np.random.default_rng(4).standard_normal((100, len(PRIOR_MEAN)))


@cache
def solved(lift_id: str, unstable: bool = False, training: Training = "untrained") -> LiftFacts:
    """A lift of the library on the base body, or the same lift on an unstable surface or of one who trains."""
    lift = built_in().lifts[lift_id]
    if unstable:
        lift = lift.model_copy(update={"unstable": True})
    return facts_of(profile(body_of(Person(training=training)), lift_id, lift, Request(n_pos=21)))


@pytest.fixture
def library():
    return solved


@pytest.fixture
def trained():
    """The same of a man who trains, whose loads are many steps of the gear."""
    return partial(solved, training="trained")
