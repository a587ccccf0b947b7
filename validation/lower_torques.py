"""Joint moments of measured people and working lengths of fibres, for legs, trunk and neck.

A man of 75 kg and 1.76 m, 18-25 years. Anderson 2007 (T3-058..108): moment = C1 cos(C2 (angle - C3)) times weight times stature. Where a
coefficient of the men is missing in tests/reference/biomechanics.csv it is from memory. Joints held in his tests are assumed (not
printed). Never used in a fit: the rows of
women (but T3-061, 062, which moved the hip-extension curve) and of older people, the pooled knee torque (T3-040..052), the gymnast
(T3-117, 121), plantarflexion T3-030, the patellar arms of women (T3-006, 007). T3-031 was looked at when the bent-knee target was weighted.
"""

import numpy as np

from fit_strength import FibreRange, Torque
from lengthwise.units import GRAVITY
from line_model import Array

WEIGHT_BY_STATURE = 75 * GRAVITY * 1.76
ANDERSON = {
    "hip extension": (
        0.165,
        0.697,
        64.0,
    ),  # C1 from memory (214 Nm); C3 between T3-058 and T3-061, C2 T3-062 (women; the men's is not at hand)
    "hip flexion": (
        0.113,
        0.53,
        -20.0,
    ),  # C3 T3-068 -12 (spread -27 to 3), T3-071 -20; C2 T3-069 0.738, lowered within its spread (0.521 to 0.955) towards T3-053, whose torque grows with the bend
    "knee extension": (0.163, 1.258, 64.9),
    "knee flexion": (0.087, 0.869, 29.9),  # C2 from memory
    "ankle extension": (0.095, 1.391, 23.4),  # C1 from memory (123 Nm)
    "ankle flexion": (0.033, 1.510, -10.7),  # C2 from memory
}


def anderson(name: str, at_deg: Array) -> Array:
    """Moment [Nm] at angles [deg]."""
    c1, c2, c3 = ANDERSON[name]
    return WEIGHT_BY_STATURE * c1 * np.cos(c2 * np.radians(at_deg - c3))


def _anderson(
    name: str, angle: str, raises: bool, held: dict[str, float], at: tuple[float, float, float], weight: float = 1.0
) -> Torque:
    deg = np.arange(at[0], at[1] + 1e-9, at[2])
    return Torque(name, angle, raises, held, deg, anderson(name, deg), "Anderson 2007, men 18-25", weight)


def _share(name: str, of: str, share: float, angle: str, raises: bool, held: dict[str, float], at: tuple[float, ...], source: str, weight: float) -> Torque:  # fmt: skip
    deg = np.array(at, float)
    return Torque(name, angle, raises, held, deg, share * anderson(of, deg), source, weight)


def _table(
    name: str, angle: str, raises: bool, held: dict[str, float], values: dict[float, float], source: str, weight: float
) -> Torque:
    return Torque(name, angle, raises, held, np.array(list(values), float), np.array(list(values.values()), float), source, weight)


