"""What the lines of both files are fitted to, beside the torques of lower_torques.py and upper_torques.py; numbers marked * are from memory."""

import dataclasses

import numpy as np

import lower_torques as lower
import upper_torques as upper
from fit_strength import Lead, Prior, Torque
from lengthwise.body import anatomy

PENNATION_DEG = {"soleus": 25.0, "gastrocnemius_medial": 24.0, "gastrocnemius_lateral": 16.0}
"""At optimal length, active. Dissected 28, 10 and 12 deg (Ward 2009, T4-063 to 065), by ultrasound at work 35 (T4-099), at rest 20, 23 and 15*: a line
whose fibres keep their thickness turns too far from the larger ones (T3-028)."""

REGION = {True: (60.0, 0.15), False: (40.0, 0.12)}
"""Specific tension [N/cm2] and spread of upper and lower lines: people in vivo 25 to 60 (T7-043, T7-044, *). Volumes of the arm are those of
young men by imaging, of the leg those of old donors by dissection."""
TENSION = {
    "girdle": (95.0, 0.1), "gluteus_maximus": (42.0, 0.08), "rectus_femoris": (33.0, 0.08), "erector_spinae": (50.0, 0.15), "wrist": (45.0, 0.2), "obliques": (45.0, 0.2), "rectus_abdominis": (45.0, 0.2),
    "neck_flexors": (45.0, 0.2), "neck_extensors": (35.0, 0.2), "quadratus_lumborum": (45.0, 0.2), "deep_rotators": (42.0, 0.05),
    "hip_abductors": (38.0, 0.08), "triceps_surae": (32.0, 0.08), "deep_plantarflexors": (32.0, 0.08), "hamstrings": (40.0, 0.06),
    "adductor_magnus_ischial": (38.0, 0.06), "adductors": (43.0, 0.005),
}  # fmt: skip

WEIGHT = {
    "knee extension": 2.5, "knee extension, hip 0": 1.5, "knee flexion": 12.0, "knee flexion, hip 0": 3.0, "hip extension": 17.0, "hip flexion": 30.0, "hip abduction": 1.5, "hip adduction": 4.0,
    "hip internal rotation, seated": 0.8, "hip external rotation, seated": 0.6, "ankle extension": 5.0, "ankle extension, knee 90": 1.0,
    "trunk extension": 2.0, "trunk rotation": 1.0, "neck flexion": 1.0, "neck extension": 1.0, "elbow flexion": 10.0,
    "shoulder flexion": 2.0,  "pronation": 1.0,
}  # fmt: skip
"""How much a target counts: measured curves of this body's own group (Anderson 2007) most."""
NEAR_STRAIGHT = np.arange(-20.0, 21.0, 5.0)
EXTENDED = Torque(
    "hip flexion, extended", "hip_flexion", True, {"knee_flexion": 60.0}, NEAR_STRAIGHT,
    0.97 * lower.anderson("hip flexion", NEAR_STRAIGHT), "as hip flexion: where men and women peak (T3-068, T3-071)", 56.0,
)  # fmt: skip
"""The shape near the straight hip, a hair lower than measured: asked for the level as well, lines at their highest tension rise behind the peak."""

SURAE = ("gastrocnemius_medial", "gastrocnemius_lateral")
BOTH = ("biceps_femoris_long", "semitendinosus", "semimembranosus")
ANCHORS: list[tuple[str, dict[str, float], float, float, float]] = [
    ("soleus", {}, 0.76, 0.95, 6),
    ("soleus", {"ankle_dorsiflexion": 20}, 1.0, 1.2, 6),
    *[(n, {"ankle_dorsiflexion": float(a)}, 0.45, 1.02, 6) for n in SURAE for a in (0, 10, 20)],
    ("biceps_femoris_long", {"knee_flexion": 90}, 0.52, 9, 4),
    ("semitendinosus", {"knee_flexion": 90}, 0.52, 9, 4),
    ("semimembranosus", {"hip_flexion": 15, "knee_flexion": 90}, 0.46, 9, 14),
    *[(n, {"hip_flexion": 90, "knee_flexion": 15}, 1.0, 1.4, 6) for n in BOTH],
    *[("gluteus_maximus_lower", {"hip_flexion": float(a)}, 0.6, 1.3, 8) for a in (90, 110)],
    ("adductor_magnus_ischial", {"hip_flexion": 100}, 0.92, 1.25, 8),
    ("adductor_magnus_ischial", {}, 0.5, 9, 6),
    ("adductor_magnus_anterior", {}, 0.6, 9, 4),
    ("adductor_magnus_anterior", {"hip_flexion": 90}, 1.0, 1.2, 4),
    ("rectus_femoris", {"hip_flexion": 90, "knee_flexion": 30}, 0.5, 9, 4),
    ("rectus_femoris", {"knee_flexion": 90}, 1.0, 1.35, 4),
    ("brachioradialis", {"elbow_flexion": 90}, 0.85, 1.05, 4),
    ("latissimus_upper", {}, 0.8, 1.0, 4),
    ("latissimus_middle", {}, 0.85, 1.0, 4),
    ("latissimus_lower", {}, 0.85, 1.0, 4),
    ("teres_major", {}, 0.75, 1.0, 4),
    *[(n, {"shoulder_flexion": 170}, 1.0, 1.35, 4) for n in ("latissimus_upper", "latissimus_middle", "latissimus_lower", "teres_major")],
]  # fmt: skip
"""Line, posture, fully active length at least and at most, weight: where single lines stand. Gastrocnemius T3-036, the others*."""


