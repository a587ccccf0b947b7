"""Lifts side by side: the body at the hardest position of each, and the same curves of the heads on shared axes."""

from collections.abc import Sequence

from lengthwise.body.muscle_names import plain
from lengthwise.mechanics.measures import UPPER_THIRD
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.report.drawing import draw_position
from lengthwise.report.picture import INK, MUTED, Picture, dress, finished
from lengthwise.report.plotting import Figure
from lengthwise.report.profile_figure import COLORS, working_lines


def compare_picture(found: Sequence[LiftProfile], heads: Sequence[str], sentence: str) -> Picture:
    """Drawings at the weakest position, then resistance, and where in its span and how hard each head works, lift beside lift."""
    fig = Figure(figsize=(4.4 * len(found) + 1.5, 12), layout="constrained")
    grid = fig.subplots(4, len(found), squeeze=False, height_ratios=[1.2, 1, 1, 1])
    for k, p in enumerate(found):
        draw_position(grid[0, k], p.setting, p.sticking, working_lines(p, p.sticking))
        grid[0, k].set_title(f"{p.lift.name}\nat its weakest, {p.working_kg:.0f} kg for a set", fontsize=10, color=INK)
        x = p.position * 100
        grid[1, k].plot(x, p.demand, color=INK, lw=2)
        for color, head in zip(COLORS, heads, strict=False):
            own = p.heads[head]
            grid[2, k].plot(x, own.span_position, color=color, lw=2, label=plain(head))
            grid[3, k].plot(x, own.active_force_n, color=color, lw=2)
        grid[2, k].axhspan(UPPER_THIRD, 1, color="#e4e9ed", zorder=0)
    for row, (title, axis) in enumerate(_ROWS, 1):
        top = max(ax.get_ylim()[1] for ax in grid[row])
        for ax in grid[row]:
            dress(ax, title)
            ax.set(ylim=(0, 1.02 if row == 2 else top), xlabel="lifting phase [%]", ylabel=axis)
    grid[2, -1].legend(fontsize=8, frameon=False, loc="center left", bbox_to_anchor=(1, 0.5))
    grid[2, 0].text(2, 0.97, "upper third: long", fontsize=8, color=MUTED, va="top")
    return finished("compare", fig, sentence)


_ROWS = (
    ("How hard each position is", "load over capacity [0-1]"),
    ("How long each head is", "span position [0 shortest, 1 longest]"),
    ("How hard each head pulls", "active tension [N]"),
)
