import tracemalloc

import numpy as np
import pytest
from scipy.optimize import check_grad

from lengthwise.errors import InputError
from lengthwise.evidence.multilevel import Levels, mean_variance, sampling, three_level
from lengthwise.evidence.pooling import pool
from lengthwise.evidence.robust import robust_fit


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


def _levels(correlation: float) -> Levels:
    rng = np.random.default_rng(2)
    study, group = np.repeat(np.arange(6), 2), np.repeat(np.arange(3), 4)
    x = np.column_stack([np.ones(12), rng.normal(size=12)])
    return Levels(rng.normal(size=12), rng.uniform(0.1, 0.3, 12), x, (np.arange(12), study, group), correlation)


@pytest.mark.parametrize("correlation", [0.0, 0.4])
def test_gradient_of_the_levels_is_that_of_their_likelihood(correlation):
    model = _levels(correlation)
    assert check_grad(lambda p: model.loss(p)[0], lambda p: model.loss(p)[1], np.array([0.3, 0.2, 0.1])) < 1e-5


def test_sums_over_studies_are_the_likelihood_of_all_pairs():
    """The restricted likelihood written out with all pairs (Harville 1977, J Am Stat Assoc 72:320-338)."""
    model, theta = _levels(0.4), np.array([0.3, 0.2, 0.1])
    same = [np.equal.outer(label, label).astype(float) for label in model.labels]
    se = np.sqrt(model.v)
    omega = np.outer(se, se) * (0.4 * same[1] + 0.6 * np.eye(12)) + sum(t * m for t, m in zip(theta, same, strict=True))
    assert model.covariance(theta).block(np.arange(12)) == pytest.approx(omega)
    inverse = np.linalg.inv(omega)
    cov = np.linalg.inv(model.x.T @ inverse @ model.x)
    residual = model.y - model.x @ cov @ model.x.T @ inverse @ model.y
    log = -0.5 * (np.linalg.slogdet(omega)[1] + residual @ inverse @ residual - np.linalg.slogdet(cov)[1])
    log += 0.5 * np.linalg.slogdet(model.x.T @ model.x)[1] - 5 * np.log(2 * np.pi)
    assert model.fit_at(theta)[2] == pytest.approx(log)
    assert model.covariance(theta).enclosed(model.labels[1]) == pytest.approx((same[1] * inverse).sum())
    assert model.covariance(theta).enclosed(model.labels[2]) == pytest.approx((same[2] * inverse).sum())


def test_groups_of_studies_are_a_level_of_their_own():
    """Groups that differ by ±1 and studies that agree within them: the spread is between groups."""
    rng = np.random.default_rng(5)
    group = np.repeat(np.arange(8), 6)
    y = rng.normal(0, 1, 8)[group] + rng.normal(0, 0.05, 48)
    m = three_level(y, np.full(48, 0.0025), np.repeat(np.arange(16), 3), group=group)
    assert m.above > 0.2 and m.between + m.within < 0.01
    assert m.score < 1e-5


def test_a_study_in_two_groups_is_refused():
    with pytest.raises(InputError, match="two groups"):
        three_level([1, 2, 3, 4], [1, 1, 1, 1], ["a", "a", "b", "b"], group=["g", "h", "g", "h"])


def test_ten_thousand_effects_take_no_table_of_pairs():
    """A table of all pairs would take 800 MB; arrays of rows stay under 20 MB."""
    rng = np.random.default_rng(3)
    study = np.repeat(np.arange(2500), 4)
    y = rng.normal(0.2, 0.3, 2500)[study] + rng.normal(0, 0.4, 10_000)
    tracemalloc.start()
    model = three_level(y, np.full(10_000, 0.09), study, correlation=0.5)
    fit = robust_fit(y, model.omega, study)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 50e6
    assert abs(model.beta[0] - 0.2) < 4 * fit.se[0]


def test_order_of_rows_does_not_matter(calendar):
    y, v, district, _, _ = calendar
    order = np.random.default_rng(0).permutation(y.size)
    a, b = three_level(y, v, district), three_level(y[order], v[order], district[order])
    assert [a.beta[0], a.se[0], a.between] == pytest.approx([b.beta[0], b.se[0], b.between], abs=1e-7)


def test_sampling_errors_by_hand():
    """Standard errors 1 and 2 in one study, correlation 0.5: covariance 1·2·0.5 = 1; none with the other study."""
    covariance = sampling([1, 4, 9], ["a", "a", "b"], 0.5).block(np.arange(3))
    assert covariance == pytest.approx(np.array([[1, 1, 0], [1, 4, 0], [0, 0, 9]]))
    assert mean_variance([1, 4], 0.5) == pytest.approx((1 + 4 + 2) / 4)


def test_one_effect_a_study_is_not_three_levels():
    with pytest.raises(InputError, match="several effects in one"):
        three_level([1, 2, 3], [1, 1, 1], ["a", "b", "c"])
    with pytest.raises(InputError, match="correlation 1"):
        sampling([1, 1], ["a", "a"], 1.0)
