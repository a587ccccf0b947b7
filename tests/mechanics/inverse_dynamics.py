"""What a load asks of each joint: net moments, however muscles and ligaments share them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.sharing import Sharing

Array = NDArray[np.float64]

_HINGES = {
    "elbow_flexion": "elbow",
    "forearm_pronation": "pronation",
    "wrist_flexion": "wrist_flexion",
    "knee_flexion": "knee",
    "ankle_dorsiflexion": "ankle",
    "subtalar_inversion": "subtalar",
}


@dataclass(frozen=True)
class Reaction:
    """Forces at the body's surface in a shared solution.

    Attributes:
        support_n: force on the body at each held landmark [N], by name, (n_pos, 3) each; one side where the lift is folded.
        centre_m: where the resultant of the ground's push acts [m], (n_pos, 3).
    """

    support_n: dict[str, Array]
    centre_m: Array


def net_moments(setting: Setting, shared: Sharing) -> dict[str, Array]:
    """Net moment of muscles, passive tissue and structures about each joint of the right side [Nm], (n_pos,) each.

    Positive raises the clinical angle: a squat's `knee_flexion` moment is negative (the knee is being straightened). Hip and trunk
    moments are about the mediolateral axis of the moving segment, the trunk's at L5/S1.
    """
    body = setting.body
    at = {name: k for k, name in enumerate(setting.coordinates)}
    force = _internal(setting, shared)
    out = {}
    for angle, joint in _HINGES.items():
        if f"{joint}_right" in at:
            out[angle] = force[:, at[f"{joint}_right"]]
    out["hip_flexion"] = -force[:, at["hip_right y"]]
    out["trunk_flexion"] = force[:, at["lumbar y"]]
    shoulder = np.stack([force[:, at[f"shoulder_right {k}"]] for k in "xyz"], -1)
    _, frames, _ = body.places(setting.path.q, ["elbow_right", "chest_right"])
    world = np.einsum("pij,pj->pi", frames[:, 0], shoulder)
    thorax = np.einsum("pij,pi->pj", frames[:, 1], world)
    out["shoulder_flexion"], out["shoulder_abduction"] = -thorax[:, 1], -thorax[:, 0]
    out["shoulder_horizontal_adduction"] = thorax[:, 2]
    return out


def _internal(setting: Setting, shared: Sharing) -> Array:
    """Generalised force of muscles (active and passive) and structures on each row of the balance, (n_pos, n_coord)."""
    b = setting.balance
    n = len(setting.coordinates)
    gravity = _gravity_rows(setting)
    passive = gravity - b.rest[:, :n]  # the balance moves passive pull to the right-hand side
    active = np.einsum("pcl,pl->pc", b.muscle, shared.activation)
    structure = np.einsum("pcj,pj->pc", b.joint, shared.joint)
    return np.asarray(active + passive + structure)


def _gravity_rows(setting: Setting) -> Array:
    names = list(setting.body.coordinate_names)
    out = np.zeros((setting.balance.n_pos, len(setting.coordinates)))
    for k, name in enumerate(setting.coordinates):
        if name in names:
            out[:, k] = setting.seen.gravity[:, names.index(name)]
    return out


def reactions(setting: Setting, shared: Sharing) -> Reaction:
    """How hard each support pushes, and where the ground's resultant acts."""
    support: dict[str, Array] = {}
    for k, hold in enumerate(setting.holds):
        if not hold.turn and hold.on is None:
            force = shared.support[:, k, None] * hold.direction
            support[hold.mark] = support.get(hold.mark, np.zeros_like(force)) + force
    up = {m: f[:, 2:] for m, f in support.items()}
    total = sum(up.values(), np.zeros((setting.balance.n_pos, 1)))
    weighted = sum(
        (f * setting.seen.points[:, setting.marks.index(m)] for m, f in up.items()), np.zeros((setting.balance.n_pos, 3))
    )
    return Reaction(support, np.asarray(weighted / np.where(np.abs(total) > 1e-9, total, 1.0)))
