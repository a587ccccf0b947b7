"""Trials beside the estimate: what was expected as a bar with its interval, what was seen as a point with its own."""

from lengthwise.body.muscle_names import plain
from lengthwise.grading.beside_trials import ComparisonBeside, TrialsBeside
from lengthwise.report.axes import span_of
from lengthwise.report.charts import ChartLine, RowChart
from lengthwise.report.paper_charts import on_paper
from lengthwise.report.picture import Picture

SEEN = {1: "more in the first", 0: "not clear", -1: "more in the second"}
LEAST_SPAN = (-5.0, 5.0)
"""Percentage points that the axis always shows (look)."""


def trials_chart(found: TrialsBeside) -> RowChart:
    """Every comparison: what the estimate expects against what the trial saw, with 90 % intervals."""
    rows, c, d = found.comparisons, found.sizes, found.sides
    return RowChart(
        name="trials",
        title="Trials against the growth estimate",
        axis="growth of the first arm minus the second [percentage points]",
        lines=tuple(map(_line, rows)),
        seen=span_of([v for r in rows for v in (r.predicted.mean, *([r.observed.mean] if r.observed else []))] + [*LEAST_SPAN]),
        sentence=f"Right side in {d.agree} of the {d.of} where the trial is clear; {c.agree} of {c.of} sizes lie inside the 90% interval. "
        "Bar: expected, 90%; point and line: seen, 90%. ✗ and hollow, or another colour: wrong direction, or outside.",
    )


def picture_of(found: TrialsBeside) -> Picture:
    """The same on paper."""
    return on_paper(trials_chart(found))


def _line(row: ComparisonBeside) -> ChartLine:
    verdict = "wrong side" if row.side_right is False else "size outside" if row.inside is False else "fits"
    side = {"a": 1, "b": -1, None: 0}[row.ahead]
    expected, seen = row.predicted, row.observed
    return ChartLine(
        label=f"{'✗' if row.misses else '✓'} {row.cited} {plain(row.head).replace('+', ', ')}",
        at=expected.mean,
        low=expected.low,
        high=expected.high,
        mark="bar",
        hollow=row.misses,
        beside=(seen.low, seen.mean, seen.high) if seen else None,
        words=f"{verdict}: {SEEN[side]}",
    )
