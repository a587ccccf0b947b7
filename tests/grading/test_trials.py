"""Comparisons of a user's own beside the estimate: the file, and that misses stay."""

import pytest
from scipy.stats import beta

from lengthwise.body.person import Person
from lengthwise.errors import DataFileError
from lengthwise.grading.beside_trials import TrialsBeside, beside
from lengthwise.grading.trial_file import arms, read_trials
from lengthwise.growth.beside import concordance
from lengthwise.growth.rivals import RIVALS
from lengthwise.known.trial_answers import beside_the_model

OWN = """
[[comparison]]
trial = "X1"
head = "vastus_lateralis"
a = { lift = "leg_extension", range = "long" }
b = { lift = "leg_extension", range = "short" }
observed = 6.0
[[comparison]]
trial = "X1"
head = "vastus_lateralis"
a = { lift = "leg_extension", range = "short" }
b = { lift = "leg_extension", range = "long" }
observed = 6.0
[[comparison]]
trial = "X2"
head = "vastus_lateralis"
a = { lift = "a_lift_nobody_wrote" }
b = { lift = "leg_extension" }
observed = 0
"""


def test_own_file_misses_are_kept_and_unknown_lifts_named():
    """The second row is the first turned round, so exactly one of the two can agree."""
    answer = beside_the_model(read_trials("own.toml", OWN), Person())
    first, second = answer.comparisons
    assert (first.agree, second.agree) == (True, False)
    assert first.predicted.mean == pytest.approx(-second.predicted.mean)
    assert first.predicted.low < first.predicted.mean < first.predicted.high
    assert first.observed.mean == 6.0
    assert not first.left_out
    assert answer.concordance.of == 2
    assert (first.side_right, second.side_right, answer.sides.agree, answer.sides.of) == (True, False, 1, 2)
    assert second.inside == (second.predicted.low <= second.observed.mean <= second.predicted.high)
    assert "a_lift_nobody_wrote" in answer.not_solved[0].why


def test_where_only_a_side_is_printed_there_is_no_number():
    answer = beside_the_model(
        read_trials("own.toml", OWN.replace("observed = 6.0", "observed = 6.0\ndirection_only = true", 1)), Person()
    )
    first, second = answer.comparisons
    assert (first.observed, first.ahead, first.direction_only) == (None, "a", True)
    assert second.observed is not None and second.ahead == "a"


def leads(none: tuple[float, float], rules: tuple[float, float]) -> TrialsBeside:
    """An answer with leads over no difference and over every rule, with every trial and without the most telling one."""
    told = {
        name: {"mean": a, "without_most_telling": {"mean": b}}
        for name, (a, b) in {**dict.fromkeys(RIVALS, rules), "no_difference": none}.items()
    }
    return beside([], [], gains={"most_telling": "", **told})


@pytest.mark.parametrize(
    ("lead", "words"), [((27.0, 26.0), "met;"), ((26.6, 15.8), "met as worded, not robust;"), ((24.1, 15.6), "not met;")]
)
def test_what_was_asked_is_told_with_and_without_the_most_telling_trial(lead, words):
    assert f"Found {lead[0]} ({words}" in leads(lead, (12.0, 9.0)).held_to
    assert "12.0 (met; without it 9.0)" in leads(lead, (12.0, 9.0)).held_to


def test_arms_are_told_by_lift_and_dose_and_an_unknown_lift_with_near_names():
    dose = OWN.replace('range = "short" }', 'range = "short", sets_per_week = 20 }', 1).replace(
        "a_lift_nobody_wrote", "leg_extensoin"
    )
    own = read_trials("own.toml", dose.replace("observed = 6.0", 'observed = 6.0\nsource = " "', 1))
    answer = beside_the_model(own, Person())
    first = answer.comparisons[0]
    assert (first.a.arm, first.b.arm) == ("leg_extension (long)", "leg_extension (short), 20 sets a week")
    assert first.source == "a file of comparisons"
    assert "did you mean leg_extension" in answer.not_solved[0].why


def test_faults_of_a_file_are_all_told():
    bad = OWN.replace("vastus_lateralis", "vastus_laterali", 1).replace("observed = 0", 'observed = "none"')
    with pytest.raises(DataFileError, match=r"observed: found 'none'; allowed: a valid number$"):
        read_trials("own.toml", bad)
    with pytest.raises(DataFileError, match="observed"):
        read_trials("own.toml", OWN.replace("observed = 6.0", "observed = 1e9", 1))
    with pytest.raises(DataFileError, match="vastus_laterali"):
        read_trials("own.toml", OWN.replace("vastus_lateralis", "vastus_laterali", 1))


def test_a_comparison_becomes_a_record():
    found = read_trials("own.toml", OWN.replace("observed = 6.0", "observed = 6.0\nse = 2.0\ntrained = true", 1))
    study = found.studies()[0]
    assert len(arms(found)) == 4
    assert study.arms[0].done == "leg_extension long"
    assert study.training == "trained"
    assert (study.contrasts[0].difference, study.contrasts[0].se, study.contrasts[0].start) == (6.0, 2.0, 100.0)


class Row:
    def __init__(self, agree: bool) -> None:
        self.agree = agree


def test_the_interval_is_the_exact_one():
    """Clopper & Pearson 1934: the bounds are quantiles of beta distributions."""
    found = concordance([Row(k < 15) for k in range(20)])
    assert (found.agree, found.of) == (15, 20)
    assert found.interval == pytest.approx((beta.ppf(0.025, 15, 6), beta.ppf(0.975, 16, 5)), abs=1e-9)
