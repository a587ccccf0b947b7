"""Moment arms that the lines of legs, trunk and neck should have: bands [mm] by clinical angle [deg], with their sources.

Row numbers are those of tests/reference/biomechanics.csv. "shape" means the curves of moment_arm_curves.csv (models); "memory" means
from memory. Bands moved after a first fit was seen: hamstrings at the hip (source 50-70 at 0, band from 46), rectus femoris at the hip
(models 43-50 at 30 deg, band 22-38: with more its fibres collapse at hip 90), Achilles (one value that both T3-021..024 and T3-025
allow), semitendinosus near the straight knee (source 40-55, band from 32).
"""

from fit_paths import Band, Limits, Sweep

HAMSTRINGS = ("biceps_femoris_long", "semitendinosus", "semimembranosus")
GMAX = ("gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower")
GMED = ("gluteus_medius_anterior", "gluteus_medius_middle", "gluteus_medius_posterior")
GMIN = ("gluteus_minimus_anterior", "gluteus_minimus_middle", "gluteus_minimus_posterior")
VASTI = ("vastus_lateralis", "vastus_medialis", "vastus_intermedius")
RF = ("rectus_femoris",)
BICEPS = ("biceps_femoris_long", "biceps_femoris_short")
GAS = ("gastrocnemius_medial", "gastrocnemius_lateral")
ILIOPSOAS = ("iliacus", "psoas")
LONG_ERECTORS = ("longissimus", "iliocostalis")
RECTUS = ("rectus_abdominis_medial", "rectus_abdominis_lateral")
EO = ("external_oblique_anterior", "external_oblique_middle", "external_oblique_lateral")
IO = ("internal_oblique_anterior", "internal_oblique_middle", "internal_oblique_lateral")
FLEX, ABD, ROT, KNEE = "hip_flexion", "hip_abduction", "hip_internal_rotation", "knee_flexion"
ANKLE, SUB = "ankle_dorsiflexion", "subtalar_inversion"
TRUNK, BEND, TURN = "trunk_flexion", "trunk_side_bending", "trunk_rotation"
_quadriceps = {0: (-47, -38), 10: (-48, -40), 20: (-47, -38), 40: (-40, -33), 50: (-36, -29), 70: (-32, -25), 90: (-29, -20), 120: (-25, -17), 140: (-23, -14), 150: (-23, -13)}  # fmt: skip
_quadriceps_source = "T3-001, 003 (42.6 at 0, 37.7 at 40), T3-008, 009 (47.1 at 10, 31.5 at 50), T3-005 (20-50)"

KNEE_BANDS = [
    Band((*VASTI, *RF), KNEE, {}, _quadriceps, _quadriceps_source, 1.5),
    Band(RF, KNEE, {FLEX: 90}, {20: (-47, -36), 90: (-30, -20)}, "the knee arm does not depend on the hip", 1.5),
    Band(BICEPS, KNEE, {}, {0: (20, 24), 20: (20, 24), 45: (20, 25), 60: (20, 25), 90: (19, 25), 120: (14, 26), 140: (8, 26)}, "T3-016, 019: about constant, 20", 5.0, 0.4),
    Band(("semimembranosus",), KNEE, {}, {0: (28, 35), 20: (29, 35), 45: (29, 35), 60: (29, 35), 90: (25, 33), 120: (16, 30), 140: (8, 28)}, "T3-012: 20-40; knee torque largest near 30 (T3-088)", 2.0),
    Band(("semitendinosus",), KNEE, {}, {0: (32, 42), 20: (33, 44), 45: (38, 50), 60: (40, 54), 90: (40, 60), 120: (30, 56), 140: (18, 50), 150: (12, 46)}, "T3-011: 40-55", 1.5),
    Band(GAS, KNEE, {}, {0: (10, 20), 20: (13, 21), 45: (14, 22), 70: (14, 22), 90: (13, 22), 120: (10, 22), 150: (4, 22)}, "T3-013, 014: 12-20; flexes throughout", 1.5),
    Band(("gracilis",), KNEE, {}, {0: (20, 32), 45: (30, 42), 90: (34, 48), 120: (26, 42), 150: (8, 35)}, "shape: 22-47"),
    Band(("sartorius",), KNEE, {}, {0: (4, 20), 45: (12, 32), 90: (16, 40), 120: (16, 40), 150: (4, 35)}, "shape: 0-20 and 11-44"),
    Band(("tensor_fasciae_latae",), KNEE, {}, {0: (-12, 0), 30: (-8, 6), 90: (-6, 14)}, "memory: extends near straight, flexes weakly beyond about 30"),
]  # fmt: skip

