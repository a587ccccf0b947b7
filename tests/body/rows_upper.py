"""What the body says for each row of topics 1 and 2 (elbow, shoulder, wrist) of the reference table, at the row's posture.

What a row allows. Moment arms and lengths: the larger of two standard deviations and 20 % of the value. Torque: one and a half
standard deviations, or 20 % where none is printed. A remembered range: its ends, or 20 % of the value where that is wider. Angle of a
peak: 15 deg, or the printed range. A bound from an athlete must not be passed. Order and sign rows hold or do not.
"""

import csv
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.muscles import active_force_length, settle
from lengthwise.body.person import Person
from lengthwise.body.posture import clinical_axes, coordinates
from lengthwise.mechanics.strength import joint_strength

Array = NDArray[np.float64]
TABLE = Path(__file__).parents[1] / "reference" / "biomechanics.csv"
ROWS = {r["id"]: r for r in csv.DictReader(TABLE.open()) if r["topic"][:2] in ("1 ", "2 ")}
MAN = Person()
WOMAN = Person(sex="woman", stature_m=1.65, mass_kg=61)
"""Young women of the torque studies; size: estimate (not printed)."""
FLEX, ABD, HOR, TURN, ELBOW = (
    "shoulder_flexion",
    "shoulder_abduction",
    "shoulder_horizontal_adduction",
    "shoulder_internal_rotation",
    "elbow_flexion",
)
TRICEPS = ("triceps_long", "triceps_lateral", "triceps_medial")
PECTORALIS = ("pectoralis_clavicular", "pectoralis_sternal", "pectoralis_costal")
LATISSIMUS = ("latissimus_upper", "latissimus_middle", "latissimus_lower")
MURRAY_RANGE = (20.0, 120.0)
"""Elbow range of Murray 2000 [deg], from memory; the row says only 'elbow range of motion'."""


@dataclass(frozen=True)
class Check:
    """A usable row: what to compute and between which values it must lie."""

    compute: Callable[[], float]
    low: float
    high: float


# ---- measures of the body ----


@cache
def arms_mm(angle: str, at: float, held: tuple[tuple[str, float], ...] = (), person: Person = MAN) -> dict[str, float]:
    """Moment arm of every right line that does something there [mm]; positive raises the angle, the blade held."""
    body = body_of(person)
    posture = {**dict(held), angle: at}
    names, axes = clinical_axes(body, posture)
    arm = -body.survey(coordinates(body, posture)).arms[0] @ axes[names.index(f"{angle}_right")] * 1e3
    return {n.removesuffix("_right"): float(v) for n, v in zip(body.lines.names, arm, strict=True) if n.endswith("_right")}


def peak_mm(line: str, angle: str, sign: int, low: float, high: float, along: str = "", **held: float) -> float:
    """Largest arm [mm] in one direction about `angle` while `along` (or the angle itself) sweeps its range."""
    best = -np.inf
    for at in np.arange(low, high + 1e-9, 10.0):
        pose = {**held, along: float(at)} if along else held
        arm = arms_mm(angle, pose.pop(angle, 0.0) if along else float(at), tuple(pose.items()))
        best = max(best, sign * arm[line])
    return best


def mean_elbow_arm(lines: tuple[str, ...], at: float) -> float:
    return float(np.mean([abs(arms_mm(ELBOW, at)[n]) for n in lines]))


def excursion(line: str) -> float:
    """Length change over Murray's elbow range as a share of optimal fibre length [%]."""
    body = body_of(MAN)
    i = body.lines.names.index(f"{line}_right")
    path = body.paths(coordinates(body, {ELBOW: np.array(MURRAY_RANGE)}))[:, i]
    return float(abs(path[1] - path[0]) / body.lines.optimal_m[i] * 100)


@cache
def torque(angle: str, raises: bool, held: tuple[tuple[str, float], ...] = (), person: Person = MAN) -> float:
    """Largest isometric moment [Nm]."""
    return joint_strength(body_of(person), angle, dict(held), raises).moment_nm


def curve(angle: str, raises: bool, at: Array, person: Person = MAN, **held: float) -> Array:
    return np.array([torque(angle, raises, (*held.items(), (angle, float(a))), person) for a in at])


def peak_torque(angle: str, raises: bool, low: float, high: float, **held: float) -> float:
    return float(curve(angle, raises, np.arange(low, high + 1, 15.0), **held).max())


