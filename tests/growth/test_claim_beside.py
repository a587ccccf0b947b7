"""A claim's comparisons beside the estimate that was learned without its trials, and long halves that follow the claim."""

import pytest

from lengthwise.body.person import Person
from lengthwise.evidence.assessment import assess
from lengthwise.evidence.claims import starter_library
from lengthwise.grading.target import target_named
from lengthwise.growth.claim_beside import claim_beside
from lengthwise.growth.fit import fitted
from lengthwise.growth.likelihood import Data
from lengthwise.planning.week import PlannedLift
from lengthwise.practice import lift_growth
from lengthwise.practice.long_halves import long_halves
from lengthwise.weeks.week_halves import favoured_halves


@pytest.fixture(scope="module")
def beside(fit):
    return claim_beside("long_half", *fit)


def test_it_holds_only_the_claims_own_comparisons(beside):
    """T03 and T04 compare the long part with the whole and with the short part; only the whole bears on this claim."""
    assert beside.trials == ("T03", "T04", "T84")
    assert {b.arms[1].position for b in beside.rows} == {"full"}
    assert {b.arms[0].position for b in beside.rows} == {"long"}
    assert len(beside.rows) == 5


def test_what_is_expected_does_not_hang_on_what_these_trials_saw(beside, fit):
    """Their results turned round change nothing that was learned without them."""
    from dataclasses import replace

    trials, posterior = fit
    turned = [
        t
        if t.study.id not in beside.trials
        else replace(
            t,
            sizes=tuple((i, 30 - v, se) for i, v, se in t.sizes),
            differences=tuple(replace(p, value=-p.value) for p in t.differences),
        )
        for t in trials
    ]
    again = claim_beside("long_half", turned, posterior)
    assert (again.mean, again.low, again.high, again.more) == (beside.mean, beside.low, beside.high, beside.more)


def test_the_mean_is_that_of_a_fit_without_them(beside, fit):
    trials = fit[0]
    rest = fitted(Data([t for t in trials if t.study.id not in beside.trials]), 2000)
    assert beside.mean == pytest.approx(sum(b.predicted.centre for b in beside.rows) / 5, abs=1e-9)
    assert rest.mean[5] == pytest.approx(fit[1].mean[5], abs=0.5), "length is learned from other trials too"
    assert beside.low < 0 < beside.high


def test_a_claim_without_lifts_has_nothing_beside_it(fit):
    assert claim_beside("endurance", *fit) is None


def test_the_claim_about_long_halves_is_in_deviations_of_the_change():
    """297 people in two arms: the error of a difference in those units is at least 2 / √297."""
    a = assess(starter_library(), "long_half")
    assert a.verdict.word == "open"
    assert all(f.effect.se >= 2 / 297**0.5 - 1e-3 for f in a.findings if f.effect)


def test_no_long_half_is_offered_where_its_own_trials_speak_against_it(monkeypatch):
    monkeypatch.setattr(lift_growth, "SETTLED_ELSE", ("open",))
    planned = PlannedLift(lift="leg_extension", range="full", name="Leg extension", sets=3, repetitions=(8, 12), reserve=2.0)
    assert lift_growth.long_half_chance(Person(), "leg_extension") == 0.0
    assert favoured_halves(Person(), [planned]) == ()
    assert long_halves(Person(), [], target_named("triceps_long"), None, None) == ()
