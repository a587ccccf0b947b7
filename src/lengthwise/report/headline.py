"""Lifts for an audience: at their start and their end, with the muscle that is explained in red."""

from collections.abc import Collection

from lengthwise.figure.painting import View
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.report.drawing import at_one_scale, draw_position
from lengthwise.report.picture import INK, Picture
from lengthwise.report.plotting import Figure

_FINE_M = 0.0025


def headline_picture(found: Setting, view: View, muscle: str, heads: Collection[str], size: tuple[float, float]) -> Picture:
    """A lift for an audience: nothing but the body, its gear and the muscle.

    Args:
        found: the lift at some positions, of which the first and the last are drawn, as `view` shows them. muscle: its name as people write it. heads: its heads. size: width and height [inch].
    """
    figure = Figure(figsize=size, layout="constrained")
    axes = list(figure.subplots(1, 2))
    lines = found.body.lines
    red = {name: 1.0 for name, head in zip(lines.names, lines.heads, strict=True) if head in heads}
    for ax, position, said in zip(axes, (0, len(found.path.q) - 1), ("start", "end"), strict=True):
        draw_position(ax, found, position, red, view, _FINE_M)
        ax.set_title(said, fontsize=13, color=INK)
    if at_one_scale(axes) < size[1] / size[0] / 2:
        rows = figure.add_gridspec(2, 1)
        for k, ax in enumerate(axes):
            ax.set_subplotspec(rows[k])
            ax.set_xlim(min(a.get_xlim()[0] for a in axes), max(a.get_xlim()[1] for a in axes))
    return Picture("headline", figure, f"{found.lift.name}, from start to end; red: the {muscle}; red arrow: the load.")
