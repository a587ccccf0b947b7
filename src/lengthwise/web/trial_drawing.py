"""Trials beside the model as bars from no difference: to the right more in the first arm, to the left more in the second."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lengthwise.web.axes import Span, cut, span_of, ticks

LEFT, WIDTH, ROW, TOP = 220.0, 380.0, 24.0, 30.0
LONGEST_LABEL = 34
FOUND = {1: "more in the first", 0: "no difference", -1: "more in the second"}


@dataclass(frozen=True)
class Bar:
    """One comparison: its label, its bar from x to x + width, and what the trial found with the verdict in words."""

    label: str
    y: float
    x: float
    width: float
    agree: bool
    said: str
    predicted: float


@dataclass(frozen=True)
class Drawing:
    """All bars, the band in which the model sees no difference (from, width), ticks, and the size of it all."""

    bars: tuple[Bar, ...]
    band: tuple[float, float]
    zero: float
    ticks: tuple[tuple[float, str], ...]
    height: float


def drawn(answer: Mapping[str, Any]) -> Drawing:
    """The comparisons of an answer, in their order."""
    rows, band = answer["comparisons"], answer["band"]
    seen = span_of([r["predicted"] for r in rows] + [-2 * band, 2 * band])
    low, high = (LEFT + WIDTH * seen.share(v) for v in (-band, band))
    places = tuple((LEFT + WIDTH * seen.share(v), text) for v, text in ticks(seen))
    bars = tuple(_bar(r, TOP + ROW * i, seen) for i, r in enumerate(rows))
    return Drawing(bars, (low, high - low), LEFT + WIDTH * seen.share(0), places, TOP + ROW * len(rows) + 44)


def _bar(row: Mapping[str, Any], y: float, seen: Span) -> Bar:
    ends = sorted(LEFT + WIDTH * seen.share(v) for v in (0.0, row["predicted"]))
    mark, verdict = ("✓", "agrees") if row["agree"] else ("✗", "misses")
    label = cut(f"{mark} {row['trial']} {row['head'].replace('_', ' ')}", LONGEST_LABEL)
    found = FOUND[(row["observed"] > 0) - (row["observed"] < 0)]
    return Bar(label, y, ends[0], max(ends[1] - ends[0], 1.0), row["agree"], f"{verdict}: {found}", row["predicted"])
