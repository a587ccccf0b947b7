"""Which joints a lift uses: those that it moves, and the trunk where its own muscles are meant to hold it (common practice, no source)."""

from collections.abc import Collection

from lengthwise.body.anatomy import muscles
from lengthwise.lifts.definition import Lift
from lengthwise.training.client import Client, hurting
from lengthwise.training.joint_reach import joint_angles, reach
from lengthwise.training.record_words import joint_told
from lengthwise.training.sore import bears_usual, holds_up, is_braced, is_free, leaves_alone, loads_by_name, presses_on

MOVED_DEG = 15.0
"""A joint that turns less in a lift is held, not moved (own choice: balance and give stay below)."""
HOLDERS = {"trunk": ("abdominals", "erectors")}
"""Muscles that train a joint by holding it still."""


def works_joint(lift: Lift, joint: str) -> bool:
    """Whether a lift moves a joint, or is meant for muscles that hold it; else the joint only carries what lies between load and support."""
    held = {h for m in HOLDERS.get(joint, ()) for h in muscles()[m]}
    if held & set(lift.movers):
        return True
    return any(high - low >= MOVED_DEG for angle in joint_angles(lift, joint) for low, high in reach(lift, angle))


def by_ankle(lift: Lift) -> bool:
    """Whether a lift is done by the ankle alone."""
    return works_joint(lift, "ankle") and not any(works_joint(lift, j) for j in ("knee", "hip"))


def loads_joint(joint: str, lift_id: str, lift: Lift, family: str) -> bool:
    """Whether a lift works a joint, has to hold it up, or is named for it; none of a family that does nothing to it worth sparing."""
    return not is_free(joint, family) and (
        works_joint(lift, joint) or holds_up(joint, family) or is_braced(joint, family) or loads_by_name(joint, lift_id)
    )


def works_sore(client: Client, lift_id: str, lift: Lift, family: str) -> bool:
    """Whether a lift works a joint of the client's that is sore or hurt when last loaded, is named for one, or presses on it, and does not leave it
    alone.
    """
    own = {*client.sore_joints, *hurting(client.known_lifts).values()}
    return works_any(own, lift_id, lift, family) or any(presses_on(client, j, lift, family) for j in client.sore_joints)


def works_any(joints: Collection[str], lift_id: str, lift: Lift, family: str) -> bool:
    """Whether a lift works one of some joints, or is named for one, and does not leave it alone."""
    return any(loads_joint(j, lift_id, lift, family) for j in joints)


def joints_loaded(client: Client, lift_id: str, lift: Lift, family: str) -> str:
    """The sore joints that a lift loads, in words: those that it works or a rule names, else those for which a coach turns to it, else
    those that it does not leave alone.
    """
    able = [j for j in client.sore_joints if not leaves_alone(client, j, family)]
    own = [j for j in able if loads_joint(j, lift_id, lift, family)]
    turned = [j for j in able if bears_usual(client, j, family)]
    return " and ".join(map(joint_told, own or turned or able or client.sore_joints))
