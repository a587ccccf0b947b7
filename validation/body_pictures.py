"""Pictures of docs/body.md, the body before and now: `python validation/body_pictures.py FOLDER` (a minute).

FOLDER holds the earlier muscles_lower.toml and muscles_upper.toml, for the pictures in docs/img those of revision a9d3c7a, before the lines of
both files were fitted together: `git show a9d3c7a:src/lengthwise/body/data/muscles_lower.toml`. Bones and lifts are today's for both.
"""

import sys
import tomllib
from pathlib import Path

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.model import Body, body_of
from lengthwise.body.muscles import settle
from lengthwise.body.person import Person
from lengthwise.mechanics.strength import joint_strength
from line_model import Array
from lower_torques import TORQUES as LOWER
from refit import lengths_in_lifts
from upper_torques import TORQUES as UPPER

IMAGES = Path(__file__).parents[1] / "docs" / "img"
SHOWN = {"before": "0.6", "now": "C0"}
CURVES = {
    "knee extension", "knee flexion", "knee flexion, hip 0", "hip extension", "hip flexion", "hip adduction", "ankle extension",
    "trunk rotation", "elbow flexion", "elbow extension", "shoulder flexion", "shoulder extension",
}  # fmt: skip
LINES = [
    "gluteus_maximus_middle",
    "gluteus_maximus_lower",
    "semimembranosus",
    "biceps_femoris_long",
    "adductor_magnus_ischial",
    "adductor_longus",
    "psoas",
    "rectus_femoris",
    "vastus_intermedius",
    "soleus",
    "tibialis_posterior",
    "fibularis",
    "external_oblique_middle",
    "deltoid_anterior",
    "pectoralis_sternal",
    "latissimus_middle",
    "latissimus_lower",
    "teres_major",
    "triceps_long",
    "triceps_lateral",
    "biceps_long",
    "brachialis",
]


def earlier_lines(folder: Path) -> dict[str, anatomy.Line]:
    """The lines as they were."""
    files = [folder / f"muscles_{part}.toml" for part in ("lower", "upper")]
    tables = [tomllib.loads(f.read_text(encoding="utf-8"))["line"] for f in files]
    return {k: anatomy.read_table(k, anatomy.Line, v) for table in tables for k, v in table.items()}


def working_lengths(body: Body) -> Array:
    """Fully active fibres [of optimal] at percentiles 2, 50 and 98 of the path lengths in lifts, (3, n_line)."""
    path, lines = lengths_in_lifts(body)[[0, 2, 4]], body.lines
    n = path.shape[1]
    return np.asarray(settle(path, lines.slack_m[:n], lines.optimal_m[:n], lines.pennation_rad[:n], 1.0).length)


def curves(body: Body) -> dict[str, Array]:
    """Moments [Nm] at the angles of each target."""
    asked = [t for t in (*LOWER, *UPPER) if t.name in CURVES]
    return {
        t.name: np.array([joint_strength(body, t.angle, {**t.held, t.angle: float(a)}, t.raises).moment_nm for a in t.at_deg])
        for t in asked
    }


def draw_lengths(found: dict[str, Array], names: list[str]) -> None:
    """Bars of working lengths, the earlier body's above today's."""
    figure, ax = plt.subplots(figsize=(7, 6))
    at = np.array([names.index(n) for n in LINES])
    for k, (when, colour) in enumerate(SHOWN.items()):
        low, mid, high = found[when][:, at]
        y = np.arange(len(at)) + 0.18 - 0.36 * k
        ax.hlines(y, low, high, lw=4, color=colour, label=when)
        ax.plot(mid, y, "k|", ms=5)
    ax.vlines([0.5, 1.0, 1.5], -1, len(at), color="0.8", lw=0.8, zorder=0)
    ax.set_yticks(range(len(at)), [n.replace("_", " ") for n in LINES], fontsize=7)
    ax.set_xlabel("fully active fibres over the lifts of the library [of optimal length]; tick: middle", fontsize=8)
    ax.legend(fontsize=7, frameon=False)
    save(figure, "lengths")


def draw_curves(found: dict[str, dict[str, Array]]) -> None:
    """Twelve moment curves beside the measured ones."""
    figure, axes = plt.subplots(3, 4, figsize=(11, 7))
    for ax, t in zip(axes.flat, [t for t in (*LOWER, *UPPER) if t.name in CURVES], strict=True):
        for when, colour in SHOWN.items():
            ax.plot(t.at_deg, found[when][t.name], color=colour, label=when)
        ax.plot(t.at_deg, t.moment_nm, "o", ms=4, color="C1", label="people")
        ax.set_title(f"{t.name} [Nm]", fontsize=8)
        ax.set_ylim(0)
        ax.tick_params(labelsize=6)
    axes[0, 0].legend(fontsize=6, frameon=False)
    save(figure, "moments")


def save(figure: plt.Figure, name: str) -> None:
    figure.tight_layout()
    figure.savefig(IMAGES / f"body_{name}.png", dpi=70)
    plt.close(figure)


def main(folder: Path) -> None:
    now = body_of(Person())
    lengths, moments = {"now": working_lengths(now)}, {"now": curves(now)}
    names = list(anatomy.lines())
    anatomy.lines().update(earlier_lines(folder))
    body_of.cache_clear()
    before = body_of(Person())
    lengths["before"], moments["before"] = working_lengths(before), curves(before)
    draw_lengths(lengths, names)
    draw_curves(moments)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
