"""The filter and smoother of strength equal those of statsmodels (0.15.0), gaps, unequal errors and irregular days included."""

import numpy as np
import pytest
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother
from statsmodels.tsa.statespace.structural import UnobservedComponents

from lengthwise.training.level_trend import Drift, LevelSeen, TrendStart, run_filter, smooth


def series(seed: int, n: int = 40):
    rng = np.random.default_rng(seed)
    days = np.cumsum(rng.integers(1, 9, n))
    y = 4 + 0.002 * days + 0.03 * rng.standard_normal(n)
    return days - days[0], y, (0.01 + 0.03 * rng.random(n)) ** 2


def ours(days, y, noise, start, drift):
    gap = np.diff(days, prepend=days[0]).astype(float)[:, None]
    one = np.array
    rows, steps = LevelSeen(gap, y[:, None], noise[:, None]), Drift(one([drift[0]]), one([drift[1]]), *drift[2:])
    found = run_filter(rows, TrendStart(one([start[0]]), one([start[1]]), one([start[2]]), one([start[3]])), steps)
    return found, smooth(rows, found, steps)


def theirs(days, y, noise, start, drift):
    """A daily grid with missing days and a variance for each observation."""
    n = int(days[-1]) + 1
    grid, h = np.full(n, np.nan), np.ones((1, 1, n))
    grid[days], h[0, 0, days] = y, noise
    model = KalmanSmoother(k_endog=1, k_states=2, k_posdef=2)
    model.bind(grid[:, None].copy())
    kept = drift[2] if len(drift) > 2 else 1.0
    model["design"], model["transition"], model["selection"] = np.array([[1.0, 0]]), np.array([[1.0, 1], [0, kept]]), np.eye(2)
    model["state_cov"], model["obs_cov"] = np.diag(drift[:2]), h
    model.initialize_known(np.array([start[0], start[2]]), np.diag([start[1], start[3]]))
    return model.smooth()


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("drift", [(0.0, 0.0), (1e-5, 1e-8), (1e-4, 1e-7), (1e-5, 1e-8, 0.99), (1e-4, 1e-7, 0.9)])
def test_filter_and_smoother_equal_statsmodels(seed, drift):
    days, y, noise = series(seed)
    start = (4.0, 0.25, 0.0, 1e-5)
    found, hindsight = ours(days, y, noise, start, drift)
    other = theirs(days, y, noise, start, drift)
    assert found.log_likelihood[0] == pytest.approx(other.llf, rel=1e-9)
    np.testing.assert_allclose(found.known.level[:, 0], other.filtered_state[0, days], rtol=1e-9)
    np.testing.assert_allclose(found.known.slope_var[:, 0], other.filtered_state_cov[1, 1, days], rtol=1e-7)
    np.testing.assert_allclose(hindsight.level[:, 0], other.smoothed_state[0, days], rtol=1e-9)
    np.testing.assert_allclose(hindsight.slope[:, 0], other.smoothed_state[1, days], rtol=1e-6, atol=1e-10)
    np.testing.assert_allclose(hindsight.level_var[:, 0], other.smoothed_state_cov[0, 0, days], rtol=1e-6)
    np.testing.assert_allclose(hindsight.cov[:, 0], other.smoothed_state_cov[0, 1, days], rtol=1e-6, atol=1e-12)


def test_equal_errors_are_the_local_linear_trend_of_structural_models():
    days, y, _ = series(9)
    start, drift, noise = (4.0, 0.25, 0.0, 1e-5), (2e-5, 2e-8), np.full(len(y), 9e-4)
    found, _ = ours(days, y, noise, start, drift)
    grid = np.full(int(days[-1]) + 1, np.nan)
    grid[days] = y
    model = UnobservedComponents(grid, level="lltrend")
    model.ssm.initialize_known(np.array([start[0], start[2]]), np.diag([start[1], start[3]]))
    model.ssm.loglikelihood_burn = 0
    other = model.filter([9e-4, *drift])
    np.testing.assert_allclose(found.known.level[:, 0], other.filtered_state[0, days], rtol=1e-9)