def peak_angle(angle: str, raises: bool, low: float, high: float, **held: float) -> float:
    """Angle of the largest moment [deg], by the parabola through the three largest neighbours."""
    at = np.arange(low, high + 1, 10.0)
    moment = curve(angle, raises, at, **held)
    k = int(np.clip(moment.argmax(), 1, len(at) - 2))
    a, b, _ = np.polyfit(at[k - 1 : k + 2], moment[k - 1 : k + 2], 2)
    return float(np.clip(-b / (2 * a), at[k - 1], at[k + 1]))


def most_force(line: str, **held: float) -> float:
    """Largest isometric force of a line in a posture [N]."""
    body = body_of(MAN)
    i = [body.lines.names.index(f"{line}_right")]
    lines = body.lines
    path = body.paths(coordinates(body, held))[:, i]
    full = settle(path, lines.slack_m[i], lines.optimal_m[i], lines.pennation_rad[i], 1.0)
    return float(lines.max_force_n[i[0]] * active_force_length(full.length)[0, 0] * full.cos_pennation[0, 0])


def specific_tension(group: str) -> float:
    """Mean maximal force over area of a strength group [N/cm2]."""
    lines = [x for x in anatomy.lines().values() if x.group == group]
    return float(sum(x.max_force_n for x in lines) / sum(x.pcsa_cm2 for x in lines))


def extension_over_flexion() -> float:
    return torque(ELBOW, False, ((ELBOW, 90.0),)) / torque(ELBOW, True, ((ELBOW, 90.0), ("forearm_pronation", -60.0)))


def top(arm: dict[str, float], sign: int, n: int) -> list[str]:
    return sorted(arm, key=lambda k: -sign * arm[k])[:n]


# ---- order and sign rows ----


def deltoid_by_plane() -> bool:
    """T2-009: anterior deltoid larger in the sagittal plane, middle in scapular and coronal planes."""
    front, side = arms_mm(FLEX, 60.0), arms_mm(ABD, 60.0)
    scapular = arms_mm(ABD, 49.0, ((FLEX, 34.0),))
    return (
        front["deltoid_anterior"] > side["deltoid_anterior"]
        and min(side["deltoid_middle"], scapular["deltoid_middle"]) > front["deltoid_middle"]
    )


def largest_depressors() -> bool:
    """T2-010: the six largest adduction arms of shoulder muscles belong to pectoralis, latissimus and teres major."""
    arm = {k: v for k, v in arms_mm(ABD, 60.0).items() if not k.startswith(("triceps", "biceps"))}
    return set(top(arm, -1, 6)) <= {*PECTORALIS, *LATISSIMUS, "teres_major"}


def largest_horizontal_extensors() -> bool:
    """T2-012: posterior deltoid and infraspinatus, among muscles of the shoulder, with the arm at 90 deg."""
    arm = {k: v for k, v in arms_mm(HOR, 0.0).items() if not k.startswith(("triceps", "biceps"))}
    return {n.split("_")[0] + "_" + n.split("_")[1] for n in top(arm, -1, 3)} == {
        "deltoid_posterior",
        "infraspinatus_upper",
        "infraspinatus_lower",
    }


def largest_elevators() -> bool:
    """T2-013: anterior and middle deltoid lead in coronal, scapular and sagittal planes, among muscles of the shoulder."""
    planes = [arms_mm(ABD, 60.0), arms_mm(ABD, 49.0, ((FLEX, 34.0),)), arms_mm(FLEX, 60.0)]
    return all(top(p, 1, 1)[0] in ("deltoid_anterior", "deltoid_middle") for p in planes) and "deltoid_anterior" in top(
        planes[2], 1, 1
    )


def extensors_and_adductors() -> bool:
    """T2-014: latissimus and teres major extend, pectoralis adducts."""
    flex, side = arms_mm(FLEX, 60.0), arms_mm(ABD, 60.0)
    return max(flex[n] for n in (*LATISSIMUS, "teres_major")) < -10 and max(side[n] for n in PECTORALIS[1:]) < -10


def long_head_leads_at_the_side() -> bool:
    """T2-044, read as largest force available with the elbow bent to 90 deg."""
    force = {n: most_force(n, elbow_flexion=90) for n in TRICEPS}
    return force["triceps_long"] > max(force["triceps_lateral"], force["triceps_medial"])


def medial_head_leads_overhead() -> bool:
    """T2-045, read as largest force available with the elbow bent to 90 deg."""
    for raised in (90, 135, 172):
        force = {n: most_force(n, elbow_flexion=90, shoulder_flexion=raised) for n in TRICEPS}
        if force["triceps_medial"] < max(force["triceps_lateral"], force["triceps_long"]):
            return False
    return True


def angle_of_most(raises: bool, at: tuple[float, ...]) -> float:
    return at[int(curve(ELBOW, raises, np.array(at)).argmax())]


