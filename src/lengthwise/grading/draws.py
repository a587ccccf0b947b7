"""Random numbers for bodies and techniques drawn around the model."""

from dataclasses import dataclass
from functools import lru_cache
from zlib import crc32

import numpy as np

from lengthwise.arrays import Array
from lengthwise.distributions import norm
from lengthwise.grading.variation import Direction

CUT = 2.5
"""Draws lie within this many standard deviations."""


@dataclass(frozen=True)
class Streams:
    """Random numbers that depend on what they are for, not on the order in which lifts are asked for.

    Attributes:
        seed: drawn once from the generator that the caller passes in. n_draw: how many draws.
    """

    seed: int
    n_draw: int

    def normal(self, name: str) -> Array:
        """Standard normal numbers cut at CUT for what `name` says, (n_draw,).

        They are spread evenly, one in each of n_draw parts of equal chance, in random order: an order then hangs less on the seed.
        """
        rng = np.random.default_rng([self.seed, crc32(name.encode())])
        return _spread(self.n_draw)[rng.permutation(self.n_draw)]


@lru_cache(maxsize=8)
def _spread(n_draw: int) -> Array:
    """The middles of n_draw parts of equal chance, cut, rising."""
    return np.asarray(np.clip(norm.ppf((np.arange(n_draw) + 0.5) / n_draw), -CUT, CUT))


def streams(n_draw: int, rng: np.random.Generator) -> Streams:
    """The streams of one run."""
    return Streams(int(rng.integers(2**63)), n_draw)


def stream_name(direction: Direction, lift_key: str) -> str:
    """Which random numbers a direction uses: its own for a body, one for each lift for technique."""
    own = "" if direction.shared else f" of {lift_key}"
    return f"{direction.kind} {direction.of}{own}"
