"""The distributions equal those of scipy.stats, their published source."""

import numpy as np
import pytest
from scipy import special, stats

from lengthwise import distributions as ours

X = np.array([-40.0, -8.2, -1.96, -1e-9, 0.0, 0.3, 1.0, 2.5, 12.0, 38.0])
Q = np.array([1e-12, 1e-4, 0.025, 0.2, 0.5, 0.8, 0.975, 0.9999, 1 - 1e-12])
DF = (0.7, 1, 2, 3.4, 9, 30, 412, 1e5)
same = pytest.approx


def test_the_normal_distribution():
    for name in ("cdf", "sf"):
        assert getattr(ours.norm, name)(X) == same(getattr(stats.norm, name)(X), rel=1e-12)
    for name in ("ppf", "isf"):
        assert getattr(ours.norm, name)(Q) == same(getattr(stats.norm, name)(Q), rel=1e-12, abs=1e-15)
    for scale in (0.02, 1, 7.5):
        assert ours.norm.logpdf(X, scale=scale) == same(stats.norm.logpdf(X, scale=scale), rel=1e-12)


@pytest.mark.parametrize("df", DF)
def test_student_s_t_with_every_number_of_degrees_of_freedom(df):
    assert ours.t.sf(X, df) == same(stats.t.sf(X, df), rel=1e-9)
    for name in ("ppf", "isf"):
        assert getattr(ours.t, name)(Q, df) == same(getattr(stats.t, name)(Q, df), rel=1e-8, abs=1e-12)


def test_student_s_t_becomes_normal():
    assert ours.t.ppf(Q, np.inf) == same(ours.norm.ppf(Q), abs=1e-12)
    assert ours.t.sf(X, np.inf) == same(ours.norm.sf(X))


@pytest.mark.parametrize("df", DF)
def test_chi_squared_and_f(df):
    at = np.abs(X)
    assert ours.chi2.sf(at, df) == same(stats.chi2.sf(at, df), rel=1e-9)
    assert ours.chi2.isf(Q, df) == same(stats.chi2.isf(Q, df), rel=1e-8)
    assert ours.f.sf(at, 3, df) == same(stats.f.sf(at, 3, df), rel=1e-9)


def test_normal_quantiles_out_in_the_tails_and_at_the_ends():
    at = 10.0 ** -np.arange(1, 300)
    assert ours.normal_quantile(at) == same(special.ndtri(at), rel=1e-14)
    assert ours.normal_quantile([0.0, 1.0]).tolist() == [-np.inf, np.inf]
    assert np.isnan(ours.normal_quantile([-0.1, 1.1, np.nan])).all()


def test_the_logarithm_of_the_gamma_function():
    at = np.array([[0.0, 0.5, 1.0], [3.5, 40.0, 1e4]])
    assert ours.log_gamma(at) == same(special.gammaln(at), rel=1e-13, abs=1e-15)
