"""Drawings of a pooled table: forest, funnel, without each row, one after another, and effects against a column."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from lengthwise.actions.effect_tables import Pooled, by_year, one_after_another
from lengthwise.web.axes import Span, digits_for, span_of, ticks
from lengthwise.web.forest import Z_95, Forest, Line, around, laid_out, whole

AXIS = "Effect [unit of the table]"
Place = Callable[[float, float], tuple[float, float]]
BOX = (80.0, 20.0, 640.0, 330.0)
"""Left, top, right and bottom of a scatter within a drawing of 720 by 400."""


def forest_of_table(found: Pooled) -> Forest:
    """Every row with its weight, the mean of all, and where a new study's true effect would lie."""
    table, answer = found.table, found.result.answer
    lines = [around(*row) for row in zip(table.study, table.y, np.sqrt(table.v), answer.weight, strict=True)]
    return _forest(lines, whole("Mean of all", answer.estimate, answer.ci), answer.prediction)


def forest_without_each(found: Pooled) -> Forest | None:
    """The mean without each row in turn; none for clustered rows or fewer than three."""
    if found.trouble is None or found.trouble.left_out is None:
        return None
    out, answer = found.trouble.left_out, found.result.answer
    values = zip(found.table.study, out.estimate, out.ci_low, out.ci_high, strict=True)
    lines = [whole(f"without {study}", at, (low, high)) for study, at, low, high in values]
    return _forest(lines, whole("All of them", answer.estimate, answer.ci), None)


def forest_growing(found: Pooled) -> Forest | None:
    """The mean after each further row; none for clustered rows or a single one."""
    steps = one_after_another(found)
    if len(steps) < 2:
        return None
    names = [found.table.study[i] for i in by_year(found.table)]
    lines = [whole(f"+ {n}", s.estimate, s.ci) for n, s in zip(names, steps, strict=True)]
    return _forest(lines, whole("All of them", steps[-1].estimate, steps[-1].ci), None)


def _forest(lines: list[Line], mean: Line, spread: tuple[float, float] | None) -> Forest:
    farthest = 4 * max(abs(line.at) for line in lines) or np.inf
    ends = [v for line in (*lines, mean) for v in (line.low, line.high)]
    seen = span_of(min(max(v, -farthest), farthest) for v in ends)
    return laid_out(lines, mean, spread, AXIS, seen, digits_for([seen.low, seen.high]))


@dataclass(frozen=True, kw_only=True)
class Scatter:
    """Dots over two axes with a shape behind them and a line through them, in the units of the drawing."""

    dots: tuple[tuple[float, float, float, str], ...]
    shape: str
    line: str
    x_ticks: tuple[tuple[float, str], ...]
    y_ticks: tuple[tuple[float, str], ...]
    x_axis: str
    y_axis: str


def funnel_of_table(found: Pooled) -> Scatter:
    """Effects against their standard errors, precise ones on top, with the region that chance alone would fill."""
    table, centre = found.table, found.result.answer.estimate
    se = np.sqrt(table.v)
    top = float(se.max()) * 1.1
    edge = Z_95 * top
    x, y = span_of([*table.y, centre - edge, centre + edge], with_zero=False), Span(top, 0.0)
    place = _placing(x, y)
    dots = tuple((*place(a, b), 5.0, name) for a, b, name in zip(table.y, se, table.study, strict=True))
    shape = _path([place(centre, 0), place(centre - edge, top), place(centre + edge, top)]) + "Z"
    x_ticks, y_ticks = _ticks(x, Span(0.0, top), place)
    line = _path([place(centre, 0), place(centre, top)])
    return Scatter(dots=dots, shape=shape, line=line, x_ticks=x_ticks, y_ticks=y_ticks, x_axis=AXIS, y_axis="Standard error")


def against_column(found: Pooled) -> Scatter | None:
    """Effects against the column they were regressed on, with line and band; larger dots weigh more; none where it was not one column."""
    fit, names = found.regression, found.wishes.moderators
    if fit is None or len(names) != 1:
        return None
    table, dose = found.table, found.table.moderators[names[0]]
    grid = np.linspace(dose.min(), dose.max(), 40)
    centre, band = fit.predict(grid)
    x, y = span_of(dose, with_zero=False), span_of([*table.y, *centre])
    place, weight = _placing(x, y), 1 / (table.v + fit.tau2)
    size = 3 + 7 * np.sqrt(weight / weight.max())
    dots = tuple((*place(a, b), float(r), n) for a, b, r, n in zip(dose, table.y, size, table.study, strict=True))
    low, high = ([place(a, b) for a, b in zip(grid, band[:, side], strict=True)] for side in (0, 1))
    line = _path([place(a, b) for a, b in zip(grid, centre, strict=True)])
    shape, (x_ticks, y_ticks), axis = _path([*low, *high[::-1]]) + "Z", _ticks(x, y, place), f"{names[0]} [unit of the table]"
    return Scatter(dots=dots, shape=shape, line=line, x_ticks=x_ticks, y_ticks=y_ticks, x_axis=axis, y_axis=AXIS)


def drawings_of(found: Pooled) -> Mapping[str, object]:
    """Every drawing that a pooled table allows, by the name under which the template knows it."""
    return {
        "forest": forest_of_table(found),
        "funnel": funnel_of_table(found) if found.table.y.size > 1 else None,
        "without": forest_without_each(found),
        "growing": forest_growing(found),
        "against": against_column(found),
    }


def _placing(x: Span, y: Span) -> Place:
    """Turns values of two axes into a place within the drawing."""
    left, top, right, bottom = BOX
    return lambda a, b: (left + (right - left) * x.share(a), bottom - (bottom - top) * y.share(b))


def _path(points: list[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _ticks(x: Span, y: Span, place: Place) -> tuple[tuple[tuple[float, str], ...], tuple[tuple[float, str], ...]]:
    along = tuple((place(value, 0)[0], text) for value, text in ticks(x))
    return along, tuple((place(0, value)[1], text) for value, text in ticks(y))
