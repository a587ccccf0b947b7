"""Draw docs/img/lower_arms.png and lower_torque.png: moment arms beside model curves and measured rows, torque beside measured people."""

import sys
from collections import defaultdict
from pathlib import Path

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np

from lengthwise.mechanics.strength import joint_strength
from line_model import Array, LineModel, axes_of, base_body
from lower_torques import TORQUES

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "body"))
import curves_lower

OUT = Path(__file__).parents[1] / "docs" / "img"
PANELS = [
    ("hip_flexion", (-20, 125), ("gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower", "psoas")),
    ("hip_flexion", (-20, 125), ("biceps_femoris_long", "semimembranosus", "adductor_magnus_ischial", "rectus_femoris")),
    (
        "hip_abduction",
        (-30, 45),
        ("gluteus_medius_anterior", "gluteus_medius_posterior", "tensor_fasciae_latae", "adductor_longus"),
    ),
    ("knee_flexion", (0, 150), ("vastus_lateralis", "biceps_femoris_long", "semitendinosus", "semimembranosus")),
    ("knee_flexion", (0, 150), ("gastrocnemius_medial", "gracilis", "sartorius", "biceps_femoris_short")),
    ("ankle_dorsiflexion", (-50, 30), ("soleus", "gastrocnemius_medial", "tibialis_anterior", "fibularis")),
]
MEASURED = {
    ("hip_flexion", 0): [(0, -79, 13, "T3-125")],
    ("hip_flexion", 1): [(0, -61, 10, "T3-126")],
    ("knee_flexion", 3): [(0, -42.6, 4.2, "T3-001"), (40, -37.7, 2.9, "T3-003"), (50, -31.5, 0, "T3-008"), (10, -47.1, 0, "T3-009"), (45, 20, 0, "T3-016")],
    ("ankle_dorsiflexion", 5): [(20, -34.6, 1.8, "T3-021"), (-10, -36.9, 1.9, "T3-022"), (0, -49.5, 6.5, "T3-025")],
}  # fmt: skip


def model_curve(line: str, angle: str) -> tuple[Array, Array]:
    """Mean of the models' arms [mm] with the other joints at zero."""
    at = defaultdict(list)
    for p in curves_lower.points():
        if (p.line, p.angle) == (line, angle) and not any(v for _, v in p.held):
            at[p.at].append(p.arm_mm)
    deg = np.array(sorted(at))
    return deg, np.array([np.mean(at[a]) for a in deg])


def arms_picture() -> None:
    """Six panels of moment arms."""
    body = base_body()
    fig, axs = plt.subplots(2, 3, figsize=(12, 7))
    for k, (ax, (angle, (low, high), lines)) in enumerate(zip(axs.flat, PANELS, strict=True)):
        deg = np.arange(low, high + 1, 2.5)
        qs, axes = axes_of(body, {angle: deg}, angle)
        for colour, line in zip(("C0", "C1", "C2", "C3"), lines, strict=True):
            ax.plot(deg, LineModel(line).arms(qs, axes)[0], colour, label=line.replace("_", " "))
            ax.plot(*model_curve(line, angle), colour, ls=":", lw=1)
        for at, value, sd, row in MEASURED.get((angle, k), []):
            ax.errorbar(at, value, sd, fmt="ks", ms=4, capsize=3)
            ax.annotate(row, (at, value), fontsize=6, xytext=(4, 3), textcoords="offset points")
        ax.axhline(0, color="0.7", lw=0.8)
        ax.set_xlabel(angle.replace("_", " ") + " [deg]")
        ax.legend(fontsize=6)
    axs[0, 0].set_ylabel("moment arm [mm]")
    axs[1, 0].set_ylabel("moment arm [mm]")
    fig.suptitle(
        "Lines of the body; dotted: mean of two published models; squares: measured people (rows of the reference table)",
        fontsize=9,
    )
    fig.tight_layout()
    fig.savefig(OUT / "lower_arms.png", dpi=75)


def torque_picture() -> None:
    """Every torque target against the body's own strength."""
    body = base_body()
    fig, axs = plt.subplots(4, 5, figsize=(14, 10))
    for ax, t in zip(axs.flat, TORQUES, strict=False):
        y = [joint_strength(body, t.angle, {**t.held, t.angle: float(a)}, t.raises).moment_nm for a in t.at_deg]
        ax.plot(t.at_deg, y, "C0-", label="body")
        ax.plot(t.at_deg, t.moment_nm, "k--", label="target")
        ax.set_title(f"{t.name} [Nm]", fontsize=8)
        ax.set_ylim(0)
        ax.tick_params(labelsize=7)
    for ax in axs.flat[len(TORQUES) :]:
        ax.axis("off")
    axs[0, 0].legend(fontsize=7)
    fig.tight_layout()
    fig.savefig(OUT / "lower_torque.png", dpi=70)


if __name__ == "__main__":
    OUT.mkdir(parents=True, exist_ok=True)
    arms_picture()
    torque_picture()
