"""What each muscle line of shoulder, elbow, forearm and wrist should do: bands of moment arm [mm] for the path fit.

Positive raises the clinical angle (internal rotation, horizontal adduction, pronation, wrist flexion and radial deviation are
positive). Where a band comes from:
  read      a row of tests/reference/biomechanics.csv that was read, with its tolerance (larger of 2 SD and 20 %)
  memory    a row of that file remembered from a paper
  shape     between the curves of Seth 2019 (moment_arm_curves.csv; the blade is held there, so angles are read at two thirds) and of
            Holzbaur 2005, widened by hand
  anatomy   own estimate of what the attachments allow
Kept out of the fit, and so a check: HELD_OUT.
"""

from fit_paths import Band, Limits, Sweep

HELD_OUT = ("T1-007", "T1-008", "T1-010", "T2-009", "T2-010", "T2-013", "T2-014", "T2-046", "T2-048")
"""Rows of biomechanics.csv that no band here was drawn from."""

FLEXION, ABDUCTION, HORIZONTAL = "shoulder_flexion", "shoulder_abduction", "shoulder_horizontal_adduction"
INTERNAL, ELBOW, PRONATION = "shoulder_internal_rotation", "elbow_flexion", "forearm_pronation"
WRIST, RADIAL = "wrist_flexion", "wrist_radial_deviation"
BENT = {"elbow_flexion": 90.0}
RAISED = {"shoulder_abduction": 90.0, "elbow_flexion": 90.0}
Pair = tuple[float, float]


def _band(
    lines: str, angle: str, source: str, values: dict[float, Pair], held: dict[str, float] | None = None, weight: float = 1.0
) -> Band:
    return Band(tuple(lines.split()), angle, held or {}, values, source, weight)


def _raised_and_turned_out(lines: str, source: str, values: dict[float, Pair], weight: float = 1.0) -> list[Band]:
    """Abduction with the turning out that high abduction needs (estimate: 0 at 60 to 60 deg at 150)."""
    out = []
    for angle, pair in values.items():
        x = min(max((angle - 60) / 90, 0), 1)
        out.append(_band(lines, ABDUCTION, source, {angle: pair}, {INTERNAL: -60 * x * x * (3 - 2 * x)}, weight))
    return out


DELTOID = [
    _band("deltoid_anterior", FLEXION, "memory T2-049, shape", {-40: (6, 32), 0: (20, 32), 45: (28, 40), 90: (26, 40), 135: (12, 38), 170: (0, 30)}),
    *_raised_and_turned_out("deltoid_anterior", "shape", {0: (0, 12), 45: (8, 24), 90: (14, 32), 135: (18, 38)}),
    _band("deltoid_anterior", HORIZONTAL, "anatomy", {-40: (4, 30), 0: (10, 30), 45: (14, 35), 90: (10, 35)}),
    _band("deltoid_anterior", INTERNAL, "anatomy", {0: (-1, 10)}, BENT),
    *_raised_and_turned_out("deltoid_middle", "shape; abducts from the first degree: common practice", {0: (26, 34), 30: (27, 36), 60: (28, 37), 90: (24, 36), 120: (15, 34), 160: (5, 30)}, 2.0),
    _band("deltoid_middle", FLEXION, "shape", {-40: (-22, 5), 0: (-8, 8), 45: (0, 18), 90: (2, 20)}),
    _band("deltoid_middle", HORIZONTAL, "anatomy; below infraspinatus: read T2-012", {0: (-12, 0), 90: (-16, 10)}),
    _band("deltoid_middle", INTERNAL, "anatomy", {0: (-5, 5)}, BENT),
    _band("deltoid_posterior", FLEXION, "shape", {-40: (-52, -20), 0: (-45, -28), 45: (-34, -12), 90: (-26, 0)}),
    *_raised_and_turned_out("deltoid_posterior", "shape", {0: (-15, 3), 45: (-10, 8), 90: (-8, 12)}),
    _band("deltoid_posterior", HORIZONTAL, "read T2-012", {-40: (-55, -20), 0: (-50, -30), 45: (-45, -24), 90: (-36, -16), 130: (-30, -4)}),
    _band("deltoid_posterior", INTERNAL, "anatomy", {0: (-10, 0)}, BENT),
]  # fmt: skip

