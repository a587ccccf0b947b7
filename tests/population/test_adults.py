"""Who is drawn: against published percentiles, and by laws."""

import numpy as np
import pytest

from lengthwise.body import anatomy, person
from lengthwise.grading.draws import CUT
from lengthwise.grading.variation import spread
from lengthwise.populations.adults import LEGS, adults, draw
from lengthwise.populations.differing import body_of_adult

PUBLISHED = [
    ("man", "stature_m", 5, 1.629, 0.012),
    ("man", "stature_m", 50, 1.754, 0.012),
    ("man", "stature_m", 95, 1.879, 0.012),
    ("woman", "stature_m", 5, 1.499, 0.012),
    ("woman", "stature_m", 50, 1.613, 0.012),
    ("woman", "stature_m", 95, 1.732, 0.012),
    ("man", "mass_kg", 50, 87.0, 3.5),
    ("man", "mass_kg", 95, 129.0, 7.0),
    ("woman", "mass_kg", 50, 74.0, 3.5),
    ("woman", "mass_kg", 95, 118.0, 7.0),
]
"""NHANES 2015-2018, adults of 20 years and over (Fryar et al. 2021, Vital Health Stat 3(46)), from memory, which the tolerance allows for."""


@pytest.fixture(scope="module")
def people():
    return [draw(7, n).person for n in range(3000)]


@pytest.mark.parametrize(("sex", "what", "percentile", "published", "within"), PUBLISHED)
def test_size_has_the_published_percentiles(people, sex, what, percentile, published, within):
    drawn = [getattr(p, what) for p in people if p.sex == sex]
    assert np.percentile(drawn, percentile) == pytest.approx(published, abs=within)


def test_sex_age_and_training_come_in_the_parts_that_the_file_says(people):
    assert np.mean([p.sex == "woman" for p in people]) == pytest.approx(adults().sex.woman_share, abs=0.03)
    assert np.mean([p.age_y >= 60 for p in people]) == pytest.approx(adults().age.share[-1], abs=0.03)
    assert np.mean([p.training == "untrained" for p in people]) == pytest.approx(adults().training.untrained, abs=0.03)


def test_joint_ranges_have_the_mean_and_spread_of_the_measured_people(people):
    """Knee flexion of young men: 137.7 +- 6.5 degrees (Soucie et al. 2011, from memory); the body's own end is 150."""
    knee = [p.joint_limits_deg["knee_flexion"][1] for p in people if p.sex == "man" and p.age_y < 44]
    assert np.mean(knee) == pytest.approx(137.7, abs=1.0) and np.std(knee) == pytest.approx(6.3, abs=0.8)
    assert max(knee) <= anatomy.angles()["knee_flexion"].high


def test_who_is_supple_in_one_joint_tends_to_be_in_others(people):
    knee, shoulder = (
        np.array([p.joint_limits_deg[a][1] for p in people if p.age_y < 44 and p.sex == "man"])
        for a in ("knee_flexion", "shoulder_flexion")
    )
    assert 0.25 < np.corrcoef(knee, shoulder)[0, 1] < 0.55


def test_longer_legs_leave_less_for_the_trunk_and_the_stature_stays(people):
    shares = anatomy.skeleton().length_share
    for p in people[:200]:
        usual = {n: getattr(shares[n], p.sex) * p.stature_m for n in ("trunk", *LEGS)}
        assert sum(p.segment_lengths_m[n] for n in usual) == pytest.approx(sum(usual.values()), abs=2e-4)


def test_everybody_is_somebody_whom_a_person_file_may_describe(people):
    for p in people[:300]:
        person.check(p)


def test_a_person_depends_on_seed_and_place_alone(people):
    assert draw(7, 12) == draw(7, 12) and draw(7, 12).person == people[12]
    assert draw(8, 12).person != draw(7, 12).person != draw(7, 13).person


def test_longer_fibres_keep_their_best_posture():
    """Path at which the fibre is at its best length: slack + optimal · cos(pennation); it stays where the tendon can give way."""
    adult = draw(1, 0)
    lines, usual = body_of_adult(adult).lines, body_of_adult(adult).comes_from.lines
    there = lines.slack_m + lines.optimal_m * np.cos(lines.pennation_rad)
    before = usual.slack_m + usual.optimal_m * np.cos(usual.pennation_rad)
    free = lines.slack_m > 0.5 * usual.slack_m * (1 + 1e-9)
    assert free.mean() > 0.9
    assert there[free] == pytest.approx(before[free], rel=1e-12)
    assert np.ptp(lines.optimal_m / usual.optimal_m) > 0.2


def test_an_order_draws_a_person_s_fibres_and_arms_as_a_population_does():
    """One body drawn around a person in `rank` and one person of a population differ from the model by the same spreads."""
    tissue = adults().tissue
    assert (spread().fibre_length, spread().moment_arm, CUT) == (tissue.fibre_length, tissue.moment_arm, tissue.most_spreads)
