"""A set so light that it tells nothing of strength ends nothing: it is left out of the fit, and that is said."""

import numpy as np
import pytest

from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.training import calibration as fitting
from lengthwise.training.client import KnownLift

LIFTS = built_in().lifts
WHO = Person(sex="woman", stature_m=1.58, mass_kg=83, age_y=52, training="recreational")
ROW = KnownLift(lift="one_arm_dumbbell_row", load_kg=12, repetitions=12, reserve=2)


def fitted(*known):
    return fitting.calibrate(WHO, {k.lift: (LIFTS[k.lift], k) for k in known})


@pytest.mark.parametrize(("kg", "repetitions", "reserve"), [(2, 14, 3), (-50, 1, 10)])
def test_whatever_is_logged_of_any_lift_leaves_a_body_of_finite_strength(kg, repetitions, reserve):
    """Law: all lifts of the library, a dozen at a time, with loads that nobody would call hard, and with much of the body taken off."""
    for first in range(0, len(LIFTS), 12):
        ids = [*LIFTS][first : first + 12]
        found = fitted(*(KnownLift(lift=i, load_kg=kg, repetitions=repetitions, reserve=reserve) for i in ids))
        numbers = [
            *found.factor.values(),
            *found.covariance.ravel(),
            *(v for f in found.fits for v in (f.known_kg, f.after_kg, f.residual)),
        ]
        assert np.isfinite(numbers).all()
        assert {*ids} == {f.lift for f in found.fits} | {line.split(":")[0] for line in found.skipped}


@pytest.mark.parametrize("lift", ["goblet_squat", "front_squat", "heels_raised_squat", "reverse_lunge"])
def test_a_squat_with_next_to_nothing_in_the_hands_weakens_nobody(lift):
    """The legs bear the body there: what it says with 2 kg, taken for a 1RM of 3 kg, would halve the strength of the whole body."""
    found = fitted(ROW, KnownLift(lift=lift, load_kg=2, repetitions=13, reserve=3))
    assert [line.split(": ") for line in found.skipped] == [
        [lift, "so light compared with the body that moves with it that it says nothing about strength"]
    ]
    assert found.person == fitted(ROW).person


def test_a_squat_that_is_mostly_load_counts():
    found = fitted(KnownLift(lift="back_squat", load_kg=50, repetitions=8, reserve=2))
    assert not found.skipped and found.informed["vasti"] > 0.2
