"""Where the shoulder blade rests for a direction of the arm.

Source, from memory: Inman 1944 (2:1 overall, less at first), Ludewig 2009 (clavicle retracts about 15, rises about 10, rolls back
about 30 deg; the blade tilts back about 20 by full elevation; its internal rotation depends on the plane). With the arm behind the
body or across the chest: estimate. A lift adds its own elevation and protraction.
"""

from functools import cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy, rotation


@cache
def axis(joint: str) -> Array:
    """Unit axis of a girdle hinge of the right side, in the frame of its segment, (3,)."""
    along = np.array(anatomy.skeleton().joint[joint].axis, float)
    return np.asarray(along / np.linalg.norm(along))


SEAT = np.array(
    [
        [1.37, 0.4, -1.68, -0.43, 0.28, -0.41, 10.53, 2.62, 1.48, 1.52, -0.08, -0.1, -0.92, 4.14, -0.06],
        [-0.42, -0.81, -1.46, -3.45, 0.12, 8.29, 2.07, -0.2, -0.82, -3.06, 1.27, 0.5, 2.2, 13.19, -5.97],
    ]
)
"""What keeps the blade on the ribs: internal rotation and posterior tilt [deg] for each of `seat_terms`; fitted by
validation/upper_girdle.py."""


def rest_girdle(direction: Array, elevation: Array, protraction: Array) -> tuple[Array, Array]:
    """Clavicle (protraction, elevation, roll back) and blade (internal, upward, posterior tilt) from rest [deg], (n_pos, 3) each.

    Args:
        direction: unit vector from shoulder to elbow in the thorax, right side, (n_pos, 3).
        elevation, protraction: what the lift adds [deg], (n_pos,).
    """
    clavicle, blade = plain_rhythm(direction, elevation, protraction)
    blade[:, [0, 2]] += seat_terms(direction, elevation, protraction) @ SEAT.T
    return clavicle, blade


def seat_terms(direction: Array, elevation: Array, protraction: Array) -> Array:
    """Smooth functions of arm direction and girdle position in which the seat of the blade is written, (n_pos, 15); 0 at rest."""
    front, side = direction[:, 0], -direction[:, 1]
    raised = np.arccos(np.clip(-direction[:, 2], -1, 1)) / np.pi
    lift, reach = elevation / 25, protraction / 25
    return np.stack(
        [
            front,
            side,
            front**2,
            side**2,
            front * side,
            raised**2,
            raised**4,
            lift,
            reach,
            lift**2,
            reach**2,
            lift * reach,
            reach * front,
            reach * raised**2,
            lift * raised**2,
        ],
        -1,
    )


def plain_rhythm(direction: Array, elevation: Array, protraction: Array) -> tuple[Array, Array]:
    """The published rhythm, before the blade is seated on the ribs; arguments and answer as `rest_girdle`."""
    front, side, up = direction[:, 0], -direction[:, 1], direction[:, 2]
    raised = np.degrees(np.arccos(np.clip(-up, -1, 1))) / 180
    flat = np.hypot(front, side)
    # weights of side and front fade smoothly at 0 and 180 deg, so no plane of elevation is needed there
    share = 0.90 * (1 - flat) + 0.66 * flat + 0.24 * (side + front)
    back = (np.hypot(front, 0.2) - front) / 2 - 0.1
    clavicle = np.stack(
        [
            -14 * raised * share + 10 * front - 6 * side + protraction,
            13 * raised**1.15 * share + elevation,
            32 * raised**1.3 * share,
        ],
        -1,
    )
    tilt = 22 * raised**1.3 * (0.9 * (1 - flat) + 0.45 * flat + 0.4 * (side + front)) - 14 * back
    blade = np.stack(
        [
            8 * front - 5 * side - 8 * raised**2 + 0.6 * protraction,
            62 * raised**1.15 * share + 0.2 * elevation,
            tilt,
        ],
        -1,
    )
    return clavicle, blade


SC_JOINTS = ("sc_protraction", "sc_elevation", "sc_roll_back")
AC_JOINTS = ("ac_internal_rotation", "ac_upward_rotation", "ac_posterior_tilt")


def joint_turns(angles_rad: Array, joints: tuple[str, ...]) -> Array:
    """Turns about the axes of some girdle hinges one after the other, (n_pos, 4); angles (n_pos, n_joint) [rad]."""
    turn = rotation.turned(axis(joints[0]), angles_rad[:, 0])
    for k, joint in enumerate(joints[1:], 1):
        turn = rotation.product(turn, rotation.turned(axis(joint), angles_rad[:, k]))
    return turn


def blade_turn(blade: Array) -> Array:
    """Thorax-to-blade rotation from `rest_girdle` angles [deg], (n_pos, 4)."""
    return joint_turns(np.radians(blade), AC_JOINTS)


def girdle_angles(clavicle: Array, blade: Array) -> Array:
    """The six hinge coordinates [rad] (three at each end of the clavicle) that put clavicle [deg] and blade (its turn) there, (n_pos, 6)."""
    sc = joint_turns(np.radians(clavicle), SC_JOINTS)
    axes = np.stack([axis("ac_upward_rotation"), axis("ac_posterior_tilt"), axis("ac_internal_rotation")], axis=1)
    m = axes.T @ rotation.matrices(rotation.product(rotation.inverse(sc), blade)) @ axes
    hinge = np.stack(
        [
            np.arctan2(-m[:, 0, 1], m[:, 1, 1]),
            np.arcsin(np.clip(m[:, 2, 1], -1, 1)),
            np.arctan2(-m[:, 2, 0], m[:, 2, 2]),
        ],
        -1,
    )
    return np.concatenate([np.radians(clavicle), hinge], -1)
