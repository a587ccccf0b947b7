import numpy as np
import pytest
from scipy.optimize import check_grad

from lengthwise.errors import InputError
from lengthwise.evidence.multilevel import (
    Likelihood,
    Nested,
    Unstructured,
    membership,
    sampling_covariance,
    three_level,
    two_outcomes,
)
from lengthwise.evidence.pooling import pool


@pytest.fixture
def calendar(worked):
    """Year-round school calendars, 56 schools in 11 districts (Konstantopoulos 2011, Res Synth Methods 2:61-76)."""
    columns, expected = worked("school_calendar")
    return columns["yi"], columns["vi"], columns["district"], columns["year"], expected


def test_three_levels_match_metafor(calendar):
    """rma.mv(yi, vi, random = ~ 1 | district/school), metafor 3.8-1."""
    y, v, district, _, expected = calendar
    e, m = expected["three_level_REML"], three_level(y, v, district)
    assert [m.beta[0], m.se[0], m.between, m.within] == pytest.approx([e["b"], e["se"], *e["sigma2"]], abs=1e-7)
    assert [m.log_likelihood, m.q] == pytest.approx([e["logLik"], e["Q"]], abs=1e-8)
    assert m.interval() == pytest.approx((e["ci_lb"], e["ci_ub"]), abs=1e-7)
    pi = expected["three_level_PI_z"]
    assert m.prediction() == pytest.approx((pi["pi_lb"], pi["pi_ub"]), abs=1e-7)
    i2 = expected["I2_multilevel"]
    assert m.i2 == pytest.approx((i2["total"], *i2["by_level"]), abs=1e-5)
    assert m.score < 1e-6, "the likelihood must be level at its maximum"


def test_ignoring_the_levels_matches_metafor(calendar):
    y, v, _, _, expected = calendar
    e, p = expected["two_level"], pool(y, v)
    assert [p.estimate, p.se, p.tau2] == pytest.approx([e["b"], e["se"], e["tau2"]], abs=1e-5)


def test_a_moderator_in_three_levels_matches_metafor(calendar):
    y, v, district, year, expected = calendar
    e = expected["year_mod"]
    m = three_level(y, v, district, np.column_stack([np.ones(y.size), year - year.mean()]))
    assert m.beta == pytest.approx(e["b"], abs=1e-7)
    assert m.se == pytest.approx(e["se"], abs=1e-7)
    assert [m.between, m.within, m.q] == pytest.approx([*e["sigma2"], e["Q"]], abs=1e-6)


def test_two_outcomes_match_metafor(worked):
    """Periodontal trials, attachment level and probing depth (Berkey et al. 1998, Stat Med 17:2537-2550)."""
    c, expected = worked("periodontal")
    e = expected["ML"]
    same = membership(c["trial"])
    # v1i and v2i are the rows of each trial's 2×2 sampling covariance.
    rows = np.column_stack([c["v1i"], c["v2i"]])
    v = np.array([[rows[i, j % 2] if same[i, j] else 0.0 for j in range(10)] for i in range(10)])
    m = two_outcomes(c["yi"], v, c["trial"], (c["outcome"] == "PD").astype(int))
    assert m.beta == pytest.approx(e["b"], abs=1e-6)
    assert m.se == pytest.approx(e["se"], abs=1e-6)
    assert m.tau2 == pytest.approx(e["tau2"], abs=1e-6)
    assert [m.correlation, m.log_likelihood] == pytest.approx([e["rho"], e["logLik"]], abs=1e-5)


@pytest.mark.parametrize("restricted", [True, False])
@pytest.mark.parametrize("kind", ["nested", "unstructured"])
def test_gradient_is_that_of_the_likelihood(kind, restricted):
    rng = np.random.default_rng(2)
    same = membership(np.repeat(np.arange(6), 2))
    outcome = np.tile([0, 1], 6)
    true_effects = Nested(same) if kind == "nested" else Unstructured(same, outcome)
    x = np.column_stack([np.ones(12), rng.normal(size=12)])
    model = Likelihood(rng.normal(size=12), np.diag(rng.uniform(0.1, 0.3, 12)), x, true_effects, restricted)
    theta = np.array([0.3, 0.2] if kind == "nested" else [0.5, 0.2, 0.4])
    assert check_grad(lambda p: model.loss(p)[0], lambda p: model.loss(p)[1], theta) < 1e-5


def test_order_of_rows_does_not_matter(calendar):
    y, v, district, _, _ = calendar
    order = np.random.default_rng(0).permutation(y.size)
    a, b = three_level(y, v, district), three_level(y[order], v[order], district[order])
    assert [a.beta[0], a.se[0], a.between] == pytest.approx([b.beta[0], b.se[0], b.between], abs=1e-7)


def test_sampling_covariance_by_hand():
    """Standard errors 1 and 2 in one study, correlation 0.5: covariance 1·2·0.5 = 1; none with the other study."""
    covariance = sampling_covariance([1, 4, 9], ["a", "a", "b"], 0.5)
    assert covariance.tolist() == [[1, 1, 0], [1, 4, 0], [0, 0, 9]]


def test_one_effect_a_study_is_not_three_levels():
    with pytest.raises(InputError, match="several effects in one"):
        three_level([1, 2, 3], [1, 1, 1], ["a", "b", "c"])
    with pytest.raises(InputError, match="correlation 1"):
        sampling_covariance([1, 1], ["a", "a"], 1.0)