CHEST = [
    _band("pectoralis_clavicular", FLEXION, "shape", {-40: (8, 34), 0: (20, 34), 45: (15, 32), 90: (4, 25)}),
    *_raised_and_turned_out("pectoralis_clavicular", "shape", {0: (-36, -8), 60: (-20, 2), 90: (-10, 15)}),
    _band("pectoralis_clavicular", HORIZONTAL, "anatomy", {-40: (16, 38), 0: (26, 44), 45: (38, 54), 90: (38, 58), 130: (20, 55)}),
    _band("pectoralis_sternal", FLEXION, "shape", {-40: (5, 36), 0: (0, 24), 45: (-16, 10), 90: (-28, -2), 170: (-30, -4)}),
    *_raised_and_turned_out("pectoralis_sternal", "shape", {0: (-46, -18), 30: (-44, -20), 60: (-42, -18), 90: (-30, -6), 135: (-18, 12)}),
    _band("pectoralis_sternal", HORIZONTAL, "anatomy", {-40: (18, 38), 0: (30, 44), 45: (42, 50), 90: (34, 50), 130: (12, 45)}, None, 1.5),
    _band("pectoralis_costal", FLEXION, "shape", {-40: (0, 40), 0: (0, 22), 45: (-26, 0), 90: (-38, -12), 170: (-30, -6)}),
    *_raised_and_turned_out("pectoralis_costal", "shape", {0: (-42, -13), 30: (-46, -20), 60: (-46, -22), 90: (-38, -14), 135: (-26, 2)}),
    _band("pectoralis_costal", HORIZONTAL, "anatomy", {-40: (14, 38), 0: (28, 44), 45: (40, 50), 90: (30, 50), 130: (5, 42)}, None, 1.5),
    _band("pectoralis_clavicular", INTERNAL, "anatomy", {-85: (1, 20), -40: (6, 22), 0: (13, 22), 40: (10, 24), 75: (6, 24)}, BENT, 1.5),
    _band("pectoralis_sternal", INTERNAL, "anatomy", {-85: (2, 20), -40: (9, 22), 0: (14, 24), 40: (11, 24), 75: (6, 24)}, BENT, 1.5),
    _band("pectoralis_costal", INTERNAL, "anatomy", {-85: (2, 20), -40: (8, 22), 0: (14, 24), 40: (11, 24), 75: (6, 24)}, BENT, 1.5),
    _band("pectoralis_clavicular pectoralis_sternal pectoralis_costal", INTERNAL, "anatomy", {-70: (0, 22), 0: (3, 22), 50: (3, 24)}, RAISED),
]  # fmt: skip

