"""What the body says for each row of topic 3 (hip, knee, ankle) of the reference table, at the row's posture.

A row with mean and spread allows the larger of two standard deviations and 20 % of the value (moment arms) or one and a half standard
deviations (torque); a row that prints a range allows 20 % beyond its ends; a bare value allows 20 %; an angle of peak torque 15 deg.
"""

import csv
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import curve_fit

from lengthwise.body.model import Body, body_of
from lengthwise.body.muscles import settle
from lengthwise.body.person import Person
from lengthwise.body.posture import clinical_axes, coordinates
from lengthwise.mechanics.strength import joint_strength
from lengthwise.units import GRAVITY

Array = NDArray[np.float64]
TABLE = Path(__file__).parents[1] / "reference" / "biomechanics.csv"
ROWS = {r["id"]: r for r in csv.DictReader(TABLE.open()) if r["topic"].startswith("3 ")}
MAN = Person()
WOMAN = Person(sex="woman", stature_m=1.65, mass_kg=61)
"""Young women of the torque studies; size: estimate, common practice (body mass and stature of the row are not printed)."""
OLD = 60.0, 70.0
"""Ages that stand for '55-65 y' and '>65 y' (and 'older')."""
QUADRICEPS = ("rectus_femoris", "vastus_lateralis", "vastus_medialis", "vastus_intermedius")
HAMSTRINGS = ("biceps_femoris_long", "semitendinosus", "semimembranosus")
GLUTEUS = ("gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower")
CALF = ("soleus", "gastrocnemius_medial", "gastrocnemius_lateral")
KNEE = np.arange(0.0, 101, 10)
SEATED = {"hip_flexion": 80.0}


@dataclass(frozen=True)
class Check:
    """A usable row: what to compute and between which values it must lie."""

    compute: Callable[[], float]
    low: float
    high: float
    what: str


# ---- measures of the body ----


def index(body: Body, line: str) -> int:
    """Number of a right-side line."""
    return body.lines.names.index(f"{line}_right")


@cache
def arms_at(person: Person, angle: str, held: tuple[tuple[str, float], ...], at: tuple[float, ...]) -> Array:
    """Moment arms [mm] of all lines about a clinical angle, (n_at, n_line); positive raises the angle."""
    body = body_of(person)
    out = []
    for a in at:
        posture = {**dict(held), angle: a}
        names, axes = clinical_axes(body, posture)
        axis = axes[names.index(f"{angle}_right" if f"{angle}_right" in names else angle)]
        out.append(-body.survey(coordinates(body, posture)).arms[0] @ axis * 1e3)
    return np.array(out)


def arm(line: str, angle: str, at: float, person: Person = MAN, **held: float) -> float:
    """Size of a line's moment arm [mm]."""
    return abs(float(arms_at(person, angle, tuple(held.items()), (at,))[0, index(body_of(person), line)]))


def mean_arm(lines: tuple[str, ...], angle: str, at: float, person: Person = MAN, **held: float) -> float:
    """Mean size of some lines' moment arms [mm]."""
    return float(np.mean([arm(n, angle, at, person, **held) for n in lines]))


def arm_range(line: str, angle: str, at: Array = KNEE) -> Array:
    """Sizes of a line's moment arm [mm] over a range of the angle."""
    return np.abs(arms_at(MAN, angle, (), tuple(at))[:, index(body_of(MAN), line)])


def excursion(line: str, angle: str, low: float, high: float) -> float:
    """How much a line's length changes [mm] between two angles."""
    body = body_of(MAN)
    length = body.paths(coordinates(body, {angle: np.array([low, high])}))[:, index(body, line)]
    return abs(float(np.diff(length)[0])) * 1e3


def fibres(line: str, activation: float, **posture: float | Array) -> tuple[Array, Array]:
    """Fibre length [mm] and pennation [deg] of a line, (n_pos,)."""
    body, i = body_of(MAN), index(body_of(MAN), line)
    lines = body.lines
    path = body.paths(coordinates(body, posture))[:, i : i + 1]
    one = slice(i, i + 1)
    found = settle(path, lines.slack_m[one], lines.optimal_m[one], lines.pennation_rad[one], activation)
    return found.length[:, 0] * lines.optimal_m[i] * 1e3, np.degrees(np.arccos(found.cos_pennation[:, 0]))


