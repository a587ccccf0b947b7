"""A share of people with its interval."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

Z95 = 1.959963984540054
"""Ends of the middle 95 % of a standard normal distribution."""


@dataclass(frozen=True)
class Share:
    """A part of some people.

    Attributes:
        value: 0-1; half where nobody was asked. low, high: 95 % interval. of: how many people.
    """

    PUBLIC: ClassVar = "share=value interval"
    value: float
    low: float
    high: float
    of: int

    @property
    def interval(self) -> tuple[float, float]:
        """The 95 % interval."""
        return self.low, self.high


def share_of(count: int, of: int) -> Share:
    """`count` of `of` people, with Wilson's score interval (Wilson 1927, JASA 22:209-212; Brown, Cai & DasGupta 2001, Stat Sci 16:101-133)."""
    if of == 0:
        return Share(0.5, 0.0, 1.0, 0)
    p, z2 = count / of, Z95**2
    middle = (p + z2 / (2 * of)) / (1 + z2 / of)
    half = Z95 * np.sqrt(p * (1 - p) / of + z2 / (4 * of**2)) / (1 + z2 / of)
    return Share(p, float(max(middle - half, 0.0)), float(min(middle + half, 1.0)), of)
