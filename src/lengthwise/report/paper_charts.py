"""Charts drawn for paper, with their words."""

from collections.abc import Callable
from textwrap import fill

import numpy as np

from lengthwise.report.charts import Chart, ChartLine, DotChart, GridChart, RowChart
from lengthwise.report.picture import ACCENT, BAND, INK, MEMORY, MUTED, Picture, dress, finished
from lengthwise.report.plotting import Axes, Figure, scale_colour


def on_paper(chart: Chart) -> Picture:
    """A chart as a picture: its title above, what to see under it."""
    height = 1.9 + 0.3 * len(chart.lines) if isinstance(chart, RowChart) else 4.6
    figure = Figure(figsize=(8.0, height), layout="constrained")
    ax = figure.subplots()
    dress(ax, fill(chart.title, 44))
    draw: dict[type, Callable[..., None]] = {RowChart: _rows, DotChart: _dots, GridChart: _boxes}
    draw[type(chart)](ax, chart)
    return finished(chart.name, figure, chart.sentence)


def _rows(ax: Axes, chart: RowChart) -> None:
    place = np.arange(len(chart.lines))[::-1].astype(float)
    ax.set_yticks(place, [line.label for line in chart.lines])
    ax.set_ylim(-0.7, len(chart.lines) - 0.3)
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)
    if chart.band:
        ax.axvspan(*chart.band, color=BAND, zorder=0)
    if chart.spread:
        ax.hlines(place[-1], *chart.spread, color=ACCENT, lw=5, alpha=0.45)
    for line, y, tick in zip(chart.lines, place, ax.get_yticklabels(), strict=True):
        tick.set_color(MEMORY if line.hollow else INK)
        _line(ax, line, y)
        ax.text(1.01, y, line.said(chart.digits), transform=ax.get_yaxis_transform(), fontsize=8, va="center")
    ax.axvline(0, color=MUTED, lw=0.8, zorder=0)
    ax.set_xlim(chart.seen.low, chart.seen.high)
    ax.set_xlabel(chart.axis.replace("; ", "\n"), fontsize=9)


def _line(ax: Axes, line: ChartLine, y: float) -> None:
    color = MEMORY if line.hollow else INK
    if line.mark == "diamond":
        ax.fill([line.low, line.at, line.high, line.at], [y, y + 0.3, y, y - 0.3], color=ACCENT, zorder=3)
    elif line.mark == "bar":
        ax.hlines(y, line.low, line.high, color=MEMORY if line.hollow else ACCENT, lw=5, alpha=0.45)
        ax.plot(line.at, y, "|", color=color, ms=8)
    else:
        ax.hlines(y, line.low, line.high, color=color, lw=1.2)
        ax.scatter(line.at, y, s=18 + 500 * line.share, marker="s" if line.mark == "square" else "o", c=color, zorder=3)
    if line.beside:
        low, at, high = line.beside
        ax.hlines(y - 0.3, low, high, color=INK, lw=1)
        ax.plot(at, y - 0.3, "o", color=INK, ms=3)


def _dots(ax: Axes, chart: DotChart) -> None:
    ax.fill(*zip(*chart.region, strict=True), color=BAND, zorder=0)
    ax.plot(*zip(*chart.line, strict=True), color=ACCENT, lw=1.6)
    for dot in chart.dots:
        ax.scatter(dot.x, dot.y, s=12 + 90 * dot.size, c=MEMORY if dot.hollow else INK, alpha=0.8, zorder=3)
    ax.set_xlim(chart.x.low, chart.x.high)
    ax.set_ylim(chart.y.low, chart.y.high)
    ax.set_xlabel(chart.x_axis, fontsize=9)
    ax.set_ylabel(chart.y_axis, fontsize=9)


def _boxes(ax: Axes, chart: GridChart) -> None:
    for i, column in enumerate(chart.boxes):
        for j, box in enumerate(column):
            foot, tall = (j - 0.5, 1.0) if chart.rows else (0.0, box.height)
            ax.bar(i, tall, 0.97, foot, color=BAND if box.share is None else scale_colour(box.share))
            ax.text(i, foot + tall / 2, box.said, ha="center", va="center", fontsize=8, color=INK if box.dark else "white")
    spots = [("best", chart.best, MEMORY), *([("usual", chart.usual, MUTED)] if chart.usual else [])]
    for label, (x, y), colour in spots:  # rings, so that the number within can be read
        ax.plot(x, y if chart.rows else -0.06, "o", ms=18, mfc="none", mec=colour, mew=2.5, label=label, clip_on=False, zorder=5)
    ax.set_xticks(range(len(chart.columns)), chart.columns)
    ax.set_yticks(range(len(chart.rows)), chart.rows)
    ax.set(xlabel=f"\n{chart.across}", ylabel=chart.up)
    ax.legend(frameon=False, fontsize=9, loc="upper left", bbox_to_anchor=(1, 1), markerscale=0.6)
