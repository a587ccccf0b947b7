"""The one-repetition maximum of a set by every equation, with what to trust and loads for other repetitions."""

from collections.abc import Mapping
from dataclasses import dataclass

from lengthwise.training.one_rm import (
    DEFAULT,
    EQUATIONS,
    WHY_DEFAULT,
    OneRmEstimate,
    estimate,
    percent_table,
    published,
    repetitions_error,
)


@dataclass(frozen=True, kw_only=True)
class LoadFor:
    """The load for a number of repetitions: by the chosen equation, and per cent of 1RM as printed in two tables."""

    repetitions: int
    percent: float
    load: float
    printed_percent: float | None
    other_percent: float | None


@dataclass(frozen=True, kw_only=True)
class OneRm:
    """The 1RM of a set by every equation, with the spread and loads for other repetitions."""

    equation: str
    one_rm: float
    low: float
    high: float
    by: Mapping[str, float]
    sources: Mapping[str, str]
    notes: tuple[str, ...]
    table: tuple[LoadFor, ...]


def one_rm_of(load: float, repetitions: int, reserve: float) -> OneRm:
    """The 1RM of a set, in the unit of its load."""
    found = estimate(load, repetitions, reserve)
    return OneRm(
        equation=DEFAULT,
        one_rm=found.one_rm,
        low=found.low,
        high=found.high,
        by=found.by,
        sources={name: EQUATIONS[name].source for name in found.by},
        notes=tuple(_notes(found, load)),
        table=tuple(
            LoadFor(repetitions=r, percent=percent, load=found.one_rm * percent / 100, printed_percent=printed, other_percent=other)
            for r, printed, other, percent in percent_table()
        ),
    )


def _notes(found: OneRmEstimate, load: float) -> list[str]:
    """What to trust, in words."""
    low, high = published()["one_rm_error"]["predicted_percent"]
    test = published()["one_rm_error"]["test_to_test_percent"]
    notes = [
        f"{DEFAULT}: {WHY_DEFAULT}.",
        f"Published total error of a 1RM predicted from repetitions: {low:g} to {high:g}%; a tested 1RM itself varies by {test:g}% from day to day.",
        f"Repetitions at a load vary from day to day by about {repetitions_error(100 * load / found.one_rm):.1f} (standard error, bench press).",
    ]
    if not found.trusted:
        notes.append("More than ten possible repetitions: the equations part here and were not tested; take it as a rough guide.")
    return notes
