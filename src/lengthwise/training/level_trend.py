"""A level that drifts with a slope that drifts, seen with error on some days: filter and smoother of many such series at once.

Local linear trend with daily steps (Harvey 1989, Forecasting, structural time series models and the Kalman filter, ch. 2.3), its slope
damped (Gardner & McKenzie 1985, Management Science 31:1237-1246): level' = level + slope + N(0, v_level),
slope' = kept slope + N(0, v_slope). A gap of n days is n steps without an observation, taken in one closed step, so irregular days
cost nothing. Series run side by side as lanes: one client's year is some hundred lanes (every
lift under every assumption about drift), which is why this is an array loop of our own; tests hold it to statsmodels' filter.
"""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array

LN_2PI = float(np.log(2 * np.pi))


@dataclass(frozen=True)
class TrendStart:
    """What is believed before the first day: normal, level and slope independent; each (n_lane) or one number."""

    level: Array
    level_var: Array
    slope: Array
    slope_var: Array


@dataclass(frozen=True)
class Drift:
    """Variance that a day adds to level and slope, each (n_lane), and the part of the slope that is kept from day to day."""

    level_var: Array
    slope_var: Array
    kept: float = 1.0

    def sums(self, days: Array) -> "Sums":
        """What some days do, for each entry of `days` (whole, of any shape)."""
        whole = days.astype(np.intp)
        return Sums(*(np.asarray(x)[whole] for x in self._sums(np.arange(whole.max() + 1.0))))

    def _sums(self, n: Array) -> tuple[Array, ...]:
        if self.kept == 1.0:
            return np.ones_like(n), n, (n - 1) * n * (2 * n - 1) / 6, n * (n - 1) / 2, n
        lost, rest = 1 - self.kept, self.kept**n
        added, squares = (1 - rest) / lost, (1 - rest**2) / (1 - self.kept**2)
        return rest, added, (n - 2 * added + squares) / lost**2, (added - squares) / lost, squares


@dataclass(frozen=True)
class Sums:
    """What n days do. With a(m) = 1 + kept + ... + kept^(m - 1), all of one shape:

    Attributes:
        rest: part of the slope that is left, kept^n. added: to the level by a slope of 1, a(n).
        level, both, slope: variances and covariance that a slope variance of 1 a day gives: sums of a(m)², a(m) kept^m and kept^2m
            over m from 0 to n - 1.
    """

    rest: Array
    added: Array
    level: Array
    both: Array
    slope: Array

    def at(self, t: int) -> "Sums":
        """One row."""
        return Sums(self.rest[t], self.added[t], self.level[t], self.both[t], self.slope[t])


@dataclass(frozen=True)
class States:
    """Level and slope [per day] with their (co)variances, each (n_time, n_lane)."""

    level: Array
    slope: Array
    level_var: Array
    cov: Array
    slope_var: Array


@dataclass(frozen=True)
class Filtered:
    """What was known on each day: before (predicted) and after its observation, and the log likelihood (n_lane) of all."""

    predicted: States
    known: States
    log_likelihood: Array


def _empty(n_time: int, n_lane: int) -> States:
    return States(*(np.empty((n_time, n_lane)) for _ in range(5)))


def _put(into: States, t: int, state: tuple[Array, ...]) -> None:
    for name, value in zip(("level", "slope", "level_var", "cov", "slope_var"), state, strict=True):
        getattr(into, name)[t] = value


def _at(states: States, t: int) -> tuple[Array, ...]:
    return states.level[t], states.slope[t], states.level_var[t], states.cov[t], states.slope_var[t]


def step(state: tuple[Array, ...], days: float, drift: Drift) -> tuple[Array, ...]:
    """Level, slope and (co)variances some days later, unseen."""
    return _step(state, np.asarray(days), drift.sums(np.asarray(days)), drift)


def _step(state: tuple[Array, ...], days: Array, over: Sums, drift: Drift) -> tuple[Array, ...]:
    level, slope, pll, pls, pss = state
    return (
        level + over.added * slope,
        over.rest * slope,
        pll + over.added * (2 * pls + over.added * pss) + days * drift.level_var + over.level * drift.slope_var,
        over.rest * (pls + over.added * pss) + over.both * drift.slope_var,
        over.rest**2 * pss + over.slope * drift.slope_var,
    )


@dataclass(frozen=True)
class LevelSeen:
    """Observations of all lanes, each (n_time, n_lane).

    Attributes:
        gap: days since the row before; the first row's are ignored. y: observed, NaN where there is none.
        noise_var: variance of each observation's error. afresh: variance of the slope that begins on a row, unlike the one before and
            with the start's mean; 0 where the old one goes on.
    """

    gap: Array
    y: Array
    noise_var: Array
    afresh: Array | None = None


