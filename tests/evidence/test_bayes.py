import numpy as np
import pytest
from scipy.stats import norm

from lengthwise.errors import InputError
from lengthwise.evidence.bayes import bayesian_pool
from lengthwise.evidence.pooling import Convention, pool

Y, V = np.array([0.1, 0.6, 0.35]), np.array([0.04, 0.09, 0.06])


def test_matches_a_two_dimensional_sum():
    """Posterior mean and P(mean > 0) summed over a plain grid of mean and τ, which shares no code with the quadrature."""
    mu, tau = np.linspace(-5, 6, 2201), np.linspace(0, 4, 801)
    spread = np.sqrt(V[:, None] + tau**2)
    joint = norm.pdf(tau, scale=0.5) * np.prod([norm.pdf(y, mu[:, None], s) for y, s in zip(Y, spread, strict=True)], axis=0)
    over_mu = np.trapezoid(joint, tau, axis=1)
    total = np.trapezoid(over_mu, mu)
    mean = np.trapezoid(mu * over_mu, mu) / total
    right = mu > -1e-9
    above = np.trapezoid(over_mu[right], mu[right]) / total
    b = bayesian_pool(Y, V)
    assert [b.mean, b.above_zero] == pytest.approx([mean, above], abs=1e-5)


def test_a_finer_grid_changes_nothing():
    coarse, fine = bayesian_pool(Y, V, n_grid=200), bayesian_pool(Y, V, n_grid=1600)
    assert [coarse.mean, coarse.sd, *coarse.interval, *coarse.prediction] == pytest.approx(
        [fine.mean, fine.sd, *fine.interval, *fine.prediction], abs=1e-7
    )
    assert coarse.tau_median == pytest.approx(fine.tau_median, abs=1e-3)


def test_a_tight_prior_is_the_fixed_model():
    b, f = bayesian_pool(Y, V, prior_scale=1e-4), pool(Y, V, Convention("fe"))
    assert [b.mean, b.sd, *b.interval] == pytest.approx([f.estimate, f.se, *f.ci], abs=1e-6)


def test_many_studies_drown_the_prior():
    rng = np.random.default_rng(8)
    v = rng.uniform(0.02, 0.1, 400)
    y = rng.normal(0.3, np.sqrt(v + 0.04))
    b, r = bayesian_pool(y, v), pool(y, v)
    assert b.mean == pytest.approx(r.estimate, abs=2e-3)
    assert b.tau_median == pytest.approx(np.sqrt(r.tau2), abs=0.01)
    assert b.density.sum() == pytest.approx(1)


def test_mirrored_effects_mirror_the_answer():
    a, b = bayesian_pool(Y, V), bayesian_pool(-Y, V)
    assert a.mean == pytest.approx(-b.mean)
    assert a.interval == pytest.approx((-b.interval[1], -b.interval[0]), abs=1e-7)


def test_prior_scale_must_be_positive():
    with pytest.raises(InputError, match="prior scale 0"):
        bayesian_pool(Y, V, prior_scale=0)
