"""Error sizes and beliefs behind strength trends, read once from the package's data."""

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of


class SourcedValue(Strict):
    """A number with its unit and source."""

    value: float
    unit: str
    source: str


class DriftTable(Strict):
    """Assumptions about drift and error that are tried side by side, with their weights before the log is seen."""

    source: str
    slope_change_per_week: tuple[float, ...]
    slope_weight: tuple[float, ...]
    level_change: tuple[float, ...]
    level_weight: tuple[float, ...]
    error_multiple: tuple[float, ...]
    error_weight: tuple[float, ...]
    turn_weeks: tuple[float, ...]
    turn_weight: tuple[float, ...]


class _File(Strict):
    error: dict[str, SourcedValue]
    belief: dict[str, SourcedValue]
    drift: DriftTable
    outliers: dict[str, SourcedValue]


@dataclass(frozen=True, kw_only=True)
class ErrorSizes:
    """Sizes of error; repetitions unless said otherwise (see data/trend.toml for sources)."""

    repetitions: float
    reserve_at_failure: float
    reserve_per_repetition: float
    unjudged_reserve: float
    unjudged_spread: float
    day: float
    equation_per_repetition: float
    most_repetitions: float


@dataclass(frozen=True)
class Belief:
    """What is believed before a log is seen [ln kg, ln per week]."""

    slope_per_week: float
    slope_spread_per_week: float
    turn_spread_per_week: float
    slope_halves_weeks: float
    level_spread: float

    @property
    def slope_var(self) -> float:
        """Variance of the slope per day."""
        return (self.slope_spread_per_week / 7) ** 2

    @property
    def slope_kept(self) -> float:
        """Part of the slope that is kept from day to day."""
        return float(0.5 ** (1 / (7 * self.slope_halves_weeks)))

    @property
    def turn_var(self) -> float:
        """Variance of the slope per day after a turn."""
        return (self.turn_spread_per_week / 7) ** 2


@dataclass(frozen=True)
class Assumptions:
    """Every combination of drift and error that is tried; each array (n_assumption).

    Attributes:
        level_var, slope_var: variance a day adds to level [ln²] and slope per day. error: multiple of the published error.
        turn_weeks: how long ago the slope turned to another one from one day to the next; 0 where it did not.
        prior: weight before the log is seen, adding to 1.
    """

    level_var: np.ndarray[Any, np.dtype[np.float64]]
    slope_var: np.ndarray[Any, np.dtype[np.float64]]
    error: np.ndarray[Any, np.dtype[np.float64]]
    turn_weeks: np.ndarray[Any, np.dtype[np.float64]]
    prior: np.ndarray[Any, np.dtype[np.float64]]


@dataclass(frozen=True)
class TrendData:
    """Everything in data/trend.toml."""

    error: ErrorSizes
    belief: Belief
    assumptions: Assumptions
    freedom: float


@cache
def trend_data() -> TrendData:
    """Error sizes, beliefs and assumptions that come with Lengthwise.

    Raises:
        DataFileError: the package's file is damaged.
    """
    table = read_table("trend.toml", _File, data_of("training", "trend.toml"))
    sizes = ErrorSizes(**{k: v.value for k, v in table.error.items()})
    belief = Belief(**{k: v.value for k, v in table.belief.items()})
    return TrendData(sizes, belief, _combined(table.drift), table.outliers["freedom"].value)


def _combined(drift: DriftTable) -> Assumptions:
    tried = (drift.slope_change_per_week, drift.level_change, drift.error_multiple, drift.turn_weeks)
    weights = np.meshgrid(drift.slope_weight, drift.level_weight, drift.error_weight, drift.turn_weight, indexing="ij")
    slope, level, error, turn = (g.ravel() for g in np.meshgrid(*tried, indexing="ij"))
    prior = np.prod([w.ravel() for w in weights], axis=0)
    return Assumptions((level**2) / 28, (slope / 7) ** 2 / 56, error, turn, prior / prior.sum())
