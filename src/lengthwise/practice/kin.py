"""Lifts of one family in another grip or posture: how much of what one puts on a joint another does."""

from lengthwise.grading.joint_load import references
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.training.client import Client
from lengthwise.training.sore import hurts_many, loads_by_name

LESS, TOLD = 0.5, 0.25
"""With this part of the moment or less a lift is no kin of one that hurt (own choice), where the model finds for that one at least so much of
what counts as a real load: of less it knows nothing.
"""


def puts_less(client: Client, lift_id: str, hurt: str, joint: str) -> bool:
    """Whether a lift puts clearly less on a joint than another that hurt it, in the grip and posture of each: a hammer curl beside a curl with a
    straight bar, for a wrist. What such joints are spared by name does not.
    """
    if lift_id == hurt or hurts_many(joint, lift_id) or loads_by_name(joint, lift_id):
        return False
    lifts = all_lifts().lifts
    facts = facts_of_lifts(calibrated_person(client), [(i, lifts[i], "full") for i in (lift_id, hurt)])
    new, old = (facts[i, "full"] for i in (lift_id, hurt))
    if isinstance(new, str) or isinstance(old, str):
        return False
    was = old.joints_nm.get(joint, 0.0)
    return was >= TOLD * references()[joint].load_nm and new.joints_nm.get(joint, 0.0) <= LESS * was