@cache
def moment(person: Person, angle: str, raises: bool, at: float, held: tuple[tuple[str, float], ...]) -> float:
    """Largest isometric moment [Nm]."""
    return joint_strength(body_of(person), angle, {**dict(held), angle: at}, raises).moment_nm


@dataclass(frozen=True)
class Movement:
    """A tested movement: its clinical angle, direction, the posture held (assumed) and the angles tested."""

    angle: str
    raises: bool
    held: tuple[tuple[str, float], ...]
    at: tuple[float, ...]

    def curve(self, person: Person = MAN) -> Array:
        """Largest moment [Nm] at each angle."""
        return np.array([moment(person, self.angle, self.raises, a, self.held) for a in self.at])

    def peak(self, person: Person = MAN) -> tuple[float, float]:
        """Angle [deg] and size [Nm] of the largest moment; a parabola through the best three angles."""
        y = self.curve(person)
        i = int(np.clip(y.argmax(), 1, len(y) - 2))
        a, b, c = np.polyfit(self.at[i - 1 : i + 2], y[i - 1 : i + 2], 2)
        top = float(np.clip(-b / (2 * a), self.at[i - 1], self.at[i + 1])) if a < 0 else float(self.at[int(y.argmax())])
        return top, float(max(y.max(), np.polyval([a, b, c], top)))

    def width(self, person: Person = MAN) -> float:
        """Anderson's width factor C2 of the body's own curve: least squares of C1 cos(C2 (angle - C3))."""
        at, y = np.radians(self.at), self.curve(person) / self.curve(person).max()
        found, _ = curve_fit(lambda t, c1, c2, c3: c1 * np.cos(c2 * (t - c3)), at, y, p0=[1, 1, np.radians(self.peak(person)[0])])
        return abs(float(found[1]))


def spread(low: float, high: float, step: float = 10) -> tuple[float, ...]:
    """Angles from low to high."""
    return tuple(float(a) for a in np.arange(low, high + 1e-9, step))


HIP_AT_60 = (("knee_flexion", 60.0),)
MOVEMENTS = {
    "hip extension": Movement("hip_flexion", False, HIP_AT_60, spread(0, 110)),
    "hip flexion": Movement("hip_flexion", True, HIP_AT_60, spread(-20, 90)),
    "knee extension": Movement("knee_flexion", False, (("hip_flexion", 80.0),), spread(10, 110)),
    "knee flexion": Movement("knee_flexion", True, (("hip_flexion", 80.0),), spread(0, 100)),
    "ankle extension": Movement("ankle_dorsiflexion", False, (("knee_flexion", 20.0),), spread(-30, 30)),
    "ankle flexion": Movement("ankle_dorsiflexion", True, (("knee_flexion", 20.0),), spread(-40, 20)),
}
"""Anderson 2007 does not print the joints held: seated hip 80, knee 60 for the hip and knee 20 for the ankle are assumed."""


def normalised_peak(name: str, person: Person) -> float:
    """Largest moment over body weight times stature, Anderson's C1."""
    return MOVEMENTS[name].peak(person)[1] / (person.mass_kg * GRAVITY * person.stature_m)


def per_mass(name: str, at: float, person: Person) -> float:
    """Moment over body mass [Nm/kg], seated."""
    m = MOVEMENTS[name]
    return moment(person, m.angle, m.raises, at, m.held) / person.mass_kg


def knee_best(raises: bool, hip: float) -> float:
    """Largest knee moment [Nm] over 20-100 deg with the hip at an angle."""
    return max(moment(MAN, "knee_flexion", raises, a, (("hip_flexion", hip),)) for a in (20.0, 40.0, 60.0, 80.0, 100.0))


def calf_moment(lines: tuple[str, ...], ankle: float, knee: float) -> float:
    """Plantarflexion moment [Nm] of some lines, fully active."""
    body = body_of(MAN)
    posture = {"ankle_dorsiflexion": ankle, "knee_flexion": knee}
    lines_of, path = body.lines, body.paths(coordinates(body, posture))
    pull = settle(path, lines_of.slack_m, lines_of.optimal_m, lines_of.pennation_rad, 1.0).force[0] * lines_of.max_force_n
    held = (("knee_flexion", knee),)
    return sum(
        -float(arms_at(MAN, "ankle_dorsiflexion", held, (ankle,))[0, index(body, n)]) * 1e-3 * float(pull[index(body, n)])
        for n in lines
    )


