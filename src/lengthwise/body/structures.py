"""What ligaments and capsules can carry about each coordinate: little in mid-range, more towards the end of a joint's range.

Every size below is the base body's; a person's goes with mass × stature, as joint moments do (`body.scaling.moment_scale`): a ligament's force
goes with its cross-section, its arm with its joint.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.person import joint_range
from lengthwise.body.posture import clinical
from lengthwise.body.rows import ANGLE_SLOT
from lengthwise.body.scaling import moment_scale

RAMP_DEG = 12.0
"""Over how many degrees before the end of the range a structure tightens; estimate."""
GIRDLE_NM = {
    "sc_protraction": 4.0,
    "sc_elevation": 4.0,
    "sc_roll_back": 12.0,
    "ac_internal_rotation": 8.0,
    "ac_upward_rotation": 10.0,
    "ac_posterior_tilt": 10.0,
}
"""Passive structures of the clavicle's two joints [Nm]: capsule, conoid and trapezoid ligament (each fails at some 500 N, from memory, at
20 to 30 mm from the joint); estimate."""
GIRDLE_EASE = 4.0
"""How many times cheaper these are to load than other structures. Elsewhere ligaments are slack until a joint nears its end, so they cost
as much as hard-working muscle; the shoulder blade hangs on the clavicle by conoid and trapezoid, and the clavicle on the first rib, in every
posture: they are tight all the time and tire nobody (models of the shoulder treat the conoid as a rigid link: van der Helm 1994, from
memory). The size is an estimate: 1 to 100 were tried, see docs/limits.md."""
RIB_CAGE = 10.0
"""How much more than a bare spine the thoracic joint carries: ribs and breastbone stiffen it two- to threefold (Andriacchi 1974, Watkins
2005, from memory), and one ball stands for twelve joints that pass the load from rib to rib; estimate."""
ABDOMINAL_NM = 50.0
"""How much the pressed belly helps to straighten the lumbar spine [Nm]: a fifth of the back muscles' load in heavy lifting ("On the
bending moment capability of the pressurized abdominal cavity during human lifting activity" 1988, Ergonomics 31:817-828, abstract read), of
the base body's 250 Nm. 30 kPa on 250 cm2 at 65 mm from the disc gives the same (from memory: weightlifters 25 to 40 kPa)."""
HANGING_NM = 40.0
HANGING_DEG = 8.0
"""What the capsule above the inner end of the clavicle carries when the shoulder hangs low, and the clavicle elevation above which it
carries nothing more; that it carries the hanging arm: Bearn 1967, J Anat 101:159-170 (from memory), the size: estimate."""
_COORDINATE = {
    "hip": {"hip_abduction": (0, -1), "hip_flexion": (1, -1), "hip_internal_rotation": (2, 1)},
    "elbow": {"elbow_flexion": (0, 1)},
    "pronation": {"forearm_pronation": (0, 1)},
    "wrist_flexion": {"wrist_flexion": (0, 1)},
    "radial_deviation": {"wrist_radial_deviation": (0, 1)},
    "knee": {"knee_flexion": (0, 1)},
    "ankle": {"ankle_dorsiflexion": (0, 1)},
    "subtalar": {"subtalar_inversion": (0, 1)},
}
"""For each joint of the right side: clinical angle → (coordinate, sign of the coordinate when the angle rises)."""
_MIDLINE = {
    "lumbar": {"trunk_side_bending": (0, 1), "trunk_flexion": (1, 1), "trunk_rotation": (2, 1)},
    "thoracic": {"trunk_side_bending": (0, 1), "trunk_flexion": (1, 1), "trunk_rotation": (2, 1)},
    "neck": {"neck_side_bending": (0, 1), "neck_flexion": (1, 1), "neck_rotation": (2, 1)},
}


@dataclass(frozen=True, kw_only=True)
class _Ends:
    """One structure a row: the clinical angle it bounds, the velocity it acts on, and how much it carries, (n_structure,) each."""

    angles: tuple[str, ...]
    coordinate: NDArray[np.intp]
    sign: Array
    low: Array
    high: Array
    middle_nm: Array
    end_nm: Array


@lru_cache(maxsize=32)
def _ends(body: Body) -> _Ends:
    found = []
    for joint, names in _MIDLINE.items():
        found += [(n, body.velocity_slice[joint].start + k, s, n) for n, (k, s) in names.items()]
    for side in anatomy.SIDES:
        for joint, names in _COORDINATE.items():
            first = body.velocity_slice[f"{joint}_{side}"].start
            for n, (k, s) in names.items():
                # x and z turns of a mirrored ball change sign
                turned = side == "left" and n in ("hip_abduction", "hip_internal_rotation")
                found.append((f"{n}_{side}", first + k, -s if turned else s, n))
    spec, ranges, size = anatomy.angles(), [joint_range(body.person, n) for *_, n in found], moment_scale(body.person)
    return _Ends(
        angles=tuple(a for a, *_ in found), coordinate=np.array([c for _, c, *_ in found]), sign=np.array([float(s) for *_, s, _ in found]),
        low=np.array([low for low, _ in ranges]), high=np.array([high for _, high in ranges]),
        middle_nm=np.array([size * spec[n].structure_nm for *_, n in found]), end_nm=np.array([size * spec[n].end_nm for *_, n in found]),
    )  # fmt: skip


@lru_cache(maxsize=32)
def structure_ease(body: Body) -> Array:
    """How many times cheaper than other passive structures those of each coordinate are to load, (n_coord,)."""
    ease = np.ones(body.n_coord)
    for side in anatomy.SIDES:
        for joint in GIRDLE_NM:
            ease[body.velocity_slice[f"{joint}_{side}"]] = GIRDLE_EASE
    return ease


