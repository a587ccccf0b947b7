"""Clinical angles to joint coordinates and back.

People write shoulder flexion, hip abduction, knee flexion …; the model has quaternions and hinges. A posture is a mapping from a
clinical angle to degrees; `_right` or `_left` after a paired angle means one side, without it both. The pelvis has three angles of
its own (`pelvis_tilt` forward, `pelvis_list` to the right, `pelvis_turn` to the left) and a place in the world.

The shoulder has two descriptions. *Swing*: `shoulder_flexion` and `shoulder_abduction` together are one turn of the hanging arm
about a horizontal axis. *Horizontal*: with `shoulder_horizontal_adduction` given, the arm is raised sideways by
`shoulder_abduction` (90 unless said) and then turned about the thorax's vertical. In both the arm then turns about itself by
`shoulder_internal_rotation`.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Protocol

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy, rotation
from lengthwise.body.girdle import AC_JOINTS, SC_JOINTS, blade_turn, girdle_angles, joint_turns, rest_girdle
from lengthwise.body.person import joint_range
from lengthwise.body.rows import ANGLE_SLOT, HINGES, PELVIS, SHOULDER, TRUNK_SHARE, Posture, is_alike, rows, turned_rows
from lengthwise.core import door
from lengthwise.errors import InputError, unknown
from lengthwise.units import CM

if TYPE_CHECKING:
    from lengthwise.body.model import Body


PELVIS_PLACE_M = (0.0, 0.0, 0.933)
_X, _Z = np.eye(3)[0], np.eye(3)[2]


class AngleOf(Protocol):
    """Type of the look-up that `coordinates` hands to the shoulder: name and side to degrees (n_pos,)."""

    def __call__(self, name: str, side: str = "") -> Array:
        """Degrees of an angle, (n_pos,)."""
        ...


def posture_names() -> tuple[str, ...]:
    """Every name that a posture may use."""
    angles = anatomy.angles()
    sides = [f"{n}_{s}" for n, a in angles.items() if a.paired for s in anatomy.SIDES]
    return (*angles, *sides, *PELVIS)


def parse_posture(text: str) -> dict[str, float]:
    """A posture written as `shoulder_flexion=90 elbow_flexion=60`.

    Raises:
        InputError: a part that is not `angle=number`.
        UnknownNameError: an angle that the body does not have.
    """
    out: dict[str, float] = {}
    for part in text.replace(",", " ").split():
        name, _, value = part.partition("=")
        try:
            out[name] = float(value)
        except ValueError:
            raise InputError(f"cannot read {part!r}; write angle=degrees, such as elbow_flexion=60", asked=part) from None
    check_names(out)
    return out


def check_names(posture: Posture) -> None:
    """Whether the body has every angle of a posture.

    Raises:
        UnknownNameError: it has not; the nearest names are given.
    """
    valid = posture_names()
    for name in posture:
        if name not in valid:
            raise unknown("joint angle", name, valid)


def check_reach(body: "Body", posture: Posture, slack_deg: float = 0.5) -> None:
    """Whether the person's joints reach a posture.

    Raises:
        InputError: an angle beyond the person's range; the message gives the range.
    """
    for name, value in posture.items():
        stem = name.removesuffix("_right").removesuffix("_left")
        if stem in PELVIS:
            continue
        low, high = joint_range(body.person, stem)
        worst = np.asarray(value, float)
        if worst.min() < low - slack_deg or worst.max() > high + slack_deg:
            found = float(worst.max() if worst.max() > high else worst.min())
            raise InputError(
                f"{name} = {found:g} deg is beyond this person's range; allowed {low:g} to {high:g} deg",
                asked=found,
                allowed=[low, high],
            )


def coordinates(body: "Body", posture: Posture, place_m: Array | None = None) -> Array:
    """Joint coordinates of a batch of postures.

    Args:
        posture: clinical angles [deg], each a number or (n_pos,).
        place_m: where the pelvis is [m], (n_pos, 3) or (3,); standing height by default.

    Returns:
        q (n_pos, n_q).
    """
    n_pos = max((np.size(v) for v in posture.values()), default=1)
    place = np.asarray(PELVIS_PLACE_M if place_m is None else place_m)
    if not door.available():
        return _coordinates_by_numpy(body, posture, place, n_pos)
    asked = rows(posture, n_pos)
    asked.values[:, :3] = place / CM
    return door.coordinates(body.block, asked.values, asked.alike, asked.flat)


def turned(body: "Body", posture: Posture, names: Sequence[str], by_deg: float) -> Array:
    """Joint coordinates of a batch of postures with each of some angles larger by itself, (n_name, n_pos, n_q).

    Args:
        posture: see `coordinates`. names: of one side or of the midline.
    """
    n_pos = max((np.size(v) for v in posture.values()), default=1)
    asked = turned_rows(posture, n_pos, names, by_deg)
    asked.values[:, :3] = np.asarray(PELVIS_PLACE_M) / CM
    if door.available():
        found = door.coordinates(body.block, asked.values, asked.alike, asked.flat)
    else:
        found = _coordinates_by_numpy(body, asked.posture(), np.asarray(PELVIS_PLACE_M), len(asked.values))
    return found.reshape(len(names), n_pos, -1)


def _coordinates_by_numpy(body: "Body", posture: Posture, place_m: Array, n_pos: int) -> Array:
    q = np.tile(body.neutral, (n_pos, 1))
    where = body.position_slice

    def angle(name: str, side: str = "") -> Array:
        value = posture.get(f"{name}_{side}", posture.get(name, 0.0)) if side else posture.get(name, 0.0)
        if isinstance(value, np.ndarray) and value.shape == (n_pos,):
            return value
        return np.broadcast_to(np.asarray(value, float), (n_pos,))

    q[:, :3] = place_m
    q[:, 3:7] = _euler(*(angle(n) for n in PELVIS))
    trunk = [angle(n) for n in TRUNK_SHARE]
    q[:, where["lumbar"]] = _euler(*(a * s for a, s in zip(trunk, TRUNK_SHARE.values(), strict=True)))
    q[:, where["thoracic"]] = _euler(*(a * (1 - s) for a, s in zip(trunk, TRUNK_SHARE.values(), strict=True)))
    q[:, where["neck"]] = _euler(*(angle(f"neck_{n}") for n in ("flexion", "side_bending", "rotation")))
    alike = is_alike(posture)
    for side in ("right",) if alike else anatomy.SIDES:
        hip = _euler(-angle("hip_flexion", side), -angle("hip_abduction", side), angle("hip_internal_rotation", side))
        for joint, name in HINGES.items():
            q[:, where[f"{joint}_{side}"]] = np.radians(angle(name, side))[:, None]
        q[:, where[f"hip_{side}"]] = hip if side == "right" else rotation.mirrored(hip)
        girdle, shoulder = _girdle_slice(body, side), where[f"shoulder_{side}"]
        q[:, girdle], ball = _shoulder(posture, angle, side)
        q[:, shoulder] = ball if side == "right" else rotation.mirrored(ball)
    if alike:
        _copy_right_to_left(body, q)
    return q


def clinical(body: "Body", qs: Array, horizontal: bool = False) -> dict[str, Array]:
    """Clinical angles [deg] of a batch of coordinates, each (n_pos,); the inverse of `coordinates`.

    Args:
        horizontal: describe the shoulder by horizontal adduction instead of swing.
    """
    if horizontal or not door.available():
        return _clinical_by_numpy(body, qs, horizontal)
    found = door.clinical(body.block, qs)
    return {name: found[:, k] for name, k in ANGLE_SLOT.items()}


def _clinical_by_numpy(body: "Body", qs: Array, horizontal: bool) -> dict[str, Array]:
    where = body.position_slice
    out: dict[str, Array] = dict(zip(PELVIS, _angles(qs[:, 3:7]), strict=True))
    lumbar = _angles(qs[:, where["lumbar"]])
    out |= {n: a / s for (n, s), a in zip(TRUNK_SHARE.items(), lumbar, strict=True)}
    out |= dict(zip(("neck_flexion", "neck_side_bending", "neck_rotation"), _angles(qs[:, where["neck"]]), strict=True))
    for side in anatomy.SIDES:
        hip = qs[:, where[f"hip_{side}"]]
        flexion, abduction, inward = _angles(hip if side == "right" else rotation.mirrored(hip))
        out |= {
            f"hip_flexion_{side}": -flexion,
            f"hip_abduction_{side}": -abduction,
            f"hip_internal_rotation_{side}": inward,
        }
        out |= {f"{n}_{side}": np.degrees(qs[:, where[f"{j}_{side}"]][:, 0]) for j, n in HINGES.items()}
        ball = qs[:, where[f"shoulder_{side}"]]
        ball = ball if side == "right" else rotation.mirrored(ball)
        out |= {f"{n}_{side}": v for n, v in _shoulder_angles(qs[:, _girdle_slice(body, side)], ball, horizontal).items()}
    return out


def clinical_axes(body: "Body", posture: Posture, step_deg: float = 0.05) -> tuple[tuple[str, ...], Array]:
    """How the coordinates move per radian of each clinical angle, the others held.

    The shoulder blade is held for shoulder angles, as in published moment arms of the glenohumeral joint.

    Returns:
        Names of the sided angles, and velocities (n_angle, n_coord) in one posture.
    """
    names = [f"{n}_{s}" if a.paired else n for n, a in anatomy.angles().items() for s in (anatomy.SIDES if a.paired else ("",))]
    base = coordinates(body, posture)[0]
    axes = np.zeros((len(names), body.n_coord))
    for i, name in enumerate(names):
        stem, _, side = name.rpartition("_")
        if stem in SHOULDER:
            part = body.velocity_slice[f"shoulder_{side}"]
            axes[i, part] = _shoulder_axis(body, base, posture, stem, side)
            continue
        here = {**posture, name: _value(posture, name) + step_deg}
        axes[i] = body.steps(np.stack([base, coordinates(body, here)[0]]))[0] / np.radians(step_deg)
    return tuple(names), axes


# ---- shoulder ----


def _girdle_slice(body: "Body", side: str) -> slice:
    where = body.position_slice
    return slice(where[f"sc_protraction_{side}"].start, where[f"ac_posterior_tilt_{side}"].stop)


def _arm(flexion: Array, abduction: Array, horizontal: Array | None, inward: Array) -> Array:
    """Thorax-to-upper-arm rotation of the right arm (n_pos, 4), angles in degrees (n_pos,)."""
    if horizontal is None:
        swing = rotation.swung(np.radians(np.stack([-abduction, -flexion, np.zeros_like(flexion)], -1)))
    else:
        swing = rotation.product(rotation.turned(_Z, np.radians(horizontal)), rotation.turned(_X, -np.radians(abduction)))
    return rotation.product(swing, rotation.turned(_Z, np.radians(inward)))


def _shoulder(posture: Posture, angle: AngleOf, side: str) -> tuple[Array, Array]:
    flat = any(n in posture for n in ("shoulder_horizontal_adduction", f"shoulder_horizontal_adduction_{side}"))
    raised = any(n in posture for n in ("shoulder_abduction", f"shoulder_abduction_{side}"))
    abduction = angle("shoulder_abduction", side)
    if flat and not raised:
        abduction = np.full_like(abduction, 90.0)
    horizontal = angle("shoulder_horizontal_adduction", side) if flat else None
    arm = _arm(angle("shoulder_flexion", side), abduction, horizontal, angle("shoulder_internal_rotation", side))
    direction = rotation.applied(arm, -_Z)
    clavicle, scapula = rest_girdle(direction, angle("scapula_elevation", side), angle("scapula_protraction", side))
    blade = blade_turn(scapula)
    return girdle_angles(clavicle, blade), rotation.product(rotation.inverse(blade), arm)


def _shoulder_angles(girdle: Array, ball: Array, horizontal: bool) -> dict[str, Array]:
    arm = rotation.product(_blade_of(girdle), ball)
    direction = rotation.applied(arm, -_Z)
    elevation = np.arctan2(np.hypot(direction[:, 0], direction[:, 1]), -direction[:, 2])
    heading = np.arctan2(direction[:, 0], -direction[:, 1])  # 0 straight sideways, 90 deg forward
    zero = np.zeros_like(elevation)
    out: dict[str, Array]
    if horizontal:
        out = {"shoulder_abduction": np.degrees(elevation), "shoulder_horizontal_adduction": np.degrees(heading)}
        swing = _arm(zero, out["shoulder_abduction"], out["shoulder_horizontal_adduction"], zero)
    else:
        out = {
            "shoulder_flexion": np.degrees(elevation * np.sin(heading)),
            "shoulder_abduction": np.degrees(elevation * np.cos(heading)),
        }
        swing = _arm(out["shoulder_flexion"], out["shoulder_abduction"], None, zero)
    out["shoulder_internal_rotation"] = np.degrees(rotation.vectors(rotation.product(rotation.inverse(swing), arm))[:, 2])
    rest, _ = rest_girdle(direction, zero, zero)
    out["scapula_elevation"] = np.degrees(girdle[:, 1]) - rest[:, 1]
    out["scapula_protraction"] = np.degrees(girdle[:, 0]) - rest[:, 0]
    return out


def _blade_of(girdle: Array) -> Array:
    """Thorax-to-scapula rotation (n_pos, 4) from the six girdle coordinates [rad]."""
    return joint_turns(girdle, (*SC_JOINTS, *AC_JOINTS))


def _shoulder_axis(body: "Body", q: Array, posture: Posture, stem: str, side: str) -> Array:
    """Angular velocity of the shoulder ball [1/rad], in the upper arm's frame, per unit of a shoulder angle."""
    ball = q[body.position_slice[f"shoulder_{side}"]][None]
    ball = ball if side == "right" else rotation.mirrored(ball)
    arm = rotation.matrices(rotation.product(_blade_of(q[_girdle_slice(body, side)][None]), ball))[0]
    if stem == "shoulder_internal_rotation":
        axis = np.array([0.0, 0, 1])
    else:
        world = {
            "shoulder_flexion": [0, -1, 0],
            "shoulder_abduction": [-1, 0, 0],
            "shoulder_horizontal_adduction": [0, 0, 1],
        }
        axis = arm.T @ np.array(world[stem], float)
    return axis if side == "right" else axis * [-1, 1, -1]


