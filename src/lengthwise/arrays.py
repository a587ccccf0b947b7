"""Arrays of numbers, as every room means them."""

from collections.abc import Iterable
from dataclasses import fields
from functools import cache
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

Row = TypeVar("Row")

Array = NDArray[np.float64]
"""Of doubles, of any shape; docstrings say which."""


def of_row(kind: type[Row], values: Iterable[Any]) -> Row:
    """A dataclass from a row of a table whose columns are its fields, in their order.

    Raises:
        ValueError: a row of another length.
    """
    return kind(**dict(zip(_columns(kind), values, strict=True)))  # type: ignore[arg-type]  # a class is hashable


@cache
def _columns(kind: Any) -> tuple[str, ...]:
    return tuple(f.name for f in fields(kind))