def _lead(angle: str, raises: bool, at: tuple[float, ...], held: dict[str, float], first: str, then: str, why: str) -> Lead:
    posture = {**{k: np.full(len(at), v) for k, v in held.items()}, angle: np.array(at, float)}
    return Lead(angle, raises, posture, tuple(first.split()), tuple(then.split()), why)


LATISSIMUS = "latissimus_upper latissimus_middle latissimus_lower"
GLUTEUS_MEDIUS = "gluteus_medius_anterior gluteus_medius_middle gluteus_medius_posterior"
GLUTEUS_MAXIMUS = "gluteus_maximus_upper gluteus_maximus_middle gluteus_maximus_lower"
INFRASPINATUS = "infraspinatus_upper infraspinatus_lower"
LEADS = [
    _lead("shoulder_flexion", True, (30, 60, 90), {}, "deltoid_anterior", "deltoid_middle", "anterior deltoid flexes (T2-009)"),
    _lead("shoulder_flexion", False, (45, 90, 120), {}, LATISSIMUS, "deltoid_posterior", "latissimus extends the raised arm (T2-014)"),
    _lead("shoulder_flexion", False, (60, 90, 120), {}, LATISSIMUS, "triceps_long", "the same"),
    _lead("shoulder_abduction", True, (30, 60, 90), {}, "deltoid_middle", "supraspinatus", "anatomy"),
    _lead("shoulder_abduction", True, (30, 60, 90), {}, "deltoid_middle", "deltoid_anterior", "anatomy (T2-009)"),
    _lead("shoulder_internal_rotation", False, (-30, 0, 30), {"elbow_flexion": 90}, INFRASPINATUS, "teres_minor", "three times its size"),
    _lead("ankle_dorsiflexion", False, (-10, 0, 15), {}, "soleus", "gastrocnemius_medial gastrocnemius_lateral", "its area is 1.7 times theirs (T4, Ward 2009)"),
    _lead("ankle_dorsiflexion", True, (-20, 0), {}, "tibialis_anterior", "toe_extensors", "anatomy"),
    _lead("hip_abduction", True, (0, 20), {}, GLUTEUS_MEDIUS, "tensor_fasciae_latae gluteus_maximus_upper", "anatomy"),
    _lead("hip_flexion", False, (30, 60, 90), {"knee_flexion": 60}, GLUTEUS_MAXIMUS, " ".join(BOTH), "the largest extensor of the hip"),
    _lead("hip_flexion", True, (0, 30, 60), {"knee_flexion": 60}, "iliacus psoas", "rectus_femoris", "iliopsoas is the chief flexor"),
]  # fmt: skip


def torques() -> list[Torque]:
    """Torque targets of the whole body with the weights of this fit."""
    return [dataclasses.replace(t, weight=WEIGHT.get(t.name, t.weight)) for t in (*lower.TORQUES, EXTENDED, *upper.TORQUES)]


def prior() -> Prior:
    """Measured fibre lengths and volumes, one tension a region."""
    fibre = {**lower.FIBRES, **{n: (float(v), upper.spread(n) * v) for n, v in upper.FIBRE_MM.items()}}
    tension = {line.group: REGION[n in upper.VOLUME_CM3] for n, line in anatomy.lines().items()} | TENSION
    volume = {k: float(v) for k, v in upper.VOLUME_CM3.items()}
    return Prior(fibre, tension, volume_cm3=volume, fibre_weight=2.0, fibre_bound_sd=2.5)
