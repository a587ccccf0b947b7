"""The posterior against another library's long chain, and against trials whose coefficients are known."""

import numpy as np
import pytest
from invented import PINNED, drawn_trials, pinned_trials, truth_from_the_prior
from scipy.stats import qmc

from lengthwise.growth.fit import TAIL, effective, fitted, weighed
from lengthwise.growth.law import NAMES
from lengthwise.growth.likelihood import Data

N_SOBOL = 2**17


@pytest.fixture(scope="module")
def even():
    """Normal and χ² numbers that fill their space evenly (Sobol), so that sums over them hardly err."""
    from scipy import stats

    points = qmc.Sobol(len(NAMES) + 1, seed=5).random(N_SOBOL)
    return stats.norm.ppf(points[:, :-1]), stats.chi2.ppf(points[:, -1], TAIL)


@pytest.fixture(scope="module")
def exact(even):
    return weighed(Data(pinned_trials()), *even)


@pytest.mark.parametrize("name", NAMES)
def test_means_and_spreads_equal_a_long_chain_of_another_library(exact, name):
    """tests/reference/growth_chain.json (numpyro's no-U-turn sampler, its own density): within four standard errors of both, 0.01 to 0.03."""
    pinned, place = PINNED["posterior"][name], NAMES.index(name)
    error = np.hypot(pinned["error"], exact.sd[place] / np.sqrt(effective(exact.weights)))
    assert exact.mean[place] == pytest.approx(pinned["mean"], abs=4 * error)
    assert exact.sd[place] == pytest.approx(pinned["sd"], rel=0.02)


def test_the_usual_number_of_draws_is_near_the_exact_posterior(exact):
    usual = fitted(Data(pinned_trials()))
    assert np.abs((usual.mean - exact.mean) / exact.sd).max() < 0.15
    assert effective(usual.weights) > 200


def test_the_same_trials_give_the_same_bits():
    a, b = (fitted(Data(pinned_trials()), 100) for _ in range(2))
    assert (a.draws == b.draws).all()
    assert (a.weights == b.weights).all()


N_SIMULATED, N_TRIAL = 60, 12


def test_intervals_cover_known_coefficients():
    """Truths from the prior, twelve trials from each, 90 % intervals: 90 ± 4 % of the truths must lie inside (60 × 12 of them)."""
    rng = np.random.default_rng(12)
    inside = []
    for _ in range(N_SIMULATED):
        truth = truth_from_the_prior(rng)
        found = fitted(Data(drawn_trials(truth, N_TRIAL, rng)), 400)
        below = found.weights @ (found.draws < truth)
        inside.append((below > 0.05) & (below < 0.95))
    assert np.mean(inside) == pytest.approx(0.90, abs=0.04)
