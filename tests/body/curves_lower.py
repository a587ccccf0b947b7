"""The body's leg arms beside the curves of moment_arm_curves.csv: model outputs, good for shape only.

The file's angles are flexion and adduction positive; the body's hip angle is abduction.
"""

import csv
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.posture import clinical_axes, coordinates

Array = NDArray[np.float64]
TABLE = Path(__file__).parents[1] / "reference" / "moment_arm_curves.csv"
MODELS = ("Rajagopal2016", "Hamner2010")
LINES = {
    "glmax1": "gluteus_maximus_upper",
    "glmax2": "gluteus_maximus_middle",
    "glmax3": "gluteus_maximus_lower",
    "glmed1": "gluteus_medius_anterior",
    "glmed2": "gluteus_medius_middle",
    "glmed3": "gluteus_medius_posterior",
    "bflh": "biceps_femoris_long",
    "bfsh": "biceps_femoris_short",
    "semimem": "semimembranosus",
    "semiten": "semitendinosus",
    "recfem": "rectus_femoris",
    "vaslat": "vastus_lateralis",
    "vasmed": "vastus_medialis",
    "vasint": "vastus_intermedius",
    "addbrev": "adductor_brevis",
    "addlong": "adductor_longus",
    "addmagProx": "adductor_magnus_anterior",
    "addmagMid": "adductor_magnus_anterior",
    "addmagIsch": "adductor_magnus_ischial",
    "grac": "gracilis",
    "iliacus": "iliacus",
    "psoas": "psoas",
    "tfl": "tensor_fasciae_latae",
    "sart": "sartorius",
    "gasmed": "gastrocnemius_medial",
    "gaslat": "gastrocnemius_lateral",
    "soleus": "soleus",
    "tibant": "tibialis_anterior",
    "tibpost": "tibialis_posterior",
    "perlong": "fibularis",
}
"""Left out: addmagDist (its fibres end along the femur between the two parts of the body's muscle)."""
AXES = {
    "hip_flexion": ("hip_flexion", 1.0),
    "hip_adduction": ("hip_abduction", -1.0),
    "knee_flexion": ("knee_flexion", 1.0),
    "ankle_dorsiflexion": ("ankle_dorsiflexion", 1.0),
}
JOINT = {"hip_flexion": "hip", "hip_abduction": "hip", "knee_flexion": "knee", "ankle_dorsiflexion": "ankle"}
HELD = {"hip_flexion": "hip_flexion", "knee": "knee_flexion", "ankle": "ankle_dorsiflexion"}


@dataclass(frozen=True)
class Point:
    """One model arm [mm] in the body's signs: of `line` about `angle` at `at` deg, other angles `held`."""

    model: str
    line: str
    angle: str
    at: float
    held: tuple[tuple[str, float], ...]
    arm_mm: float


@cache
def points() -> tuple[Point, ...]:
    """Every row of the file about hip, knee and ankle that has a line in this body."""
    out = []
    for row in csv.DictReader(TABLE.open()):
        if row["model"] in MODELS and row["coordinate"] in AXES and row["muscle"] in LINES:
            angle, sign = AXES[row["coordinate"]]
            held = tuple((HELD[k], float(v)) for k, v in (p.split("=") for p in row["other_angles"].split(";") if p))
            arm = sign * float(row["moment_arm_m"]) * 1e3
            out.append(Point(row["model"], LINES[row["muscle"]], angle, sign * float(row["angle_deg"]), held, arm))
    return tuple(out)


@cache
def _arms(angle: str, at: float, held: tuple[tuple[str, float], ...]) -> dict[str, float]:
    body = body_of(Person())
    posture = {**dict(held), angle: at}
    names, axes = clinical_axes(body, posture)
    arms = -body.survey(coordinates(body, posture)).arms[0] @ axes[names.index(f"{angle}_right")] * 1e3
    return dict(zip((n.removesuffix("_right") for n in body.lines.names), arms, strict=True))


def ours(point: Point) -> float:
    """The body's arm [mm] at a point of the file."""
    return _arms(point.angle, point.at, point.held)[point.line]


def differences() -> dict[str, Array]:
    """Body minus model [mm] at every point, by joint."""
    out = defaultdict(list)
    for p in points():
        out[JOINT[p.angle]].append(ours(p) - p.arm_mm)
    return {k: np.array(v) for k, v in out.items()}


def opposite(limit_mm: float = 10.0) -> list[Point]:
    """Points at which every model given has more than `limit_mm` of arm on one side and the body has the other sign."""
    together = defaultdict(list)
    for p in points():
        together[p.line, p.angle, p.at, p.held].append(p)
    out = []
    for group in together.values():
        arms = np.array([p.arm_mm for p in group])
        if (np.abs(arms) > limit_mm).all() and (np.sign(arms) == np.sign(arms[0])).all() and ours(group[0]) * arms[0] < 0:
            out.append(group[0])
    return out
