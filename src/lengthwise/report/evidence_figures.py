"""Evidence to look at: forest, funnel, leave-one-out, studies one after another, the next study, dose and response.

Every picture names its axes with units and says in one sentence what to see.
"""

import io
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from textwrap import fill

import numpy as np

from lengthwise.distributions import norm
from lengthwise.errors import InputError
from lengthwise.evidence.bias import caution, egger
from lengthwise.evidence.heterogeneity import Array, read_only
from lengthwise.evidence.influence import cumulative, leave_one_out, next_study
from lengthwise.evidence.moderators import MetaRegression
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.report.plotting import Axes, Figure, matplotlib

INK, MUTED, ACCENT, BAND, MEMORY = "#22303c", "#7b8794", "#1f6f8b", "#cfe3ea", "#b4682b"


@dataclass(frozen=True, kw_only=True)
class StudyTable:
    """What the pictures of one pool need.

    Attributes:
        title: the claim or file.
        axis: name and unit of the effect.
        toward: what an effect to the right of 0 speaks for.
        labels: one line for each effect.
        y, v: effects and sampling variances (n).
        weight: share of each effect in the pooled mean (n), adding to 1.
        remembered: whether an effect is from memory (n).
        estimate, ci, prediction: the pooled effect; the prediction may be unknown.
        years: publication years (n), the order of the cumulative picture; the given order when empty.
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


@dataclass(frozen=True)
class Picture:
    """A figure, its name, and the sentence that says what to see."""

    name: str
    figure: Figure
    sentence: str

    def png(self, dpi: int = 150) -> bytes:
        """The picture as PNG."""
        return self._saved("png", dpi)

    def pdf(self) -> bytes:
        """The picture as a page of a PDF."""
        return self._saved("pdf", 72)

    def svg(self) -> str:
        """The picture as an SVG element for a page."""
        text = self._saved("svg", 72).decode("utf-8")
        # Group names repeat from picture to picture, and nothing refers to them.
        return re.sub(r'<g id="[^"]*"', "<g", text[text.index("<svg") :])

    def _saved(self, kind: str, dpi: int) -> bytes:
        out = io.BytesIO()
        # A fixed date keeps the same numbers giving the same bytes.
        meta = {{"svg": "Date", "png": "Software", "pdf": "CreationDate"}[kind]: None}
        with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": self.sentence}):
            self.figure.savefig(out, format=kind, dpi=dpi, metadata=meta)
        return out.getvalue()


def _canvas(title: str, height: float, width: float = 8.0) -> tuple[Figure, Axes]:
    figure = Figure(figsize=(width, height), layout="constrained")
    ax = figure.subplots()
    ax.set_title(fill(title, 50), loc="left", fontsize=11, color=INK)
    ax.spines[["top", "right"]].set_visible(False)
    ax.tick_params(colors=INK, labelsize=9)
    return figure, ax


def _finish(name: str, figure: Figure, sentence: str) -> Picture:
    figure.supxlabel(fill(sentence, 112), fontsize=8.5, color=MUTED, x=0.02, ha="left")
    return Picture(name, figure, sentence)


def _zero_line(ax: Axes) -> None:
    ax.axvline(0, color=MUTED, lw=0.8, zorder=0)


def _rows(ax: Axes, labels: Sequence[str], remembered: Sequence[bool] = ()) -> Array:
    place = np.arange(len(labels))[::-1].astype(float)
    ax.set_yticks(place, labels)
    for tick, memory in zip(ax.get_yticklabels(), remembered, strict=False):
        tick.set_color(MEMORY if memory else INK)
    ax.set_ylim(-0.7, len(labels) - 0.3)
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)
    return place


def _axis(name: str, toward: str) -> str:
    return f"{name}\nright of 0: {toward}"


def _reach(table: StudyTable, half: Array) -> tuple[float, float]:
    """Limits that show every row; a pooled or predicted interval far beyond them is cut at the edge."""
    low, high = float((table.y - half).min()), float((table.y + half).max())
    margin = 0.15 * (high - low)
    return min(low - margin, -margin), max(high + margin, margin)


def _intervals(ax: Axes, place: Array, low: Array, high: Array, color: str = INK) -> None:
    ax.hlines(place, low, high, color=color, lw=1.2)


def _spread_sentence(table: StudyTable) -> str:
    if table.prediction is None:
        return ""
    return f"; the true effect of a new study is expected in {table.prediction[0]:.2f} to {table.prediction[1]:.2f}"


def forest(table: StudyTable) -> Picture:
    """Every effect with its interval and weight, the pooled diamond and the prediction bar."""
    n = table.y.size
    figure, ax = _canvas(table.title, 1.9 + 0.3 * n)
    place = _rows(ax, [*table.labels, "pooled", "a new study"], [*table.remembered, False, False])
    half = norm.ppf(0.975) * np.sqrt(table.v)
    _intervals(ax, place[:n], table.y - half, table.y + half)
    colors = [MEMORY if m else INK for m in table.remembered]
    ax.scatter(table.y, place[:n], s=18 + 500 * table.weight / max(1.0, table.weight.sum()), marker="s", c=colors, zorder=3)
    (low, high), row = table.ci, place[n]
    ax.fill([low, table.estimate, high, table.estimate], [row, row + 0.3, row, row - 0.3], color=ACCENT, zorder=3)
    if table.prediction is not None:
        ax.hlines(place[n + 1], *table.prediction, color=ACCENT, lw=5, alpha=0.45)
    else:
        ax.text(table.estimate, place[n + 1], "not known", color=MUTED, fontsize=8, va="center", ha="center")
    _zero_line(ax)
    ax.set_xlim(*_reach(table, half))
    ax.set_xlabel(_axis(table.axis, table.toward), fontsize=9)
    for row, value, share in zip(place, table.y, table.weight, strict=False):
        ax.text(1.01, row, f"{value:+.2f}   {share:.0%}", transform=ax.get_yaxis_transform(), fontsize=8, va="center")
    ax.text(1.01, place[0] + 0.75, "effect  weight", transform=ax.get_yaxis_transform(), fontsize=8, color=MUTED)
    memory = " Rows in brown are from memory." if any(table.remembered) else ""
    verdict = "clears" if low > 0 or high < 0 else "reaches"
    return _finish(
        "forest", figure,
        f"What to see: the pooled effect {table.estimate:+.2f} ({low:.2f} to {high:.2f}) {verdict} 0"
        f"{_spread_sentence(table)}.{memory}",
    )  # fmt: skip


def funnel(table: StudyTable) -> Picture:
    """Effects against their standard errors, with the region that chance alone would fill."""
    figure, ax = _canvas(table.title, 4.6)
    se = np.sqrt(table.v)
    top = float(se.max()) * 1.1
    edge = norm.ppf(0.975) * top
    ax.fill([table.estimate, table.estimate - edge, table.estimate + edge], [0, top, top], color=BAND, zorder=0)
    ax.axvline(table.estimate, color=ACCENT, lw=1.2)
    ax.scatter(table.y, se, c=[MEMORY if m else INK for m in table.remembered], s=26, zorder=3)
    ax.set_ylim(top, 0)
    ax.set_xlabel(_axis(table.axis, table.toward), fontsize=9)
    ax.set_ylabel("Standard error, precise studies on top [same unit]", fontsize=9)
    words = caution(table.y.size)
    if table.y.size >= 3 and np.ptp(se) > 0:
        test = egger(table.y, table.v)
        lean = "lean to one side" if test.p < 0.1 else "scatter evenly enough"
        words = f"small studies {lean} (Egger p = {test.p:.2f})" + (f"; {words}" if words else "")
    return _finish("funnel", figure, f"What to see: {words or 'too few studies to judge'}; dots outside the band differ by "
                   "more than chance.")  # fmt: skip


def left_out(table: StudyTable, how: Convention) -> Picture:
    """The pooled effect without each row in turn."""
    figure, ax = _canvas(f"{table.title}: without each row in turn", 1.6 + 0.3 * table.y.size)
    out, whole = leave_one_out(table.y, table.v, how), pool(table.y, table.v, how)
    place = _rows(ax, [f"without {label}" for label in table.labels], table.remembered)
    ax.axvspan(*whole.ci, color=BAND, zorder=0)
    ax.axvline(whole.estimate, color=ACCENT, lw=1.2)
    _intervals(ax, place, out.ci_low, out.ci_high)
    ax.scatter(out.estimate, place, s=24, c=INK, zorder=3)
    _zero_line(ax)
    ax.set_xlabel(_axis(f"Pooled: {table.axis}", table.toward), fontsize=9)
    most = int(np.argmax(np.abs(out.estimate - whole.estimate)))
    other = (out.ci_low > 0) != (whole.ci[0] > 0)
    other |= (out.ci_high < 0) != (whole.ci[1] < 0)
    deciding = ", ".join(label for label, turns in zip(table.labels, other, strict=True) if turns)
    verdict = f"the verdict hangs on {deciding}" if deciding else "no single row decides the verdict"
    return _finish(
        "leave_one_out", figure,
        f"What to see: {verdict}; leaving out {table.labels[most]} moves the mean most, from {whole.estimate:+.2f} to "
        f"{out.estimate[most]:+.2f} (band: all rows).",
    )  # fmt: skip


def growing(table: StudyTable, how: Convention, next_variance: float | None = None) -> Picture:
    """The pooled effect after each row in order of publication, and what the next study would have to show.

    The next study has the sampling variance `next_variance`, or that of the median row.
    """
    order = np.argsort(table.years or np.arange(table.y.size), kind="stable")
    steps = cumulative(table.y, table.v, order, how)
    figure, ax = _canvas(f"{table.title}: one after another, and the next", 2.2 + 0.3 * table.y.size)
    place = _rows(ax, [f"+ {table.labels[i]}" for i in order] + ["the next study"], [table.remembered[i] for i in order])
    low, high = (np.array([s.ci[side] for s in steps]) for side in (0, 1))
    _intervals(ax, place[:-1], low, high)
    ax.scatter([s.estimate for s in steps], place[:-1], s=24, c=INK, zorder=3)
    variance = float(np.median(table.v)) if next_variance is None else next_variance
    upcoming = next_study(table.y, table.v, variance, how)
    bounds = [low[1:].min(initial=low[0]), high[1:].max(initial=high[0])]
    margin = 0.2 * (bounds[1] - bounds[0])
    left, right = bounds[0] - margin, bounds[1] + margin
    known = np.isfinite(upcoming.changes[0]) and upcoming.changes[0] < right and upcoming.changes[1] > left
    if known:
        start, end = max(upcoming.changes[0], left), min(upcoming.changes[1], right)
        ax.hlines(place[-1], start, end, color=MEMORY, lw=7, alpha=0.6)
    ax.set_xlim(left, right)
    _zero_line(ax)
    ax.set_xlabel(_axis(f"Pooled: {table.axis}", table.toward), fontsize=9)
    coming = f"a next study with standard error {np.sqrt(variance):.2f}"
    last = steps[-1]
    tip = (
        f"{coming} changes what the interval says if it finds {upcoming.changes[0]:+.2f} "
        f"to {upcoming.changes[1]:+.2f} (brown bar; chance {upcoming.chance:.0%})"
        if known
        else f"{coming} is not likely to change what the interval says"
    )
    return _finish("cumulative", figure, f"What to see: the mean has come to {last.estimate:+.2f} ({last.ci[0]:.2f} to "
                   f"{last.ci[1]:.2f}); {tip}.")  # fmt: skip


@dataclass(frozen=True)
class DoseAxis:
    """Names with units of dose and response, one unit of dose in words, and the doses to draw (n)."""

    dose: str
    response: str
    one: str
    grid: Array


@dataclass(frozen=True)
class _Line:
    """A line with its band over the grid (n), and its slope with interval."""

    centre: Array
    low: Array
    high: Array
    slope: float
    slope_ci: tuple[float, float]


def _dose_picture(title: str, axis: DoseAxis, line: _Line, dots: Callable[[Axes], None]) -> Picture:
    figure, ax = _canvas(title, 4.4)
    ax.fill_between(axis.grid, line.low, line.high, color=BAND, zorder=0, label="95 % interval")
    ax.plot(axis.grid, line.centre, color=ACCENT, lw=1.8, label="best line")
    ax.axhline(0, color=MUTED, lw=0.8)
    dots(ax)
    ax.set_xlabel(axis.dose, fontsize=9)
    ax.set_ylabel(axis.response, fontsize=9)
    ax.legend(frameon=False, fontsize=8)
    low, high = line.slope_ci
    sure = "rises" if low > 0 else "falls" if high < 0 else "may be flat"
    return _finish("dose_response", figure, f"What to see: the response changes by {line.slope:+.3f} ({low:.3f} to "
                   f"{high:.3f}) for each further {axis.one}; it {sure}.")  # fmt: skip


def dose_regression(title: str, axis: DoseAxis, fit: MetaRegression, dose: Array, effects: tuple[Array, Array]) -> Picture:
    """Effects (y, v) against a moderator, with the regression line and its band; larger dots weigh more."""
    if len(fit.names) != 2:
        raise InputError(f"a dose picture needs one moderator, found {len(fit.names) - 1}", asked=fit.names[1:])
    centre, band = fit.predict(axis.grid)
    y, v = effects
    weight = 1 / (v + fit.tau2)

    def dots(ax: Axes) -> None:
        ax.scatter(dose, y, s=15 + 120 * weight / weight.max(), c=INK, alpha=0.7, zorder=3, label="studies, by weight")

    ci = (float(fit.ci[1, 0]), float(fit.ci[1, 1]))
    return _dose_picture(title, axis, _Line(centre, band[:, 0], band[:, 1], float(fit.beta[1]), ci), dots)


def dose_slope(title: str, axis: DoseAxis, slope: float, se: float, reference: float) -> Picture:
    """A published slope as a line through a reference dose, with the band of its standard error."""
    away, quantile = axis.grid - reference, float(norm.ppf(0.975))
    half = quantile * se * np.abs(away)
    ci = (slope - quantile * se, slope + quantile * se)

    def dots(ax: Axes) -> None:
        ax.plot(reference, 0, "o", color=INK, ms=5, label=f"reference: {reference:g}")

    return _dose_picture(title, axis, _Line(slope * away, slope * away - half, slope * away + half, slope, ci), dots)


def growth_gaps(title: str, labels: Sequence[str], percent: Array, people: Sequence[int], toward: str) -> Picture:
    """How much more one arm grew than the other in studies that print percent only; larger dots stand for more people."""
    figure, ax = _canvas(title, 1.6 + 0.3 * len(labels))
    place = _rows(ax, labels)
    size = np.asarray(people, dtype=float)
    ax.scatter(percent, place, s=12 + 90 * size / size.max(), c=INK, zorder=3)
    _zero_line(ax)
    ax.set_xlabel(_axis("Size after training, one arm over the other [%]", toward), fontsize=9)
    ahead = int((percent > 0).sum())
    return _finish("growth_gaps", figure, f"What to see: {ahead} of {len(labels)} dots lie to the right; dots carry no "
                   "intervals as most of these reports print no spread.")  # fmt: skip


def quoted(title: str, axis: str, rows: Sequence[tuple[str, float, float, float]], toward: str) -> Picture:
    """Published pools (label, estimate, low, high) side by side; they share studies and are not pooled again."""
    figure, ax = _canvas(title, 1.6 + 0.34 * len(rows))
    place = _rows(ax, [r[0] for r in rows])
    estimate, low, high = (np.array([r[i] for r in rows]) for i in (1, 2, 3))
    _intervals(ax, place, low, high)
    ax.scatter(estimate, place, s=28, c=ACCENT, zorder=3)
    _zero_line(ax)
    ax.set_xlabel(_axis(axis, toward), fontsize=9)
    clear = int(((low >= 0) | (high <= 0)).sum())
    return _finish("published", figure, f"What to see: {clear} of {len(rows)} published intervals clear 0; they share "
                   "studies, so they are shown side by side and not added up.")  # fmt: skip


def pictures(table: StudyTable, how: Convention) -> tuple[Picture, ...]:
    """All pictures that this many rows allow: a forest always, the others from three rows on."""
    if table.y.size < 3:
        return (forest(table),)
    return forest(table), funnel(table), left_out(table, how), growing(table, how)
