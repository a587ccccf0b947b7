"""Draws docs/img/two_lifts.png, the picture of the README: one muscle in two lifts, coloured by how long its fibres are under load.

python validation/readme_picture.py
"""

from pathlib import Path

import matplotlib.pyplot as plt
import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.figure.painting import RGB, SIDE, painted
from lengthwise.figure.scene import scene_at
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import LiftProfile, profile
from lengthwise.report.drawing import QUIET

FILE = Path(__file__).parents[1] / "docs" / "img" / "two_lifts.png"
SHOWN = (
    ("lying_leg_curl", "hamstrings", "biceps_femoris_long"),
    ("seated_leg_curl", "hamstrings", "biceps_femoris_long"),
)
"""Lift, muscle that is coloured, and head whose length is said."""
AROUND_M = 0.12
SHORTEST, LONGEST = 0.4, 1.6
"""Ends of the scale of the workbench, × optimal."""
PIXEL_M = 0.003


def shade(length: float) -> RGB:
    """The colour of a fibre length."""
    r, g, b, _ = plt.colormaps["viridis"](np.clip((length - SHORTEST) / (LONGEST - SHORTEST), 0, 1))
    return float(r), float(g), float(b)


def draw(ax: plt.Axes, found: LiftProfile, muscle: str, head: str) -> None:
    """A lift where the length of its head under load is reached, and that length in words."""
    own = found.heads[head].measures.loaded_length
    at = int(np.abs(found.heads[head].fibre_length - own).argmin())
    lengths = {h: found.heads[h].fibre_length[at] for h in anatomy.muscles()[muscle] if h in found.heads}
    scene = scene_at(found.setting, np.array([at]))
    seen = painted(scene, SIDE, lambda h, side: shade(lengths[h]) if h in lengths else QUIET, PIXEL_M)
    ax.imshow(seen.image, extent=seen.extent)
    body = np.concatenate([m.points[0] for m in scene.muscles] + [m.points[0] * [1, -1, 1] for m in scene.muscles])
    for limit, axis in zip((ax.set_xlim, ax.set_ylim), SIDE.axes[:2], strict=True):
        limit((body @ axis).min() - AROUND_M, (body @ axis).max() + AROUND_M)
    ax.set_title(f"{found.lift.name}\n{head.replace('_', ' ')}: {own:.2f} × optimal length", fontsize=11)
    ax.set_aspect("equal")
    ax.axis("off")


def main() -> None:
    """Draw it."""
    body = body_of(Person())
    figure, axes = plt.subplots(1, 2, figsize=(9, 4.6), width_ratios=(1.4, 1), layout="constrained")
    for ax, (lift_id, *shown) in zip(axes, SHOWN, strict=True):
        draw(ax, profile(body, lift_id, built_in().lifts[lift_id]), *shown)
    scale = plt.cm.ScalarMappable(plt.Normalize(SHORTEST, LONGEST), "viridis")
    figure.colorbar(scale, ax=axes, orientation="horizontal", shrink=0.3, aspect=40, label="fibre length, × optimal")
    figure.savefig(FILE, dpi=110, pil_kwargs={"optimize": True})


if __name__ == "__main__":
    main()
