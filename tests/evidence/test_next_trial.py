"""What one more trial could change: beliefs from sides alone, and the decisions that rest on a claim."""

from dataclasses import replace

import numpy as np
import pytest

from lengthwise.evidence.assessment import assess
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.decisions import Learned, Resting, levers, resting_on
from lengthwise.evidence.next_trial import GRID, NEXT_STUDY_PEOPLE, UNKNOWN_SPREAD, NextTrial, Report, believed, next_trial
from lengthwise.evidence.synthesis import PooledAnswer

LIBRARY = starter_library()
FOR, AGAINST = Report(1, NEXT_STUDY_PEOPLE), Report(-1, NEXT_STUDY_PEOPLE)


def answer(low: float, high: float) -> PooledAnswer:
    """A number from three studies with a 95 % interval."""
    known = assess(LIBRARY, "range").headline
    assert known is not None
    return replace(known, estimate=(low + high) / 2, se=(high - low) / 3.92, ci=(low, high), n_study=3, scale="SMD")


def above_zero(seen) -> float:
    """Chance that the true effect is for the claim."""
    weight = believed(seen)
    return float(weight[GRID > 0].sum() + weight[GRID == 0].sum() / 2)


def test_a_report_of_one_side_is_worth_what_sheppard_says():
    """P(μ > 0 | y > 0) = 1/2 + arcsin(ρ)/π for two normal numbers with correlation ρ (Sheppard 1899, Phil Trans A 192:101)."""
    rho = UNKNOWN_SPREAD / np.hypot(UNKNOWN_SPREAD, 2 / np.sqrt(NEXT_STUDY_PEOPLE))
    assert above_zero([]) == pytest.approx(0.5)
    assert above_zero([FOR]) == pytest.approx(0.5 + np.arcsin(rho) / np.pi, abs=1e-3)
    assert above_zero([FOR, AGAINST]) == pytest.approx(0.5, abs=1e-9)


def test_reports_that_find_none_draw_the_belief_to_none():
    spread = [float(np.sqrt(believed([Report(0, 100)] * k) @ GRID**2)) for k in (0, 1, 4)]
    assert spread[0] > spread[1] > spread[2]


def test_sides_that_agree_make_a_turn_likelier_and_sides_that_quarrel_less():
    claim = LIBRARY.claims["rest"]
    none, agree, quarrel = (next_trial(claim, None, seen).chance for seen in ((), (FOR, FOR), (FOR, AGAINST)))
    assert agree > none > quarrel
    assert 0.1 < none < 0.3


def test_the_next_trial_matters_most_where_the_verdict_hangs_by_a_thread():
    claim = LIBRARY.claims["range"]
    close, sure = (next_trial(claim, answer(*ci), ()).chance for ci in ((0.0, 0.6), (0.6, 0.9)))
    assert close > 0.2 > sure


def test_what_trials_taught_of_a_coefficient_is_hardly_turned_by_one_more():
    found = next_trial(LIBRARY.claims["joint_conflict"], None, ())
    assert isinstance(found.resting.learned, Learned)
    assert found.chance < 0.01
    assert found.resting.orders > 0


def test_levers_name_what_claims_feed_and_claims_that_exist():
    feeds = {f for c in LIBRARY.claims.values() for f in c.feeds}
    for name, lever in levers().items():
        assert set(lever.feeds) <= feeds, name
        assert set(lever.claims) <= LIBRARY.claims.keys(), name


def test_claims_without_a_number_differ_in_what_rests_on_them():
    """Their chances were one number once, and so were their values."""
    bare = [assess(LIBRARY, i) for i in LIBRARY.claims]
    values = {round(a.next_trial.value, 3) for a in bare if a.headline is None and a.next_trial.resting.decisions}
    assert len(values) >= 8
    assert resting_on(LIBRARY.claims["regional_growth"]).decisions == 0


def test_what_a_next_trial_could_change_is_said_as_a_coach_says_it():
    told = NextTrial(0.19, Resting(orders=94, week=1)).sentence
    assert told.endswith("94 pairs of lifts in their order and 1 number of a usual week rest on it, about 18 of them at stake")
    assert NextTrial(0.3, Resting(week=1)).sentence.endswith(
        "1 number of a usual week rests on it, fewer than one of them at stake"
    )
    assert NextTrial(0.3, Resting()).sentence.endswith("no order and no week rests on it")