HIP_BANDS = [
    Band(GMAX[:1], FLEX, {}, {0: (-62, -48), 30: (-62, -44), 60: (-60, -36), 90: (-55, -26), 110: (-50, -18), 125: (-45, -10)}, "T3-125, share of the upper part: shape; extensor in a deep squat", 1.5, 0.7),
    Band(GMAX[1:2], FLEX, {}, {0: (-82, -68), 30: (-76, -58), 60: (-68, -44), 90: (-58, -40), 110: (-50, -33), 125: (-45, -27)}, "T3-125: 66-92 at 0, falls with flexion", 1.5, 0.6),
    Band(GMAX[2:], FLEX, {}, {0: (-88, -74), 30: (-88, -66), 60: (-80, -54), 90: (-68, -44), 110: (-55, -31), 125: (-48, -20)}, "T3-125", 1.5, 0.6),
    Band(GMAX, FLEX, {ABD: 30}, {0: (-85, -30), 60: (-75, -20), 90: (-65, -14), 120: (-60, -4)}, "hip extensor in a wide squat", 1.5),
    Band(GMAX, FLEX, {ABD: 30, ROT: -25}, {60: (-75, -20), 90: (-65, -14), 120: (-60, -4)}, "the same with knees out", 1.5),
    Band(HAMSTRINGS, FLEX, {}, {-10: (-60, -38), 0: (-66, -48), 20: (-72, -53), 40: (-76, -57), 60: (-74, -52), 90: (-60, -45), 110: (-52, -33), 125: (-45, -22)}, "T3-126: 50-70 at 0, about 70 near 35-45", 1.5, 0.1),
    Band(("adductor_magnus_ischial",), FLEX, {}, {0: (-52, -28), 30: (-70, -46), 60: (-76, -54), 90: (-72, -54), 110: (-65, -44), 125: (-58, -34)}, "extends the hip strongly when flexed; shape: 62 at 50; 58 from 75 deg on (Nemeth & Ohlsen 1985, from memory)", 1.5),
    Band(("adductor_magnus_anterior",), FLEX, {}, {0: (-15, 20), 45: (-45, -15), 90: (-52, -34), 110: (-54, -36), 125: (-54, -34)}, "shape; Nemeth & Ohlsen 1985: the arm stays from 75 deg on (from memory)"),
    Band(("adductor_longus",), FLEX, {}, {0: (28, 48), 45: (5, 36), 90: (-28, -4)}, "shape: flexor when extended, extensor when flexed"),
    Band(("adductor_brevis",), FLEX, {}, {0: (8, 32), 45: (-16, 16), 90: (-30, -5)}, "shape"),
    Band(ILIOPSOAS, FLEX, {}, {-20: (33, 40), 0: (34, 40), 30: (32, 38), 60: (30, 36), 90: (26, 37), 110: (18, 44), 120: (8, 48)}, "flexes throughout; shape: 24-45; torque largest near -12 (T3-068)", 2.0),
    Band(RF, FLEX, {}, {-20: (14, 28), 0: (22, 34), 30: (25, 36), 60: (24, 34), 90: (14, 28), 110: (4, 26)}, "shape, lowered: 43-50 at 30; T3-018: the knee shortens it more than the hip", 1.5, 0.4),
    Band(("sartorius",), FLEX, {}, {0: (20, 50), 45: (40, 80), 90: (45, 85), 120: (15, 70)}, "shape: 30-45 at 0, 67-83 at 60-80"),
    Band(("tensor_fasciae_latae",), FLEX, {}, {0: (24, 42), 45: (46, 72), 90: (52, 92), 120: (15, 90)}, "shape: 26-35 at 0, 88 at 90"),
    Band(("gracilis",), FLEX, {}, {0: (2, 32), 45: (-45, -8), 90: (-58, -30)}, "shape"),
    Band(GMED[2:], FLEX, {}, {0: (-28, -8), 45: (-28, -6)}, "shape: 18-24"),
    Band(GMED[:1], FLEX, {}, {0: (-17, 5), 60: (-4, 12)}, "shape: -14 at 0, 5 at 60"),
    Band(GMED[:2], ABD, {}, {-20: (38, 55), 0: (42, 55), 20: (38, 55)}, "memory: 40-55", 1.5),
    Band(GMED[2:], ABD, {}, {-20: (28, 50), 0: (34, 50), 20: (34, 52)}, "shape: 32-43"),
    Band(GMIN, ABD, {}, {0: (30, 50), 30: (25, 50)}, "memory"),
    Band(("tensor_fasciae_latae",), ABD, {}, {0: (42, 66), 30: (44, 78)}, "shape: 50 and more"),
    Band(GMAX[:1], ABD, {}, {0: (8, 28)}, "shape: 17-28"),
    Band(GMAX[:1], ABD, {FLEX: 90}, {0: (12, 45), 20: (12, 50)}, "shape: 26"),
    Band(GMAX[1:2], ABD, {FLEX: 90}, {0: (8, 40)}, "shape: 22"),
    Band(GMAX[2:], ABD, {}, {0: (-52, -28)}, "shape: -48"),
    Band(("adductor_longus", "adductor_brevis"), ABD, {}, {0: (-70, -48), 30: (-66, -38)}, "shape"),
    Band(("adductor_magnus_anterior",), ABD, {}, {0: (-72, -46), 30: (-76, -50)}, "shape"),
    Band(("adductor_magnus_ischial",), ABD, {}, {-20: (-32, -6), 0: (-42, -20), 30: (-62, -35)}, "shape"),
    Band(("gracilis",), ABD, {}, {0: (-72, -48), 30: (-84, -58)}, "shape"),
    Band(ILIOPSOAS, ABD, {}, {0: (-10, 10)}, "shape: near the axis"),
    Band(ILIOPSOAS, ABD, {FLEX: 90}, {0: (-24, 4), 30: (-24, 6)}, "shape, weakened: adducts the flexed thigh by 21"),
    Band(GMAX, ROT, {}, {0: (-40, -12)}, "memory: external rotator"),
    Band(("piriformis", "obturator_gemelli"), ROT, {}, {0: (-40, -18)}, "memory: external rotator"),
    Band((GMED[0], GMIN[0]), ROT, {}, {0: (5, 28)}, "memory: internal rotator"),
    Band((*GMED[:2], *GMIN), ROT, {FLEX: 90}, {0: (8, 40)}, "memory: anterior and middle parts turn the flexed thigh in (Delp 1999)"),
    Band(GMED[2:], ROT, {}, {0: (-38, -8)}, "memory: external rotator"),
]  # fmt: skip

