import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.bias import caution, egger, rank_correlation, trim_and_fill
from lengthwise.evidence.pooling import Convention, pool


def test_egger_matches_metafor(bcg):
    """regtest(model = "lm") and lm(yi/sqrt(vi) ~ I(1/sqrt(vi)))."""
    y, v, _, expected = bcg
    e, classic, found = expected["egger_lm"], expected["egger_classic_lm"], egger(y, v)
    assert [found.statistic, found.p, found.limit] == pytest.approx([e["stat"], e["p"], e["intercept_limit"]], abs=1e-10)
    assert found.limit_ci == pytest.approx(e["limit_ci"], abs=1e-10)
    assert [found.slope, found.se] == pytest.approx([classic["coef"][0], classic["se"][0]], abs=1e-10)
    assert found.df == 11 and found.caution == ""


def test_rank_correlation_matches_metafor(bcg):
    y, v, _, expected = bcg
    assert rank_correlation(y, v) == pytest.approx((expected["begg"]["tau"], expected["begg"]["p"]), abs=1e-10)


def test_trim_and_fill_matches_metafor(bcg):
    y, v, _, expected = bcg
    e, found = expected["trimfill_REML_L0"], trim_and_fill(y, v)
    assert (found.missing, found.side, found.pooled.k) == (e["k0"], e["side"], e["k"])
    assert [found.pooled.estimate, found.pooled.se, found.pooled.tau2] == pytest.approx([e["b"], e["se"], e["tau2"]], abs=1e-5)


def test_a_symmetric_funnel_needs_no_filling():
    v = np.array([0.1, 0.1, 0.4, 0.4, 0.9, 0.9, 0.02])
    y = np.array([0.1, -0.1, 0.3, -0.3, 0.8, -0.8, 0.0]) + 0.5
    found = trim_and_fill(y, v, Convention("fe"))
    assert found.missing == 0
    assert found.pooled.estimate == pytest.approx(pool(y, v, Convention("fe")).estimate)
    assert egger(y, v).slope == pytest.approx(0, abs=1e-10)


def test_mirroring_swaps_the_side(bcg):
    y, v, _, _ = bcg
    a, b = trim_and_fill(y, v), trim_and_fill(-y, v)
    assert {a.side, b.side} == {"left", "right"}
    assert a.pooled.estimate == pytest.approx(-b.pooled.estimate)


def test_few_studies_carry_a_warning():
    assert "only 4 studies" in egger([0.1, 0.3, 0.2, 0.9], [0.1, 0.2, 0.05, 0.4]).caution
    assert caution(10) == ""
    with pytest.raises(InputError, match="different precision"):
        egger([1, 2, 3], [1, 1, 1])
