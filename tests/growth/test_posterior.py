"""The posterior against another library's long chain, and against trials whose coefficients are known."""

import numpy as np
import pytest
from invented import PINNED, drawn_trials, pinned_trials, truth_from_the_prior
from scipy.stats import qmc

from lengthwise.growth.fit import TAIL, effective, fitted, log_prior, weighed
from lengthwise.growth.law import NAMES
from lengthwise.growth.likelihood import Data

N_SOBOL = 2**15
THREE_DECIMALS = 5e-4


def test_the_density_is_that_of_another_library():
    """numpyro's log density, written anew trial by trial, at forty points: the same but for the constant of the priors."""
    x = np.array([p["at"] for p in PINNED["densities"]])
    theirs = np.array([p["log_density"] for p in PINNED["densities"]])
    ours = log_prior(x) + Data(pinned_trials()).log_likelihood(x).sum(1)
    assert np.ptp(ours - theirs) < 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_means_and_spreads_equal_a_long_chain_to_three_decimals(name):
    """Recorded on both sides (validation/growth_chain.py, growth_posterior.py): errors fall below 5e-4 only with minutes of draws."""
    chain, own = PINNED["posterior"][name], PINNED["fit"]["posterior"][name]
    assert max(chain["error"], own["error"]) < THREE_DECIMALS
    assert own["mean"] == pytest.approx(chain["mean"], abs=THREE_DECIMALS)
    assert own["sd"] == pytest.approx(chain["sd"], abs=THREE_DECIMALS)


@pytest.fixture(scope="module")
def exact():
    """The fit with many draws that fill their space evenly (Sobol)."""
    from scipy import stats

    points = qmc.Sobol(len(NAMES) + 1, seed=5).random(N_SOBOL)
    return weighed(Data(pinned_trials()), stats.norm.ppf(points[:, :-1]), stats.chi2.ppf(points[:, -1], TAIL))


def test_means_equal_a_long_chain_of_another_library(exact):
    """tests/reference/growth_chain.json, numpyro's no-U-turn sampler: within four standard errors of so many draws of the fit."""
    pinned = np.array([PINNED["posterior"][n]["mean"] for n in NAMES])
    assert (np.abs(exact.mean - pinned) < 4 * exact.sd / np.sqrt(effective(exact.weights))).all()


def test_the_usual_number_of_draws_is_near_the_exact_posterior(exact):
    usual = fitted(Data(pinned_trials()))
    assert np.abs((usual.mean - exact.mean) / exact.sd).max() < 0.2
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