def structure_tables(body: Body) -> dict[str, NDArray[np.generic]]:
    """The numbers behind `structure_bounds`, by the names of core/lift.h."""
    ends, q, v = _ends(body), body.position_slice, body.velocity_slice
    rib = np.where(np.isin(ends.coordinate, np.arange(v["thoracic"].start, v["thoracic"].stop)), RIB_CAGE, 1.0)
    low, high, size = np.zeros(body.n_coord), np.zeros(body.n_coord), moment_scale(body.person)
    low[v["lumbar"].start + 1] = -ABDOMINAL_NM * size
    for side in anatomy.SIDES:
        for joint, bound in GIRDLE_NM.items():
            low[v[f"{joint}_{side}"]], high[v[f"{joint}_{side}"]] = -size * bound, size * bound
    spec, turn = anatomy.angles(), joint_range(body.person, "shoulder_internal_rotation")
    swing, raised = spec["shoulder_flexion"], joint_range(body.person, "shoulder_flexion")[1]
    arm = ("shoulder_flexion", "shoulder_abduction", "shoulder_internal_rotation")
    return {
        "end_slot": np.array([ANGLE_SLOT[n] for n in ends.angles]), "end_coord": ends.coordinate, "end_sign": ends.sign,
        "end_low": ends.low, "end_high": ends.high, "end_middle": ends.middle_nm * rib, "end_most": ends.end_nm * rib,
        "base_low": low, "base_high": high, "ease": structure_ease(body), "hang": np.array([size * HANGING_NM, HANGING_DEG]),
        "hang_q": np.array([q[f"sc_elevation_{s}"].start for s in anatomy.SIDES]),
        "hang_coord": np.array([v[f"sc_elevation_{s}"].start for s in anatomy.SIDES]),
        "ball_coord": np.array([v[f"shoulder_{s}"].start for s in anatomy.SIDES]),
        "ball_slot": np.array([[ANGLE_SLOT[f"{n}_{s}"] for n in arm] for s in anatomy.SIDES]),
        "ball": np.array([raised, *turn, *(size * nm for nm in (swing.structure_nm, swing.end_nm, spec["shoulder_internal_rotation"].end_nm))]),
    }  # fmt: skip


def structure_bounds(body: Body, qs: Array) -> tuple[Array, Array]:
    """Least and largest generalised force of the passive structures [Nm], (n_pos, n_coord) each; none at the pelvis.

    Mid-range bound and end-of-range bound of each clinical angle: angles.toml. The shoulder's ball has its bound about every axis.
    """
    angles, ends, size = clinical(body, qs), _ends(body), moment_scale(body.person)
    lower, upper = np.zeros((len(qs), body.n_coord)), np.zeros((len(qs), body.n_coord))
    value = np.stack([angles[name] for name in ends.angles], -1)
    near_high = np.clip((value - ends.high) / RAMP_DEG + 1, 0, 1)
    near_low = np.clip((ends.low - value) / RAMP_DEG + 1, 0, 1)
    down = -(ends.middle_nm + ends.end_nm * near_high)  # lowers the angle
    up = ends.middle_nm + ends.end_nm * near_low
    lower[:, ends.coordinate] = np.where(ends.sign > 0, down, -up)
    upper[:, ends.coordinate] = np.where(ends.sign > 0, up, -down)
    lower[:, body.velocity_slice["lumbar"].start + 1] -= ABDOMINAL_NM * size
    thoracic = body.velocity_slice["thoracic"]
    lower[:, thoracic] *= RIB_CAGE
    upper[:, thoracic] *= RIB_CAGE
    for side in anatomy.SIDES:
        for joint, bound in GIRDLE_NM.items():
            part = body.velocity_slice[f"{joint}_{side}"]
            lower[:, part], upper[:, part] = -size * bound, size * bound
        raised_deg = np.degrees(qs[:, body.position_slice[f"sc_elevation_{side}"]])
        upper[:, body.velocity_slice[f"sc_elevation_{side}"]] += (
            size * HANGING_NM * np.clip((HANGING_DEG - raised_deg) / RAMP_DEG, 0, 1)
        )
        ball = body.velocity_slice[f"shoulder_{side}"]
        capsule = _shoulder_bound(body, angles, side)
        lower[:, ball], upper[:, ball] = -capsule, capsule
    return lower, upper


def _shoulder_bound(body: Body, angles: dict[str, Array], side: str) -> Array:
    """What the shoulder's capsule can carry about each axis of the ball [Nm], (n_pos, 3): more overhead and at the ends of rotation."""
    spec = anatomy.angles()
    raised = np.hypot(angles[f"shoulder_flexion_{side}"], angles[f"shoulder_abduction_{side}"])
    overhead = np.clip((raised - joint_range(body.person, "shoulder_flexion")[1]) / (2 * RAMP_DEG) + 1, 0, 1)
    low, high = joint_range(body.person, "shoulder_internal_rotation")
    turned = angles[f"shoulder_internal_rotation_{side}"]
    twisted = np.clip(np.maximum(turned - high, low - turned) / RAMP_DEG + 1, 0, 1)
    swing = spec["shoulder_flexion"].structure_nm + spec["shoulder_flexion"].end_nm * overhead
    twist = swing + spec["shoulder_internal_rotation"].end_nm * twisted
    return moment_scale(body.person) * np.stack([swing, swing, twist], -1)