def test_lanes_do_not_touch_each_other():
    """Law: a series gives the same answer alone and beside another."""
    (d1, y1, h1), (_, y2, h2) = series(1), series(2)
    gap = np.diff(d1, prepend=d1[0]).astype(float)[:, None] * np.ones((1, 2))
    two = run_filter(
        LevelSeen(gap, np.stack([y1, y2], 1), np.stack([h1, h2], 1)),
        TrendStart(*(np.full(2, v) for v in (4.0, 0.25, 0.0, 1e-5))),
        Drift(np.full(2, 1e-5), np.full(2, 1e-8)),
    )
    one, _ = ours(d1, y1, h1, (4.0, 0.25, 0.0, 1e-5), (1e-5, 1e-8))
    np.testing.assert_array_equal(two.known.level[:, 0], one.known.level[:, 0])


def test_a_slope_begun_afresh_forgets_the_old_one_and_keeps_the_level():
    """Law: right at the row the slope is as asked; level and its variance are as without."""
    days, y, noise = series(3)
    gap = np.diff(days, prepend=days[0]).astype(float)[:, None]
    start, drift = TrendStart(*(np.array([v]) for v in (4.0, 0.25, 0.0, 1e-5))), Drift(np.array([1e-5]), np.array([1e-8]))
    afresh = np.zeros((len(y), 1))
    afresh[20] = 3e-6
    plain = run_filter(LevelSeen(gap, y[:, None], noise[:, None]), start, drift)
    again = run_filter(LevelSeen(gap, y[:, None], noise[:, None], afresh), start, drift)
    assert again.predicted.slope[20, 0] == 0.0
    assert again.predicted.slope_var[20, 0] == 3e-6
    assert again.known.level[20, 0] == plain.known.level[20, 0]


def test_hindsight_across_a_new_slope_equals_conditioning_all_rows_at_once():
    """Oracle: the same Gaussian model written as one big covariance (Rasmussen & Williams 2006, eq. A.6), days without gaps."""
    n, at, noise = 12, 5, 9e-4
    rng = np.random.default_rng(8)
    y = 4 + np.cumsum(rng.normal(0.002, 0.01, n)) + rng.normal(0, 0.03, n)
    first, drift, turn = (4.0, 0.25, 1e-5), (2e-5, 2e-8), 3e-6
    # Rows of what each day's level and slope are made of: first level, first slope, steps of level, steps of slope, the new slope.
    level, slope = np.zeros((n, 3 + 2 * n)), np.zeros((n, 3 + 2 * n))
    level[0, 0] = slope[0, 1] = 1
    for t in range(1, n):
        level[t] = level[t - 1] + slope[t - 1]
        level[t, 3 + t] = 1
        slope[t] = slope[t - 1]
        slope[t, 3 + n + t] = 1
        if t == at:
            slope[t] = 0
            slope[t, 2] = 1
    sizes = np.concatenate([[first[1], first[2], turn], np.full(n, drift[0]), np.full(n, drift[1])])
    both = np.concatenate([level, slope])
    prior, toward = both * sizes @ both.T, both * sizes @ level.T
    gain = toward @ np.linalg.inv(toward[:n] + noise * np.eye(n))
    mean, var = np.repeat([4.0, 0.0], n) + gain @ (y - 4), np.diag(prior - gain @ toward.T)
    afresh = np.zeros((n, 1))
    afresh[at] = turn
    gap = np.ones((n, 1))
    rows = LevelSeen(gap, y[:, None], np.full((n, 1), noise), afresh)
    steps = Drift(*(np.array([v]) for v in drift))
    found = run_filter(rows, TrendStart(*(np.array([v]) for v in (4.0, first[1], 0.0, first[2]))), steps)
    told = smooth(rows, found, steps)
    np.testing.assert_allclose(told.level[:, 0], mean[:n], rtol=1e-9)
    np.testing.assert_allclose(told.slope[:, 0], mean[n:], rtol=1e-6, atol=1e-10)
    np.testing.assert_allclose(told.level_var[:, 0], var[:n], rtol=1e-6)
    np.testing.assert_allclose(told.slope_var[:, 0], var[n:], rtol=1e-6)
