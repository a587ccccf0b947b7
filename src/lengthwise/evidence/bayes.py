"""What a few studies say together when the spread between them can hardly be estimated: a Bayesian pool on a grid.

Normal effects with known variances, a flat prior for the mean and a half-normal prior for τ. Given τ everything is
normal and exact; only τ is integrated numerically (Röver 2020, J Stat Softw 93(6)).
"""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import norm
from lengthwise.errors import InputError
from lengthwise.evidence.heterogeneity import Effects, read_only, weighted_fit


@dataclass(frozen=True, kw_only=True)
class BayesianPool:
    """Posterior of the mean effect and of the spread between studies.

    Attributes:
        mean, sd, interval: posterior mean, standard deviation and central interval of the mean effect.
        above_zero: probability that the mean effect is above 0.
        tau_median, tau_interval: posterior median and central interval of τ.
        prediction: central interval of the true effect of a new study.
        prior_scale: scale of the half-normal prior of τ, in units of the effect.
        tau, density: the grid of τ and its posterior probability masses (n_grid), adding to 1.
    """

    PUBLIC: ClassVar = "mean sd interval above_zero tau=tau_median tau_interval prediction prior"
    mean: float
    sd: float
    interval: tuple[float, float]
    above_zero: float
    tau_median: float
    tau_interval: tuple[float, float]
    prediction: tuple[float, float]
    prior_scale: float
    tau: Array
    density: Array

    @property
    def prior(self) -> str:
        """The priors in words."""
        return f"flat for the mean, half-normal with scale {self.prior_scale:g} for τ"


def _tau_nodes(top: float, n_grid: int) -> tuple[Array, Array]:
    """Gauss–Legendre nodes and weights on 0…top, the integration rule for τ."""
    nodes, weights = np.polynomial.legendre.leggauss(n_grid)
    return top * (nodes + 1) / 2, top * weights / 2


def _mixture_quantile(share: float, mass: Array, centre: Array, spread: Array) -> float:
    """The quantile of a mixture of normals."""
    from scipy.optimize import brentq  # only here: slow to load

    def excess(value: float) -> float:
        return float(mass @ norm.cdf((value - centre) / spread)) - share

    reach = 40 * float(spread.max())
    return float(brentq(excess, float(centre.min()) - reach, float(centre.max()) + reach, xtol=1e-10))


def _central(level: float, mass: Array, centre: Array, spread: Array) -> tuple[float, float]:
    tail = (1 - level) / 2
    return _mixture_quantile(tail, mass, centre, spread), _mixture_quantile(1 - tail, mass, centre, spread)


def bayesian_pool(
    y: npt.ArrayLike, v: npt.ArrayLike, prior_scale: float = 0.5, level: float = 0.95, n_grid: int = 400
) -> BayesianPool:
    """The posterior of the mean of effects `y` (n_study) with variances `v` under a half-normal prior for τ.

    Args:
        y: effects (n_study).
        v: sampling variances (n_study).
        prior_scale: scale of the prior of τ [unit of the effect]; 0.5 suits standardised differences (Röver et al.
            2021, Res Synth Methods 12:448-474), other scales need their own.
        level: of the intervals.
        n_grid: nodes of the quadrature.

    Raises:
        InputError: a prior scale that is not positive.
    """
    if not prior_scale > 0:
        raise InputError(f"prior scale {prior_scale:g} must be above 0", asked=prior_scale, allowed=["> 0"])
    y, v = np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    tau, width = _tau_nodes(8 * prior_scale, n_grid)
    fit = weighted_fit(Effects(np.broadcast_to(y, (n_grid, y.size)), v), tau**2)
    centre, se = fit.beta[:, 0], np.sqrt(fit.cov[:, 0, 0])
    log = norm.logpdf(tau, scale=prior_scale) + np.log(se) + 0.5 * (np.log(fit.weight).sum(axis=-1) - fit.rss)
    mass = width * np.exp(log - log.max())
    mass /= mass.sum()
    mean = float(mass @ centre)
    cdf = np.cumsum(mass) - mass / 2
    tail = (1 - level) / 2
    low, middle, high = np.interp([tail, 0.5, 1 - tail], cdf, tau)
    return BayesianPool(
        mean=mean,
        sd=float(np.sqrt(mass @ (se**2 + (centre - mean) ** 2))),
        interval=_central(level, mass, centre, se),
        above_zero=float(mass @ norm.sf(-centre / se)),
        tau_median=float(middle),
        tau_interval=(float(low), float(high)),
        prediction=_central(level, mass, centre, np.hypot(se, tau)),
        prior_scale=prior_scale,
        tau=read_only(tau),
        density=read_only(mass),
    )