def _row(row: str, spread: float, share: float = 0.2, scale: float = 1.0) -> tuple[float, float]:
    """What a row allows: `spread` standard deviations (half the printed range) or a share of the value, the wider."""
    r = ROWS[row]
    value = float(r["value"])
    half = (float(r["high"]) - float(r["low"])) / 2 if r["low"] and r["high"] else 0.0
    off = max(spread * half, share * value) if spread != 1.5 or not half else spread * half
    return (value - off) * scale, (value + off) * scale


def _polynomial(row: str, line: str) -> Check:
    """Largest miss of a line against a printed polynomial at 30, 60, 90 and 120 deg, as a share of its value."""
    terms = ROWS[row]["value"].replace("-", "+-").split("+")
    power = [float(t.split("a")[0]) for t in terms if t]
    at = np.array([30.0, 60.0, 90.0, 120.0])
    want = np.polynomial.polynomial.polyval(np.radians(at), power) * 10
    return Check(lambda: float(max(abs(arms_mm(ELBOW, a)[line] - w) / w for a, w in zip(at, want, strict=True))), 0.0, 0.2)


def _order(holds: Callable[[], bool]) -> Check:
    return Check(lambda: float(holds()), 1.0, 1.0)


def _mixed(angle: str, raises: bool, low: float, high: float, **held: float) -> float:
    """Mean of man and woman [Nm] at the best angle: a group of five men and five women."""
    at = np.arange(low, high + 1, 15.0)
    return float(np.mean([curve(angle, raises, at, p, **held).max() for p in (MAN, WOMAN)]))


