"""A person's body as the parameter block of the compiled core, taken from the model that MuJoCo compiled."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.body.engine import mujoco
from lengthwise.body.girdle import AC_JOINTS, SC_JOINTS, SEAT, axis
from lengthwise.body.rows import HINGES, TRUNK_SHARE
from lengthwise.core.door import BodyBlock
from lengthwise.units import GRAVITY

_SIDES = ("right", "left")
_KINDS = {"mjWRAP_SITE": 0, "mjWRAP_CYLINDER": 1, "mjWRAP_SPHERE": 2}


def block_of(model: "mujoco.MjModel") -> BodyBlock:
    """The numbers of a model in the order the core reads them.

    The core assumes what building.py always does: joints at the segment's origin, hinges at zero in the reference posture, the pelvis
    free and first, lines of points and wrapping surfaces alone.
    """
    m = model
    assert not m.jnt_pos.any() and m.jnt_type[0] == mujoco.mjtJoint.mjJNT_FREE and not m.qpos0[m.jnt_qposadr[m.jnt_type == 3]].any()
    counts = {"n_segment": m.nbody, "n_joint": m.njnt, "n_coord": m.nv, "n_q": m.nq, "n_line": m.ntendon, "n_way": m.nwrap}
    chains = _chains(m)
    table = np.zeros((m.nbody, m.nv), np.int32)
    for row, chain in zip(table, chains, strict=True):
        row[: len(chain)] = chain
    tables = {
        "parent": m.body_parentid, "first_joint": np.maximum(m.body_jntadr, 0), "joint_count": m.body_jntnum,
        "offset": m.body_pos, "turn": m.body_quat, "mass": m.body_mass, "centre": m.body_ipos,
        "joint_kind": m.jnt_type, "joint_q": m.jnt_qposadr, "joint_coord": m.jnt_dofadr, "joint_axis": m.jnt_axis,
        "coord_segment": m.dof_bodyid, "chain_length": np.array([len(c) for c in chains]), "chain": table,
        "line_first": m.tendon_adr, "line_count": m.tendon_num, **_ways(m),
        "neutral": m.qpos0, "posture_q": _posture_joints(m), "girdle_seat": SEAT.ravel(),
        "girdle_axes": np.array([axis(j) for j in (*SC_JOINTS, *AC_JOINTS)]), "trunk_share": np.array(list(TRUNK_SHARE.values())), **_mirror(m),
    }  # fmt: skip
    return BodyBlock(counts, tables, GRAVITY)


def _posture_joints(m: "mujoco.MjModel") -> NDArray[np.int32]:
    """Where in q the joints sit that clinical angles set, right before left; the six girdle hinges follow one another."""
    both = [
        [f"{joint}_{side}" for joint in joints]
        for joints in (["hip"], list(HINGES), [SC_JOINTS[0]], ["shoulder"])
        for side in _SIDES
    ]
    names = ["lumbar", "thoracic", "neck", *(n for group in both for n in group)]
    return np.array([m.jnt_qposadr[m.joint(n).id] for n in names], np.int32)


def _mirror(m: "mujoco.MjModel") -> dict[str, "NDArray[np.generic]"]:
    """The velocity on the other side of the body, and whether it turns the other way: shifts sideways, turns about x and z do."""
    other, sign = np.arange(m.nv, dtype=np.int32), np.ones(m.nv)
    signs = {0: [1, -1, 1, -1, 1, -1], 1: [-1, 1, -1], 3: [1]}
    swapped = {"right": "left", "left": "right"}
    for j in range(m.njnt):
        stem, _, side = m.joint(j).name.rpartition("_")
        twin = m.joint(f"{stem}_{swapped[side]}").id if side in swapped else j
        turns = signs[int(m.jnt_type[j])]
        for k, turn in enumerate(turns):
            other[m.jnt_dofadr[j] + k], sign[m.jnt_dofadr[j] + k] = m.jnt_dofadr[twin] + k, turn
    return {"mirror_coord": other, "mirror_sign": sign}


def _chains(m: "mujoco.MjModel") -> list[list[int]]:
    """Which velocities move each segment, rising."""
    out: list[list[int]] = [[]]
    for s in range(1, m.nbody):
        own = range(m.body_dofadr[s], m.body_dofadr[s] + m.body_dofnum[s]) if m.body_dofnum[s] else range(0)
        out.append([*out[m.body_parentid[s]], *own])
    return out


def _ways(m: "mujoco.MjModel") -> dict[str, "NDArray[np.generic]"]:
    kinds = {int(getattr(mujoco.mjtWrap, name)): k for name, k in _KINDS.items()}
    kind = np.array([kinds[t] for t in m.wrap_type.tolist()])
    at_site = kind == 0
    site, geom = np.where(at_site, m.wrap_objid, 0), np.where(at_site, 0, m.wrap_objid)
    side = np.where(at_site, -1, np.rint(m.wrap_prm)).astype(np.int32)
    frame = np.empty((m.ngeom, 9))
    for g in range(m.ngeom):
        mujoco.mju_quat2Mat(frame[g], m.geom_quat[g])
    return {
        "way_kind": kind,
        "way_segment": np.where(at_site, m.site_bodyid[site], m.geom_bodyid[geom]),
        "way_place": np.where(at_site[:, None], m.site_pos[site], m.geom_pos[geom]),
        "way_radius": np.where(at_site, 0.0, m.geom_size[geom, 0]),
        "way_frame": frame[geom],
        "way_side_segment": np.where(side < 0, -1, m.site_bodyid[np.maximum(side, 0)]),
        "way_side": m.site_pos[np.maximum(side, 0)],
    }
