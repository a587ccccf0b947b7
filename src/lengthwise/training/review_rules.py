"""The bounds of a review, each with unit and source, read once from the package's data."""

from dataclasses import dataclass, replace
from functools import cache

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of
from lengthwise.training.trend_data import SourcedValue


class _Warning(Strict):
    words: tuple[str, ...]


class _File(Strict):
    rule: dict[str, SourcedValue]
    warning: _Warning


@dataclass(frozen=True, kw_only=True)
class ReviewRules:
    """Bounds of a review; units and sources in data/review_rules.toml."""

    rise_per_week: float
    rise_trained: float
    rise_advanced: float
    rising_above: float
    falling_below: float
    stall_below: float
    stall_weeks: float
    look_back_weeks: float
    skipped_below: float
    kept_below: float
    long_visits: float
    most_weekly_sets: float
    sets_step: float
    high_reserve: float
    low_readiness: float
    falling_share: float
    pain_visits: float
    pain_days: float
    pain_share: float
    warning_words: tuple[str, ...]

    def for_training(self, training: str) -> "ReviewRules":
        """The bounds with the rise that matters to a person of this training."""
        rises = {"trained": self.rise_trained, "advanced": self.rise_advanced}
        return replace(self, rise_per_week=rises.get(training, self.rise_per_week))


@cache
def review_rules() -> ReviewRules:
    """The bounds that come with Lengthwise.

    Raises:
        DataFileError: the package's file is damaged.
    """
    return ReviewRules(**{k: r.value for k, r in _file().rule.items()}, warning_words=_file().warning.words)


@cache
def _file() -> _File:
    return read_table("review_rules.toml", _File, data_of("training", "review_rules.toml"))
