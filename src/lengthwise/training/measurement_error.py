"""How far two body measurements must differ before the difference is more than error."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import ClassVar

import numpy as np
from pydantic import Field, model_validator

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of
from lengthwise.training.log import Measurement
from lengthwise.training.measure_kinds import MEASURES, MeasureKind

Z = 1.96
"""Two-sided 95 % quantile of the normal distribution, as in Weir 2005."""

PUBLISHED_FREEDOM = 10.0
"""How many repeats of a client's own it takes to count as much as the published error (choice)."""


class _Row(Strict):
    kind: MeasureKind
    sites: tuple[str, ...]
    repeat: float = Field(gt=0)
    day: float = Field(ge=0)
    percent: bool = False
    source: str = Field(min_length=1)


class _Number(Strict):
    value: float
    source: str


class Expected(Strict):
    """Mean growth in the trials behind a claim."""

    claim: str
    percent: _Number
    weeks: _Number
    spread_of_people: _Number
    muscle_share_of_limb: _Number


class ErrorFile(Strict):
    """What data/measurement_error.toml says."""

    measure: tuple[_Row, ...]
    expected: Expected

    @model_validator(mode="after")
    def _every_kind(self) -> "ErrorFile":
        general = {row.kind for row in self.measure if not row.sites}
        if without := [kind for kind, measure in MEASURES.items() if measure.unit and kind not in general]:
            raise ValueError(f"every kind with readings needs a row with sites = []; found none for {', '.join(without)}")
        return self


@dataclass(frozen=True)
class TypicalError:
    """Error of one measure in its own unit.

    Attributes:
        repeat: spread of readings of one visit. day: spread between visits beside that. source: where from.
        own_repeats: degrees of freedom of the client's own readings in `repeat`.
    """

    PUBLIC: ClassVar = "repeat day own_repeats source"
    repeat: float
    day: float
    source: str
    own_repeats: int = 0

    def of_mean(self, visits: int, readings: int) -> float:
        """Standard error of a mean of some readings spread evenly over some visits."""
        return float(np.sqrt(self.day**2 / visits + self.repeat**2 / readings))


@cache
def _table() -> ErrorFile:
    return read_table("measurement_error.toml", ErrorFile, data_of("training", "measurement_error.toml"))


def expected_growth() -> Expected:
    """What the trials found on average, with sources."""
    return _table().expected


def typical_error(kind: MeasureKind, site: str, value: float) -> TypicalError:
    """The published error of a measure at a value of this size; a site without a row of its own takes its kind's general one."""
    rows = [r for r in _table().measure if r.kind == kind]
    row = next((r for r in rows if site in r.sites), next(r for r in rows if not r.sites))
    scale = value / 100 if row.percent else 1.0
    return TypicalError(row.repeat * scale, row.day * scale, row.source)


def with_own_repeats(published: TypicalError, measurements: Sequence[Measurement]) -> TypicalError:
    """The error with the client's own spread of readings within visits mixed in, by degrees of freedom.

    Between-day error cannot be told from growth, so it stays as published.
    """
    squares = sum(float(np.var(m.values)) * len(m.values) for m in measurements if len(m.values) > 1)
    free = sum(len(m.values) - 1 for m in measurements if len(m.values) > 1)
    mixed = (PUBLISHED_FREEDOM * published.repeat**2 + squares) / (PUBLISHED_FREEDOM + free)
    return TypicalError(float(np.sqrt(mixed)), published.day, published.source, free)


def smallest_detectable(before: float, after: float) -> float:
    """Change that error alone exceeds once in twenty, from the standard errors of two means."""
    return float(Z * np.hypot(before, after))
