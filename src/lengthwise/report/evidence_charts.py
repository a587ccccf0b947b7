"""Evidence to look at: forest, funnel, leave-one-out, studies one after another, the next study, dose and response.

Every chart names its axes with units and says in one sentence what to see.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.errors import InputError
from lengthwise.evidence.bias import caution, egger
from lengthwise.evidence.heterogeneity import read_only
from lengthwise.evidence.influence import cumulative, leave_one_out, next_study
from lengthwise.evidence.moderators import MetaRegression
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.report.axes import Span, digits_for, span_of
from lengthwise.report.charts import Z_95, Chart, ChartLine, Dot, DotChart, RowChart, around, whole


@dataclass(frozen=True, kw_only=True)
class StudyTable:
    """What the charts of one pool need.

    Attributes:
        title: the claim or file.
        axis: name and unit of the effect.
        toward: what an effect to the right of 0 speaks for.
        labels: one line for each effect.
        y, v: effects and sampling variances (n).
        weight: share of each effect in the pooled mean (n), adding to 1.
        remembered: whether an effect is from memory (n).
        estimate, ci, prediction: the pooled effect; the prediction may be unknown.
        years: publication years (n), the order of the cumulative chart; the given order when empty.
    """

    title: str
    axis: str
    toward: str
    labels: tuple[str, ...]
    y: Array
    v: Array
    weight: Array
    remembered: tuple[bool, ...]
    estimate: float
    ci: tuple[float, float]
    prediction: tuple[float, float] | None
    years: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        for name in ("y", "v", "weight"):
            object.__setattr__(self, name, read_only(getattr(self, name)))

    def rows(
        self, name: str, lines: Sequence[ChartLine], sentence: str, title: str = "", **more: tuple[float, float] | None
    ) -> RowChart:
        """A chart of this table, its axis wide enough for every line but for intervals far beyond all numbers."""
        farthest = 4 * max(abs(line.at) for line in lines) or np.inf
        ends = [v for line in lines for v in (line.low, line.high)]
        seen = span_of(min(max(v, -farthest), farthest) for v in ends)
        return RowChart(
            name=name, title=title or self.title, axis=f"{self.axis}; right of 0: {self.toward}", lines=tuple(lines), seen=seen,
            sentence=f"What to see: {sentence}.", digits=digits_for([seen.low, seen.high]), **more,
        )  # fmt: skip


def forest(table: StudyTable) -> RowChart:
    """Every effect with its interval and weight, the pooled diamond and where a new study's true effect would lie."""
    known = zip(table.labels, table.y, np.sqrt(table.v), table.weight, table.remembered, strict=True)
    (low, high), new = table.ci, table.prediction
    coming = f"; the true effect of a new study is expected in {new[0]:.2f} to {new[1]:.2f}" if new else ""
    verdict = "clears" if low > 0 or high < 0 else "reaches"
    memory = ". Hollow, and brown on paper: from memory" if any(table.remembered) else ""
    lines = [*(around(*row) for row in known), whole("Mean of all", table.estimate, table.ci)]
    said = f"the pooled effect {table.estimate:+.2f} ({low:.2f} to {high:.2f}) {verdict} 0{coming}{memory}"
    return table.rows("forest", lines, said, spread=new)


def funnel(table: StudyTable) -> DotChart:
    """Effects against their standard errors, precise ones on top, with the region that chance alone would fill."""
    se, centre = np.sqrt(table.v), table.estimate
    top = float(se.max()) * 1.1
    left, right = centre - Z_95 * top, centre + Z_95 * top
    words = caution(table.y.size)
    if table.y.size >= 3 and np.ptp(se) > 0:
        test = egger(table.y, table.v)
        lean = "lean to one side" if test.p < 0.1 else "scatter evenly enough"
        words = f"small studies {lean} (Egger p = {test.p:.2f})" + (f"; {words}" if words else "")
    dots = zip(table.y, se, table.labels, table.remembered, strict=True)
    return DotChart(
        name="funnel",
        title=table.title,
        x_axis=f"{table.axis}; right of 0: {table.toward}",
        y_axis="Standard error, precise studies on top [same unit]",
        x=span_of([*table.y, left, right], with_zero=False),
        y=Span(top, 0.0),
        dots=tuple(Dot(x=x, y=y, label=name, hollow=memory) for x, y, name, memory in dots),
        region=((centre, 0.0), (left, top), (right, top)),
        line=((centre, 0.0), (centre, top)),
        sentence=f"What to see: {words or 'too few studies to judge'}; dots outside the band differ by more than chance.",
    )


