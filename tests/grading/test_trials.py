"""Trials beside the model: the file, the count, and that misses stay."""

import pytest
from scipy.stats import beta

from lengthwise.actions.choosing import compare_trials
from lengthwise.errors import DataFileError
from lengthwise.grading.trials import BAND, Verdict, arms, concordance, published_trials, read_trials
from lengthwise.lifts.catalogue import built_in

OWN = """
[[comparison]]
trial = "X1"
head = "vastus_lateralis"
a = { lift = "leg_extension", range = "long" }
b = { lift = "leg_extension", range = "short" }
observed = 3.0
[[comparison]]
trial = "X1"
head = "vastus_lateralis"
a = { lift = "leg_extension", range = "short" }
b = { lift = "leg_extension", range = "long" }
observed = 3.0
[[comparison]]
trial = "X2"
head = "vastus_lateralis"
a = { lift = "a_lift_nobody_wrote" }
b = { lift = "leg_extension" }
observed = 0
"""


def test_the_published_file_has_enough_head_level_comparisons_and_known_lifts():
    found = read_trials("trials.toml", published_trials())
    assert len(found.comparison) >= 20
    assert {a.lift for a in arms(found)} <= set(built_in().lifts)
    assert all(c.source for c in found.comparison) and all(u.why for u in found.not_buildable)


def test_own_file_misses_are_kept_and_unknown_lifts_named(tmp_path):
    """The second row is the first turned round, so exactly one of the two can agree."""
    file = tmp_path / "own.toml"
    file.write_text(OWN)
    answer = compare_trials(file, None)
    assert [c["agree"] for c in answer["comparisons"]].count(True) == 1
    assert answer["comparisons"][0]["predicted"] == pytest.approx(-answer["comparisons"][1]["predicted"])
    assert answer["concordance"]["of"] == 2 and answer["concordance"]["agree"] == 1
    assert "a_lift_nobody_wrote" in answer["not_solved"][0]["why"]


def test_faults_of_a_file_are_all_told():
    bad = OWN.replace("vastus_lateralis", "vastus_laterali", 1).replace("observed = 0", 'observed = "none"')
    with pytest.raises(DataFileError, match="observed"):
        read_trials("own.toml", bad)
    with pytest.raises(DataFileError, match="vastus_laterali"):
        read_trials("own.toml", OWN.replace("vastus_lateralis", "vastus_laterali", 1))


@pytest.mark.parametrize(("observed", "predicted", "agree"), [
    (2.0, 0.2, True), (2.0, -0.2, False), (2.0, BAND / 2, False), (0.0, BAND / 2, True), (0.0, 0.2, False), (-1.0, -0.2, True)])  # fmt: skip
def test_agreement(observed, predicted, agree):
    row = read_trials("own.toml", OWN).comparison[0].model_copy(update={"observed": observed})
    assert Verdict(row, 0.5 + predicted, 0.5).agree is agree


def test_the_interval_is_the_exact_one():
    """Clopper & Pearson 1934: the bounds are quantiles of beta distributions."""
    row = read_trials("own.toml", OWN).comparison[0]
    some = [Verdict(row, 0.7 if k < 15 else 0.3, 0.5) for k in range(20)]
    found = concordance(some)
    assert (found.agree, found.of) == (15, 20)
    assert found.interval == pytest.approx((beta.ppf(0.025, 15, 6), beta.ppf(0.975, 16, 5)), abs=1e-9)
