"""Where everything of a forest plot stands, so that the template only draws."""

from dataclasses import dataclass

from lengthwise.evidence.assessment import Assessment
from lengthwise.evidence.synthesis import Answer, on_common_scale
from lengthwise.report.evidence_page import AXIS, row_label

LEFT, WIDTH, ROW, TOP = 330.0, 360.0, 26.0, 34.0
Z_95 = 1.959964
"""Two-sided 95 % of the normal distribution."""


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class Forest:
    """A forest plot in the units of its drawing."""

    rows: tuple[Row, ...]
    mean: Row
    spread: tuple[float, float] | None
    ticks: tuple[tuple[float, str], ...]
    zero: float
    height: float
    axis: str


def forest_of(a: Assessment) -> Forest | None:
    """The single studies of a claim with their mean; none where no effect has a size."""
    h = next((x for x in a.answers if x.basis in ("studies", "one study")), None)
    sized = on_common_scale(a.findings)
    if h is None or not sized:
        return None
    spans = [(f.effect.estimate, Z_95 * f.effect.se) for f in sized if f.effect is not None]
    reach = max(max(abs(y) + half for y, half in spans), abs(h.ci[0]), abs(h.ci[1]))
    reach = min(reach, 4 * max(abs(y) for y, _ in spans) + 0.5)
    step = next(s for s in (0.1, 0.25, 0.5, 1, 2, 5, 10, 25, 50, 1e9) if reach / s <= 4)

    def x(value: float) -> float:
        return LEFT + WIDTH / 2 * (1 + max(-1.0, min(1.0, value / reach)))

    share = h.weight if len(h.weight) == len(sized) else (1 / len(sized),) * len(sized)
    rows = tuple(
        Row(row_label(f), said(y, half), TOP + ROW * i, x(y - half), x(y), x(y + half), 6 + 10 * w**0.5, f.from_memory)
        for i, (f, (y, half), w) in enumerate(zip(sized, spans, share, strict=True))
    )
    bottom = TOP + ROW * len(rows) + 8
    words = f"{h.estimate:+.2f} ({h.ci[0]:.2f} to {h.ci[1]:.2f})".replace("-", "−")
    mean = Row("Mean of all", words, bottom, x(h.ci[0]), x(h.estimate), x(h.ci[1]), 0, False)
    spread = (x(h.prediction[0]), x(h.prediction[1])) if h.prediction else None
    ticks = tuple((x(step * k), f"{step * k:g}".replace("-", "−")) for k in range(-4, 5) if abs(step * k) <= reach)
    return Forest(rows, mean, spread, ticks, x(0), bottom + 70, AXIS.get(h.scale, h.scale))


def said(y: float, half: float) -> str:
    """An effect and its interval in words."""
    return f"{y:+.2f} ({y - half:.2f} to {y + half:.2f})".replace("-", "−")


def small(answer: Answer) -> dict[str, float]:
    """A headline as a small interval, in 0-200 with 0 at 100."""
    reach = max(abs(answer.ci[0]), abs(answer.ci[1]), 1e-9) * 1.08

    def x(value: float) -> float:
        return 100 + 100 * value / reach

    return {"low": x(answer.ci[0]), "at": x(answer.estimate), "high": x(answer.ci[1])}
