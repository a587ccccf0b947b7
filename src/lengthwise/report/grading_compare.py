"""Lifts side by side: the body at the hardest position of each, and the same curves of the heads on shared axes."""

from collections.abc import Sequence

from lengthwise.figure.views import best_view
from lengthwise.mechanics.measures import UPPER_THIRD
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.report.drawing import draw_position
from lengthwise.report.picture import INK, MUTED, Picture, finished
from lengthwise.report.plotting import Figure
from lengthwise.report.profile_figure import draw_curve, working_lines

ROWS = ("demand", "span", "tension")
"""Of the lift, of its heads, and of its heads (`lift_curves.py`)."""


def compare_picture(found: Sequence[LiftProfile], heads: Sequence[str], sentence: str) -> Picture:
    """Drawings at the weakest position, then resistance, and where in its span and how hard each head works, lift beside lift."""
    fig = Figure(figsize=(4.4 * len(found) + 1.5, 12), layout="constrained")
    grid = fig.subplots(4, len(found), squeeze=False, height_ratios=[1.2, 1, 1, 1])
    for k, p in enumerate(found):
        draw_position(grid[0, k], p.setting, p.sticking, working_lines(p, p.sticking), best_view(p.lift_id, p.lift))
        grid[0, k].set_title(f"{p.lift.name}\nat its weakest, {p.working_kg:.0f} kg for a set", fontsize=10, color=INK)
        for row, name in enumerate(ROWS, 1):
            draw_curve(grid[row, k], name, p, heads if row > 1 else ())
        grid[2, k].axhspan(UPPER_THIRD, 1, color="#e4e9ed", zorder=0)
    for row in grid[1:]:
        top = max(ax.get_ylim()[1] for ax in row)
        for ax in row:
            ax.set_ylim(top=top)
    grid[2, -1].legend(fontsize=8, frameon=False, loc="center left", bbox_to_anchor=(1, 0.5))
    grid[2, 0].text(2, 0.97, "upper third: long", fontsize=8, color=MUTED, va="top")
    return finished("compare", fig, sentence)
