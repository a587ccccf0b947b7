"""A search for the best set-up of a lift, as a chart: the measure over the one or two parameters that move it most."""

import numpy as np

from lengthwise.body.muscle_names import plain
from lengthwise.grading.measure_words import MEASURE_WORDS
from lengthwise.grading.setup_search import Landscape, Setup
from lengthwise.quantities import LengthUnit, MassUnit, setting, setup_name
from lengthwise.report.charts import Box, GridChart, Pair
from lengthwise.report.paper_charts import on_paper
from lengthwise.report.picture import Picture

LEAST_APART = 1e-9
"""Numbers nearer to each other than that are the same."""


def picture_of(found: Landscape) -> Picture:
    """The chart on paper."""
    return on_paper(setup_chart(found))


def setup_chart(found: Landscape, mass_unit: MassUnit = "kg", length_unit: LengthUnit = "cm") -> GridChart:
    """Every set-up that was tried on the grid, with the best that was found and the usual one."""
    lift, measure = found.setups.lift, MEASURE_WORDS[found.setups.measure]

    def said(name: str, value: float) -> str:
        return setting(value, lift.setup[name].unit, mass_unit, length_unit)

    names = [setup_name(p) for p in found.parameters]
    ticks = [tuple(said(p, v) for v in axis.tolist()) for p, axis in zip(found.parameters, found.axes, strict=True)]
    grid = found.grid.reshape(len(found.axes[0]), -1)
    boxes = []
    for i, column in enumerate(grid):
        where = [", ".join(f"{n} {t[k]}" for n, t, k in zip(names, ticks, (i, j), strict=False)) for j in range(len(column))]
        boxes.append(tuple(_box(found, float(value), words) for value, words in zip(column, where, strict=True)))
    best = ", ".join(f"{setup_name(n)} {said(n, v)}" for n, v in found.best.items())
    gain = "" if found.default_value is None else f" against {measure.said(found.default_value)} in the usual set-up"
    return GridChart(
        name="landscape",
        title=f"{measure.title} of {', '.join(plain(h) for h in found.setups.heads)} in the {lift.name.lower()}",
        across=names[0],
        up=names[1] if len(names) > 1 else "",
        columns=ticks[0],
        rows=ticks[1] if len(ticks) > 1 else (),
        boxes=tuple(boxes),
        best=_place(found, found.best),
        usual=None if found.default_value is None else _place(found, found.default),
        sentence=f"Best at {best}: {measure.said(found.best_value)}{gain}; {found.infeasible} of {found.tried} set-ups cannot be held (–).",
    )


def _box(found: Landscape, value: float, where: str) -> Box:
    if np.isnan(value):
        return Box(share=None, height=0.0, said="–", words=f"{where}: cannot be held")
    measure, low, high = MEASURE_WORDS[found.setups.measure], float(np.nanmin(found.grid)), float(np.nanmax(found.grid))
    return Box(
        share=(value - low) / (high - low) if high - low >= LEAST_APART else 0.5,
        height=max(value, 0.0) / max(high, LEAST_APART),
        said=f"{100 * value:.0f}" if measure.unit == "%" else f"{value:.2f}",
        words=f"{where}: {measure.said(value)}",
    )


def _place(found: Landscape, setup: Setup) -> Pair:
    """Where a set-up stands among the boxes."""
    at = [
        float(np.interp(setup[p], axis, np.arange(len(axis)))) if axis[-1] > axis[0] else 0.0
        for p, axis in zip(found.parameters, found.axes, strict=True)
    ]
    return at[0], at[1] if len(at) > 1 else 0.0