BACK = [
    _band("latissimus_upper", FLEXION, "shape, memory T2-051", {-40: (-40, -3), 0: (-44, -22), 45: (-48, -24), 90: (-44, -16), 135: (-32, -4), 170: (-25, -2)}),
    _band("latissimus_middle", FLEXION, "shape, memory T2-051", {-40: (-38, -4), 0: (-45, -24), 45: (-50, -26), 90: (-48, -18), 135: (-36, -6), 170: (-28, -3)}),
    _band("latissimus_lower", FLEXION, "shape, memory T2-051", {-40: (-36, -3), 0: (-42, -18), 45: (-50, -26), 90: (-50, -22), 135: (-42, -8), 170: (-32, -4)}),
    *_raised_and_turned_out("latissimus_upper", "shape", {0: (-24, -4), 45: (-38, -15), 90: (-40, -14), 135: (-32, -4), 170: (-26, -1)}),
    *_raised_and_turned_out("latissimus_middle", "memory T2-051", {0: (-32, -6), 45: (-46, -24), 90: (-48, -24), 135: (-38, -6), 170: (-30, -1)}),
    *_raised_and_turned_out("latissimus_lower", "memory T2-051", {0: (-36, -8), 45: (-50, -28), 90: (-54, -30), 135: (-44, -8), 170: (-32, -1)}),
    _band("latissimus_upper", HORIZONTAL, "anatomy: the most level fibres; below infraspinatus: read T2-012", {-40: (-30, 0), 0: (-16.5, -5), 45: (-22, 5), 90: (-18, 14)}),
    _band("latissimus_middle", HORIZONTAL, "anatomy", {-40: (-30, 2), 0: (-16.5, -3), 45: (-20, 8), 90: (-16, 14)}),
    _band("latissimus_lower", HORIZONTAL, "anatomy: the steepest fibres", {-40: (-28, 4), 0: (-16, 3), 45: (-18, 12), 90: (-12, 16)}),
    _band("latissimus_upper latissimus_middle latissimus_lower teres_major", INTERNAL, "anatomy", {-85: (5, 22), -40: (10, 22), 0: (12, 22), 40: (10, 22), 80: (5, 22)}, BENT, 1.5),
    _band("latissimus_upper latissimus_middle latissimus_lower teres_major", INTERNAL, "anatomy", {-60: (5, 22), 0: (6, 22), 60: (3, 22)}, RAISED),
    _band("teres_major", FLEXION, "shape", {-40: (-40, -5), 0: (-46, -24), 45: (-50, -26), 90: (-38, -12), 135: (-26, -3), 170: (-20, 0)}),
    *_raised_and_turned_out("teres_major", "memory T2-050", {0: (-36, -12), 45: (-52, -28), 90: (-50, -20), 135: (-36, -5), 170: (-30, 0)}),
    _band("teres_major", HORIZONTAL, "anatomy", {0: (-30, -4)}),
]  # fmt: skip

FRONT = [
    _band("coracobrachialis", FLEXION, "anatomy", {-40: (3, 30), 0: (10, 26), 45: (8, 26), 90: (0, 22)}),
    _band("coracobrachialis", ABDUCTION, "anatomy", {0: (-28, -4), 90: (-12, 12)}),
    _band("coracobrachialis", HORIZONTAL, "anatomy", {0: (10, 28), 90: (3, 28)}),
    _band("biceps_long", FLEXION, "shape", {-40: (0, 22), 0: (4, 20), 90: (-2, 16), 135: (-8, 12)}),
    _band("biceps_long", ABDUCTION, "shape", {0: (0, 18), 90: (-2, 16)}),
    _band("biceps_short", FLEXION, "shape", {-40: (4, 32), 0: (14, 32), 45: (12, 30), 90: (0, 20)}),
    _band("biceps_short", ABDUCTION, "shape", {0: (-32, -4), 90: (-12, 12)}),
    _band("biceps_short", HORIZONTAL, "anatomy", {0: (10, 28)}),
]

