"""Adds to tests/reference/growth_chain.json what the fit of growth says of its invented trials, from many draws:  python validation/growth_posterior.py

The draws and weights are those of lengthwise.growth.fit with more of them; slopes come from differences of its own densities.
"""

import json
import sys
from pathlib import Path

import numpy as np

from lengthwise.growth.fit import CHUNK, TAIL, Posterior, log_prior, weighed
from lengthwise.growth.law import NAMES
from lengthwise.growth.likelihood import Data
from quiet_means import nulls, without_chance

TESTS = Path(__file__).parents[1] / "tests"
PLACE = TESTS / "reference" / "growth_chain.json"
N_DRAW, SEED, STEP = 130_000, 7, 1e-4


def slopes(data: Data, x: np.ndarray, scale: np.ndarray) -> np.ndarray:
    """Gradient of the log density in units of `scale`, (n_draw, n_coefficient)."""

    def density(at: np.ndarray) -> np.ndarray:
        return log_prior(at) + np.concatenate([data.log_likelihood(at[i : i + CHUNK]).sum(1) for i in range(0, len(at), CHUNK)])

    moves = np.eye(len(scale)) * scale * STEP
    return np.array([(density(x + m) - density(x - m)) / (2 * STEP) for m in moves]).T


def told(found: Posterior, data: Data) -> dict[str, dict[str, float]]:
    """Mean and spread of every coefficient with the error of the mean."""
    weight = found.weights
    keep = weight > weight.max() * 1e-9
    weight, draws = weight[keep] / weight[keep].sum(), found.draws[keep]
    z, out = (draws - found.mean) / found.sd, {}
    against = nulls(z, slopes(data, draws, found.sd))
    for k, name in enumerate(NAMES):
        first, second = (without_chance(z[:, k] ** power, against, weight) for power in (1, 2))
        mean, square = weight @ first, weight @ second
        error = float(np.sqrt((weight**2 * (first - mean) ** 2).sum()))
        out[name] = {
            "mean": float(found.mean[k] + found.sd[k] * mean), "sd": float(found.sd[k] * np.sqrt(square - mean**2)),
            "error": float(found.sd[k] * error),
        }  # fmt: skip
    return out


def main() -> None:
    """Draw, and write beside the chain."""
    sys.path.insert(0, str(TESTS / "growth"))
    from invented import PINNED, pinned_trials

    rng, data = np.random.default_rng(SEED), Data(pinned_trials())
    found = weighed(data, rng.standard_normal((N_DRAW, len(NAMES))), rng.chisquare(TAIL, N_DRAW))
    PLACE.write_text(
        json.dumps({**PINNED, "fit": {"draws": N_DRAW, "posterior": told(found, data)}}, indent=1) + "\n", encoding="utf-8"
    )


if __name__ == "__main__":
    main()