# ---- limits of rows ----


def _number(text: str) -> float | None:
    return float(text) if text.strip() else None


def arm_limits(row: dict[str, str]) -> tuple[float, float]:
    """Allowed moment arm: mean with the larger of 2 SD and 20 %, or a printed range and 20 % beyond its ends."""
    value, low, high = (_number(row[k]) for k in ("value", "low", "high"))
    if value is None:
        assert low is not None and high is not None
        return 0.8 * low, 1.2 * high
    sd = (high - low) / 2 if low is not None and high is not None else 0.0
    allowed = max(2 * sd, 0.2 * abs(value))
    return value - allowed, value + allowed


def torque_limits(row: dict[str, str]) -> tuple[float, float]:
    """Allowed torque: mean with 1.5 SD (20 % where none is printed), or a printed interval and 20 % beyond its ends."""
    value, low, high = (_number(row[k]) for k in ("value", "low", "high"))
    if value is None or low is None or high is None:
        return arm_limits(row)
    allowed = 1.5 * (high - low) / 2
    return value - allowed, value + allowed


def _arm(rid: str, compute: Callable[[], float], what: str) -> tuple[str, Check]:
    return rid, Check(compute, *arm_limits(ROWS[rid]), what)


def _torque(rid: str, compute: Callable[[], float], what: str) -> tuple[str, Check]:
    return rid, Check(compute, *torque_limits(ROWS[rid]), what)


def _over(rid: str, line: str) -> list[tuple[str, Check]]:
    """A printed range of a line's knee arm: its smallest and its largest value."""
    low, high = arm_limits(ROWS[rid])
    return [
        (
            f"{rid} smallest",
            Check(lambda: float(arm_range(line, "knee_flexion").min()), low, high, f"{line} at the knee over 0-100"),
        ),
        (
            f"{rid} largest",
            Check(lambda: float(arm_range(line, "knee_flexion").max()), low, high, f"{line} at the knee over 0-100"),
        ),
    ]


def _true(rid: str, compute: Callable[[], float], low: float, high: float, what: str) -> tuple[str, Check]:
    return rid, Check(compute, low, high, what)


def _group(text: str) -> tuple[str, Person]:
    """Movement and person of an Anderson row such as `… C1: hip flexion (…), men 55-65 y`."""
    name = text.split(": ")[1].split(" (")[0]
    people = text.rsplit(", ", 1)[1]
    age = OLD[1] if ">65" in people else OLD[0] if "55-65" in people else 22.0
    base = MAN if people.startswith("men") else WOMAN
    return name, base.model_copy(update={"age_y": age})


def _anderson() -> dict[str, Check]:
    out = {}
    for rid, row in ROWS.items():
        if not row["source"].startswith("Anderson, Madigan"):
            continue
        name, person = _group(row["quantity"])
        where = row["quantity"].split(", ", 1)[1] if "," in row["quantity"] else row["quantity"]
        if "C1" in row["quantity"]:
            out |= dict(
                [_torque(rid, lambda n=name, p=person: normalised_peak(n, p), f"peak moment / (weight × stature), {where}")]
            )
        elif "C3" in row["quantity"]:
            at = float(row["value"])
            out[rid] = Check(lambda n=name, p=person: MOVEMENTS[n].peak(p)[0], at - 15, at + 15, f"angle of peak, {where}")
        else:
            out |= dict([_torque(rid, lambda n=name, p=person: MOVEMENTS[n].width(p), f"width factor, {where}")])
    return out


KNEE_ZONES = {"extended": 30.0, "mid-range": 60.0, "flexed": 90.0}
"""Knee angles [deg] that stand for the pooled zones (assumed: the abstract gives no angles)."""


