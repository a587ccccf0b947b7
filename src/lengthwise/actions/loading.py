"""How a week is loaded: whose, whether easily, and what sore joints leave of its lifts."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from lengthwise.actions.borne import is_easy
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week_lifts import practice, stands_for
from lengthwise.training.client import CalmedLift, Client, JointName, PromisedLift, hurting
from lengthwise.training.joint_use import works_any
from lengthwise.training.known import known_of
from lengthwise.training.sore import leaves_alone, severity


@dataclass(frozen=True)
class Loading:
    """How a week is loaded.

    Attributes:
        client: whose, with known lifts from the log too. body: the record whose known lifts the body is fitted to.
        easy: whether a screening says to start easy. lighter: part of the usual load of lifts that a sore joint would not bear whole.
    """

    client: Client
    body: Client
    easy: bool
    lighter: Mapping[str, float] = field(default_factory=dict)


def is_spared(how: Loading, lift_id: str) -> bool:
    """Whether a lift has a load that is not exceeded, for the sake of a joint."""
    known, part = known_of(how.client.known_lifts, lift_id, all_lifts().lifts[lift_id]), how.lighter.get(lift_id, 1.0)
    if is_easy(part):
        return False
    return part < 1 or isinstance(known, CalmedLift) or (known is not None and lift_id in how.lighter)


def begins_light(how: Loading, lift_id: str) -> bool:
    """Whether a lift never done works a joint that hurt lately, or comes in place of a lift that hurt: then many repetitions and well below the guess."""
    known = known_of(how.client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    if known is not None or is_easy(how.lighter.get(lift_id, 1.0)):
        return False
    return works_hurt(how, lift_id) or in_place_of_hurt(how.client, lift_id)


def in_place_of_hurt(client: Client, lift_id: str) -> bool:
    """Whether a lift does the job of one that hurt, and is none that leaves the joint alone: a leg press after a squat hurt the back."""
    sort, family = stands_for(practice(lift_id).pattern), all_lifts().family[lift_id]
    hurt = hurting(client.known_lifts).items()
    return any(stands_for(practice(i).pattern) == sort and not leaves_alone(client, j, family) for i, j in hurt)


def works_hurt(how: Loading, lift_id: str) -> bool:
    """Whether a lift works a joint that hurt when it was last loaded, or in the last two weeks, in this lift or another, or one of its family hurt."""
    if near_pain(how, lift_id) or kin_hurt(how.client, lift_id):
        return True
    joints = {*hurting(how.client.known_lifts).values()}
    return bool(joints) and works_any(joints, lift_id, all_lifts().lifts[lift_id], all_lifts().family[lift_id])


def near_pain(how: Loading, lift_id: str) -> JointName | None:
    """A joint that a lift of the log works and that hurt in the last two weeks, in whatever lift."""
    known = known_of(how.client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    return known.hurt_near if isinstance(known, PromisedLift) else None


def keeps_hurting(how: Loading, lift_id: str) -> bool:
    """Whether a lift of the log works a joint that hurt again and again lately, so that nothing is done heavily with it though it was borne."""
    joint = near_pain(how, lift_id)
    return joint is not None and severity(how.client, joint) != "mild"


def kin_hurt(client: Client, lift_id: str) -> JointName | None:
    """A joint that hurt when another lift of the same family was last done, such as a bridge for a hip thrust; none that the family leaves alone."""
    family = all_lifts().family
    found = (j for i, j in hurting(client.known_lifts).items() if i != lift_id and family.get(i) == family[lift_id])
    return next((j for j in found if not leaves_alone(client, j, family[lift_id])), None)
