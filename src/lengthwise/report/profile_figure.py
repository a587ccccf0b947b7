"""The picture of a lift's profile: the body at three positions, and the curves a coach reads."""

from collections.abc import Sequence
from typing import Any

from lengthwise.body.muscle_names import plain
from lengthwise.figure.painting import FRONT
from lengthwise.figure.views import best_view
from lengthwise.grading.sentences import spoken
from lengthwise.mechanics.long_half_beside import LiftOnBody
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.quantities import percent
from lengthwise.report.drawing import LOAD, at_one_scale, draw_position
from lengthwise.report.lift_curves import CURVES, LiftCurve
from lengthwise.report.picture import BAND, INK, Picture, dress
from lengthwise.report.plotting import Axes, Figure

COLORS = ["#1f5f8b", "#c0392b", "#2c7a6b", "#b7791f", "#6b4e9b", "#4a5568"]
DASHES = ["-", (0, (3.5, 2)), (0, (1, 1.5)), (0, (5, 1.5, 1, 1.5))]
"""Of the lines of heads, one after the other, so that colour is never needed alone; as on the pages (`web/src/scales.ts`)."""


def profile_figure(found: LiftProfile) -> Figure:
    """The lift drawn at three positions with the direction of the load, above curves of capacity, length and tension."""
    fig = Figure(figsize=(13, 9.2), layout="constrained")
    halves: Any = fig.subfigures(2, 1, height_ratios=[1.05, 1])
    top, bottom = halves
    n_pos = len(found.capacity_kg)
    drawn = list(top.subplots(1, 4))
    best = best_view(found.lift_id, found.lift)
    for ax, position, view, title in zip(
        drawn,
        (0, n_pos // 2, n_pos - 1, 0),
        (best, best, best, FRONT),
        ("start", "middle", "end", "start, from the front"),
        strict=True,
    ):
        draw_position(ax, found.setting, position, working_lines(found, position), view)
        ax.set_title(title, fontsize=10)
    at_one_scale(drawn)
    heads = found.shown[: len(COLORS)]
    axes = bottom.subplots(1, 3)
    draw_capacity(axes[0], found)
    for ax, name in zip(axes[1:], ("length", "tension"), strict=True):
        draw_curve(ax, name, found, heads)
        ax.legend(fontsize=8, edgecolor="none")
    fig.suptitle(f"{found.lift.name}: {what_to_see(found)}", fontsize=12, wrap=True)
    return fig


def picture_of(found: LiftOnBody) -> Picture:
    """The figure of a lift that was asked for."""
    return profile_picture(found.profile)


def profile_picture(found: LiftProfile) -> Picture:
    """The figure with its name and what to see."""
    return Picture(found.lift_id, profile_figure(found), what_to_see(found))


def working_lines(found: LiftProfile, position: int) -> dict[str, float]:
    """Activation of each muscle line by name at one position, both sides."""
    lines = found.body.lines
    out = {}
    for i in found.setting.lines:
        head = lines.heads[i] + ("_left" if lines.sides[i] == "left" else "")
        out[lines.names[i]] = float(found.heads[head].activation[position])
    if found.folded:
        out |= {n.replace("_right", "_left"): a for n, a in out.items()}
    return out


MOST_SHOWN = 4.0
"""So many times the least load are shown: near a straight joint a body holds far more than it can lift, which would hide the rest."""
END = 0.03


def what_to_see(found: LiftProfile) -> str:
    """One sentence that says what the picture shows."""
    first = [f"{spoken(h)} ({percent(s)})" for h, s in list(found.gives_out.items())[:2] if s > 0.05]
    target = found.lift.targets[0]
    m = found.heads[target].measures
    return (
        f"weakest {placed(float(found.position[found.sticking]))} ({found.sticking_kg:.0f} kg), where "
        f"{' and '.join(first) or 'passive structures'} {'limits' if len(first) == 1 else 'limit'} it; {spoken(target)} works at {m.loaded_length:.2f} of its optimal length"
    )


def placed(position: float) -> str:
    """A position of the lifting phase, 0-1, in words: its ends are the bottom and the top."""
    if position < END:
        return "at the bottom"
    return "at the top" if position > 1 - END else f"{percent(position)} of the way up"


def name_ends(ax: Axes) -> None:
    """The lifting phase along an axis, from the bottom to the top."""
    ax.set_xticks([0, 50, 100], ["bottom", "50%", "top"])


def draw_capacity(ax: Axes, found: LiftProfile) -> None:
    """The largest load at each position, the load of the set, and the sticking position."""
    curve, x, request = CURVES["capacity"], found.position * 100, found.request
    ax.plot(x, found.capacity_kg, color=COLORS[0], lw=2, label=curve.labels[0])
    said = f"{curve.labels[1]}: {request.repetitions}, {request.reserve:g} in reserve"
    ax.axhline(found.working_kg, color=LOAD, lw=1.5, ls="--", label=said)
    ax.plot(x[found.sticking], found.sticking_kg, "o", color=LOAD, label="sticking position")
    low, high = float(found.capacity_kg.min()), float(found.capacity_kg.max())
    top = MOST_SHOWN * low if low > 0 and high > MOST_SHOWN * low else high * 1.08
    ax.set_ylim(min(0, low * 1.1, found.working_kg * 1.1), max(top, 1))
    _named(ax, curve)
    ax.legend(fontsize=8, edgecolor="none")


def draw_curve(ax: Axes, name: str, found: LiftProfile, heads: Sequence[str] = ()) -> None:
    """One of the CURVES along the lifting phase: of some heads, or of the lift itself where none are given."""
    curve, x = CURVES[name], found.position * 100
    for k, head in enumerate(heads):
        ax.plot(x, curve.of(found.heads[head]), color=COLORS[k % len(COLORS)], ls=DASHES[k % len(DASHES)], lw=2, label=plain(head))
    if not heads:
        ax.plot(x, curve.of(found), color=INK, lw=2)
    if curve.band:
        ax.axhspan(*curve.band, color=BAND, zorder=0)
    ax.set_ylim(bottom=curve.low, top=curve.high)
    _named(ax, curve)


def _named(ax: Axes, curve: LiftCurve) -> None:
    dress(ax, curve.title)
    ax.set_ylabel(f"[{curve.unit}]")
    ax.yaxis.set_major_formatter(f"{{x:.{curve.digits}f}}{curve.end}")
    name_ends(ax)
