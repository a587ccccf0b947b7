"""Growth against error: published detectable changes are met, repeats reduce them, and "too early to tell" is an answer."""

import csv
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from lengthwise.training.growth import growth, muscle_share
from lengthwise.training.log import Measurement
from lengthwise.training.measurement_error import TypicalError, smallest_detectable, typical_error, with_own_repeats

FIRST = date(2025, 1, 4)
ROWS = {
    r["id"]: float(r["value"])
    for r in csv.DictReader((Path(__file__).parents[1] / "reference" / "measurement_error.csv").open(encoding="utf-8"))
}


def visits(kind, site, means, every=28, readings=1):
    return [
        Measurement(day=FIRST + timedelta(days=every * i), kind=kind, site=site, values=(m,) * readings)
        for i, m in enumerate(means)
    ]


def test_one_reading_a_visit_gives_the_published_detectable_changes():
    """Reference: V100 within a visit (readings alone), V102 between days; V127 the factor."""
    thigh = typical_error("ultrasound_thickness", "thigh_front", 21.2)
    within = smallest_detectable(thigh.repeat, thigh.repeat)
    between = smallest_detectable(thigh.of_mean(1, 1), thigh.of_mean(1, 1))
    assert within == pytest.approx(10 * ROWS["V100"], abs=0.05)
    assert between == pytest.approx(10 * ROWS["V102"], abs=0.05)
    assert smallest_detectable(1, 1) == pytest.approx(ROWS["V127"], abs=0.005)


@pytest.mark.parametrize(("site", "row"), [("elbow_flexors", "V103"), ("elbow_extensors", "V104")])
def test_typical_errors_between_days_are_the_published_ones(site, row):
    assert typical_error("ultrasound_thickness", site, 30).of_mean(1, 1) == pytest.approx(ROWS[row], abs=0.02)


def test_calf_girth_meets_its_limits_of_agreement():
    one = typical_error("girth", "calf", 36)
    assert smallest_detectable(one.repeat, one.repeat) == pytest.approx(ROWS["V124"], abs=0.02)


def test_repeats_reduce_the_detectable_change_but_not_below_the_days_part():
    """Hand: error of a mean of n readings is √(day² + repeat²/n)."""
    one = TypicalError(0.3, 0.15, "")
    assert one.of_mean(1, 4) == pytest.approx(np.sqrt(0.15**2 + 0.3**2 / 4))
    assert one.of_mean(1, 10**6) == pytest.approx(0.15, abs=1e-3)


def test_own_repeats_take_over_with_their_number():
    published = TypicalError(0.3, 0.1, "")
    steady = [Measurement(day=FIRST, kind="girth", site="upper_arm", values=(30.0, 30.0))] * 40
    found = with_own_repeats(published, steady)
    assert found.own_repeats == 40
    assert found.repeat == pytest.approx(np.sqrt(10 * 0.09 / 50))


def test_a_small_change_of_a_girth_after_four_weeks_is_too_early_to_tell():
    (one,) = growth(visits("girth", "upper_arm", [30.0, 30.2]))
    assert one.verdict == "too early to tell"
    assert one.weeks_to_tell > 12
    assert one.interval[0] < 0 < one.interval[1]


def test_a_change_beyond_error_rose_and_one_that_should_show_but_does_not_is_told():
    (rose,) = growth(visits("ultrasound_thickness", "thigh_front", [50.0, 55.0], every=84))
    assert rose.verdict == "rose"
    flat = growth(
        [
            Measurement(day=FIRST + timedelta(days=d), kind="ultrasound_thickness", site="thigh_front", values=(60.0,) * 3)
            for d in (0, 4, 8, 80, 84)
        ]
    )[0]
    assert flat.expected > flat.smallest
    assert flat.verdict == "no change seen"


def test_one_visit_asks_for_another_and_photos_are_no_measure():
    (one,) = growth([*visits("girth", "calf", [36.0]), Measurement(day=FIRST, kind="photo", site="front", reference="album 3")])
    assert one.verdict == "measure again"


def test_muscle_share_follows_from_girth_and_skinfold():
    """Hand: girth 30 cm, fold 10 mm: (1 − π·1/30)² = 0.8015."""
    everything = [
        Measurement(day=FIRST, kind="girth", site="arm", values=(30.0,)),
        Measurement(day=FIRST, kind="skinfold", site="arm", values=(10.0,)),
    ]
    assert muscle_share("girth", "arm", "", everything) == pytest.approx((1 - np.pi / 30) ** 2)


def test_error_alone_is_called_growth_about_once_in_twenty():
    """Law on simulated truth: no change, published errors; first against last, and a line."""
    rng = np.random.default_rng(3)
    for n in (2, 6):
        called = 0
        for _ in range(400):
            means = 30 + rng.normal(0, np.hypot(0.15, 0.3), n)
            (one,) = growth(visits("girth", "upper_arm", means))
            called += one.verdict in ("rose", "fell")
        assert called / 400 < 0.08
