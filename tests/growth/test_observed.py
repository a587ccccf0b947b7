"""Errors of growth worked out by hand from what the reports print (docs/evidence.md names each way)."""

import numpy as np
import pytest
from scipy import stats

from lengthwise.evidence.claims import starter_library
from lengthwise.growth.beside import not_compared
from lengthwise.growth.observed import seen_in


def of(study, heads, kind):
    return [s for s in seen_in(study) if s.heads == heads and s.kind == kind]


GLUTES = ("gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower")
FLEXORS = ("biceps_long", "biceps_short", "brachialis")
BICEPS = ("biceps_long", "biceps_short")


def test_a_printed_sd_of_growth_gives_its_standard_error(study_of):
    """T24 (doi 10.1007/s00421-019-04181-y): 6.7 ± 3.5 % in 8 people, 2.2 ± 2.6 % in 9."""
    full, half = of(study_of("T24"), GLUTES, "size")
    assert (full.value, half.value) == (6.7, 2.2)
    assert (full.se, half.se) == (pytest.approx(3.5 / np.sqrt(8)), pytest.approx(2.6 / 3))


def test_an_exact_p_gives_the_error_of_the_difference(study_of):
    """T32 (doi 10.1519/JSC.0000000000003234): 11.06 against 5.16 % in 10 people, p = 0.009, one arm each."""
    curl, row = of(study_of("T32"), FLEXORS, "size")
    expected = (11.06 - 5.16) / stats.t.ppf(1 - 0.009 / 2, 9)
    assert np.hypot(curl.se, row.se) == pytest.approx(expected, rel=1e-6)


def test_an_interval_over_the_start_gives_points(study_of):
    """T10 (doi 10.1055/a-2517-0509): +0.08 (0.02 to 0.13) cm near, -0.10 (-0.15 to -0.04) cm far; start 2.7 cm; 30 and 33 women."""
    (found,) = of(study_of("T10"), FLEXORS, "difference")
    assert found.value == pytest.approx(100 * (0.08 - 0.10) / 2 / 2.7)
    assert found.se == pytest.approx(100 * (0.11 + 0.11) / 2 / (2 * stats.t.ppf(0.975, 61)) / 2.7)


def test_no_difference_is_not_certain(study_of):
    """T11 prints "no difference" in 15 people: two limbs of a person differ by 6 points (usual), so 6 / √15."""
    (found,) = of(study_of("T11"), BICEPS, "difference")
    assert (found.value, found.se) == (0.0, pytest.approx(6 / np.sqrt(15)))


def test_sizes_whose_difference_was_not_clear_get_an_error_that_says_so(study_of):
    """T47 (doi 10.5114/biolsport.2020.96317) prints 13.5 and 18.1 % in both legs of 14 people and calls them similar: 5 % at most."""
    failure, short_of_it = of(study_of("T47"), ("vastus_lateralis",), "size")
    assert np.hypot(failure.se, short_of_it.se) == pytest.approx((18.1 - 13.5) / stats.norm.ppf(0.975))


def test_growth_beyond_belief_counts_as_a_side(study_of):
    """T16 prints +48.7 % in 8 weeks of trained men: only which arm grew more is taken from it."""
    (found,) = seen_in(study_of("T16"))
    assert (found.kind, found.value, found.arms[0]) == ("side", 1.0, "partial 45-90 deg")


def test_growth_that_was_not_found_and_not_printed_is_anywhere_below_what_so_many_people_show(study_of):
    """T35 (doi 10.1249/MSS.0000000000003957): leg extension, no increase of the gluteus in 17 people; size not printed.

    Its rectus femoris grew 1.1 % in the leg press with p = 0.379, so growth differs between people by 1.1 / t · √17 = 5.0 points. At
    5 % they show growth from t · 5 / √17 on; anywhere below it, evenly, adds (t · 5 / √17)² / 3 to the error of an arm, of which two
    limbs of a person share half.
    """
    (bare,) = of(study_of("T35"), GLUTES, "none")
    sd = 1.1 / stats.t.ppf(1 - 0.379 / 2, 16) * np.sqrt(17)
    seen = stats.t.ppf(0.975, 16) * sd / np.sqrt(17)
    assert (bare.value, bare.se) == (0.0, pytest.approx(np.sqrt(sd**2 / 34 + seen**2 / 3), rel=2e-3))
    (leg_press,) = of(study_of("T35"), GLUTES, "size")
    assert leg_press.value == 15.4


