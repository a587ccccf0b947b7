"""The normal, t, χ² and F distributions, named and called as in `scipy.stats`.

They are made of the same functions of `scipy.special` that `scipy.stats` calls, without its half second of loading; the normal
distribution, which orders of lifts and weeks ask for, needs not even that.
"""

import math

import numpy as np
from numpy.typing import ArrayLike

from lengthwise.later import special

LOG_ROOT_2_PI = 0.5 * np.log(2 * np.pi)
_MIDDLE, _NEAR, _FAR = 0.425, 1.6, 5.0
_QUANTILE = {
    "middle": (
        (2509.0809287301226727, 33430.575583588128105, 67265.770927008700853, 45921.953931549871457, 13731.693765509461125,
         1971.5909503065514427, 133.14166789178437745, 3.3871328727963666080),
        (5226.4952788528545610, 28729.085735721942674, 39307.895800092710610, 21213.794301586595867, 5394.1960214247511077,
         687.18700749205790830, 42.313330701600911252, 1.0),
    ),
    "near": (
        (7.74545014278341407640e-4, 0.0227238449892691845833, 0.241780725177450611770, 1.27045825245236838258, 3.64784832476320460504,
         5.76949722146069140550, 4.63033784615654529590, 1.42343711074968357734),
        (1.05075007164441684324e-9, 5.475938084995344946e-4, 0.0151986665636164571966, 0.148103976427480074590, 0.689767334985100004550,
         1.67638483018380384940, 2.05319162663775882187, 1.0),
    ),
    "far": (
        (2.01033439929228813265e-7, 2.71155556874348757815e-5, 0.00124266094738807843860, 0.0265321895265761230930, 0.296560571828504891230,
         1.78482653991729133580, 5.46378491116411436990, 6.65790464350110377720),
        (2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4, 0.0148753612908506148525,
         0.136929880922735805310, 0.599832206555887937690, 1.0),
    ),
}  # fmt: skip
"""Numerator and denominator of three quotients, highest power first: Wichura 1988, Applied Statistics 37:477-484, algorithm AS 241."""


def log_gamma(x: ArrayLike) -> np.ndarray:
    """Natural logarithm of the gamma function of numbers from 0 on; at 0 it is infinite."""
    values = np.asarray(x, dtype=float)
    each = [math.lgamma(v) if v != 0 else math.inf for v in values.flat]
    return np.array(each).reshape(values.shape)


def _below(x: ArrayLike) -> np.ndarray:
    """Probability that a standard normal number is less than `x`."""
    values = np.asarray(x, dtype=float) / -math.sqrt(2)
    return np.array([0.5 * math.erfc(v) for v in values.flat]).reshape(values.shape)


def _quotient(part: str, r: np.ndarray) -> np.ndarray:
    above, below = _QUANTILE[part]
    return np.asarray(np.polyval(above, r) / np.polyval(below, r))


def normal_quantile(q: ArrayLike) -> np.ndarray:
    """The value of a standard normal number that is exceeded with probability 1 - `q`, to about 1e-16 of it; NaN outside 0 to 1."""
    p = np.asarray(q, dtype=float)
    off, tail = p - 0.5, np.minimum(p, 1 - p)
    with np.errstate(divide="ignore", invalid="ignore"):
        r = np.sqrt(-np.log(tail))
        outer = np.where(r <= _FAR, _quotient("near", r - _NEAR), _quotient("far", np.minimum(r, 40.0) - _FAR))
    outer = np.where(tail == 0, np.inf, outer)
    return np.where(np.abs(off) <= _MIDDLE, off * _quotient("middle", _MIDDLE**2 - off**2), np.copysign(outer, off))


class norm:
    """The standard normal distribution."""

    @staticmethod
    def cdf(x: ArrayLike) -> np.ndarray:
        """Probability of less than `x`."""
        return _below(x)

    @staticmethod
    def sf(x: ArrayLike) -> np.ndarray:
        """Probability of more than `x`."""
        return _below(-np.asarray(x, dtype=float))

    @staticmethod
    def ppf(q: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability 1 - `q`."""
        return normal_quantile(q)

    @staticmethod
    def isf(q: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability `q`."""
        return -normal_quantile(q)

    @staticmethod
    def logpdf(x: ArrayLike, scale: ArrayLike = 1.0) -> np.ndarray:
        """Natural logarithm of the density at `x` where the standard deviation is `scale`."""
        return np.asarray(-((np.asarray(x) / scale) ** 2) / 2 - LOG_ROOT_2_PI - np.log(scale))


class t:
    """Student's t distribution with `df` degrees of freedom."""

    @staticmethod
    def sf(x: ArrayLike, df: ArrayLike) -> np.ndarray:
        """Probability of more than `x`."""
        return np.asarray(special.stdtr(df, -np.asarray(x)))

    @staticmethod
    def ppf(q: ArrayLike, df: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability 1 - `q`."""
        return np.asarray(special.stdtrit(df, q))

    @staticmethod
    def isf(q: ArrayLike, df: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability `q`."""
        return np.asarray(-special.stdtrit(df, q))


class chi2:
    """The χ² distribution with `df` degrees of freedom."""

    @staticmethod
    def sf(x: ArrayLike, df: ArrayLike) -> np.ndarray:
        """Probability of more than `x`."""
        return np.asarray(special.chdtrc(df, x))

    @staticmethod
    def isf(q: ArrayLike, df: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability `q`."""
        return np.asarray(special.chdtri(df, q))


class f:
    """The F distribution with `dfn` and `dfd` degrees of freedom."""

    @staticmethod
    def sf(x: ArrayLike, dfn: ArrayLike, dfd: ArrayLike) -> np.ndarray:
        """Probability of more than `x`."""
        return np.asarray(special.fdtrc(dfn, dfd, x))
