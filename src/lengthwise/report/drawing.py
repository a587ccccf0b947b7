"""Drawings of a body in a lift: the figure, the muscles that work, the load and the supports."""

from collections.abc import Mapping, Sequence
from functools import lru_cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.figure import Capsule, capsules
from lengthwise.figure.load_arrows import arrows
from lengthwise.figure.painting import SIDE, Painted, View, can_paint, painted
from lengthwise.figure.scene import Scene, scene_at
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.report.plotting import Axes, Polygon, patches

PIXEL_M, LEAST_SHOWN = 0.003, 0.03
ARROW_M, HEAD_M, SHAFT_M = 0.26, 0.085, 0.02
"""How long an arrow is, its head, and how thick its shaft: as large beside the body on every paper."""
LEAST_FORCE_N, FLOOR_BEYOND_M = 1e-9, 0.2
QUIET, WORKS = (0.84, 0.76, 0.72), (0.70, 0.12, 0.10)
SKIN, EDGE, FLOOR = "#e9e4dc", "#8d857a", "#c9c4bb"
LOAD, SUPPORT = "#c0392b", "#2c7a6b"


def draw_position(
    ax: Axes, setting: Setting, position: int, working: Mapping[str, float], view: View = SIDE, pixel_m: float = PIXEL_M
) -> None:
    """Bones, muscles and gear at one position of a lift, with the direction of the load.

    Args:
        working: activation of each muscle line by name, 0-1; a muscle is the redder the harder it works.
        view: from where it is seen. pixel_m: how much a pixel of the picture shows [m].
    """
    if not can_paint():
        draw_plainly(ax, setting, position, working, view)
        return
    found = _painted(setting, position, tuple(_by_head(setting, working).items()), view, pixel_m)
    ground = _ground(setting, _scene(setting, position)[0].floor) @ view.axes[:2].T
    ax.imshow(found.image, extent=found.extent, zorder=1, interpolation="antialiased")
    ax.add_patch(Polygon(ground, closed=True, facecolor=FLOOR, edgecolor=FLOOR, alpha=0.5, lw=1.2, zorder=0))
    _draw_load(ax, setting, position, view)
    ax.autoscale()
    ax.set_aspect("equal")
    ax.axis("off")


@lru_cache(maxsize=4)
def _scene(setting: Setting, position: int) -> tuple[Scene, int]:
    """A lift at a position among its ends, and which of its keys that is: all pictures of a lift show the same floor, box and benches."""
    last = len(setting.path.q) - 1
    if position not in (0, last):
        return scene_at(setting, np.array([0, position, last])), 1
    return _ends(setting), min(position, 1)


@lru_cache(maxsize=4)
def _ends(setting: Setting) -> Scene:
    """A lift at its first and its last position."""
    return scene_at(setting, np.unique([0, len(setting.path.q) - 1]))


@lru_cache(maxsize=4)
def _painted(
    setting: Setting, position: int, working: tuple[tuple[tuple[str, str], float], ...], view: View, pixel_m: float
) -> Painted:
    """That body painted, heads by how hard they work."""
    levels, (scene, key) = dict(working), _scene(setting, position)
    return painted(scene, view, lambda head, side: _colour(levels.get((head, side), 0.0)), pixel_m, key)


def _ground(setting: Setting, floor: float) -> Array:
    """Corners of the floor under the body, the same at all positions of a lift, (4, 3) [m]."""
    own = np.concatenate([capsule.ends for q in setting.path.q[[0, -1]] for capsule in capsules(setting.body, q)])
    (x, y), (far_x, far_y) = own.min(0)[:2] - FLOOR_BEYOND_M, own.max(0)[:2] + FLOOR_BEYOND_M
    return np.array([[x, y, floor], [far_x, y, floor], [far_x, far_y, floor], [x, far_y, floor]])


def at_one_scale(axes: Sequence[Axes]) -> float:
    """Drawings beside one another in one grid: each as wide as what it shows, all as high, so that a metre is as long in every one.

    Returns: how high they are, over how wide together.
    """
    low, high = (pick(ax.get_ylim()[k] for ax in axes) for k, pick in enumerate((min, max)))
    for ax in axes:
        ax.set_ylim(low, high)
    wide = [float(np.ptp(ax.get_xlim())) for ax in axes]
    for ax in axes:
        if (place := ax.get_subplotspec()) is not None:
            place.get_gridspec().set_width_ratios(wide)
            ax.set_subplotspec(place)  # which takes its new width
    return float(high - low) / sum(wide)


def _by_head(setting: Setting, working: Mapping[str, float]) -> dict[tuple[str, str], float]:
    """How hard each head works on each side: as its hardest line."""
    lines = setting.body.lines
    out: dict[tuple[str, str], float] = {}
    for name, head, side in zip(lines.names, lines.heads, lines.sides, strict=True):
        out[head, side] = max(out.get((head, side), 0.0), working.get(name, 0.0))
    return out


