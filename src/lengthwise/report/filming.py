"""One repetition of a lift, or of two side by side, as a moving picture with the curve of how hard each position is."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from io import BytesIO
from textwrap import fill
from typing import ClassVar

import numpy as np
from PIL import Image

from lengthwise.figure.views import best_view
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.report.drawing import draw_position
from lengthwise.report.plotting import Axes, Figure
from lengthwise.report.profile_figure import COLORS, name_ends, what_to_see, working_lines

SIZE, DPI = (9.6, 5.4), 100
"""A slide of 16:9 [inch], and pixels an inch."""
N_WAY = 12
"""Positions of one way; up and down together make a repetition."""
FRAME_MS = 250
PIXEL_M = 0.005


@dataclass(frozen=True)
class Film:
    """A moving picture: animated WebP, which browsers and slides play over and over."""

    PUBLIC: ClassVar = ""
    content: bytes = field(repr=False)


def film(found: Sequence[LiftProfile]) -> Film:
    """A repetition, 5.5 s long.

    Args:
        found: one lift or two, each with as many positions as the other.
    """
    way = np.rint(np.linspace(0, len(found[0].position) - 1, N_WAY)).astype(int)
    figures = [_frame(found, int(k)) for k in way]
    _same_scale([[f.axes[i] for f in figures] for i in range(len(found))])
    once = [_pixels(f) for f in figures]
    frames = [*once, *once[-2:0:-1]]
    out = BytesIO()
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:], duration=FRAME_MS, loop=0, quality=80, method=3)
    return Film(out.getvalue())


def _frame(found: Sequence[LiftProfile], k: int) -> Figure:
    """The lifts at a position over the curve of their demand."""
    figure = Figure(figsize=SIZE, dpi=DPI, layout="constrained")
    grid = figure.add_gridspec(2, len(found), height_ratios=[4.2, 1])
    for i, lift in enumerate(found):
        ax = figure.add_subplot(grid[0, i])
        draw_position(ax, lift.setting, k, working_lines(lift, k), best_view(lift.lift_id, lift.lift), PIXEL_M)
        ax.set_title(lift.lift.name, fontsize=16)
    axes = figure.add_subplot(grid[1, :])
    for lift, color in zip(found, COLORS, strict=False):
        demand = lift.demand * 100
        axes.plot(lift.position * 100, demand, color=color, lw=2, label=lift.lift.name)
        axes.plot(lift.position[k] * 100, demand[k], "o", color=color)
    axes.set(ylabel="load ÷\ncapacity [%]", xlim=(-2, 102), ylim=(0, 108))
    name_ends(axes)
    axes.spines[["top", "right"]].set_visible(False)
    if len(found) > 1:
        axes.legend(fontsize=8, frameon=False, loc="upper right")
    else:
        said = what_to_see(found[0])
        axes.set_title(fill(f"{said[0].upper()}{said[1:]}.", 100), fontsize=11, loc="left")
    return figure


def _same_scale(lifts: Sequence[Sequence[Axes]]) -> None:
    """All frames of a lift show the same part of the room, and all lifts are as large, standing on one line."""
    limits = [(_spanned([a.get_xlim() for a in axes]), _spanned([a.get_ylim() for a in axes])) for axes in lifts]
    wide, high = (max(float(np.ptp(own[k])) for own in limits) for k in (0, 1))
    for axes, (x, y) in zip(lifts, limits, strict=True):
        middle = float(np.mean(x))
        for ax in axes:
            ax.set(xlim=(middle - wide / 2, middle + wide / 2), ylim=(y[0], y[0] + high))


def _spanned(limits: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return min(low for low, _ in limits), max(high for _, high in limits)


def _pixels(figure: Figure) -> Image.Image:
    out = BytesIO()
    figure.savefig(out, format="png")
    return Image.open(out).convert("RGB")