ANKLE_BANDS = [
    Band((*GAS, "soleus"), ANKLE, {}, {-30: (-44, -36), -10: (-43, -38), 0: (-43, -38), 20: (-41, -35), 30: (-40, -30)}, "T3-021..024 (34.6-38.1) and T3-025 (43-56): the overlap of their tolerances", 1.5),
    Band(("tibialis_anterior", "toe_extensors"), ANKLE, {}, {-30: (26, 40), 0: (32, 45), 20: (32, 46)}, "shape: 32-44"),
    Band(("tibialis_posterior",), ANKLE, {}, {-20: (-14, -4), 0: (-14, -4), 20: (-14, -4)}, "shape"),
    Band(("fibularis",), ANKLE, {}, {0: (-14, -4), 20: (-14, -4)}, "shape"),
    Band(("long_toe_flexor",), ANKLE, {}, {-20: (-20, -8), 0: (-19, -9), 20: (-19, -8)}, "memory: 13-18 (Spoor 1990, Klein 1996)"),
    Band(("big_toe_flexor",), ANKLE, {}, {-20: (-28, -14), 0: (-28, -16), 20: (-26, -15)}, "memory: 19-27 (Spoor 1990, Klein 1996)"),
    Band(("tibialis_posterior",), SUB, {}, {-10: (15, 28), 0: (16, 28), 15: (14, 28)}, "memory: 19 (Klein 1996)"),
    Band(("fibularis",), SUB, {}, {-10: (-30, -17), 0: (-30, -18), 15: (-30, -17)}, "memory: 21-24 (Klein 1996)", 1.5),
    Band(("long_toe_flexor",), SUB, {}, {-10: (8, 20), 0: (9, 20), 15: (8, 20)}, "memory: 13-16 (Klein 1996)"),
    Band(("big_toe_flexor",), SUB, {}, {-10: (2, 14), 0: (3, 14), 15: (2, 14)}, "memory: 6-8 (Klein 1996)"),
    Band(("tibialis_anterior",), SUB, {}, {0: (1, 12)}, "memory: weak invertor"),
    Band(("toe_extensors",), SUB, {}, {0: (-16, -3)}, "memory: weak evertor"),
    Band((*GAS, "soleus"), SUB, {}, {-15: (0, 14), 0: (1, 8), 15: (-8, 7)}, "memory: 5, inverts (Klein 1996); it holds the load on the ball of the foot, which everts"),
]  # fmt: skip