def _colour(level: float) -> tuple[float, float, float]:
    share = float(np.clip(level, 0, 1)) ** 0.6 if level > LEAST_SHOWN else 0.0
    r, g, b = np.array(QUIET) * (1 - share) + np.array(WORKS) * share
    return (float(r), float(g), float(b))


def draw_plainly(ax: Axes, setting: Setting, position: int, working: Mapping[str, float], view: View = SIDE) -> None:
    """The same as capsules and lines: quick, for sheets of many lifts and where nothing can be painted.

    Args:
        working: activation of each muscle line by name, 0-1; lines above LEAST_SHOWN are drawn, the darker the harder they work.
    """
    q = setting.path.q[position]
    picture, eye = view.axes[:2].T, view.axes[2]
    shapes = sorted(capsules(setting.body, q), key=lambda c: float((c.ends @ eye).mean()))
    for k, capsule in enumerate(shapes):
        ax.add_patch(_outline(capsule, picture, 1 + 0.01 * k))
    for name, points in setting.body.line_points(q).items():
        level = working.get(name, 0.0)
        if level > LEAST_SHOWN and (view != SIDE or not name.endswith("_left")):
            color = (0.75, 0.1 + 0.5 * (1 - level), 0.1 + 0.5 * (1 - level))
            ax.plot(*(points @ picture).T, color=color, lw=1 + 2.2 * level, zorder=3, solid_capstyle="round")
    _draw_supports(ax, setting, position, picture)
    _draw_load(ax, setting, position, view)
    low = min(c.ends[:, 2].min() for c in shapes)
    if low < 0.25:
        ax.axhline(0, color=FLOOR, lw=2, zorder=0)
    ax.set_aspect("equal")
    ax.axis("off")


def _outline(capsule: Capsule, picture: Array, order: float) -> Polygon:
    """The outline of a capsule on a picture whose axes are columns, (3, 2)."""
    (a, b), (ra, rb) = capsule.ends @ picture, capsule.radii
    gap = b - a
    length = float(np.hypot(*gap))
    heading = np.arctan2(gap[1], gap[0])
    lean = np.arccos(np.clip((ra - rb) / length, -1, 1)) if length > 1e-6 else np.pi / 2
    if length < abs(ra - rb):
        lean = 0.0 if ra > rb else np.pi
    back = np.linspace(heading + lean, heading + 2 * np.pi - lean, 24)
    front = np.linspace(heading - lean, heading + lean, 24)
    ring = np.concatenate([a + ra * _circle(back), b + rb * _circle(front)])
    return Polygon(ring, closed=True, facecolor=SKIN, edgecolor=EDGE, lw=0.6, zorder=order)


def _circle(angle: Array) -> Array:
    return np.stack([np.cos(angle), np.sin(angle)], -1)


def _draw_load(ax: Axes, setting: Setting, position: int, view: View) -> None:
    found = arrows(setting)
    for at, way, size, pushes in zip(found.at[position], found.way[position], found.force_n[position], found.pushes, strict=True):
        if size < LEAST_FORCE_N:
            continue
        start, end = (p @ view.axes[:2].T for p in ((at - way * ARROW_M, at) if pushes else (at, at + way * ARROW_M)))
        head = min(HEAD_M, 0.6 * float(np.hypot(*(end - start))))
        arrow = patches.FancyArrow(
            *start,
            *(end - start),
            width=SHAFT_M,
            head_width=HEAD_M,
            head_length=head,
            length_includes_head=True,
            lw=0,
            color=LOAD,
            zorder=6,
        )
        ax.add_patch(arrow)
        if not pushes:
            ax.add_patch(patches.Circle(start, 1.2 * SHAFT_M, lw=0, color=LOAD, zorder=6))


def _draw_supports(ax: Axes, setting: Setting, position: int, picture: Array) -> None:
    drawn = set()
    for hold in setting.holds:
        if hold.turn or hold.mark in drawn:
            continue
        drawn.add(hold.mark)
        point = setting.seen.points[position, setting.marks.index(hold.mark)]
        same = [h.direction for h in setting.holds if h.mark == hold.mark and not h.turn]
        normal = np.sum(same, axis=0) if hold.lower >= 0 else np.zeros(3)
        size = np.linalg.norm(normal)
        if size > 1e-9:
            tail = point - normal / size * 0.09
            ax.plot(*(np.array([tail, point]) @ picture).T, color=SUPPORT, lw=2, zorder=5)
        ax.plot(*(point @ picture), "s" if size <= 1e-9 else "o", color=SUPPORT, ms=3.5, zorder=5)
