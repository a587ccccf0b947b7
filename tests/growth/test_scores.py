"""How well trials left out are predicted: these fail when a change of the body makes the estimate worse."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.old_grade import with_old_grade
from lengthwise.growth.features import kept_features, profile_of
from lengthwise.growth.programme import programme
from lengthwise.growth.rivals import RIVALS
from lengthwise.growth.scores import by_trial, gain, score
from lengthwise.lifts.catalogue import built_in

SAMPLE = 6
"""Every so-manieth arm is computed anew (all of them: validation/arm_features.py)."""
NEAR = {"drive": 0.02, "group": 0.02, "fibre": 0.02, "conflict": 0.03}
"""How far a feature may lie from the kept one: less than changes any score by 0.1."""
REMAKE = (
    "the body computes other features than growth/data/arms.json: run python validation/arm_features.py, then look at the scores"
)


def test_kept_features_are_those_of_the_body():
    kept = kept_features()
    for text in sorted(kept)[::SAMPLE]:
        (done,) = programme(text)
        found = with_old_grade(profile_of(body_of(Person()), done, built_in().lifts))
        for head, was in kept[text].items():
            for name, near in NEAR.items():
                assert getattr(found[head], name) == pytest.approx(getattr(was, name), abs=near), (
                    f"{REMAKE}; {text}, {head}, {name}"
                )


def test_the_estimate_beats_every_simple_rule_on_trials_left_out(compared):
    assert len({c.trial.study.id for c in compared}) >= 45
    ahead = {name: gain(compared, name) for name in RIVALS}
    assert ahead["no_difference"][0] >= 25
    assert min(ahead.values())[0] >= 8
    assert min(low for _, low, _ in ahead.values()) > 0, "the 90 % interval over trials lies above 0 for every rule"


def test_it_beats_no_difference_without_its_most_telling_trial(compared):
    own, none = by_trial(compared, "model"), by_trial(compared, "no_difference")
    best = max(own, key=lambda t: own[t] - none[t])
    mean, low, _ = gain(compared, "no_difference", without=best)
    assert mean >= 10
    assert low > 0


def test_it_beats_every_simple_rule_without_its_most_telling_trial(compared):
    own, none = by_trial(compared, "model"), by_trial(compared, "no_difference")
    best = max(own, key=lambda t: own[t] - none[t])
    rest = [gain(compared, name, without=best) for name in RIVALS]
    assert min(mean for mean, _, _ in rest) >= 8
    assert min(low for _, low, _ in rest) > 0


def test_intervals_cover_what_they_say(compared):
    assert 0.82 <= score(compared, "model").coverage90 <= 0.97
    assert 0.40 <= score(compared, "model").coverage50 <= 0.65


def test_no_difference_says_nothing_of_sides(compared):
    assert score(compared, "no_difference").sign[0] == 0


def test_the_weights_of_a_trial_left_out_are_those_of_a_fit_without_it(fit):
    """Leaving out by weighing against fitting again, for a trial that tells little."""
    from lengthwise.growth.fit import fitted
    from lengthwise.growth.likelihood import Data

    trials, posterior = fit
    place = [t.study.id for t in trials].index("T15")
    again = fitted(Data([t for t in trials if t.study.id != "T15"]), 4000)
    weighed = posterior.without(place) @ posterior.draws
    assert np.abs(weighed - again.mean).max() < 0.25 * again.sd.max()
