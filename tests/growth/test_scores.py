"""How well trials left out are predicted: these fail when a change of the body makes the estimate worse."""

import re
from pathlib import Path

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.beside_trials import PREDICTORS, most_telling
from lengthwise.grading.old_grade import with_old_grade
from lengthwise.growth.beside import SURE, Beside
from lengthwise.growth.features import kept_features, profile_of
from lengthwise.growth.programme import programme
from lengthwise.growth.rivals import RIVALS
from lengthwise.growth.scores import gain, score
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
    assert min(ahead.values())[0] >= 8
    assert min(low for _, low, _ in ahead.values()) > 0, "the 90% interval over trials lies above 0 for every rule"


def test_it_beats_every_simple_rule_without_its_most_telling_trial(compared):
    rest = [gain(compared, name, without=most_telling(compared)) for name in RIVALS]
    assert min(mean for mean, _, _ in rest) >= 8
    assert min(low for _, low, _ in rest) > 0


MEASURED = {"no_difference": 27.2, "longer_wins": 23.2, "length": 24.7, "tension": 26.9, "old_grade": 19.4}
"""By how much the estimate was ahead when the table of docs/method_growth.md was made."""
LOG_SCORE = -283.7
SLACK = 0.5
"""What no change of body, law or records may cost unseen."""


def test_no_change_makes_the_scores_worse_than_they_were_measured(compared):
    assert score(compared, "model").log_score >= LOG_SCORE - SLACK
    for name, was in MEASURED.items():
        assert gain(compared, name)[0] >= was - SLACK, name


def test_the_method_tells_the_scores_as_they_are(compared):
    """The table of docs/method_growth.md, number by number; where it fails, print `lengthwise trials` and tell anew."""
    rows = {r[0]: r[1:] for r in told_in_the_method()}
    for name, words in PREDICTORS.items():
        s, told = score(compared, name), rows[words]
        assert told[0] == pytest.approx(s.log_score, abs=SLACK), f"{words}: log score"
        assert told[1] == pytest.approx(s.rmse, abs=0.02), f"{words}: rmse"
        assert told[2] == s.sign[0], f"{words}: sides"
        assert told[3:5] == pytest.approx((100 * s.coverage50, 100 * s.coverage90), abs=3), f"{words}: coverage"
        if name != "model":
            assert told[5:] == pytest.approx(gain(compared, name), abs=SLACK), f"{words}: ahead"


def told_in_the_method():
    """Rows of the table of scores: the predictor and its numbers, "of" how many left out."""
    for line in (Path(__file__).parents[2] / "docs" / "method_growth.md").read_text(encoding="utf-8").splitlines():
        cells = [c.strip(" *") for c in line.split("|")]
        if len(cells) == 9 and cells[1] in PREDICTORS.values():
            plain = " ".join(cells[2:]).replace("\u2212", "-")
            yield cells[1], *(float(x) for x in re.findall(r"-?\d+(?:\.\d+)?", re.sub(r" of \d+", "", plain)))


def test_intervals_cover_what_they_say(compared):
    assert 0.82 <= score(compared, "model").coverage90 <= 0.97
    assert 0.40 <= score(compared, "model").coverage50 <= 0.65


def test_where_it_is_sure_of_a_side_it_is_right_as_often_as_it_says(compared):
    """Of clear comparisons, at three to one or more; a smaller part right than it said would make its chances too bold."""
    clear = [Beside(c.trial, c.pair, c.predicted["model"], True) for c in compared if c.pair.clear]
    sure = [b for b in clear if b.chance >= SURE]
    assert len(sure) >= 20
    assert sum(bool(b.side_right) for b in sure) >= sum(b.chance for b in sure)


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