FLEX, ABD, ROT, KNEE, ANKLE = "hip_flexion", "hip_abduction", "hip_internal_rotation", "knee_flexion", "ankle_dorsiflexion"
HIP_0 = "0.75 of the seated one: from memory (lying 0.7-0.85); order T3-037"
TORQUES = [
    _anderson("knee extension", KNEE, False, {FLEX: 80}, (10, 110, 10)),
    _anderson("knee flexion", KNEE, True, {FLEX: 80}, (0, 100, 10), 1.2),
    _share("knee flexion, hip 0", "knee flexion", 0.75, KNEE, True, {}, (10, 30, 50, 70, 90, 100), HIP_0, 1.5),
    _share("knee flexion, hip 95", "knee flexion", 1.04, KNEE, True, {FLEX: 95}, (20, 40, 60), "grows with the hip angle: order T3-037", 9.0),
    _share("knee extension, hip 0", "knee extension", 1.0, KNEE, False, {}, (20, 40, 60, 80, 100), "T3-038: the hip angle does not matter", 0.5),
    _anderson("hip extension", FLEX, False, {KNEE: 60}, (0, 120, 10), 4.0),
    _anderson("hip flexion", FLEX, True, {KNEE: 60}, (-20, 110, 10), 4.0),
    _table("hip abduction", ABD, True, {}, {-15: 128, 0: 120, 20: 100, 35: 80}, "from memory: about 1.6 Nm/kg, falls with abduction", 0.7),
    _table("hip adduction", ABD, False, {}, {-10: 115, 0: 130, 15: 140, 35: 135}, "from memory: about 1.8 Nm/kg", 0.7),
    _table("hip internal rotation, seated", ROT, True, {FLEX: 90, KNEE: 90}, {-20: 65, 0: 60, 20: 48}, "from memory: 50-70 Nm in men", 0.25),
    _table("hip external rotation, seated", ROT, False, {FLEX: 90, KNEE: 90}, {-20: 40, 0: 50, 20: 58}, "from memory: 40-60 Nm in men", 0.25),
    _anderson("ankle extension", ANKLE, False, {KNEE: 20}, (-30, 30, 10)),
    _share("ankle extension, knee 90", "ankle extension", 0.70, ANKLE, False, {KNEE: 90}, (-10, 0, 10), "0.70 of the straight-knee one: T3-032 0.60, T3-033 0.94 at speed", 1.0),
    _anderson("ankle flexion", ANKLE, True, {KNEE: 20}, (-40, 20, 10)),
    _table("trunk extension", "trunk_flexion", False, {}, {-10: 225, 0: 240, 30: 260, 60: 250}, "from memory: about 250 Nm in young men", 1.0),
    _table("trunk flexion", "trunk_flexion", True, {}, {-20: 150, 0: 155, 20: 145, 40: 120}, "from memory: about 150 Nm in young men", 1.0),
    _table("trunk rotation", "trunk_rotation", True, {}, {-20: 75, 0: 75, 20: 65}, "from memory: 60-90 Nm in young men", 0.4),
    _table("trunk side bending", "trunk_side_bending", True, {}, {-15: 160, 0: 155, 15: 140}, "from memory: 140-170 Nm in young men", 0.4),
    _table("neck extension", "neck_flexion", False, {}, {-30: 42, 0: 50, 30: 50}, "from memory: 50 Nm in young men", 0.7),
    _table("neck flexion", "neck_flexion", True, {}, {-30: 26, 0: 28, 30: 24}, "from memory: 25-30 Nm in young men", 0.7),
]  # fmt: skip


def grid(**angles: tuple[float, ...]) -> dict[str, Array]:
    """Every combination of some angles, as a batch of postures."""
    mesh = np.meshgrid(*(np.array(v, float) for v in angles.values()), indexing="ij")
    return {name: m.ravel() for name, m in zip(angles, mesh, strict=True)}


_TRUNK_GROUPS = ("rectus_abdominis", "obliques", "erector_spinae", "quadratus_lumborum")
RANGES = [
    FibreRange(("gluteus_maximus",), grid(hip_flexion=(-10, 0, 30, 60, 90, 110, 120), hip_abduction=(0, 25))),
    FibreRange(("hip_abductors",), grid(hip_abduction=(-25, -10, 0, 15, 30, 40)), 3.0),
    FibreRange(("hip_abductors", "deep_rotators"), grid(hip_flexion=(-10, 45, 90, 110), hip_internal_rotation=(-20, 0, 20))),
    FibreRange(("hip_flexors", "gracilis"), grid(hip_flexion=(-10, 0, 60, 110), knee_flexion=(0, 60, 120))),
    FibreRange(("deep_rotators",), grid(hip_internal_rotation=(-35, 0, 35))),
    FibreRange(("iliopsoas",), grid(hip_flexion=(-20, -10, 0, 30, 60, 90, 110)), 3.0),
    FibreRange(("adductors", "adductor_magnus_ischial"), grid(hip_abduction=(-15, 0, 20, 40), hip_flexion=(0,)), 4.0),
    FibreRange(("adductors", "adductor_magnus_ischial"), grid(hip_flexion=(-10, 45, 90, 110), hip_abduction=(0, 25)), 2.5),
    FibreRange(("adductor_magnus_ischial",), grid(hip_flexion=(90, 110, 120)), 3.0, 0.45, 1.3),
    FibreRange(("adductor_magnus_anterior",), grid(hip_flexion=(0, 30), hip_abduction=(0,)), 4.0, 0.62, 1.5),
    FibreRange(("iliacus",), grid(hip_flexion=(60, 90)), 3.0, 0.6, 1.5),
    FibreRange(("rectus_femoris",), grid(hip_flexion=(0, 90), knee_flexion=(0, 30, 60, 90, 120, 130)), 20.0, 0.44, 1.57),
    FibreRange(("vasti",), grid(knee_flexion=(0, 30, 60, 90, 120, 140))),
    FibreRange(("hamstrings",), grid(hip_flexion=(0, 60, 90), knee_flexion=(0, 30, 60, 90)), 7.0, 0.44, 1.56),
    FibreRange(("hamstrings",), grid(hip_flexion=(110,), knee_flexion=(0, 20, 120))),
    FibreRange(("triceps_surae",), grid(ankle_dorsiflexion=(-40, -20, 0, 15, 25))),
    FibreRange(("gastrocnemius_medial", "gastrocnemius_lateral"), grid(ankle_dorsiflexion=(0, 10, 20)), 2.0, 0.45, 1.02),  # T3-036
    FibreRange(("triceps_surae",), grid(ankle_dorsiflexion=(0, 20), knee_flexion=(90,)), 0.5),
    FibreRange(("dorsiflexors", "deep_plantarflexors"), grid(ankle_dorsiflexion=(-40, -20, 0, 20))),
    FibreRange(_TRUNK_GROUPS, grid(trunk_flexion=(-20, 0, 25, 50, 60))),
    FibreRange(_TRUNK_GROUPS, grid(trunk_side_bending=(-20, 20))),
    FibreRange(_TRUNK_GROUPS, grid(trunk_rotation=(-25, 25))),
    FibreRange(("neck_flexors", "neck_extensors"), grid(neck_flexion=(-40, -20, 0, 20, 40))),
]

