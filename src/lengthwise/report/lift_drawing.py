"""A lift drawn small for a sheet: the first and the last position side by side."""

from lengthwise.figure.views import best_view
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.report.drawing import at_one_scale, draw_position
from lengthwise.report.picture import Picture
from lengthwise.report.plotting import Figure
from lengthwise.report.profile_figure import working_lines

SMALL_PIXEL_M = 0.006
"""A drawing is some 30 mm high on paper, which this fills with about 250 dots an inch."""


def small_drawing(found: LiftProfile, size: tuple[float, float] = (3.0, 2.0)) -> Picture:
    """Start and end of the lifting phase from where the lift is best seen, at one scale.

    Args:
        size: width and height [inch].
    """
    figure = Figure(figsize=size)
    axes = list(figure.subplots(1, 2))
    figure.subplots_adjust(left=0, right=1, bottom=0, top=1, wspace=0.02)
    for ax, position in zip(axes, (0, len(found.capacity_kg) - 1), strict=True):
        draw_position(
            ax, found.setting, position, working_lines(found, position), best_view(found.lift_id, found.lift), SMALL_PIXEL_M
        )
    at_one_scale(axes)
    return Picture(found.lift_id, figure, f"{found.lift.name}: start and end of the lifting phase; the red arrow is the load.")