def run_filter(seen_rows: LevelSeen, start: TrendStart, drift: Drift) -> Filtered:
    """Filter all lanes.

    Args:
        seen_rows: observations. start: beliefs on the day of the first row. drift: per day.
    """
    gap, y = seen_rows.gap, seen_rows.y
    n_time, n_lane = y.shape
    predicted, known, likelihood = _empty(n_time, n_lane), _empty(n_time, n_lane), np.zeros(n_lane)
    zero = np.zeros(n_lane)
    state: tuple[Array, ...] = (zero + start.level, zero + start.slope, zero + start.level_var, zero, zero + start.slope_var)
    over, afresh = drift.sums(gap), np.zeros((n_time, 1)) if seen_rows.afresh is None else seen_rows.afresh
    begins = np.any(afresh, axis=1, keepdims=True)
    for t in range(n_time):
        if t:
            state = _step(state, gap[t], over.at(t), drift)
        if begins[t, 0]:
            state = _begin_slope(state, afresh[t], start)
        _put(predicted, t, state)
        state, surprised = _told(state, y[t], seen_rows.noise_var[t])
        likelihood -= surprised
        _put(known, t, state)
    return Filtered(predicted, known, likelihood)


def _told(state: tuple[Array, ...], y: Array, noise_var: Array) -> tuple[tuple[Array, ...], Array]:
    """The state after a row's observations (NaN: none), and minus their log likelihood."""
    level, slope, pll, pls, pss = state
    seen, total = np.isfinite(y), pll + noise_var
    surprise = np.where(seen, y - level, 0.0)
    gain_level, gain_slope = np.where(seen, pll / total, 0.0), np.where(seen, pls / total, 0.0)
    after = (
        level + gain_level * surprise,
        slope + gain_slope * surprise,
        pll * (1 - gain_level),
        pls * (1 - gain_level),
        pss - gain_slope * pls,
    )
    return after, np.where(seen, 0.5 * (LN_2PI + np.log(total) + surprise**2 / total), 0.0)


def _begin_slope(state: tuple[Array, ...], var: Array, start: TrendStart) -> tuple[Array, ...]:
    level, slope, pll, pls, pss = state
    here = var > 0
    return level, np.where(here, start.slope, slope), pll, np.where(here, 0.0, pls), np.where(here, var, pss)


def smooth(seen_rows: LevelSeen, found: Filtered, drift: Drift) -> States:
    """What is known about each day in hindsight (Rauch, Tung & Striebel 1965, AIAA J 3:1445-1450), of the rows that were filtered."""
    n_time, n_lane = found.known.level.shape
    out, over = _empty(n_time, n_lane), drift.sums(seen_rows.gap)
    rest = over.rest if seen_rows.afresh is None else np.where(seen_rows.afresh > 0, 0.0, over.rest)
    _put(out, n_time - 1, _at(found.known, n_time - 1))
    for t in range(n_time - 2, -1, -1):
        between = over.added[t + 1], rest[t + 1]
        _put(out, t, _hindsight(_at(found.known, t), _at(found.predicted, t + 1), _at(out, t + 1), between))
    return out


def _hindsight(
    now: tuple[Array, ...], ahead: tuple[Array, ...], later: tuple[Array, ...], between: tuple[Array, Array]
) -> tuple[Array, ...]:
    """`between`: what a slope of 1 adds to the level until the next row, and the part of it that is kept."""
    level, slope, pll, pls, pss = now
    rll, rls, rss = ahead[2:]
    added, rest = between
    det = rll * rss - rls * rls
    # Gain = P T' R^-1, with P T' = [[pll + added pls, rest pls], [pls + added pss, rest pss]].
    a, b, c, d = pll + added * pls, pls + added * pss, rest * pls, rest * pss
    g11, g12 = (a * rss - c * rls) / det, (c * rll - a * rls) / det
    g21, g22 = (b * rss - d * rls) / det, (d * rll - b * rls) / det
    d_level, d_slope = later[0] - ahead[0], later[1] - ahead[1]
    dll, dls, dss = later[2] - rll, later[3] - rls, later[4] - rss
    return (
        level + g11 * d_level + g12 * d_slope,
        slope + g21 * d_level + g22 * d_slope,
        pll + g11 * g11 * dll + 2 * g11 * g12 * dls + g12 * g12 * dss,
        pls + g11 * g21 * dll + (g11 * g22 + g12 * g21) * dls + g12 * g22 * dss,
        pss + g21 * g21 * dll + 2 * g21 * g22 * dls + g22 * g22 * dss,
    )
