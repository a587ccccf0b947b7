"""The normal, t, χ² and F distributions, named and called as in `scipy.stats`.

They are made of the same functions of `scipy.special` that `scipy.stats` calls, without its half second of loading.
"""

import numpy as np
from numpy.typing import ArrayLike

from lengthwise.later import special

LOG_ROOT_2_PI = 0.5 * np.log(2 * np.pi)


class norm:
    """The standard normal distribution."""

    @staticmethod
    def cdf(x: ArrayLike) -> np.ndarray:
        """Probability of less than `x`."""
        return np.asarray(special.ndtr(x))

    @staticmethod
    def sf(x: ArrayLike) -> np.ndarray:
        """Probability of more than `x`."""
        return np.asarray(special.ndtr(-np.asarray(x)))

    @staticmethod
    def ppf(q: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability 1 - `q`."""
        return np.asarray(special.ndtri(q))

    @staticmethod
    def isf(q: ArrayLike) -> np.ndarray:
        """The value that is exceeded with probability `q`."""
        return np.asarray(-special.ndtri(q))

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
