"""Means of draws freed of most of their chance by functions whose posterior mean is 0 (Mira, Solgi & Imparato 2013, Stat Comput 23:653)."""

from itertools import combinations_with_replacement

import numpy as np


def nulls(z: np.ndarray, slope: np.ndarray) -> np.ndarray:
    """Δp + ∇p · slope for every monomial p up to the third degree, (n_draw, n_null).

    Args:
        z: draws, (n_draw, n). slope: gradient of the log density at each, (n_draw, n).
    """
    n = z.shape[1]
    out = []
    for degree in (1, 2, 3):
        for p in combinations_with_replacement(range(n), degree):
            power = np.bincount(p, minlength=n)
            found = np.zeros(len(z))
            for j in np.flatnonzero(power):
                rest = np.prod(np.delete(z, j, 1) ** np.delete(power, j), axis=1)
                found += power[j] * z[:, j] ** (power[j] - 1) * rest * slope[:, j]
                if power[j] > 1:
                    found += power[j] * (power[j] - 1) * z[:, j] ** (power[j] - 2) * rest
            out.append(found)
    return np.array(out).T


def without_chance(value: np.ndarray, against: np.ndarray, weight: np.ndarray) -> np.ndarray:
    """What is left of values, (n_draw,), once the null functions explain what they can; its weighted mean is that of the values."""
    rows = np.column_stack([np.ones(len(value)), against]) * weight[:, None]
    found, *_ = np.linalg.lstsq(rows, value * weight, rcond=None)
    return np.asarray(value - against @ found[1:])