CUFF = [
    *_raised_and_turned_out("supraspinatus", "shape", {0: (16, 26), 30: (15, 26), 60: (10, 24), 90: (6, 18), 120: (3, 22), 160: (0.8, 20), 175: (0.3, 20)}),
    _band("supraspinatus", FLEXION, "shape", {0: (0, 15), 90: (0, 16), 135: (-6, 14)}),
    _band("supraspinatus", INTERNAL, "anatomy", {60: (-8, 10), 0: (-8, 8), -60: (-15, 8)}, BENT),
    _band("infraspinatus_upper", INTERNAL, "anatomy", {75: (-26, -1), 40: (-26, -10), 0: (-27, -15), -40: (-27, -12), -80: (-26, -3)}, BENT),
    _band("infraspinatus_upper", INTERNAL, "anatomy", {75: (-28, 0), 0: (-28, -14), -60: (-28, -8)}, RAISED),
    _band("infraspinatus_upper", ABDUCTION, "anatomy", {0: (0, 12), 60: (0, 14), 90: (-2, 12)}),
    _band("infraspinatus_upper infraspinatus_lower", HORIZONTAL, "read T2-012", {-20: (-30, -10), 0: (-28, -18), 45: (-28, -10), 90: (-28, -6), 122: (-28, -1)}, None, 3.0),
    _band("infraspinatus_lower", INTERNAL, "anatomy", {75: (-27, -1), 40: (-27, -11), 0: (-27, -17), -40: (-27, -15), -80: (-27, -4)}, BENT),
    _band("infraspinatus_lower", INTERNAL, "read T2-003 by its neighbour T2-004", {75: (-30, -1), 0: (-30, -20), -60: (-30, -10)}, RAISED),
    _band("infraspinatus_lower", ABDUCTION, "anatomy", {0: (-12, 6), 90: (-8, 12)}),
    _band("teres_minor", INTERNAL, "anatomy", {60: (-27, -4), 40: (-27, -8), 0: (-27, -14), -40: (-27, -9), -80: (-26, -2), -98: (-26, -0.5)}, BENT, 2.0),
    _band("teres_minor", INTERNAL, "read T2-004", {75: (-30, 0), 0: (-30, -20), -60: (-30, -7)}, RAISED, 3.0),
    _band("teres_minor", ABDUCTION, "anatomy", {0: (-24, -4), 90: (-18, 2)}),
    _band("teres_minor", HORIZONTAL, "anatomy", {0: (-26, -2)}),
    _band("subscapularis_upper", INTERNAL, "anatomy", {60: (8, 26), 0: (15, 26), -40: (13, 26), -80: (3, 26)}, BENT),
    _band("subscapularis_upper", INTERNAL, "anatomy", {60: (0, 24), 0: (5, 24), -60: (4, 25)}, RAISED),
    _band("subscapularis_upper", ABDUCTION, "anatomy", {0: (-4, 9), 90: (-5, 8)}),
    _band("subscapularis_upper subscapularis_lower", HORIZONTAL, "anatomy", {0: (0, 24)}),
    _band("subscapularis_lower", INTERNAL, "anatomy", {60: (9, 28), 0: (22.5, 30), -40: (17, 30), -80: (6, 28), -98: (2, 28)}, BENT, 3.0),
    _band("subscapularis_lower", INTERNAL, "read T2-001", {60: (3, 29), 0: (19, 29), -60: (7, 29)}, RAISED, 3.0),
    _band("subscapularis_lower", ABDUCTION, "anatomy", {0: (-14, 3), 90: (-10, 10)}),
]  # fmt: skip

