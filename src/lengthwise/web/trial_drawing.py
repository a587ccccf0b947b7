"""Trials beside the estimate: what was expected as a bar with its interval, what was seen as a point with its own."""

from dataclasses import dataclass

from lengthwise.grading.beside_trials import ComparisonBeside, Difference, TrialsBeside
from lengthwise.web.axes import Span, cut, span_of, ticks

LEFT, WIDTH, ROW, TOP = 240.0, 380.0, 24.0, 30.0
LONGEST_LABEL = 38
SEEN = {1: "more in the first", 0: "not clear", -1: "more in the second"}


@dataclass(frozen=True, kw_only=True)
class Bar:
    """One comparison: its label, x of what was expected (low, middle, high) and seen (low, middle, high), and both in words."""

    label: str
    y: float
    expected: tuple[float, float, float]
    seen: tuple[float, float, float]
    misses: bool
    said: str
    predicted: float


@dataclass(frozen=True)
class Drawing:
    """All bars, where no difference lies, ticks, and the height of it all."""

    bars: tuple[Bar, ...]
    zero: float
    ticks: tuple[tuple[float, str], ...]
    height: float


def drawn(found: TrialsBeside) -> Drawing:
    """The comparisons of an answer, in their order."""
    rows = found.comparisons
    shown = span_of([v for r in rows for v in (r.predicted.mean, r.observed.mean)] + [-5.0, 5.0])
    places = tuple((LEFT + WIDTH * shown.share(v), text) for v, text in ticks(shown))
    bars = tuple(_bar(r, TOP + ROW * i, shown) for i, r in enumerate(rows))
    return Drawing(bars, LEFT + WIDTH * shown.share(0), places, TOP + ROW * len(rows) + 44)


def _bar(row: ComparisonBeside, y: float, shown: Span) -> Bar:
    verdict = "wrong side" if row.side_right is False else "size outside" if row.inside is False else "fits"
    mark = "✗" if row.misses else "✓"
    label = cut(f"{mark} {row.trial} {row.head.replace('_', ' ').replace('+', ', ')}", LONGEST_LABEL)
    side = (row.observed.mean > 0) - (row.observed.mean < 0) if row.clear else 0
    return Bar(
        label=label,
        y=y,
        expected=_places(row.predicted, shown),
        seen=_places(row.observed, shown),
        misses=row.misses,
        said=f"{verdict}: {SEEN[side]}",
        predicted=row.predicted.mean,
    )


def _places(value: Difference, shown: Span) -> tuple[float, float, float]:
    low, middle, high = (LEFT + WIDTH * shown.share(v) for v in (value.low, value.mean, value.high))
    return low, middle, high
