"""Pictures of docs/body_upper.md: python validation/upper_report.py [earlier muscles_upper.toml] (the earlier body is dashed)."""

import os
import sys
import tomllib
from pathlib import Path

os.environ.setdefault("OMP_NUM_THREADS", "1")

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.muscles import settle
from lengthwise.body.posture import coordinates
from lengthwise.mechanics.strength import joint_strength
from line_model import Array, LineModel, axes_of, base_body
from upper_bands import ABDUCTION, BANDS, BENT, ELBOW, FLEXION, HORIZONTAL, INTERNAL, PRONATION, RADIAL, RAISED, WRIST
from upper_postures import grids
from upper_torques import TORQUES

IMAGES = Path(__file__).parents[1] / "docs" / "img"
MOVES = {
    "forward": (FLEXION, (-50, 170), {}),
    "sideways": (ABDUCTION, (0, 170), {}),
    "level": (HORIZONTAL, (-40, 125), {}),
    "turn at side": (INTERNAL, (-80, 75), BENT),
    "turn raised": (INTERNAL, (-90, 70), RAISED),
    "elbow": (ELBOW, (0, 150), {}),
    "pronation": (PRONATION, (-80, 75), BENT),
    "wrist": (WRIST, (-65, 75), BENT),
    "radial": (RADIAL, (-30, 20), BENT),
}
SHOULDER = {
    "deltoid": ("deltoid_anterior", "deltoid_middle", "deltoid_posterior"),
    "chest": ("pectoralis_clavicular", "pectoralis_sternal", "pectoralis_costal"),
    "back": ("latissimus_upper", "latissimus_middle", "latissimus_lower", "teres_major"),
    "cuff": (
        "supraspinatus",
        "infraspinatus_upper",
        "infraspinatus_lower",
        "teres_minor",
        "subscapularis_upper",
        "subscapularis_lower",
    ),
    "arm": ("triceps_long", "biceps_long", "biceps_short", "coracobrachialis"),
}
FOREARM = {
    "elbow": (
        "triceps_long",
        "triceps_medial",
        "biceps_long",
        "brachialis",
        "brachioradialis",
        "pronator_teres",
        "extensor_carpi_radialis",
    ),
    "pronation": ("biceps_long", "brachioradialis", "pronator_teres", "supinator"),
    "wrist": ("flexor_carpi_radialis", "flexor_carpi_ulnaris", "extensor_carpi_radialis", "extensor_carpi_ulnaris"),
    "radial": ("flexor_carpi_radialis", "flexor_carpi_ulnaris", "extensor_carpi_radialis", "extensor_carpi_ulnaris"),
}


def arms_of(line: anatomy.Line, name: str, qs: Array, axes: Array) -> Array:
    """Arms [mm] of a line that takes the place of the data file's for a moment."""
    here = anatomy.lines()
    kept, here[name] = here[name], line
    try:
        return LineModel(name).arms(qs, axes)[0]
    finally:
        here[name] = kept


def draw_arms(ax: plt.Axes, move: str, names: tuple[str, ...], earlier: dict[str, anatomy.Line]) -> None:
    """Arms of some lines in one movement, their bands as bars, the earlier body dashed."""
    angle, (low, high), held = MOVES[move]
    at = np.arange(low, high + 1.0, 3)
    qs, axes = axes_of(base_body(), {**held, angle: at}, angle)
    for k, name in enumerate(names):
        ax.plot(at, LineModel(name).arms(qs, axes)[0], color=f"C{k}", lw=1.4, label=name.replace("_", " "))
        if name in earlier:
            ax.plot(at, arms_of(earlier[name], name, qs, axes), color=f"C{k}", lw=0.7, ls="--")
        for band in (b for b in BANDS if name in b.lines and b.angle == angle and dict(b.held) == dict(held)):
            for a, pair in band.values.items():
                ax.plot([a, a], pair, color=f"C{k}", lw=3, alpha=0.25)
    ax.axhline(0, color="0.6", lw=0.6)
    ax.tick_params(labelsize=6)