def left_out(table: StudyTable, how: Convention) -> RowChart:
    """The pooled effect leaving out one row at a time."""
    out, all_of_them = leave_one_out(table.y, table.v, how), pool(table.y, table.v, how)
    low, high = all_of_them.ci
    most = int(np.argmax(np.abs(out.estimate - all_of_them.estimate)))
    other = ((out.ci_low > 0) != (low > 0)) | ((out.ci_high < 0) != (high < 0))
    deciding = ", ".join(label for label, turns in zip(table.labels, other, strict=True) if turns)
    verdict = f"the verdict depends on {deciding}" if deciding else "no single row decides the verdict"
    said = (
        f"{verdict}; leaving out {table.labels[most]} moves the mean most, from {all_of_them.estimate:+.2f} to "
        f"{out.estimate[most]:+.2f} (band: all rows)"
    )
    rows = zip(table.labels, out.estimate, out.ci_low, out.ci_high, table.remembered, strict=True)
    lines = [ChartLine(label=f"without {name}", at=at, low=a, high=b, mark="dot", hollow=m) for name, at, a, b, m in rows]
    lines.append(whole("All of them", all_of_them.estimate, all_of_them.ci))
    return table.rows("leave_one_out", lines, said, f"{table.title}: leaving out one row at a time", band=all_of_them.ci)


def growing(table: StudyTable, how: Convention, next_variance: float | None = None) -> RowChart:
    """The pooled effect after each row in order of publication, and what the next study would have to show.

    The next study has the sampling variance `next_variance`, or that of the median row.
    """
    order = np.argsort(table.years or np.arange(table.y.size), kind="stable")
    steps = cumulative(table.y, table.v, order, how)
    last, variance = steps[-1], float(np.median(table.v)) if next_variance is None else next_variance
    upcoming = next_study(table.y, table.v, variance, how)
    lines = [
        ChartLine(label=f"+ {table.labels[i]}", at=s.estimate, low=s.ci[0], high=s.ci[1], mark="dot", hollow=table.remembered[i])
        for i, s in zip(order, steps, strict=True)
    ]
    low, high = upcoming.changes
    reach = [v for line in lines[1:] or lines for v in (line.low, line.high)]
    coming = f"a next study with standard error {np.sqrt(variance):.2f}"
    if np.isfinite(low) and low < max(reach) and high > min(reach):
        bar = max(low, min(reach)), min(high, max(reach))
        words = f"{low:+.2f} to {high:+.2f}".replace("-", "−")
        lines.append(
            ChartLine(label="the next study", at=sum(bar) / 2, low=bar[0], high=bar[1], mark="bar", hollow=True, words=words)
        )
        tip = f"{coming} changes what the interval says if it finds {words} (the bar; chance {upcoming.chance:.0%})"
    else:
        tip = f"{coming} is not likely to change what the interval says"
    said = f"the mean has come to {last.estimate:+.2f} ({last.ci[0]:.2f} to {last.ci[1]:.2f}); {tip}"
    return table.rows("cumulative", lines, said, f"{table.title}: adding one row at a time, and the next study")


@dataclass(frozen=True)
class DoseAxis:
    """Names with units of dose and response, one unit of dose in words, and the doses to draw (n)."""

    dose: str
    response: str
    one: str
    grid: Array


