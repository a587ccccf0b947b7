"""A body fitted to known lifts: it moves towards them, within bounds, and where nothing is known it stays."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.training import calibration as fitting
from lengthwise.training.client import KnownLift
from lengthwise.training.lift_strength import groups, lift_strength

LIFTS = built_in().lifts


def known(lift: str, load_kg: float, repetitions: int = 1) -> dict:
    return {lift: (LIFTS[lift], KnownLift(lift=lift, load_kg=load_kg, repetitions=repetitions))}


@pytest.mark.parametrize("lift", ["bench_press", "pull_up", "leg_press"])
def test_slopes_are_the_derivative_of_the_load(lift):
    """Law: the strongest group's slope equals the change of ln load when it alone gets stronger, by central difference."""
    base = lift_strength(body_of(Person()), LIFTS[lift])
    group = groups()[int(np.argmax(base.slope))]
    low, high = (lift_strength(body_of(Person(strength={group: f})), LIFTS[lift]).total_kg for f in (0.99, 1.01))
    assert np.log(high / low) / np.log(1.01 / 0.99) == pytest.approx(base.slope.max(), abs=0.03)


@pytest.mark.parametrize("factor", [0.7, 1.0, 1.4])
def test_a_known_lift_is_met(factor):
    """A single with 0.7 to 1.4 times the model's load is met to a tenth of the gap or 3 %."""
    before = lift_strength(body_of(Person()), LIFTS["bench_press"]).largest_kg
    found = fitting.calibrate(Person(), known("bench_press", before * factor))
    (fit,) = found.fits
    assert fit.before_kg == pytest.approx(before) and fit.known_kg == pytest.approx(before * factor)
    assert abs(fit.residual) < max(0.1 * abs(np.log(factor)), 0.03)
    assert lift_strength(body_of(found.person), LIFTS["bench_press"]).largest_kg == pytest.approx(fit.after_kg, rel=1e-3)


def test_a_body_of_known_strength_is_found_again():
    """Recovery: known lifts made by a body with weak chest and strong thighs pull the strengths that way, and its other lifts nearer."""
    truth = Person(strength={"pectoralis": 0.7, "vasti": 1.4, "adductors": 1.3, "gluteus_maximus": 1.3})
    names = ["bench_press", "dumbbell_bench_press", "leg_press", "back_squat", "barbell_curl"]
    told = {}
    for name in names:
        told |= known(name, lift_strength(body_of(truth), LIFTS[name]).largest_kg)
    found = fitting.calibrate(Person(), told)
    assert found.factor["pectoralis"] < 0.9 and found.factor["vasti"] > 1.1
    for other in ("dumbbell_fly", "leg_extension"):
        aim, start, end = (lift_strength(body_of(p), LIFTS[other]).largest_kg for p in (truth, Person(), found.person))
        assert abs(np.log(end / aim)) < abs(np.log(start / aim))


def test_nothing_known_changes_nothing():
    found = fitting.calibrate(Person(), {})
    assert found.person == Person() and set(found.factor.values()) == {1.0} and max(found.informed.values()) == pytest.approx(0)


def test_factors_stay_within_bounds():
    found = fitting.calibrate(Person(), known("bench_press", 590))
    assert all(fitting.BOUNDS[0] - 1e-6 <= f <= fitting.BOUNDS[1] + 1e-6 for f in found.factor.values())
    assert found.fits[0].residual < -0.2


def test_limiting_groups_are_the_best_known(calibration):
    limited = next(f for f in calibration.fits if f.lift == "bench_press").limited_by
    assert next(iter(limited)) == "pectoralis"
    assert calibration.informed["pectoralis"] > calibration.informed["neck_flexors"]
    assert all(-1e-9 <= v <= 1 for v in calibration.informed.values())


def test_known_lifts_narrow_the_prediction(calibration):
    press, curl = LIFTS["incline_bench_press"], LIFTS["barbell_wrist_curl"]
    body = body_of(calibration.person)
    assert calibration.load_sd(lift_strength(body, press), press) < calibration.load_sd(lift_strength(body, curl), curl)


def test_a_lift_that_cannot_be_compared_is_told():
    found = fitting.calibrate(Person(), known("pull_up", -190))
    assert not found.fits and "no positive load" in found.skipped[0] and found.person == Person()
