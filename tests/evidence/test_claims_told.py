"""Claims whose pools say less than they seem to: each step down and each verdict as the source allows."""

from lengthwise.evidence.assessment import assess
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.verdict import small
from lengthwise.questions.claims import ClaimsAsk, run

LIBRARY = starter_library()


def weighed(name):
    return assess(LIBRARY, name)


def test_a_pool_over_all_outcomes_says_so_and_costs_a_step():
    """Scand J Med Sci Sports 31:1866 (2021): 16 studies, fewer of growth, all of the lower limb."""
    found = weighed("range")
    assert "16 studies over all outcomes" in found.verdict.reason
    assert {s.domain for s in found.certainty.steps} >= {"indirectness", "imprecision"}


def test_sex_is_open_within_the_margin_that_holds_everywhere():
    """PeerJ 13:e19042 (2025): 0.69 points (-1.50 to 2.88); 90 %: -1.1 to 2.5, beyond 2 % of size."""
    assert weighed("sex").verdict.word == "open"


def test_a_printed_p_is_quoted_as_printed():
    """Sports Med 53:649 (2023): 0.19 (0.00 to 0.37), p = 0.045."""
    found = weighed("close_to_failure")
    assert found.verdict.reason.endswith("p = 0.045")
    assert any(s.domain == "indirectness" for s in found.certainty.steps)


def test_a_pool_without_a_number_is_told_before_one_study():
    """Strength Cond J 45(1):49 (2023): trivial, seven studies."""
    found = weighed("single_joint")
    assert found.headline is None
    assert found.verdict.reason.index("trivial") < found.verdict.reason.index("0.96")


def test_no_p_is_nought():
    assert (small(1e-9), small(0.045), small(0.343)) == ("p < 0.001", "p = 0.045", "p = 0.34")


def test_no_trial_is_asked_for_what_is_common_practice(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    asked = {a.claim.id for a in run(ClaimsAsk(next=True), lambda *_: None).claims}
    assert asked.isdisjoint({"joint_caution", "preference", "stability"})
    assert "joint_conflict" in asked, "trials teach its coefficient"
