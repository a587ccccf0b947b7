"""How much moment each joint carries in a lift, and how near the load presses it to this person's limits."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.person import Person, joint_range
from lengthwise.body.posture import clinical, coordinates, turned
from lengthwise.body.rows import ANGLE_SLOT
from lengthwise.errors import unknown
from lengthwise.lifts.definition import PLACE_NAMES
from lengthwise.mechanics.head_columns import curve
from lengthwise.mechanics.profile import LiftProfile, Outline

NEAR_DEG = 20.0
"""Within this of a limit a joint counts as near it; estimate, common practice in cueing."""
_SAMPLED = 5
_STEP_DEG = 0.05
_STEMS = {
    "trunk": "trunk",
    "neck": "neck",
    "shoulder": "shoulder",
    "elbow": "elbow",
    "wrist": "wrist",
    "hip": "hip",
    "knee": "knee",
    "ankle": "ankle",
    "subtalar": "ankle",
}


@dataclass(frozen=True)
class JointLoad:
    """One joint in one lift.

    Attributes:
        moment_nm: largest moment that its muscles hold at the load of the set [N·m].
        nearness: 0 free, 1 pressed against a limit of this person by a real load.
        angle: the clinical angle that comes nearest. angle_deg, limit_deg: how far it goes and where its limit is [deg].
    """

    moment_nm: float
    nearness: float
    angle: str
    angle_deg: float
    limit_deg: float


class Reference(anatomy.Strict):
    """What counts as a real load on a joint."""

    load_nm: float
    reason: str


@cache
def references() -> dict[str, Reference]:
    """What counts as a real load, by joint (data/joints.toml)."""
    text = files("lengthwise.grading").joinpath("data", "joints.toml").read_text(encoding="utf-8")
    tables = tomllib.loads(text)["joint"]
    return {k: anatomy.read_table(f"joints.toml: {k}", Reference, v) for k, v in tables.items()}


def joint_named(name: str) -> str:
    """The joint called `name`.

    Raises:
        UnknownNameError: no such joint.
    """
    if name not in references():
        raise unknown("joint", name, references())
    return name


def joint_of(angle: str) -> str | None:
    """The joint a coach names for a clinical angle; None where a grip or the arm decides it (forearm, shoulder blade)."""
    return _STEMS.get(angle.split("_")[0])


def joint_loads(found: LiftProfile) -> dict[str, JointLoad]:
    """Load and nearness to the limits of every joint of the right side and the midline, over some positions of the lift.

    A joint is near a limit when the load presses it there: muscles pull away from the limit. Nearness is 1 at the limit, 0 from
    NEAR_DEG before it, times how large the moment is against `references` (at most 1).
    """
    some = np.array(sorted({*np.linspace(0, len(found.capacity_kg) - 1, _SAMPLED).round().astype(int).tolist()}))
    names, moments = _moments(found, some)
    angles = clinical(found.body, found.taken.q[some], horizontal="shoulder_horizontal_adduction_right" in names)
    near = _nearness(found.body.person, names, np.stack([angles[n] for n in names], 1), moments)
    out: dict[str, JointLoad] = {}
    for joint, mine in _by_joint(names).items():
        size = float(np.linalg.norm(moments[:, mine], axis=1).max())
        out[joint] = JointLoad(size, *max(near[i] for i in mine))
    return out


@cache
def _by_joint(names: tuple[str, ...]) -> dict[str, list[int]]:
    """Which of some clinical angles each joint has."""
    joints = [joint_of(n) for n in names]
    return {j: [i for i, own in enumerate(joints) if own == j] for j in dict.fromkeys(joints) if j is not None}


@lru_cache(maxsize=64)
def _bounds(person: Person, stems: tuple[str, ...]) -> tuple[Array, Array, Array]:
    """The lowest and the highest value of each clinical angle in this person [deg], and what counts as a real load [N·m], (n_angle,) each."""
    low, high = np.array([joint_range(person, s) for s in stems]).T
    return low, high, np.array([references()[joint_of(s) or ""].load_nm for s in stems])


def _nearness(person: Person, names: Sequence[str], angle: Array, moment: Array) -> list[tuple[float, str, float, float]]:
    """Of each angle: nearness to its limits at its worst position, its name, its value and the limit [deg].

    Args:
        angle, moment: of each at each position [deg], [N·m], (n_pos, n_angle).
    """
    stems = tuple(n.removesuffix("_right") for n in names)
    low, high, real_nm = _bounds(person, stems)
    limit = np.where(moment < 0, high, low)
    room = np.where(moment < 0, high - angle, angle - low)
    near = np.clip(1 - room / NEAR_DEG, 0, 1) * np.minimum(1, np.abs(moment) / real_nm)
    worst = np.argmax(near, axis=0), np.arange(len(stems))
    return list(zip(near[worst].tolist(), stems, angle[worst].tolist(), limit[worst].tolist(), strict=True))


def _moments(found: LiftProfile, some: NDArray[np.intp]) -> tuple[tuple[str, ...], Array]:
    """What the muscles do about each clinical angle [N·m], (n_pos, n_angle): work per turn of the angle; positive raises it.

    Turning an angle moves the coordinates as the posture's own rules say, so the shoulder blade follows the arm.
    """
    body = found.body
    posture = {n: v[some] for n, v in found.path.posture.items() if n not in PLACE_NAMES}
    names = _turned(posture)
    base, moved = coordinates(body, posture), turned(body, posture, names, _STEP_DEG)
    pull = -np.einsum("plc,pl->pc", body.survey(found.taken.q[some]).arms, _line_forces(body, found, some))
    pairs = np.stack([np.broadcast_to(base, moved.shape), moved], 2).reshape(-1, base.shape[1])
    axis = body.steps(pairs)[::2].reshape(len(names), len(some), -1) / np.radians(_STEP_DEG)
    return names, np.asarray((axis * pull).sum(2).T)


def _turned(posture: Mapping[str, Array]) -> tuple[str, ...]:
    """The clinical angles to turn: of the right side and the midline, in the description of the shoulder that the lift uses."""
    flat = any(n.startswith("shoulder_horizontal_adduction") for n in posture)
    other = "shoulder_flexion" if flat else "shoulder_horizontal_adduction"
    return tuple(f"{n}_right" if a.paired else n for n, a in anatomy.angles().items() if n != other and joint_of(n) is not None)


def _line_forces(body: Body, found: LiftProfile, some: NDArray[np.intp]) -> Array:
    """Force of every line at some positions [N], a head's force shared by strength, (n_pos, n_line)."""
    lines = body.lines
    left = "" if found.folded else "_left"
    names = [h + (left if s == "left" else "") for h, s in zip(lines.heads, lines.sides, strict=True)]
    place = {n: k for k, n in enumerate(dict.fromkeys(names))}
    tension = curve(found, "active_force_n", list(place))[some] + curve(found, "passive_force_n", list(place))[some]
    return np.asarray(tension[:, [place[n] for n in names]] * lines.share_of_head)


