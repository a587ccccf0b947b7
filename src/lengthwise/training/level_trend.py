"""A level that drifts with a slope that drifts, seen with error on some days: filter and smoother of many such series at once.

Local linear trend with daily steps (Harvey 1989, Forecasting, structural time series models and the Kalman filter, ch. 2.3):
level' = level + slope + N(0, v_level), slope' = slope + N(0, v_slope). A gap of n days is n steps without an observation, taken in
one closed step, so irregular days cost nothing. Series run side by side as lanes: one client's year is some hundred lanes (every
lift under every assumption about drift), which is why this is an array loop of our own; tests hold it to statsmodels' filter.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

LN_2PI = float(np.log(2 * np.pi))


@dataclass(frozen=True)
class Start:
    """What is believed before the first day: normal, level and slope independent; each (n_lane) or one number."""

    level: Array
    level_var: Array
    slope: Array
    slope_var: Array


@dataclass(frozen=True)
class Drift:
    """Variance that a day adds to level and slope; each (n_lane)."""

    level_var: Array
    slope_var: Array


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


def step(state: tuple[Array, ...], days: Array | float, drift: Drift) -> tuple[Array, ...]:
    """Level, slope and (co)variances `days` (n_lane) later, unseen."""
    level, slope, pll, pls, pss = state
    squares = (days - 1) * days * (2 * days - 1) / 6
    pairs = days * (days - 1) / 2
    return (
        level + days * slope,
        slope,
        pll + days * (2 * pls + days * pss) + days * drift.level_var + squares * drift.slope_var,
        pls + days * pss + pairs * drift.slope_var,
        pss + days * drift.slope_var,
    )


@dataclass(frozen=True)
class Seen:
    """Observations of all lanes, each (n_time, n_lane).

    Attributes:
        gap: days since the row before; the first row's are ignored. y: observed, NaN where there is none.
        noise_var: variance of each observation's error. afresh: rows from which the slope is unknown again, as at the start.
    """

    gap: Array
    y: Array
    noise_var: Array
    afresh: NDArray[np.bool_] | None = None


def run_filter(seen_rows: Seen, start: Start, drift: Drift) -> Filtered:
    """Filter all lanes.

    Args:
        seen_rows: observations. start: beliefs on the day of the first row. drift: per day.
    """
    gap, y, noise_var, afresh = seen_rows.gap, seen_rows.y, seen_rows.noise_var, seen_rows.afresh
    n_time, n_lane = y.shape
    predicted, known, likelihood = _empty(n_time, n_lane), _empty(n_time, n_lane), np.zeros(n_lane)
    zero = np.zeros(n_lane)
    state: tuple[Array, ...] = (zero + start.level, zero + start.slope, zero + start.level_var, zero, zero + start.slope_var)
    seen = np.isfinite(y)
    for t in range(n_time):
        if t:
            state = step(state, gap[t], drift)
        if afresh is not None:
            state = _forget_slope(state, afresh[t], start)
        _put(predicted, t, state)
        level, slope, pll, pls, pss = state
        total = pll + noise_var[t]
        surprise = np.where(seen[t], y[t] - level, 0.0)
        gain_level, gain_slope = np.where(seen[t], pll / total, 0.0), np.where(seen[t], pls / total, 0.0)
        likelihood -= np.where(seen[t], 0.5 * (LN_2PI + np.log(total) + surprise**2 / total), 0.0)
        state = (
            level + gain_level * surprise,
            slope + gain_slope * surprise,
            pll * (1 - gain_level),
            pls * (1 - gain_level),
            pss - gain_slope * pls,
        )
        _put(known, t, state)
    return Filtered(predicted, known, likelihood)


def _forget_slope(state: tuple[Array, ...], where: NDArray[np.bool_], start: Start) -> tuple[Array, ...]:
    level, slope, pll, pls, pss = state
    return level, np.where(where, start.slope, slope), pll, np.where(where, 0.0, pls), np.where(where, start.slope_var, pss)


def smooth(gap: Array, found: Filtered) -> States:
    """What is known about each day in hindsight (Rauch, Tung & Striebel 1965, AIAA J 3:1445-1450)."""
    n_time, n_lane = found.known.level.shape
    out = _empty(n_time, n_lane)
    _put(out, n_time - 1, _at(found.known, n_time - 1))
    for t in range(n_time - 2, -1, -1):
        _put(out, t, _hindsight(_at(found.known, t), _at(found.predicted, t + 1), _at(out, t + 1), gap[t + 1]))
    return out


def _hindsight(now: tuple[Array, ...], ahead: tuple[Array, ...], later: tuple[Array, ...], days: Array) -> tuple[Array, ...]:
    level, slope, pll, pls, pss = now
    rll, rls, rss = ahead[2:]
    det = rll * rss - rls * rls
    # Gain = P T' R^-1, with P T' = [[pll + n pls, pls], [pls + n pss, pss]].
    a, b = pll + days * pls, pls + days * pss
    g11, g12 = (a * rss - pls * rls) / det, (pls * rll - a * rls) / det
    g21, g22 = (b * rss - pss * rls) / det, (pss * rll - b * rls) / det
    d_level, d_slope = later[0] - ahead[0], later[1] - ahead[1]
    dll, dls, dss = later[2] - rll, later[3] - rls, later[4] - rss
    return (
        level + g11 * d_level + g12 * d_slope,
        slope + g21 * d_level + g22 * d_slope,
        pll + g11 * g11 * dll + 2 * g11 * g12 * dls + g12 * g12 * dss,
        pls + g11 * g21 * dll + (g11 * g22 + g12 * g21) * dls + g12 * g22 * dss,
        pss + g21 * g21 * dll + 2 * g21 * g22 * dls + g22 * g22 * dss,
    )