def _pooled() -> dict[str, Check]:
    out = {}
    for rid, row in ROWS.items():
        if not row["quantity"].startswith("isometric knee "):
            continue
        if row["value"]:
            continue
        name = "knee extension" if "extension" in row["quantity"] else "knee flexion"
        at = next(a for zone, a in KNEE_ZONES.items() if zone in row["quantity"])
        person = WOMAN if "women" in row["quantity"] else MAN
        if "older" in row["quantity"]:
            person = person.model_copy(update={"age_y": OLD[1]})
        out |= dict([_torque(rid, lambda n=name, a=at, p=person: per_mass(n, a, p), f"{row['quantity']} at {at:g} deg [Nm/kg]")])
    return out


def _calf_flexed(knee: float) -> float:
    return moment(MAN, "ankle_dorsiflexion", False, 0.0, (("knee_flexion", knee),))


def _gastrocnemius_best() -> float:
    """How many of 24 joint combinations give a larger gastrocnemius moment than straight knee and dorsiflexed ankle."""
    two = ("gastrocnemius_medial", "gastrocnemius_lateral")
    grid = {(a, k): calf_moment(two, a, k) for a in (-30.0, -15.0, 0.0, 15.0) for k in (0.0, 15.0, 30.0, 45.0, 60.0, 90.0)}
    return float(sum(v > grid[15.0, 0.0] + 1e-9 for v in grid.values()))


