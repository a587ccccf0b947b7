"""What the drawings of numbers share: the part of an axis that is seen, its ticks, labels that fit."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

MARGIN = 0.06
"""Of an axis at each end (look)."""
MOST_TICKS = 7


@dataclass(frozen=True)
class Span:
    """The part of an axis that is seen, in the unit of what is drawn."""

    low: float
    high: float

    def share(self, value: float) -> float:
        """Where a value lies, 0 to 1; what lies beyond is at the edge."""
        return min(1.0, max(0.0, (value - self.low) / (self.high - self.low)))


def span_of(values: Iterable[float], with_zero: bool = True) -> Span:
    """An axis that shows all of these, with 0 where asked, and room at both ends."""
    found = [*values, *((0.0,) if with_zero else ())]
    low, high = min(found), max(found)
    room = MARGIN * (high - low) or max(abs(low), 1.0) * MARGIN
    return Span(low - room, high + room)


def ticks(seen: Span) -> list[tuple[float, str]]:
    """Round values within a span, whichever way it runs, with their words."""
    low, high = sorted((seen.low, seen.high))
    rough = (high - low) / MOST_TICKS
    tens = 10.0 ** math.floor(math.log10(rough))
    step = next(s for s in (tens, 2 * tens, 5 * tens, 10 * tens) if s >= rough)
    first, last = math.ceil(low / step), math.floor(high / step)
    return [(step * k, f"{step * k:g}".replace("-", "−")) for k in range(first, last + 1)]


def cut(text: str, longest: int) -> str:
    """A label that fits its place."""
    return text if len(text) <= longest else f"{text[: longest - 1]}…"


def digits_for(values: Iterable[float]) -> str:
    """How numbers that stand together are written, so that the largest has three figures and all end at the same place."""
    largest = max((abs(v) for v in values), default=0.0)
    if largest == 0 or not 1e-6 <= largest < 1e5:
        return ".3g"
    return f".{max(0, 2 - math.floor(math.log10(largest)))}f"