TRUNK_BANDS = [
    Band(LONG_ERECTORS, TRUNK, {}, {-20: (-68, -54), 0: (-66, -54), 30: (-62, -46), 60: (-58, -36)}, "memory: 55-65 at L5"),
    Band(("erector_lumbar_part", "multifidus"), TRUNK, {}, {0: (-38, -28), 40: (-36, -20)}, "memory: 50-60 about the lumbar joint, times its share 0.6"),
    Band(RECTUS, TRUNK, {}, {-20: (75, 105), 0: (85, 115), 30: (90, 125), 60: (90, 130)}, "memory: 80-110 at L3-L5"),
    Band(EO[:1], TRUNK, {}, {0: (50, 85), 40: (60, 98)}, "shape: 63-100"),
    Band(EO[1:2], TRUNK, {}, {0: (30, 70)}, "between its neighbours"),
    Band(EO[2:], TRUNK, {}, {0: (10, 45)}, "memory"),
    Band(IO[:1], TRUNK, {}, {0: (45, 85), 40: (40, 95)}, "shape: 53"),
    Band(IO[1:2], TRUNK, {}, {0: (15, 60)}, "between its neighbours"),
    Band(IO[2:], TRUNK, {}, {0: (-5, 35)}, "memory"),
    Band(("quadratus_lumborum",), BEND, {}, {-15: (55, 85), 0: (55, 85), 15: (55, 85)}, "memory: side bender"),
    Band((EO[2], IO[2]), BEND, {}, {0: (90, 132)}, "memory: side bender"),
    Band((EO[1], IO[1]), BEND, {}, {0: (60, 125)}, "memory: side bender"),
    Band(("iliocostalis",), BEND, {}, {0: (40, 68)}, "memory"),
    Band(EO, TURN, {}, {-20: (15, 80), 0: (15, 65), 20: (5, 60)}, "turns the trunk to the other side", 1.5),
    Band(IO, TURN, {}, {-20: (-60, -5), 0: (-65, -15), 20: (-80, -15)}, "turns the trunk to its own side", 1.5),
    Band(("sternocleidomastoid",), "neck_flexion", {}, {-30: (12, 50), 0: (25, 55), 30: (30, 75)}, "memory: flexes"),
    Band(("splenius_semispinalis", "neck_extensors_deep"), "neck_flexion", {}, {-30: (-65, -25), 0: (-58, -24), 30: (-50, -16)}, "memory: extends"),
]  # fmt: skip

BANDS = [*KNEE_BANDS, *HIP_BANDS, *ANKLE_BANDS, *TRUNK_BANDS]

LIMITS = Limits(
    {
        "hip_flexion": (-20, 128),
        "hip_abduction": (-30, 43),
        "hip_internal_rotation": (-42, 40),
        "knee_flexion": (0, 148),
        "ankle_dorsiflexion": (-52, 30),
        "subtalar_inversion": (-20, 30),
        "trunk_flexion": (-30, 70),
        "trunk_side_bending": (-30, 30),
        "trunk_rotation": (-35, 35),
        "neck_flexion": (-50, 50),
        "neck_side_bending": (-35, 35),
        "neck_rotation": (-60, 60),
    },
    n_random=700,
)
"""Where lifts go, all combinations: deep squats with knees out, adduction machines, side bends with a turn."""

SWEEPS = [
    *(Sweep(FLEX, -20, 128, h) for h in ({}, {ABD: 40}, {ABD: 40, ROT: -30}, {ABD: -20}, {ROT: 30}, {ROT: -35}, {KNEE: 120})),
    *(Sweep(ABD, -30, 42, h) for h in ({}, {FLEX: 45}, {FLEX: 90}, {FLEX: 122}, {FLEX: 122, ROT: -30}, {FLEX: -15})),
    *(Sweep(ROT, -40, 38, h) for h in ({}, {FLEX: 45}, {FLEX: 90}, {FLEX: 122}, {FLEX: 122, ABD: 35}, {ABD: 35})),
    *(Sweep(KNEE, 0, 148, h) for h in ({}, {FLEX: 90}, {FLEX: 122}, {FLEX: -15}, {ANKLE: 20})),
    *(Sweep(ANKLE, -52, 30, h) for h in ({}, {KNEE: 120}, {SUB: 20})),
    Sweep(SUB, -20, 30),
    *(Sweep(TRUNK, -30, 70, h) for h in ({}, {BEND: 20}, {TURN: 25})),
    *(Sweep(BEND, -30, 30, h) for h in ({}, {TRUNK: 45})),
    *(Sweep(TURN, -35, 35, h) for h in ({}, {TRUNK: 45}, {TRUNK: 45, BEND: 25})),
    Sweep("neck_flexion", -50, 50),
]
