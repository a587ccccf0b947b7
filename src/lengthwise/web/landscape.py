"""Where everything of a set-up search stands on its drawing, so that the template only draws."""

from dataclasses import dataclass
from math import isnan

import numpy as np

from lengthwise.grading.measure_words import MEASURE_WORDS
from lengthwise.grading.setup_search import Landscape, Setup
from lengthwise.quantities import setup_name
from lengthwise.report.grading_figures import scale_colour
from lengthwise.web import units_shown
from lengthwise.web.who import Units

LEFT, TOP, WIDE, HIGH, BARS = 92.0, 10.0, 76.0, 40.0, 180.0
"""Margins, size of a cell, and height of the bars of a single parameter, in units of the drawing."""
INK_FROM = 0.45
"""From this place on the scale dark letters stand out better than light ones."""


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One set-up: its box, its colour, whether letters on it are dark, its value, and what it is in words."""

    x: float
    y: float
    high: float
    colour: str
    dark: bool
    said: str
    words: str


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """A set-up search in the units of its drawing.

    Attributes:
        cells: set-ups. columns, rows: places and words along the two axes. across, up: names of the parameters (up may be empty).
        best, usual: places of the two rings; the usual one is missing where it cannot be held. flat: whether all values are the same.
    """

    cells: tuple[Cell, ...]
    columns: tuple[tuple[float, str], ...]
    rows: tuple[tuple[float, str], ...]
    across: str
    up: str
    best: tuple[float, float]
    usual: tuple[float, float] | None
    width: float
    height: float
    flat: bool


def drawing_of(found: Landscape, units: Units) -> Drawing:
    """The measure over the one or two set-up parameters that move it most."""
    grid = found.grid.reshape(len(found.axes[0]), -1)
    one = len(found.parameters) == 1
    n_row, bottom = grid.shape[1], TOP + (BARS if one else HIGH * grid.shape[1])
    low, high = (float(f(grid)) for f in (np.nanmin, np.nanmax)) if not np.isnan(grid).all() else (0.0, 0.0)
    names = [setup_name(p) for p in found.parameters]
    ticks = [tuple(_said(found, p, v, units) for v in axis.tolist()) for p, axis in zip(found.parameters, found.axes, strict=True)]
    cells = []
    for i, j in np.ndindex(grid.shape):
        value = float(grid[i, j])
        share = 0.5 if isnan(value) or high - low < 1e-9 else (value - low) / (high - low)
        tall = (BARS * max(value, 0.0) / max(high, 1e-9) if not isnan(value) else 0.0) if one else HIGH
        y = bottom - tall if one else TOP + HIGH * (n_row - 1 - j)
        words = ", ".join(f"{n} {t[k]}" for n, t, k in zip(names, ticks, (i, j), strict=False))
        cells.append(_cell(found.setups.measure, value, share, (LEFT + WIDE * i, y, tall), words))
    columns = tuple((LEFT + WIDE * (i + 0.5), t) for i, t in enumerate(ticks[0]))
    rows = () if one else tuple((TOP + HIGH * (n_row - 0.5 - j), t) for j, t in enumerate(ticks[1]))
    return Drawing(
        cells=tuple(cells), columns=columns, rows=rows, across=names[0], up="" if one else names[1],
        best=_place(found, found.best, bottom), usual=None if found.default_value is None else _place(found, found.default, bottom),
        width=LEFT + WIDE * len(columns) + 10, height=bottom + 62, flat=high - low < 1e-9,
    )  # fmt: skip


def _cell(measure: str, value: float, share: float, box: tuple[float, float, float], words: str) -> Cell:
    x, y, tall = box
    if isnan(value):
        return Cell(x=x, y=y, high=tall, colour="", dark=True, said="–", words=f"{words}: cannot be held")
    unit = MEASURE_WORDS[measure].unit
    short = f"{100 * value:.0f}" if unit == "%" else f"{value:.2f}"
    return Cell(
        x=x,
        y=y,
        high=tall,
        colour=scale_colour(share),
        dark=share >= INK_FROM,
        said=short,
        words=f"{words}: {MEASURE_WORDS[measure].said(value)}",
    )


def _place(found: Landscape, setup: Setup, bottom: float) -> tuple[float, float]:
    """Where a set-up stands among the cells."""
    at = [
        float(np.interp(setup[p], axis, np.arange(len(axis)))) if axis[-1] > axis[0] else 0.0
        for p, axis in zip(found.parameters, found.axes, strict=True)
    ]
    y = bottom + 34 if len(at) == 1 else TOP + HIGH * (len(found.axes[1]) - 0.5 - at[1])
    return LEFT + WIDE * (at[0] + 0.5), y


def _said(found: Landscape, name: str, value: float, units: Units) -> str:
    return units_shown.setting(value, found.setups.lift.setup[name].unit, units)