ARM = [
    _band("triceps_long", FLEXION, "shape; extends with the arm at the side and behind: common practice", {-55: (-36, -11), -40: (-36, -15), 0: (-35, -20), 45: (-35, -18), 90: (-30, -8), 135: (-20, -1), 170: (-15, 1)}, None, 1.5),
    _band("triceps_long", ABDUCTION, "shape", {0: (-26, -6), 60: (-32, -8), 120: (-24, 2)}),
    _band("triceps_long triceps_lateral triceps_medial", ELBOW, "read T1-001", {30: (-24, -22.3)}, None, 2.0),
    _band("triceps_long triceps_lateral triceps_medial", ELBOW, "shape", {0: (-23, -18), 60: (-22.5, -20.8), 90: (-21.5, -20), 110: (-19.4, -18), 130: (-17.3, -15.5), 150: (-17, -13.5)}),
    _band("biceps_long biceps_short", ELBOW, "memory T1-045, shape; 1 cm at full extension: common practice", {0: (9, 12), 30: (18, 25), 60: (32, 40), 90: (43, 48), 110: (42, 49), 130: (34, 45), 150: (20, 42)}, None, 1.5),
    _band("biceps_long biceps_short", PRONATION, "anatomy", {-60: (-10, -1), 0: (-14, -7), 60: (-13, -5)}, BENT),
    _band("brachialis", ELBOW, "memory T1-046; 1 cm at full extension: common practice", {0: (9, 14), 30: (12.5, 18), 60: (17, 23), 90: (23, 27), 110: (23.5, 28), 130: (19, 27), 150: (10, 24)}, None, 1.5),
    _band("brachioradialis", ELBOW, "read T1-011, memory T1-047", {0: (8, 14), 30: (21, 29), 60: (38, 46), 90: (57, 65), 110: (66, 73), 130: (62, 73), 150: (40, 70)}, None, 1.5),
    _band("brachioradialis", PRONATION, "anatomy", {0: (-4, 4)}, BENT),
    _band("pronator_teres", ELBOW, "anatomy", {0: (2, 9), 60: (8, 16), 90: (9, 18)}),
    _band("pronator_teres", PRONATION, "anatomy", {-60: (5, 14), 0: (7, 14), 60: (4, 14)}, BENT),
    _band("supinator", PRONATION, "anatomy", {-60: (-12, -5), 0: (-13, -6), 60: (-13, -6)}, BENT),
    _band("flexor_carpi_radialis", WRIST, "anatomy", {-40: (9, 20), 0: (12, 18), 40: (10, 20), 70: (8, 20)}, BENT),
    _band("flexor_carpi_radialis", RADIAL, "anatomy", {0: (3, 14)}, BENT),
    _band("flexor_carpi_radialis", ELBOW, "anatomy", {0: (-4, 6), 90: (0, 10)}),
    _band("flexor_carpi_ulnaris", WRIST, "anatomy", {-40: (10, 22), 0: (13, 20), 40: (10, 22), 70: (8, 22)}, BENT),
    _band("flexor_carpi_ulnaris", RADIAL, "anatomy", {0: (-22, -10)}, BENT),
    _band("flexor_carpi_ulnaris", ELBOW, "anatomy", {0: (-6, 4), 90: (-4, 8)}),
    _band("extensor_carpi_radialis", WRIST, "anatomy", {-40: (-18, -8), 0: (-16, -9), 40: (-18, -7), 70: (-18, -4)}, BENT),
    _band("extensor_carpi_radialis", RADIAL, "anatomy", {0: (8, 18)}, BENT),
    _band("extensor_carpi_radialis", ELBOW, "read T1-033", {0: (3, 12), 30: (9.8, 14.2), 60: (12.6, 18.0), 90: (18, 26), 120: (21, 30)}, None, 5.0),
    _band("extensor_carpi_ulnaris", WRIST, "anatomy", {-40: (-16, -4), 0: (-14, -5), 40: (-16, -3), 70: (-16, -1)}, BENT),
    _band("extensor_carpi_ulnaris", RADIAL, "anatomy", {0: (-24, -10)}, BENT),
    _band("extensor_carpi_ulnaris", ELBOW, "anatomy", {0: (-10, 4), 90: (-6, 8)}),
]  # fmt: skip

BANDS: list[Band] = [*DELTOID, *CHEST, *BACK, *FRONT, *CUFF, *ARM]

SWEEPS = [
    Sweep(FLEXION, -60, 170),
    Sweep(ABDUCTION, -20, 170),
    Sweep(ABDUCTION, 0, 170, {INTERNAL: -60}),
    Sweep(HORIZONTAL, -40, 125),
    Sweep(HORIZONTAL, -40, 125, {INTERNAL: 45}),
    Sweep(HORIZONTAL, -40, 125, {INTERNAL: -60}),
    Sweep(INTERNAL, -95, 80),
    Sweep(INTERNAL, -95, 80, {ABDUCTION: 90}),
    Sweep(INTERNAL, -90, 60, {HORIZONTAL: 90}),
    Sweep(INTERNAL, -60, 60, {FLEXION: 145}),
    Sweep(ELBOW, 0, 150),
    Sweep(ELBOW, 0, 150, {PRONATION: 75}),
    Sweep(ELBOW, 0, 150, {PRONATION: -80}),
    Sweep(ELBOW, 0, 150, {FLEXION: 160}),
    Sweep(PRONATION, -80, 75, BENT),
    Sweep(WRIST, -65, 75),
    Sweep(RADIAL, -30, 20),
]

LIMITS = Limits(
    {
        FLEXION: (-50, 120),
        ABDUCTION: (-10, 110),
        HORIZONTAL: (-40, 125),
        INTERNAL: (-80, 70),
        ELBOW: (0, 150),
        PRONATION: (-80, 75),
        WRIST: (-65, 75),
        RADIAL: (-30, 20),
    },
    n_random=700,
)
"""Which angles matter to a line; random arm postures come from upper_region.py."""