def beyond_limits(found: LiftProfile | Outline, slack_deg: float = 2.0) -> list[str]:
    """Where the lift takes an angle past this person's own limits, one line each."""
    person = found.body.person
    if not person.joint_limits_deg:
        return []
    names, slots, low, high = _own_limits(person)
    least, most = found.reach_deg[:, slots]
    worst = np.where(most - high > low - least, most, least)
    past = np.flatnonzero(~((low - slack_deg <= worst) & (worst <= high + slack_deg)))
    said = [
        f"{names[k].replace('_', ' ')} reaches {worst[k]:.0f}°, this person's limits are {low[k]:.0f}° to {high[k]:.0f}°"
        for k in past
    ]
    return list(dict.fromkeys(said))


@lru_cache(maxsize=8)
def _own_limits(person: Person) -> tuple[list[str], list[int], Array, Array]:
    """The clinical angles that have limits of this person's own: names without a side, slots, limits [deg], (n_angle,) each."""
    stems = {k: n.removesuffix("_right").removesuffix("_left") for n, k in ANGLE_SLOT.items()}
    own = {k: s for k, s in stems.items() if s in person.joint_limits_deg}
    low, high = np.array([joint_range(person, s) for s in own.values()]).reshape(-1, 2).T
    return list(own.values()), list(own), low, high
