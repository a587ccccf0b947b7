"""Isometric moments of an untrained man of 75 kg about the joints of the upper limb, and what is known of its lines before the fit.

Measured moments are few; the curve round them is a widened guess, marked E. Rows T2-026, T1-051 and the remembered headline values were used
here, the rest of topics 1 and 2 was not.
"""

import numpy as np

from fit_strength import Torque

BENT = {"elbow_flexion": 90.0}

VOLUME_CM3 = {
    "trapezius_upper": 95, "trapezius_middle": 110, "trapezius_lower": 85, "levator_scapulae": 42, "rhomboid_minor": 28, "rhomboid_major": 58,
    "serratus_upper": 50, "serratus_middle": 85, "serratus_lower": 145, "pectoralis_minor": 50,
    "deltoid_anterior": 160, "deltoid_middle": 180, "deltoid_posterior": 150,
    "pectoralis_clavicular": 120, "pectoralis_sternal": 175, "pectoralis_costal": 135,
    "latissimus_upper": 105, "latissimus_middle": 120, "latissimus_lower": 125, "teres_major": 55, "coracobrachialis": 22,
    "supraspinatus": 58, "infraspinatus_upper": 75, "infraspinatus_lower": 75, "teres_minor": 36, "subscapularis_upper": 100, "subscapularis_lower": 100,
    "triceps_long": 190, "triceps_lateral": 132, "triceps_medial": 122, "biceps_long": 88, "biceps_short": 72, "brachialis": 185, "brachioradialis": 75,
    "pronator_teres": 42, "supinator": 24, "flexor_carpi_radialis": 85, "flexor_carpi_ulnaris": 85,
    "extensor_carpi_radialis": 85, "extensor_carpi_ulnaris": 50,
}  # fmt: skip
"""Muscle volumes of a man of 75 kg [cm3]. Arm: Holzbaur 2007 (5 men, 5 women) raised by about a fifth for men, from memory; split among
lines by estimate; the deltoid 0.33, 0.37 and 0.31 towards what its bulk shows (areas of Holzbaur 2005 times fibre length give 0.41, 0.46 and
0.13, from memory; 0.22 for the back part was tried and changed no leader). Girdle: estimate from PCSA of Johnson 1994 and Veeger 1991 (from memory) and the length of the line. Wrist lines
carry the part of the finger muscles that a closed hand uses at the wrist (estimate)."""

MEASURED_FIBRE = ("triceps_long", "brachioradialis", "pronator_teres")
"""Lines whose optimal fibre length was measured: Murray, Buchanan & Delp 2000 (T1-006, T1-014, T1-015)."""
FIBRE_MM = {
    "trapezius_upper": 142, "trapezius_middle": 122, "trapezius_lower": 141, "levator_scapulae": 140, "rhomboid_minor": 150,
    "rhomboid_major": 160, "serratus_upper": 150, "serratus_middle": 174, "serratus_lower": 184, "pectoralis_minor": 120,
    "deltoid_anterior": 98, "deltoid_middle": 108, "deltoid_posterior": 137, "pectoralis_clavicular": 137, "pectoralis_sternal": 150,
    "pectoralis_costal": 155, "latissimus_upper": 305, "latissimus_middle": 260, "latissimus_lower": 280, "teres_major": 150,
    "coracobrachialis": 93, "supraspinatus": 68, "infraspinatus_upper": 76, "infraspinatus_lower": 76, "teres_minor": 74,
    "subscapularis_upper": 87, "subscapularis_lower": 87, "triceps_long": 127, "triceps_lateral": 114, "triceps_medial": 104,
    "biceps_long": 119, "biceps_short": 134, "brachialis": 90, "brachioradialis": 177, "pronator_teres": 55,
    "supinator": 40, "flexor_carpi_radialis": 60, "flexor_carpi_ulnaris": 50, "extensor_carpi_radialis": 75, "extensor_carpi_ulnaris": 60,
}  # fmt: skip
"""Optimal fibre lengths before the fit [mm]. Arm: Holzbaur 2005 and Langenderfer 2004, from memory; girdle: fleshy over most of the
path, and long enough for training postures (estimate)."""


def _torque(
    name: str, angle: str, raises: bool, held: dict[str, float], values: dict[float, float], source: str, weight: float = 1.0
) -> Torque:
    at, moment = np.array(list(values), float), np.array(list(values.values()), float)
    return Torque(name, angle, raises, held, at, moment, source, weight)


TORQUES = [
    _torque("elbow flexion", "elbow_flexion", True, {"forearm_pronation": -60}, {30: 48, 60: 64, 90: 71, 120: 61}, "Askew 1987: 71 Nm at 90 deg (from memory); shape E", 2.5),
    _torque("elbow extension", "elbow_flexion", False, {}, {30: 38, 56: 45, 70: 47, 84: 48.5, 90: 48, 110: 45, 130: 38}, "T1-051, T1-053, T1-042, T1-055; shape E", 1.5),
    _torque("shoulder flexion", "shoulder_flexion", True, {}, {0: 84, 45: 72, 90: 58, 135: 40}, "T2-026; shape E", 1.3),
    _torque("shoulder extension", "shoulder_flexion", False, {}, {0: 75, 45: 90, 90: 92, 135: 70}, "E, ratio to flexion T2-033"),
    _torque("shoulder abduction", "shoulder_abduction", True, {}, {0: 62, 45: 64, 90: 56, 135: 40}, "E"),
    _torque("shoulder adduction", "shoulder_abduction", False, {}, {30: 82, 60: 86, 90: 84, 135: 55}, "T2-036 for a man; shape E"),
    _torque("horizontal adduction", "shoulder_horizontal_adduction", True, {}, {-20: 88, 0: 102, 45: 110, 90: 95}, "E"),
    _torque("horizontal abduction", "shoulder_horizontal_adduction", False, {}, {0: 65, 45: 72, 90: 60}, "E, below T2-043"),
    _torque("internal rotation", "shoulder_internal_rotation", True, BENT, {-40: 46, 0: 49, 40: 42}, "E; ratio to external T2-032"),
    _torque("external rotation", "shoulder_internal_rotation", False, BENT, {-40: 30, 0: 34, 40: 34}, "E; ratio to internal T2-032", 1.3),
    _torque("pronation", "forearm_pronation", True, BENT, {-40: 9, 0: 8.5}, "Askew 1987: 7-9 Nm (from memory); shape E", 0.5),
    _torque("supination", "forearm_pronation", False, BENT, {0: 9.5, 40: 10.5}, "Askew 1987: 9 Nm (from memory); shape E", 0.5),
    _torque("wrist flexion", "wrist_flexion", True, BENT, {-30: 12.5, 0: 13, 35: 11}, "E: 12-15 Nm with the fist closed, from memory"),
    _torque("wrist extension", "wrist_flexion", False, BENT, {-20: 9, 0: 10, 35: 9}, "T2-037"),
]  # fmt: skip

BY_HAND = ("triceps_long", "triceps_lateral", "triceps_medial")
"""Lines whose slack and force were set by trial, not by least squares: the long head near its best length at the side and past it
overhead, the other two near theirs with the elbow well bent, so that T2-044, T2-045, T1-042 and T1-036 hold together. Freed, they lose
T1-036, T1-042 and T2-044."""


def spread(line: str) -> float:
    """Spread of a line's fibre length before the fit, as a share (estimate; Ward 2009 has 10-15 % between people in the leg)."""
    return 0.02 if line in MEASURED_FIBRE else 0.06
