"""How much true effects differ between studies: τ² by ten estimators, Cochran's Q, I² and the Q-profile interval.

Arrays are batched: the last axis is the study, every axis before it a separate set of studies, so one call can fit a
hundred thousand sets. All estimators share one weighted least-squares fit and its projection
P = W − WX(X'WX)⁻¹X'W (Viechtbauer 2005, J Educ Behav Stat 30:261-293; Viechtbauer 2010, J Stat Softw 36(3)).
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import chi2
from lengthwise.errors import InputError, unknown


def read_only(values: npt.ArrayLike) -> Array:
    """A copy of `values` as floats that nobody can write to."""
    array = np.array(values, dtype=float)
    array.setflags(write=False)
    return array


@dataclass(frozen=True)
class Effects:
    """Study effects with their sampling variances and, if asked, moderators.

    Attributes:
        y: effects (..., n_study).
        v: sampling variances (..., n_study), all positive.
        x: design matrix (n_study, n_coef); a column of ones when nothing moderates.
    """

    y: Array
    v: Array
    x: Array = field(default_factory=lambda: np.empty((0, 0)))

    def __post_init__(self) -> None:
        y, v = np.broadcast_arrays(read_only(self.y), read_only(self.v))
        x = read_only(self.x if np.size(self.x) else np.ones((y.shape[-1], 1)))
        for name, value in (("y", read_only(y)), ("v", read_only(v)), ("x", x)):
            object.__setattr__(self, name, value)
        self._check()

    def _check(self) -> None:
        if not (np.isfinite(self.y).all() and np.isfinite(self.v).all() and np.isfinite(self.x).all()):
            raise InputError("effects, variances and moderators must all be finite numbers")
        if not (self.v > 0).all():
            least = float(self.v.min())
            raise InputError(f"every variance must be above 0; the smallest is {least:g}", asked=least)
        if self.x.shape[0] != self.n_study or np.linalg.matrix_rank(self.x) < self.n_coef:
            raise InputError(
                f"{self.n_study} studies cannot carry these {self.n_coef} coefficients: "
                "a moderator repeats another one, does not vary, or there are too few studies"
            )

    @property
    def n_study(self) -> int:
        """How many studies each set has."""
        return int(self.y.shape[-1])

    @property
    def n_coef(self) -> int:
        """How many coefficients the model has."""
        return int(self.x.shape[1])


@dataclass(frozen=True, kw_only=True)
class WeightedFit:
    """Weighted least squares at one τ², with the traces that the estimators need.

    Attributes:
        beta: coefficients (..., n_coef).
        cov: (X'WX)⁻¹ (..., n_coef, n_coef).
        weight: 1/(v + τ²) (..., n_study).
        rss: Σ w e², the weighted residual sum of squares (...).
        rss2: Σ w² e² = y'PPy (...).
        trace: tr P (...).
        trace2: tr PP (...).
    """

    beta: Array
    cov: Array
    weight: Array
    rss: Array
    rss2: Array
    trace: Array
    trace2: Array


def weighted_fit(effects: Effects, tau2: npt.ArrayLike = 0.0) -> WeightedFit:
    """The weighted least-squares fit when the spread between studies is `tau2` (...)."""
    x, w = effects.x, 1.0 / (effects.v + np.asarray(tau2, dtype=float)[..., None])

    def moment(power: int) -> Array:
        return np.asarray((x.T * w[..., None, :] ** power) @ x)

    cov = np.asarray(np.linalg.inv(moment(1)), dtype=float)
    beta = (cov @ ((x.T * w[..., None, :]) @ effects.y[..., None]))[..., 0]
    e = effects.y - beta @ x.T
    a = cov @ moment(2)
    trace = _total(w) - np.trace(a, axis1=-2, axis2=-1)
    trace2 = _total(w**2) + np.trace(a @ a - 2 * cov @ moment(3), axis1=-2, axis2=-1)
    return WeightedFit(beta=beta, cov=cov, weight=w, rss=_total(w * e**2), rss2=_total((w * e) ** 2), trace=trace, trace2=trace2)


def _total(values: npt.ArrayLike) -> Array:
    return np.asarray(np.sum(np.asarray(values, dtype=float), axis=-1), dtype=float)


def _freedom(effects: Effects) -> int:
    return effects.n_study - effects.n_coef


def fixed(effects: Effects) -> Array:
    """τ² when one common effect is assumed: 0."""
    return np.zeros(effects.y.shape[:-1])


def dersimonian_laird(effects: Effects) -> Array:
    """τ² by the moment estimator of DerSimonian & Laird 1986 (Control Clin Trials 7:177-188)."""
    fit = weighted_fit(effects)
    return np.maximum((fit.rss - _freedom(effects)) / fit.trace, 0.0)


def hedges_olkin(effects: Effects) -> Array:
    """τ² from unweighted residuals (Hedges & Olkin 1985, Statistical Methods for Meta-Analysis, ch. 9)."""
    axes = np.linalg.qr(effects.x)[0]
    residual = effects.y - (effects.y @ axes) @ axes.T
    noise = _total(effects.v * (1 - _total(axes**2)))
    return np.maximum((_total(residual**2) - noise) / _freedom(effects), 0.0)


def hunter_schmidt(effects: Effects) -> Array:
    """τ² as (Q − k)/Σw (Hunter & Schmidt 2004, Methods of Meta-Analysis)."""
    fit = weighted_fit(effects)
    return np.maximum((fit.rss - effects.n_study) / _total(fit.weight), 0.0)


def sidik_jonkman(effects: Effects) -> Array:
    """τ² from a crude first guess, never 0 (Sidik & Jonkman 2005, J R Stat Soc C 54:367-384)."""
    crude = effects.y.var(axis=-1)
    return np.asarray(crude * weighted_fit(effects, crude).rss / _freedom(effects))


ROUNDS, HALVINGS = 100, 60


def _iterate(effects: Effects, step: Callable[[WeightedFit], Array], start: Array) -> Array:
    """Follow `step` to where it vanishes or τ² rests at 0, set by set; the few sets that swing or creep are halved in on."""
    tau2 = np.array(np.ravel(start), dtype=float)
    y, v = (a.reshape(-1, effects.n_study) for a in (effects.y, effects.v))
    scale, moving = v.mean(axis=-1), np.arange(tau2.size)
    for _ in range(ROUNDS):
        fit = weighted_fit(Effects(y[moving], v[moving], effects.x), tau2[moving])
        new = np.maximum(tau2[moving] + step(fit), 0.0)
        unsettled = np.abs(new - tau2[moving]) > 1e-10 * (scale[moving] + new)
        tau2[moving], moving = new, moving[unsettled]
        if not moving.size:
            return tau2.reshape(np.shape(start))
    some = Effects(y[moving], v[moving], effects.x)
    tau2[moving] = _halved(lambda t: np.asarray(step(weighted_fit(some, t)) > 0), tau2[moving], scale[moving])
    return tau2.reshape(np.shape(start))


def _halved(rises: Callable[[Array], npt.NDArray[np.bool_]], at: Array, scale: Array) -> Array:
    """τ² of each set between values from which it `rises` and from which it falls, by halving; 0 where it never rises below `at`."""
    up = rises(at)
    low, high = np.where(up, at, 0.0), np.where(up, at + scale, at)
    while (wide := up & rises(high)).any():
        low, high = np.where(wide, high, low), np.where(wide, 2 * high, high)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        up = rises(middle)
        low, high = np.where(up, middle, low), np.where(up, high, middle)
    return low


def reml(effects: Effects) -> Array:
    """τ² by restricted maximum likelihood, Fisher scoring (Viechtbauer 2005, eq. 12)."""
    return _iterate(effects, lambda fit: (fit.rss2 - fit.trace) / fit.trace2, hedges_olkin(effects))


def maximum_likelihood(effects: Effects) -> Array:
    """τ² by maximum likelihood, Fisher scoring (Viechtbauer 2005, eq. 9)."""
    return _iterate(
        effects,
        lambda fit: (fit.rss2 - _total(fit.weight)) / _total(fit.weight**2),
        hedges_olkin(effects),
    )


def paule_mandel(effects: Effects) -> Array:
    """τ² at which the generalised Q equals its expectation (Paule & Mandel 1982, J Res NBS 87:377-385).

    Q(τ²) falls and is convex with slope −y'PPy, so Newton's method from 0 climbs to the root without overshoot.
    """
    return _iterate(effects, lambda fit: (fit.rss - _freedom(effects)) / np.maximum(fit.rss2, 1e-300), fixed(effects))


def empirical_bayes(effects: Effects) -> Array:
    """τ² by Morris 1983's empirical Bayes rule (J Am Stat Assoc 78:47-55); its root is Paule–Mandel's."""
    k, free = effects.n_study, _freedom(effects)
    return _iterate(effects, lambda fit: (k / free * fit.rss - k) / _total(fit.weight), hedges_olkin(effects))


ESTIMATORS: dict[str, Callable[[Effects], Array]] = {
    "fe": fixed,
    "dl": dersimonian_laird,
    "pm": paule_mandel,
    "reml": reml,
    "ml": maximum_likelihood,
    "he": hedges_olkin,
    "hs": hunter_schmidt,
    "sj": sidik_jonkman,
    "eb": empirical_bayes,
}
"""Name → estimator of τ²."""


def tau_squared(effects: Effects, method: str) -> Array:
    """τ² of each set of studies (...) by the named estimator; 0 when the studies do not outnumber the coefficients."""
    if method not in ESTIMATORS:
        raise unknown("pooling method", method, ESTIMATORS)
    if _freedom(effects) < 1:
        return fixed(effects)
    return ESTIMATORS[method](effects)


def typical_variance(effects: Effects) -> Array:
    """The sampling variance of a typical study (...), (k − p)/tr P (Higgins & Thompson 2002, Stat Med 21:1539-1558)."""
    return np.asarray(_freedom(effects) / weighted_fit(effects).trace)


def inconsistency(effects: Effects, tau2: npt.ArrayLike, method: str) -> Array:
    """I² [%]: the share of the variance in the effects that is between studies.

    τ²/(τ² + typical variance); for the fixed model, which has no τ², max(0, (Q − df)/Q).
    """
    if _freedom(effects) < 1:
        return fixed(effects)
    spread = dersimonian_laird(effects) if method == "fe" else np.asarray(tau2, dtype=float)
    return np.asarray(100.0 * spread / (spread + typical_variance(effects)))


def q_profile(effects: Effects, level: float = 0.95) -> tuple[float, float]:
    """The interval of τ² in which the generalised Q is unsurprising (Viechtbauer 2007, Stat Med 26:37-52).

    Takes one set of studies. The interval may exclude the point estimate, which is found in another way.
    """
    from scipy.optimize import brentq  # only here: slow to load

    free = _freedom(effects)
    if free < 1:
        return 0.0, float("inf")

    def bound(quantile: float) -> float:
        def excess(tau2: float) -> float:
            return float(weighted_fit(effects, tau2).rss) - quantile

        if excess(0.0) <= 0:
            return 0.0
        top = float(effects.v.mean())
        while excess(top) > 0:
            top *= 2
        return float(brentq(excess, 0.0, top, xtol=1e-14, rtol=1e-13))

    tail = (1 - level) / 2
    return bound(float(chi2.isf(tail, free))), bound(float(chi2.isf(1 - tail, free)))
