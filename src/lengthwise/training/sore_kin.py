"""Lifts so like one that hurts many sore joints that they are no stand-in for it: an extension on a sloped bench beside the lying one."""

from collections.abc import Iterable

from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.definition import Lift
from lengthwise.training.joint_reach import joint_angles, marks, reach

HANDLED = {
    "guided_bar": "barbell",
    "ez_bar": "barbell",
    "chains": "barbell",
    "kettlebell": "dumbbell",
    "plate_lever": "lever",
    "sled": "lever",
}
"""Gear that is handled alike: a bar on rails as a free one, a kettlebell as a dumbbell (common practice, no source)."""
LOOSE = {"cable": "dumbbell", "band": "dumbbell"}
"""A handle on a cable or a band turns in the hand as a dumbbell does, which a bar does not."""
LIES = {"inclined": "lying"}
"""Postures that make no difference to an arm or a leg."""
NEAR_DEG = 10.0
"""A joint that goes within so much of another lift's ends goes as far (own choice)."""


def near_kin(joint: str, lift_id: str, lift: Lift, family: str, hurting: Iterable[str]) -> str:
    """The name of one of some lifts that is done like another and takes a joint no further; empty where there is none.

    Done alike are lifts of one family and posture, on gear that is handled alike, on as many sides, with the load in the same place and the same target first.

    Args:
        hurting: ids of lifts that hurt many such joints.
    """
    there = built_in()
    same = (
        i
        for i in sorted({*hurting} - {lift_id})
        if i in there.lifts and _done(there.lifts[i], there.family[i]) == _done(lift, family)
    )
    return next((there.lifts[i].name for i in same if _as_far(joint, lift, there.lifts[i])), "")


def _done(lift: Lift, family: str) -> tuple[object, ...]:
    posture, handled = LIES.get(lift.posture, lift.posture), {**HANDLED, **LOOSE}.get(lift.gear, lift.gear)
    return family, posture, lift.sides, lift.unstable, handled, lift.targets[0], marks(getattr(lift.resistance, "at", ()))


def _as_far(joint: str, lift: Lift, other: Lift) -> bool:
    """Whether a lift takes a joint as far as another does, each way of each of its angles."""
    ends = ((_ends(lift, a), _ends(other, a)) for a in joint_angles(other, joint))
    return all(low <= least + NEAR_DEG and high >= most - NEAR_DEG for (low, high), (least, most) in ends)


def _ends(lift: Lift, angle: str) -> tuple[float, float]:
    """The least and most of an angle over both sides [deg]; 0 where no posture names it."""
    ways = reach(lift, angle) or [(0.0, 0.0)]
    return min(low for low, _ in ways), max(high for _, high in ways)
