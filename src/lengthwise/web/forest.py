"""Where everything of a forest plot stands, so that the template only draws."""

from collections.abc import Sequence
from dataclasses import dataclass

from lengthwise.evidence.assessment import Assessment
from lengthwise.evidence.synthesis import Answer, on_common_scale
from lengthwise.report.evidence_page import AXIS, row_label
from lengthwise.web.axes import Span, cut, ticks

WIDTH, ROW, TOP, WORDS = 360.0, 26.0, 34.0, 210.0
"""Of the axis, of a row, above the first, and of the words at the right."""
LONGEST_LABEL, LETTER = 46, 7.2
"""Most letters of a label, and room for each."""
Z_95 = 1.959964
"""Two-sided 95 % of the normal distribution."""


@dataclass(frozen=True, kw_only=True)
class Line:
    """One effect with its interval, in its own unit; `share` is its weight in the mean, 0 where weights mean nothing."""

    label: str
    at: float
    low: float
    high: float
    share: float = 0.0
    memory: bool = False


@dataclass(frozen=True, kw_only=True)
class Row:
    """One line of the plot: its words and places along the axis."""

    label: str
    said: str
    y: float
    low: float
    at: float
    high: float
    side: float
    memory: bool


@dataclass(frozen=True, kw_only=True)
class Forest:
    """A forest plot in the units of its drawing."""

    rows: tuple[Row, ...]
    mean: Row
    spread: tuple[float, float] | None
    ticks: tuple[tuple[float, str], ...]
    zero: float
    left: float
    width: float
    height: float
    axis: str


def laid_out(lines: Sequence[Line], mean: Line, spread: tuple[float, float] | None, axis: str, seen: Span, digits: str) -> Forest:
    """A plot of some effects and their mean.

    Args:
        spread: where a new study's true effect would lie. seen: the part of the axis that is drawn; what goes beyond is cut at its edge.
        digits: how numbers are written, such as `.2f`.
    """
    left = 16 + LETTER * min(LONGEST_LABEL, max(len(line.label) for line in (*lines, mean)))

    def x(value: float) -> float:
        return left + WIDTH * seen.share(value)

    def row(line: Line, y: float, side: float) -> Row:
        words = said(line, digits)
        return Row(
            label=cut(line.label, LONGEST_LABEL),
            said=words,
            y=y,
            low=x(line.low),
            at=x(line.at),
            high=x(line.high),
            side=side,
            memory=line.memory,
        )

    rows = tuple(row(line, TOP + ROW * i, 6 + 10 * line.share**0.5) for i, line in enumerate(lines))
    bottom = TOP + ROW * len(rows) + 8
    places = tuple((x(value), text) for value, text in ticks(seen))
    drawn = (x(spread[0]), x(spread[1])) if spread else None
    return Forest(
        rows=rows,
        mean=row(mean, bottom, 0),
        spread=drawn,
        ticks=places,
        zero=x(0),
        left=left,
        width=left + WIDTH + WORDS,
        height=bottom + 70,
        axis=axis,
    )


def said(line: Line, digits: str = ".2f") -> str:
    """An effect and its interval in words."""
    return f"{line.at:+{digits}} ({line.low:{digits}} to {line.high:{digits}})".replace("-", "−")


def forest_of(a: Assessment) -> Forest | None:
    """The single studies of a claim with their mean; none where no effect has a size."""
    h = next((x for x in a.answers if x.basis in ("studies", "one study")), None)
    sized = on_common_scale(a.findings)
    if h is None or not sized:
        return None
    share = h.weight if len(h.weight) == len(sized) else (1 / len(sized),) * len(sized)
    lines = [
        around(row_label(f), f.effect.estimate, f.effect.se, w, f.from_memory)
        for f, w in zip(sized, share, strict=True)
        if f.effect is not None
    ]
    mean = whole("Mean of all", h.estimate, h.ci)
    reach = max(*(max(-line.low, line.high) for line in lines), -h.ci[0], h.ci[1])
    reach = min(reach, 4 * max(abs(line.at) for line in lines) + 0.5)
    axis = f"{AXIS.get(h.scale, h.scale)}; right of the line: for the claim"
    return laid_out(lines, mean, h.prediction, axis, Span(-reach, reach), ".2f")


def whole(label: str, at: float, ci: tuple[float, float]) -> Line:
    """A mean with its interval."""
    return Line(label=label, at=at, low=ci[0], high=ci[1])


def around(label: str, at: float, se: float, share: float = 0.0, memory: bool = False) -> Line:
    """An effect with its 95 % interval."""
    return Line(label=label, at=at, low=at - Z_95 * se, high=at + Z_95 * se, share=share, memory=memory)


def small(answer: Answer) -> dict[str, float]:
    """A headline as a small interval, in 0-200 with 0 at 100."""
    reach = max(abs(answer.ci[0]), abs(answer.ci[1]), 1e-9) * 1.08

    def x(value: float) -> float:
        return 100 + 100 * value / reach

    return {"low": x(answer.ci[0]), "at": x(answer.estimate), "high": x(answer.ci[1])}
