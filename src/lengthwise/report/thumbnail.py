"""A lift as small as a stamp: its start and its end side by side, its targets red."""

from io import BytesIO

import numpy as np
from PIL import Image

from lengthwise.figure.painting import View, can_paint, painted
from lengthwise.figure.scene import Scene, scene_at
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.report.drawing import QUIET, WORKS

SIZE = (288, 184)
"""Width and height [pixels], for a place half as large on a fine screen."""
PIXEL_M = 0.009


def thumbnail(setting: Setting, view: View) -> bytes:
    """The first and last position at one scale as WebP on nothing; an empty picture where nothing can be painted.

    Args:
        view: from where the lift is best seen.
    """
    out = Image.new("RGBA", SIZE)
    if can_paint():
        ends = scene_at(setting, np.array([0, len(setting.path.q) - 1]))
        parts = [_position(ends, k, set(setting.lift.targets), view) for k in (0, 1)]
        half = (SIZE[0] // 2 - 2, SIZE[1])
        shrunk = min(1.0, *(half[i] / p.size[i] for p in parts for i in range(2)))
        for k, part in enumerate(parts):
            small = part.resize((max(1, int(part.width * shrunk)), max(1, int(part.height * shrunk))), Image.Resampling.LANCZOS)
            out.paste(small, (k * SIZE[0] // 2 + (SIZE[0] // 2 - small.width) // 2, SIZE[1] - small.height))
    file = BytesIO()
    out.save(file, "WEBP", quality=80)
    return file.getvalue()


def _position(scene: Scene, key: int, targets: set[str], view: View) -> Image.Image:
    found = painted(scene, view, lambda head, side: WORKS if head in targets else QUIET, PIXEL_M, key)
    return Image.fromarray((found.image * 255).astype(np.uint8), "RGBA")