# Optimal fibre length [mm] and spread: Ward 2009 (T4-001..041), soleus and gastrocnemius T4-063..065; the rest as in the data file's source.
FIBRES = {
    **dict.fromkeys(("gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower"), (156.9, 25.7)),
    **dict.fromkeys(("gluteus_medius_anterior", "gluteus_medius_middle", "gluteus_medius_posterior"), (73.3, 15.7)),
    **dict.fromkeys(("gluteus_minimus_anterior", "gluteus_minimus_middle", "gluteus_minimus_posterior"), (58.0, 8.0)),
    "tensor_fasciae_latae": (95.0, 12.0),
    "piriformis": (40.0, 6.0),
    "obturator_gemelli": (45.0, 7.0),
    "iliacus": (106.6, 18.6),
    "psoas": (116.9, 16.6),
    "sartorius": (403.0, 46.3),
    "gracilis": (227.8, 43.8),
    "adductor_longus": (108.2, 20.2),
    "adductor_brevis": (103.1, 14.2),
    "adductor_magnus_anterior": (130.0, 25.0),
    "adductor_magnus_ischial": (155.0, 27.0),
    "rectus_femoris": (75.9, 12.8),
    "vastus_lateralis": (99.4, 17.6),
    "vastus_medialis": (96.8, 23.0),
    "vastus_intermedius": (99.3, 20.3),
    "biceps_femoris_long": (97.6, 26.2),
    "biceps_femoris_short": (110.3, 20.6),
    "semitendinosus": (193.0, 41.2),
    "semimembranosus": (69.0, 18.3),
    "gastrocnemius_medial": (51.0, 9.8),
    "gastrocnemius_lateral": (58.8, 10.0),
    "soleus": (44.0, 9.9),
    "tibialis_anterior": (68.3, 7.9),
    "toe_extensors": (70.0, 11.0),
    "tibialis_posterior": (37.8, 5.0),
    "long_toe_flexor": (45.0, 6.0),
    "big_toe_flexor": (53.0, 7.0),
    "fibularis": (50.8, 6.3),
    **dict.fromkeys(("rectus_abdominis_medial", "rectus_abdominis_lateral"), (290.0, 30.0)),
    "external_oblique_anterior": (150.0, 20.0),
    "external_oblique_middle": (125.0, 20.0),
    "external_oblique_lateral": (95.0, 15.0),
    "internal_oblique_anterior": (110.0, 15.0),
    "internal_oblique_middle": (100.0, 15.0),
    "internal_oblique_lateral": (90.0, 15.0),
    "iliocostalis": (120.0, 15.0),
    "longissimus": (120.0, 15.0),
    "erector_lumbar_part": (70.0, 10.0),
    "multifidus": (60.0, 8.0),
    "multifidus_thoracolumbar": (60.0, 8.0),
    "quadratus_lumborum": (95.0, 12.0),
    "sternocleidomastoid": (110.0, 15.0),
    "splenius_semispinalis": (85.0, 12.0),
    "neck_extensors_deep": (60.0, 8.0),
}