SUPINE_90 = ((ELBOW, 90.0), ("forearm_pronation", -60.0))
CHECKS: dict[str, Check] = {
    "T1-001": Check(lambda: mean_elbow_arm(TRICEPS, 30.0), *_row("T1-001", 2, scale=10)),
    "T1-003": Check(lambda: mean_elbow_arm(TRICEPS, 110.0) / mean_elbow_arm(TRICEPS, 30.0), *_row("T1-003", 2)),
    "T1-006": Check(lambda: anatomy.lines()["triceps_long"].fibre_mm, *_row("T1-006", 2, scale=10)),
    "T1-007": Check(lambda: excursion("biceps_long"), *_row("T1-007", 2)),
    "T1-008": Check(lambda: excursion("triceps_long"), *_row("T1-008", 2)),
    "T1-010": Check(lambda: peak_mm("triceps_long", ELBOW, -1, 20, 120), *_row("T1-010", 2, scale=10)),
    "T1-011": Check(lambda: peak_mm("brachioradialis", ELBOW, 1, 20, 120), *_row("T1-011", 2, scale=10)),
    "T1-014": Check(lambda: anatomy.lines()["brachioradialis"].fibre_mm, *_row("T1-014", 2, scale=10)),
    "T1-015": Check(lambda: anatomy.lines()["pronator_teres"].fibre_mm, *_row("T1-015", 2, scale=10)),
    "T1-029": _polynomial("T1-029", "brachioradialis"),
    "T1-030": _polynomial("T1-030", "biceps_long"),
    "T1-031": _polynomial("T1-031", "brachialis"),
    "T1-033": _polynomial("T1-033", "extensor_carpi_radialis"),
    "T1-036": Check(lambda: 1 / extension_over_flexion(), *_row("T1-036", 2)),
    "T1-037": Check(lambda: float(curve(ELBOW, True, np.arange(60, 111, 10.0), WOMAN, forearm_pronation=-60).max()), *_row("T1-037", 1.5)),
    "T1-038": Check(lambda: peak_torque(ELBOW, False, 30, 120), 0.0, 69.87),
    "T1-040": Check(extension_over_flexion, *_row("T1-040", 2)),
    "T1-042": Check(lambda: angle_of_most(False, (56.0, 70.0, 84.0)), 84.0, 84.0),
    "T1-044": _order(lambda: specific_tension("elbow_flexors") > specific_tension("triceps")),
    "T1-045": Check(lambda: peak_mm("biceps_long", ELBOW, 1, 0, 140), *_row("T1-045", 1, scale=10)),
    "T1-046": Check(lambda: peak_mm("brachialis", ELBOW, 1, 0, 140), *_row("T1-046", 1, scale=10)),
    "T1-047": Check(lambda: peak_mm("brachioradialis", ELBOW, 1, 0, 140), *_row("T1-047", 1, scale=10)),
    "T1-050": Check(lambda: torque(ELBOW, True, SUPINE_90, WOMAN), *_row("T1-050", 1.5)),
    "T1-051": Check(lambda: torque(ELBOW, False, ((ELBOW, 90.0),)), *_row("T1-051", 1.5)),
    "T1-052": Check(lambda: torque(ELBOW, False, ((ELBOW, 90.0),), WOMAN), *_row("T1-052", 1.5)),
    "T1-053": Check(extension_over_flexion, 0.5, 0.75),
    "T1-054": Check(lambda: peak_angle(ELBOW, True, 40, 130, forearm_pronation=-60), 75.0, 110.0),
    "T1-055": Check(lambda: peak_angle(ELBOW, False, 30, 130), 60.0, 110.0),
    "T2-001": Check(lambda: peak_mm("subscapularis_lower", TURN, 1, 0, 120, ABD), *_row("T2-001", 2)),
    "T2-002": Check(lambda: peak_mm("subscapularis_lower", TURN, 1, 0, 120, FLEX), *_row("T2-002", 2)),
    "T2-003": Check(lambda: peak_mm("infraspinatus_lower", TURN, -1, 0, 120, ABD), *_row("T2-003", 2)),
    "T2-004": Check(lambda: peak_mm("teres_minor", TURN, -1, 0, 120, ABD), *_row("T2-004", 2)),
    "T2-005": Check(lambda: peak_mm("infraspinatus_lower", TURN, -1, 0, 120, FLEX), *_row("T2-005", 2)),
    "T2-009": _order(deltoid_by_plane),
    "T2-010": _order(largest_depressors),
    "T2-012": _order(largest_horizontal_extensors),
    "T2-013": _order(largest_elevators),
    "T2-014": _order(extensors_and_adductors),
    "T2-026": Check(lambda: torque(FLEX, True, ((FLEX, 45.0),)), *_row("T2-026", 2)),
    "T2-032": Check(lambda: peak_torque(TURN, True, -45, 45, elbow_flexion=90) / peak_torque(TURN, False, -45, 45, elbow_flexion=90), *_row("T2-032", 2)),
    "T2-033": Check(lambda: peak_torque(FLEX, False, 0, 120) / peak_torque(FLEX, True, 0, 120), *_row("T2-033", 2)),
    "T2-036": Check(lambda: _mixed(ABD, False, 15, 105), *_row("T2-036", 1.5)),
    "T2-037": Check(lambda: _mixed("wrist_flexion", False, -30, 30, elbow_flexion=90), *_row("T2-037", 1.5)),
    "T2-040": Check(lambda: peak_torque(FLEX, False, 0, 120), 0.0, 127.4),
    "T2-043": Check(lambda: peak_torque(HOR, False, -15, 105), 0.0, 94.7),
    "T2-044": _order(long_head_leads_at_the_side),
    "T2-045": _order(medial_head_leads_overhead),
    "T2-046": Check(lambda: arms_mm(HOR, 0.0, ((ELBOW, 90.0),))["biceps_short"] / arms_mm(ELBOW, 90.0, ((ABD, 90.0),))["biceps_short"], 0.21, 1.71),
    "T2-048": Check(lambda: peak_mm("deltoid_anterior", ABD, 1, 0, 160), *_row("T2-048", 1)),
    "T2-049": Check(lambda: peak_mm("deltoid_anterior", FLEX, 1, 0, 160), *_row("T2-049", 1)),
    "T2-050": Check(lambda: peak_mm("teres_major", ABD, -1, 0, 160), *_row("T2-050", 1)),
    "T2-051": Check(lambda: peak_mm("latissimus_lower", ABD, -1, 0, 160), *_row("T2-051", 1)),
}  # fmt: skip

UNUSABLE: dict[str, str] = {
    "T1-012": "area of old cadavers; the base body is a young man whose strength is set by torque (area 30 cm2 here)",
    "T1-013": "area of old cadavers, as T1-012",
    "T1-016": "area times arm of old cadavers, as T1-012",
    **{f"T1-{n:03d}": "teaching example; elbow angle and people not shown" for n in (17, 18, 20, 21, 22, 23, 25, 26, 27, 28)},
    "T1-034": "isokinetic concentric peak at an unnamed speed; the body is isometric",
    "T1-035": "isokinetic concentric peak at an unnamed speed; the body is isometric",
    "T1-043": "the source's angle convention is unclear",
    **{
        f"T2-{n:03d}": "components of a line of action on axes that the row does not define"
        for n in (15, 17, 18, 19, 20, 21, 23, 24)
    },
    "T2-027": "concentric at 50 deg/s; the body is isometric",
    "T2-030": "isokinetic at an unnamed speed; the body is isometric",
    "T2-039": "variance explained between people; no property of one body",
}