# ---- rotations ----


def _euler(about_y: Array, about_x: Array, about_z: Array) -> Array:
    """Quaternions of turns about y, then x, then z, each in the frame turned by the one before [deg]."""
    return rotation.euler_yxz(np.radians(about_y), np.radians(about_x), np.radians(about_z))


def _angles(quat: Array) -> tuple[Array, Array, Array]:
    y, x, z = rotation.angles_yxz(quat)
    return np.degrees(y), np.degrees(x), np.degrees(z)


def _copy_right_to_left(body: "Body", q: Array) -> None:
    """Put the left side of a batch of coordinates where the right side's mirror image is."""
    for joint, at in body.position_slice.items():
        if joint.endswith("_right"):
            to = body.position_slice[joint.removesuffix("right") + "left"]
            q[:, to] = rotation.mirrored(q[:, at]) if at.stop - at.start == 4 else q[:, at]


def _value(posture: Posture, name: str) -> float:
    stem = name.removesuffix("_right").removesuffix("_left")
    return float(np.ravel(posture.get(name, posture.get(stem, 0.0)))[0])


def select(posture: Mapping[str, Array], names: Sequence[str], index: int) -> dict[str, float]:
    """One position of a batch of clinical angles."""
    return {n: float(posture[n][index]) for n in names}
