"""Fit the paths of legs, trunk and neck: `python lower_arms.py [line …]` writes into muscles_lower.toml."""

import sys
from collections import defaultdict
from pathlib import Path

import numpy as np

from fit_paths import Curve, fit_file
from lengthwise.body import anatomy
from line_file import DATA
from lower_targets import BANDS, LIMITS, SWEEPS

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "body"))
import curves_lower

FILE = DATA / "muscles_lower.toml"


def curves() -> dict[str, list[Curve]]:
    """Model curves of each line: the mean of the models where both have the point."""
    at = defaultdict(lambda: defaultdict(list))
    for p in curves_lower.points():
        if p.angle != "knee_flexion" or p.held == (("hip_flexion", 0.0), ("ankle_dorsiflexion", 0.0)):
            at[p.line, p.angle, p.held][p.at].append(p.arm_mm)
    out = defaultdict(list)
    for (line, angle, held), points in at.items():
        deg = np.array(sorted(points))
        if line in (
            "iliacus",
            "psoas",
        ):  # beyond 90 deg the models' paths let go of their wraps; their abduction arms want a wider pelvis
            deg = deg[deg <= 90] if angle == "hip_flexion" else deg[:0]
        if line.startswith("biceps") and angle == "knee_flexion":  # T3-016 is a measurement and contradicts the models
            continue
        if not len(deg):
            continue
        weight = 0.08 if line == "semimembranosus" and angle == "knee_flexion" else 0.2  # T3-012 goes before the models
        out[line].append(Curve(angle, dict(held), deg, np.array([np.mean(points[a]) for a in deg]), weight))
    return out


if __name__ == "__main__":
    lower = [n for n in anatomy.lines() if f"[line.{n}]" in FILE.read_text(encoding="utf-8")]
    fit_file(FILE, sys.argv[1:] or lower, BANDS, curves(), SWEEPS, LIMITS)
