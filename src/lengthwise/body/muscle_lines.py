"""The muscle lines of a body, and which of them belong to a head."""

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.errors import unknown


@dataclass(frozen=True, kw_only=True)
class Lines:
    """The muscle lines of a body, right side first, then the left in the same order.

    Attributes:
        names: with the side, (n_line,).
        heads: head of each line, without the side, (n_line,).
        groups: strength group of each line, (n_line,).
        sides: "right" or "left", (n_line,).
        optimal_m, slack_m: optimal fibre and tendon slack length [m], (n_line,).
        pennation_rad: at optimal length [rad], (n_line,).
        max_force_n: isometric force at optimal length [N], (n_line,).
    """

    names: tuple[str, ...]
    heads: tuple[str, ...]
    groups: tuple[str, ...]
    sides: tuple[str, ...]
    optimal_m: Array
    slack_m: Array
    pennation_rad: Array
    max_force_n: Array

    def of_head(self, head: str, side: str = "right") -> NDArray[np.intp]:
        """Indices of the lines of a head on one side.

        Raises:
            UnknownNameError: the body has no such head.
        """
        return _of_head(self.heads, self.sides, head, side)

    def of_heads(self, names: tuple[str, ...]) -> "Picked":
        """The lines of some heads one after the other; a name ends in `_left` for the left side.

        Raises:
            UnknownNameError: the body has no such head.
        """
        return _picked(self.heads, self.sides, names)

    @cached_property
    def share_of_head(self) -> Array:
        """Each line's part of the force of its head on its side, (n_line,)."""
        out = np.zeros(len(self.names))
        for pick in _by_head(self.heads, self.sides).values():
            out[pick] = self.max_force_n[pick] / self.max_force_n[pick].sum()
        return out


@dataclass(frozen=True)
class Picked:
    """Lines of some heads, head after head.

    Attributes:
        lines: which, (n_picked,). first: where each head's begin among them, (n_head,). count: how many each head has, (n_head,).
    """

    lines: NDArray[np.intp]
    first: NDArray[np.intp]
    count: NDArray[np.intp]

    def summed(self, of_line: Array) -> Array:
        """A number of each picked line, or columns of them, summed over each head: the last axis becomes (n_head,)."""
        return np.asarray(np.add.reduceat(of_line, self.first, axis=-1))


@lru_cache(maxsize=8)
def _by_head(heads: tuple[str, ...], sides: tuple[str, ...]) -> dict[tuple[str, str], NDArray[np.intp]]:
    """Which lines belong to each head on each side: bodies whose lines differ in numbers alone share it."""
    pairs = list(zip(heads, sides, strict=True))
    return {pair: np.flatnonzero([p == pair for p in pairs]) for pair in dict.fromkeys(pairs)}


def _of_head(heads: tuple[str, ...], sides: tuple[str, ...], head: str, side: str) -> NDArray[np.intp]:
    known = _by_head(heads, sides)
    if (head, side) not in known:
        raise unknown("head", head, anatomy.heads())
    return known[head, side]


@lru_cache(maxsize=256)
def _picked(heads: tuple[str, ...], sides: tuple[str, ...], names: tuple[str, ...]) -> Picked:
    picks = [_of_head(heads, sides, n.removesuffix("_left"), "left" if n.endswith("_left") else "right") for n in names]
    count = np.array([len(p) for p in picks])
    return Picked(np.concatenate(picks), np.cumsum(count) - count, count)