def save(figure: plt.Figure, name: str) -> None:
    figure.tight_layout()
    figure.savefig(IMAGES / f"upper_{name}.png", dpi=52)
    plt.close(figure)


def arms(rows: dict[str, tuple[str, ...]], moves: tuple[str, ...], name: str, earlier: dict[str, anatomy.Line]) -> None:
    figure, axes = plt.subplots(len(rows), len(moves), figsize=(3.4 * len(moves), 2.1 * len(rows)), squeeze=False)
    for i, (row, names) in enumerate(rows.items()):
        for j, move in enumerate(moves):
            draw_arms(axes[i, j], move, names, earlier)
            axes[i, j].set_title(f"{row}: {move}", fontsize=7)
        axes[i, 0].legend(fontsize=5, frameon=False)
        axes[i, 0].set_ylabel("moment arm [mm]", fontsize=6)
    save(figure, name)


def forearm(earlier: dict[str, anatomy.Line]) -> None:
    figure, axes = plt.subplots(2, 2, figsize=(9, 6))
    for ax, (move, names) in zip(axes.flat, FOREARM.items(), strict=True):
        draw_arms(ax, move, names, earlier)
        ax.set_title(move, fontsize=8)
        ax.legend(fontsize=5, frameon=False)
    save(figure, "arms_forearm")


def torque() -> None:
    figure, axes = plt.subplots(4, 4, figsize=(11, 8.5))
    for ax in axes.flat[len(TORQUES) :]:
        ax.axis("off")
    for ax, t in zip(axes.flat, TORQUES, strict=False):
        at = np.linspace(t.at_deg.min() - 10, t.at_deg.max() + 10, 9)
        ax.plot(
            at, [joint_strength(base_body(), t.angle, {**t.held, t.angle: float(a)}, t.raises).moment_nm for a in at], "k-", lw=1.2
        )
        ax.plot(t.at_deg, t.moment_nm, "o", ms=4, color="C1")
        ax.set_title(t.name, fontsize=8)
        ax.set_ylim(0)
        ax.tick_params(labelsize=6)
    save(figure, "torque")


def fibres() -> None:
    body = base_body()
    path = np.concatenate([body.paths(coordinates(body, g)) for g in grids()])
    rest = body.paths(coordinates(body, {}))
    names = [n for n in anatomy.lines() if n in {x for b in BANDS for x in b.lines} or anatomy.lines()[n].group == "girdle"]
    i = [body.lines.names.index(f"{n}_right") for n in names]
    part = (body.lines.slack_m[i], body.lines.optimal_m[i], body.lines.pennation_rad[i])
    low, high, mid = (settle(p[None], *part, 0.0).length[0] for p in (path[:, i].min(0), path[:, i].max(0), rest[0, i]))
    figure, ax = plt.subplots(figsize=(7, 7))
    ax.hlines(range(len(names)), low, high, lw=4, color="C0")
    ax.plot(mid, range(len(names)), "k|", ms=8)
    ax.vlines([0.4, 1.0, 1.6], -1, len(names), color="0.7", lw=0.8)
    ax.set_yticks(range(len(names)), [n.replace("_", " ") for n in names], fontsize=6)
    ax.set_xlabel("resting fibre length over training postures [of optimal]; tick: standing", fontsize=7)
    save(figure, "fibres")


def main(files: list[str]) -> None:
    table = tomllib.loads(Path(files[0]).read_text(encoding="utf-8"))["line"] if files else {}
    earlier = {k: anatomy.read_table(k, anatomy.Line, v) for k, v in table.items()}
    IMAGES.mkdir(parents=True, exist_ok=True)
    arms(SHOULDER, ("forward", "sideways", "level"), "arms_shoulder", earlier)
    arms(SHOULDER, ("turn at side", "turn raised"), "arms_rotation", earlier)
    forearm(earlier)
    torque()
    fibres()


if __name__ == "__main__":
    main(sys.argv[1:])
