"""Charts described once, in the unit of what they show; `web/svg_charts.py` draws them on pages, `report/paper_charts.py` on paper."""

from dataclasses import dataclass
from typing import Literal

from lengthwise.distributions import norm
from lengthwise.report.axes import Span

Pair = tuple[float, float]
Z_95 = float(norm.ppf(0.975))
INK_FROM = 0.45
"""From this place on viridis dark letters stand out better than light ones."""


@dataclass(frozen=True, kw_only=True)
class ChartLine:
    """One row of a chart: a number with its interval, in the unit of the axis.

    Attributes:
        mark: how the number is drawn: a square or dot within its interval; a diamond as wide as that (a mean); a bar. share: of the
            whole that it stands for, 0-1, which makes a square larger. hollow: whether it is told apart: from memory, or not as expected.
        beside: another number with its interval (low, at, high), under the first. words: what is written at its end; the number and its
            interval where nothing is given.
    """

    label: str
    at: float
    low: float
    high: float
    mark: Literal["square", "dot", "diamond", "bar"] = "square"
    share: float = 0.0
    hollow: bool = False
    beside: tuple[float, float, float] | None = None
    words: str = ""

    def said(self, digits: str) -> str:
        """The number and its interval in words; `digits` is how they are written, such as `.2f`."""
        between = "" if self.low == self.high else f" ({self.low:{digits}} to {self.high:{digits}})"
        return self.words or f"{self.at:+{digits}}{between}".replace("-", "−")


@dataclass(frozen=True, kw_only=True)
class RowChart:
    """Numbers with their intervals one under the other, along one axis that has 0 in it.

    Attributes:
        seen: the part of the axis that is drawn; what goes beyond is cut at its edge. spread: where a new study's true effect would lie,
            drawn with the last line. band: the mean of all, behind the lines. sentence: what to see.
    """

    name: str
    title: str
    axis: str
    lines: tuple[ChartLine, ...]
    seen: Span
    sentence: str
    spread: Pair | None = None
    band: Pair | None = None
    digits: str = ".2f"


@dataclass(frozen=True, kw_only=True)
class Dot:
    """A dot: its place, its name, how large it is (0-1), and whether it is told apart."""

    x: float
    y: float
    label: str
    size: float = 0.3
    hollow: bool = False


@dataclass(frozen=True, kw_only=True)
class DotChart:
    """Dots over two axes, a region behind them and a line through them (points in the units of the axes)."""

    name: str
    title: str
    x_axis: str
    y_axis: str
    x: Span
    y: Span
    dots: tuple[Dot, ...]
    region: tuple[Pair, ...]
    line: tuple[Pair, ...]
    sentence: str


@dataclass(frozen=True, kw_only=True)
class Box:
    """A box of a grid: where its number lies between the least and the most (nothing where there is none), as a bar how high beside the highest,
    what is written in it, and what it is in words."""

    share: float | None
    height: float
    said: str
    words: str

    @property
    def dark(self) -> bool:
        """Whether dark letters stand out on it better than light ones."""
        return self.share is None or self.share >= INK_FROM


@dataclass(frozen=True, kw_only=True)
class GridChart:
    """Numbers over one or two axes: coloured boxes, along one axis alone bars.

    Attributes:
        boxes: by column, then row from below. columns, rows: words along the axes; no rows where there is one axis. across, up: names of the axes.
        best, usual: two places among the boxes, counted from the middle of the first; the usual one may be missing. sentence: what to see.
    """

    name: str
    title: str
    across: str
    up: str
    columns: tuple[str, ...]
    rows: tuple[str, ...]
    boxes: tuple[tuple[Box, ...], ...]
    best: Pair
    usual: Pair | None
    sentence: str

    @property
    def flat(self) -> bool:
        """Whether all numbers are the same."""
        return len({b.share for column in self.boxes for b in column if b.share is not None}) < 2


Chart = RowChart | DotChart | GridChart


def around(label: str, at: float, se: float, share: float = 0.0, hollow: bool = False) -> ChartLine:
    """A number with its 95 % interval."""
    return ChartLine(label=label, at=at, low=at - Z_95 * se, high=at + Z_95 * se, share=share, hollow=hollow)


def whole(label: str, at: float, ci: Pair) -> ChartLine:
    """A mean with its interval."""
    return ChartLine(label=label, at=at, low=ci[0], high=ci[1], mark="diamond")