def checks() -> dict[str, Check]:
    """Every usable row of topic 3."""
    best_flexion = lambda: np.diff([knee_best(True, h) for h in (0.0, 30.0, 60.0, 90.0)]) / 100  # noqa: E731
    rows = [
        _arm("T3-001", lambda: mean_arm(QUADRICEPS, "knee_flexion", 0), "quadriceps arm, knee 0"),
        _arm("T3-003", lambda: mean_arm(QUADRICEPS, "knee_flexion", 40), "quadriceps arm, knee 40"),
        _arm("T3-005", lambda: mean_arm(QUADRICEPS, "knee_flexion", 90), "quadriceps arm, knee 90, its smallest"),
        _arm("T3-006", lambda: mean_arm(QUADRICEPS, "knee_flexion", 50, WOMAN), "quadriceps arm, women, knee 50"),
        _arm("T3-007", lambda: mean_arm(QUADRICEPS, "knee_flexion", 10, WOMAN), "quadriceps arm, women, knee 10"),
        _arm("T3-008", lambda: mean_arm(QUADRICEPS, "knee_flexion", 50), "quadriceps arm, men, knee 50"),
        _arm("T3-009", lambda: mean_arm(QUADRICEPS, "knee_flexion", 10), "quadriceps arm, men, knee 10"),
        *_over("T3-011", "semitendinosus"),
        *_over("T3-012", "semimembranosus"),
        *_over("T3-013", "gastrocnemius_lateral"),
        *_over("T3-014", "gastrocnemius_medial"),
        *_over("T3-015", "rectus_femoris"),
        _arm("T3-016", lambda: float(arm_range("biceps_femoris_long", "knee_flexion").mean()), "biceps femoris at the knee, mean of 0-100"),
        _true("T3-017", lambda: excursion("biceps_femoris_long", "hip_flexion", 0, 90) / excursion("biceps_femoris_long", "knee_flexion", 0, 90), 1, 9, "biceps femoris, length change hip over knee"),
        _true("T3-018", lambda: excursion("rectus_femoris", "knee_flexion", 0, 90) / excursion("rectus_femoris", "hip_flexion", 0, 90), 1, 9, "rectus femoris, length change knee over hip"),
        _true("T3-019", lambda: float(np.ptp(arm_range("biceps_femoris_long", "knee_flexion")) / arm_range("biceps_femoris_long", "knee_flexion").mean()), 0, 0.4, "biceps femoris knee arm over 0-100: range over mean (within 20 % either way)"),
        _true("T3-020", lambda: min(arm_range(n, "hip_flexion").max() / arm_range(n, "knee_flexion").max() for n in HAMSTRINGS), 1, 9, "largest hamstring arm, hip over knee"),
        _arm("T3-021", lambda: mean_arm(CALF, "ankle_dorsiflexion", 20), "Achilles arm, 20 deg dorsiflexion"),
        _arm("T3-022", lambda: mean_arm(CALF, "ankle_dorsiflexion", -10), "Achilles arm, 10 deg plantarflexion"),
        _arm("T3-023", lambda: min(mean_arm(CALF, "ankle_dorsiflexion", a) for a in (-20, -10, 0, 10, 20)), "Achilles arm, smallest of 20 PF to 20 DF"),
        _arm("T3-024", lambda: max(mean_arm(CALF, "ankle_dorsiflexion", a) for a in (-20, -10, 0, 10, 20)), "Achilles arm, largest of 20 PF to 20 DF"),
        _arm("T3-025", lambda: mean_arm(CALF, "ankle_dorsiflexion", 0), "Achilles arm, ankle 0"),
        *[
            (f"T3-027 {n}", Check(lambda n=n: float(np.subtract(*fibres(n, 0.0, ankle_dorsiflexion=np.array([15.0, -30.0]))[0])), *arm_limits(ROWS["T3-027"]), f"{n} shortening at rest, 15 DF to 30 PF [mm]"))
            for n in CALF
        ],
        *[
            (f"T3-028 {n}", Check(lambda n=n: float(np.diff(fibres(n, 0.0, ankle_dorsiflexion=np.array([15.0, -30.0]))[1])[0]), *arm_limits(ROWS["T3-028"]), f"{n} pennation increase at rest, 15 DF to 30 PF [deg]"))
            for n in CALF
        ],
        _torque("T3-030", lambda: _calf_flexed(5.0), "plantarflexion moment, ankle 0, knee 5"),
        _torque("T3-031", lambda: _calf_flexed(90.0), "plantarflexion moment, ankle 0, knee 90 (assumed)"),
        _torque("T3-032", lambda: _calf_flexed(90.0) / _calf_flexed(5.0), "plantarflexion, flexed over extended knee"),
        _true("T3-034", _gastrocnemius_best, 0, 0, "combinations that beat straight knee and dorsiflexed ankle"),
        _true("T3-036", lambda: max(float(fibres(n, 1.0, ankle_dorsiflexion=20.0)[0][0] / body_of(MAN).lines.optimal_m[index(body_of(MAN), n)] * 1e-3) for n in CALF[1:]), 0, 1.05, "gastrocnemius, longest active fibre [of optimal], knee 0, 20 DF"),
        _true("T3-037", lambda: float(best_flexion()[[0, 2]].min()), 0.0, 9, "hamstring torque grows with the hip angle, least step 0-30 and 60-90"),
        _true("T3-038", lambda: knee_best(False, 0.0) / knee_best(False, 90.0), 0.85, 1.15, "best knee extension, hip 0 over hip 90"),
        _true("T3-053", lambda: float(np.array([0, 30, 60, 90, 105])[np.argmax([moment(MAN, "hip_flexion", True, a, HIP_AT_60) for a in (0.0, 30.0, 60.0, 90.0, 105.0)])]), 90, 120, "hip flexion, angle of the largest of five"),
        _torque("T3-117", lambda: MOVEMENTS["hip extension"].peak(Person(mass_kg=69.6))[1], "hip extension, man of 69.6 kg"),
        _torque("T3-121", lambda: MOVEMENTS["ankle extension"].peak(Person(mass_kg=69.6))[1], "plantarflexion, man of 69.6 kg"),
        _arm("T3-125", lambda: mean_arm(GLUTEUS, "hip_flexion", 0), "gluteus maximus, mean of its parts, hip 0"),
        _arm("T3-126", lambda: mean_arm(HAMSTRINGS, "hip_flexion", 0), "hamstrings, mean, hip 0"),
        _true("T3-128", lambda: MOVEMENTS["knee extension"].peak()[0], 50, 80, "knee extension, angle of peak"),
    ]  # fmt: skip
    return dict(rows) | _anderson() | _pooled()


NOT_USABLE = {
    "T3-010": "ratio of patellar-tendon to quadriceps force: the patella of this body is a pulley without friction, its ratio is 1 by construction",
    "T3-033": "concentric at speed; the body's moments are isometric",
    "T3-035": "a limit of another model's validity, in one subject",
    "T3-056": "concentric and eccentric torque; the body's moments are isometric",
    "T3-123": "the row says the lumbar value was taken from other groups; a gymnast's model, not a measurement",
}
