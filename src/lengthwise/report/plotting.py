"""What pictures are drawn with, loaded when the first one is drawn: a second that most questions do without."""

from typing import TYPE_CHECKING, Any

from lengthwise.later import Later, LaterCall

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Axes
    from matplotlib.figure import Figure as Figure
    from matplotlib.patches import Polygon as Polygon
else:
    Axes = LaterCall("matplotlib.axes", "Axes")
    Figure = LaterCall("matplotlib.figure", "Figure")
    Polygon = LaterCall("matplotlib.patches", "Polygon")

colors: Any = Later("matplotlib.colors")
dates: Any = Later("matplotlib.dates")
matplotlib: Any = Later("matplotlib")
patches: Any = Later("matplotlib.patches")
pdf_pages: Any = Later("matplotlib.backends.backend_pdf")
plt: Any = Later("matplotlib.pyplot")
ticker: Any = Later("matplotlib.ticker")


def scale_colour(share: float) -> str:
    """The colour of a place between the least (0) and the most (1), from viridis (van der Walt & Smith 2015), as #rrggbb."""
    return str(colors.to_hex(matplotlib.colormaps["viridis"](min(max(share, 0.0), 1.0))))