def _dose_chart(
    title: str, axis: DoseAxis, line: tuple[Array, Array, Array], slope: tuple[float, float, float], dots: Sequence[Dot]
) -> DotChart:
    """A line with its band over the grid (centre, low, high), its slope with interval, and dots."""
    centre, low, high = line
    value, least, most = slope
    sure = "rises" if least > 0 else "falls" if most < 0 else "may be flat"
    edge = [*zip(axis.grid, low, strict=True), *list(zip(axis.grid, high, strict=True))[::-1]]
    return DotChart(
        name="dose_response",
        title=title,
        x_axis=axis.dose,
        y_axis=axis.response,
        x=span_of(axis.grid, with_zero=False),
        y=span_of([*(d.y for d in dots), *centre, *low, *high]),
        dots=tuple(dots),
        region=tuple((float(a), float(b)) for a, b in edge),
        line=tuple((float(a), float(b)) for a, b in zip(axis.grid, centre, strict=True)),
        sentence=f"What to see: the response changes by {value:+.3f} ({least:.3f} to {most:.3f}) for each further {axis.one}; "
        f"it {sure} (line, and its 95 % band).",
    )


def dose_regression(
    title: str, axis: DoseAxis, fit: MetaRegression, dose: Array, effects: tuple[Array, Array], labels: Iterable[str]
) -> DotChart:
    """Effects (y, v) against a moderator, with the regression line and its band; larger dots weigh more.

    Raises:
        InputError: a fit on none or several moderators.
    """
    if len(fit.names) != 2:
        raise InputError(f"a dose picture needs one moderator, found {len(fit.names) - 1}", asked=fit.names[1:])
    centre, band = fit.predict(axis.grid)
    y, v = effects
    weight = 1 / (v + fit.tau2)
    known = zip(dose, y, labels, weight / weight.max(), strict=True)
    slope = (float(fit.beta[1]), float(fit.ci[1, 0]), float(fit.ci[1, 1]))
    dots = [Dot(x=a, y=b, label=name, size=size) for a, b, name, size in known]
    return _dose_chart(title, axis, (centre, band[:, 0], band[:, 1]), slope, dots)


def dose_slope(title: str, axis: DoseAxis, slope: float, se: float, reference: float) -> DotChart:
    """A published slope as a line through a reference dose, with the band of its standard error."""
    away = axis.grid - reference
    half, ci = Z_95 * se * np.abs(away), (slope - Z_95 * se, slope + Z_95 * se)
    dot = Dot(x=reference, y=0.0, label=f"reference: {reference:g}")
    return _dose_chart(title, axis, (slope * away, slope * away - half, slope * away + half), (slope, *ci), [dot])


def growth_gaps(title: str, labels: Sequence[str], percent: Array, people: Sequence[int], toward: str) -> RowChart:
    """How much more one arm grew than the other in studies that print percent only; larger dots stand for more people."""
    rows = zip(labels, percent.tolist(), people, strict=True)
    lines = tuple(ChartLine(label=name, at=at, low=at, high=at, mark="dot", share=n / max(people) / 5) for name, at, n in rows)
    return RowChart(
        name="growth_gaps",
        title=title,
        axis=f"Size after training, one arm over the other [%]; right of 0: {toward}",
        lines=lines,
        seen=span_of(percent),
        digits=".1f",
        sentence=f"What to see: {int((percent > 0).sum())} of {len(labels)} dots lie to the right; the dots have no intervals, because most of "
        "these reports give no spread.",
    )


def quoted(title: str, axis: str, rows: Sequence[tuple[str, float, float, float]], toward: str) -> RowChart:
    """Published pools (label, estimate, low, high) side by side; they share studies and are not pooled again."""
    lines = tuple(ChartLine(label=name, at=at, low=low, high=high, mark="dot") for name, at, low, high in rows)
    clear = sum(line.low >= 0 or line.high <= 0 for line in lines)
    return RowChart(
        name="published",
        title=title,
        axis=f"{axis}; right of 0: {toward}",
        lines=lines,
        seen=span_of(v for line in lines for v in (line.low, line.high)),
        sentence=f"What to see: {clear} of {len(rows)} published intervals clear 0; they share studies, so they are shown side by side and "
        "not combined.",
    )


def charts_of(table: StudyTable, how: Convention) -> tuple[Chart, ...]:
    """All charts that this many rows allow: a forest always, the others from three rows on."""
    if table.y.size < 3:
        return (forest(table),)
    return forest(table), funnel(table), left_out(table, how), growing(table, how)
