"""Charts described once, in the unit of what they show; `web/charts.py` draws them on pages, `report/paper_charts.py` on paper."""

from dataclasses import dataclass
from typing import Literal

from lengthwise.distributions import norm
from lengthwise.report.axes import Span

Pair = tuple[float, float]
Z_95 = float(norm.ppf(0.975))


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


Chart = RowChart | DotChart


def around(label: str, at: float, se: float, share: float = 0.0, hollow: bool = False) -> ChartLine:
    """A number with its 95 % interval."""
    return ChartLine(label=label, at=at, low=at - Z_95 * se, high=at + Z_95 * se, share=share, hollow=hollow)


def whole(label: str, at: float, ci: Pair) -> ChartLine:
    """A mean with its interval."""
    return ChartLine(label=label, at=at, low=ci[0], high=ci[1], mark="diamond")
