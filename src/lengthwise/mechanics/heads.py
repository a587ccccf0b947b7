"""Which line belongs to which head of a balance: right heads, then left ones with `_left`."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array


@lru_cache(maxsize=8)
def head_matrix(heads: tuple[str, ...], sides: tuple[str, ...]) -> tuple[tuple[str, ...], Array]:
    """Names of the heads, and which line is whose, (n_head, n_line) of 0 and 1."""
    of_line = _named(heads, sides)
    names = tuple(dict.fromkeys(of_line))
    member = np.array([[float(h == n) for h in of_line] for n in names])
    member.setflags(write=False)
    return names, member


def head_index(heads: tuple[str, ...], sides: tuple[str, ...]) -> NDArray[np.int32]:
    """The head of each line as its place among the names, (n_line,)."""
    _, member = head_matrix(heads, sides)
    return np.asarray(np.argmax(member, axis=0), np.int32)


def _named(heads: tuple[str, ...], sides: tuple[str, ...]) -> list[str]:
    return [head + ("_left" if side == "left" else "") for head, side in zip(heads, sides, strict=True)]