def test_two_arms_that_print_no_size_are_no_comparison(fit):
    """T24: rectus femoris and hamstrings changed in neither arm; both sizes teach, their difference is nobody's finding."""
    trial = next(t for t in fit[0] if t.study.id == "T24")
    bare = [i for i, value, _ in trial.sizes if value == 0.0]
    assert len(bare) == 4
    assert not [p for p in trial.pairs if {p.a, p.b} <= set(bare)]
    assert {what.split(":")[0] for s, what, _ in not_compared([trial.study])} == {
        "rectus femoris",
        "long head of biceps femoris, short head of biceps femoris, semitendinosus, semimembranosus",
    }


def test_no_zero_stands_where_no_size_is_printed():
    """What a report does not print is no number that was read."""
    rows = [o for s in starter_library().studies for o in s.outcomes]
    assert not [o for o in rows if o.percent_change == 0 and "not printed" in o.note]
    assert sum(o.growth_told == "none" for o in rows) == 10


def test_what_a_report_fixes_for_some_of_its_muscles_stands_for_the_others(study_of):
    """T24 prints 3.5 and 2.6, 2.6 and 3.1, 2.6 and 3.1 % for three muscles; of rectus femoris it says that it did not grow."""
    full, _ = of(study_of("T24"), ("rectus_femoris",), "none")
    sd = np.sqrt(np.mean(np.square([3.5, 2.6, 2.6, 3.1, 2.6, 3.1])))
    assert full.se == pytest.approx(np.hypot(sd, stats.t.ppf(0.975, 7) * sd / np.sqrt(3)) / np.sqrt(8))


REACH = 1.8 * stats.t.ppf(0.975, 15)


@pytest.mark.parametrize("printed", [{"se": 1.8}, {"ci_low": 4.5 - REACH, "ci_high": 4.5 + REACH}, {"t": 2.5}])
def test_a_printed_error_of_the_difference_comes_before_spreads_of_the_arms(study_of, printed):
    """T24, 8 and 9 people, gluteus 4.5 points apart, as if one of three ways to print a standard error of 1.8 stood in the report."""
    study = study_of("T24")
    told = [c.model_copy(update={"difference": 4.5, **printed}) if c.muscle == "gluteus maximus" else c for c in study.contrasts]
    full, half = of(study.model_copy(update={"contrasts": tuple(told)}), GLUTES, "size")
    assert np.hypot(full.se, half.se) == pytest.approx(1.8)


def test_growth_in_one_arm_alone_is_a_side_but_not_a_clear_one(fit):
    """T66 and T13: significant in one arm, not in the other, is no test of their difference (Gelman & Stern 2006, Am Stat 60:328, from memory)."""
    leans = [p for t in fit[0] if t.study.id in ("T13", "T66") for p in t.pairs if p.side]
    assert len(leans) == 4
    assert not any(p.clear for p in leans)


def test_a_muscle_measured_in_parts_counts_by_its_parts_alone(study_of):
    assert not of(study_of("T01"), ("triceps_long", "triceps_lateral", "triceps_medial"), "size")
    assert len(of(study_of("T01"), ("triceps_long",), "size")) == 2


def test_a_site_for_the_whole_counts_alone(study_of):
    """T07 prints p = 0.111 for the sum of both sites beside 0.311 and 0.001 for each."""
    (found,) = seen_in(study_of("T07"))
    usual = 6 / np.sqrt(19)
    assert found.value == pytest.approx(usual * stats.t.ppf(1 - 0.111 / 2, 18))
