"""How a week is loaded: whose, whether easily, and what sore joints leave of its lifts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from lengthwise.grading.joint_load import references
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.borne import is_easy, is_twinge, strains_nm
from lengthwise.practice.kin import puts_less
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.week_lifts import BODY, practice, stands_for
from lengthwise.training.client import CalmedLift, Client, FreeLift, KnownLift, PromisedLift, ReturningLift, hurting
from lengthwise.training.joint_use import loads_joint, works_any
from lengthwise.training.known import known_of
from lengthwise.training.record_words import JointName
from lengthwise.training.sore import hurts_many, is_named_less, leaves_alone, practice_turns_to, severity, waits_while_sore


@dataclass(frozen=True)
class Loading:
    """How a week is loaded.

    Attributes:
        client: whose, with known lifts from the log too. body: the record whose known lifts the body is fitted to.
        easy: whether a screening says to start easy. lighter: part of the usual load of lifts that a sore joint would not bear whole.
        day: on which it begins.
    """

    client: Client
    body: Client
    easy: bool
    lighter: Mapping[str, float] = field(default_factory=dict)
    day: date = field(default_factory=date.today)


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
    return _strains_hurt(how, lift_id) or in_place_of_hurt(how.client, lift_id) is not None


def _strains_hurt(how: Loading, lift_id: str) -> bool:
    """Whether a lift works a joint that hurt when it was last loaded, or is of the family of one that hurt it; not one that a coach turns to for the
    joint, nor one of a single joint that merely moves this one under little load.
    """
    if kin_hurt(how.client, lift_id):
        return True
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    hurt = {*hurting(how.client.known_lifts).values(), *_unsettled(how.client)}
    near = [j for j in sorted(hurt) if loads_joint(j, lift_id, lift, family) or hurts_many(j, lift_id)]
    joints = [j for j in near if not practice_turns_to(j, family)]
    if not joints or (practice(lift_id).multi and any(loads_joint(j, lift_id, lift, family) for j in joints)):
        return bool(joints)
    facts = facts_of_lifts(calibrated_person(how.client), [(lift_id, lift, "full")])[lift_id, "full"]
    return isinstance(facts, str) or any(_strains(how.client, lift_id, j, facts.joints_nm.get(j, 0.0)) for j in joints)


def _strains(client: Client, lift_id: str, joint: JointName, nm: float) -> bool:
    """Whether a lift strains a joint, or is named for one and puts a real load on it [N·m]."""
    return strains_nm(client, lift_id, joint, nm) or (hurts_many(joint, lift_id) and nm >= references()[joint].load_nm)


def _unsettled(client: Client) -> Iterator[JointName]:
    """Joints that hurt in the log and are not settled, or on their way back, by what is known of the lifts that work them."""
    for k in client.known_lifts:
        if isinstance(k, PromisedLift) and k.hurt_near:
            yield k.hurt_near
        elif isinstance(k, CalmedLift):
            yield k.hurt_before


def in_place_of_hurt(client: Client, lift_id: str) -> JointName | None:
    """The joint that another lift hurt whose job a lift does, where it is none that leaves the joint alone: a leg press after a squat hurt the back."""
    sort, family = stands_for(practice(lift_id).pattern), all_lifts().family[lift_id]
    hurt = hurting(client.known_lifts).items()
    return next((j for i, j in hurt if stands_for(practice(i).pattern) == sort and not leaves_alone(client, j, family)), None)


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
    """A joint that hurt when another lift of the same family and pattern was last done, such as a bridge for a hip thrust, though it leaves most such
    joints alone; of the same family alone where it does not.
    """
    family, pattern = all_lifts().family, practice(lift_id).pattern
    kin = ((i, j) for i, j in hurting(client.known_lifts).items() if i != lift_id and family.get(i) == family[lift_id])
    return next((j for i, j in kin if practice(i).pattern == pattern or not leaves_alone(client, j, family[lift_id])), None)


def was_easy(known: KnownLift | None) -> bool:
    """Whether a set was an easy one for the sake of a joint already: its load is not cut again."""
    return isinstance(known, FreeLift) and known.easy


def since_pain(client: Client, lift_id: str) -> JointName | None:
    """The joint for whose sake a lift is done in easy sets since something hurt; none where it is not.

    The lift itself hurt when it was last done. Or it was never done, has a load, and is of the family of one that hurt, unless a coach turns to it
    with less load, or is done with a band, whose pull nobody can halve, in place of one. Or nobody begins it while such a joint is sore, and one that
    it works hurt since in another lift. Or it was last done in easy sets, and a joint that it works hurt lately or is severely sore.
    """
    if (joint := hurting(client.known_lifts).get(lift_id)) is not None:
        return joint
    if (lift := all_lifts().lifts.get(lift_id)) is None:
        return None
    known = known_of(client.known_lifts, lift_id, lift)
    if known is None:
        return _in_place(client, lift_id)
    hurt = known.hurt_since if isinstance(known, FreeLift) else tuple(sorted({*hurting(client.known_lifts).values()}))
    own = known.hurt_before if isinstance(known, CalmedLift) else None
    waits = next((j for j in hurt if j != own and waits_while_sore(j, lift_id) and not is_twinge(client, known, j)), None)
    return waits or (next(_eased_for(client, lift_id, known), None) if was_easy(known) else None)


def is_back(client: Client, lift_id: str) -> bool:
    """Whether a lift that came back after pain by steps has its load from before it again, for as many repetitions as then."""
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    return isinstance(known, ReturningLift) and known.load_kg >= known.before_kg


def _eased_for(client: Client, lift_id: str, known: KnownLift) -> Iterator[JointName]:
    """The joints for whose sake easy sets stay easy ones: that hurt in the log and are not settled yet, or are severely sore."""
    if isinstance(known, FreeLift):
        yield from known.hurt_since
    if isinstance(known, PromisedLift) and known.hurt_near:
        yield known.hurt_near
    if isinstance(known, CalmedLift):
        yield known.hurt_before
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    for j in client.sore_joints:
        if severity(client, j) == "severe" and loads_joint(j, lift_id, lift, family) and not practice_turns_to(j, family):
            yield j


def is_turned_to(client: Client, lift_id: str, joint: str) -> bool:
    """Whether a coach turns to a lift never done, with less load, from those of its family that hurt a joint: a floor press from a bench press, but
    from no floor press to another.
    """
    family, hurt = all_lifts().family, [i for i, j in hurting(client.known_lifts).items() if j == joint]
    same = [i for i in hurt if family.get(i) == family[lift_id]]
    less = is_named_less(joint, lift_id) and severity(client, joint) != "severe"
    return less and lift_id not in hurt and not any(is_named_less(joint, i) for i in same)


def _in_place(client: Client, lift_id: str) -> JointName | None:
    """The joint that another lift hurt beside which one that was never done is begun in easy sets."""
    gear = all_lifts().lifts[lift_id].gear
    kin = None if gear == BODY else kin_hurt(client, lift_id)
    if kin is not None and all(puts_less(client, lift_id, i, kin) for i, j in hurting(client.known_lifts).items() if j == kin):
        return None
    if kin is not None:
        return None if is_turned_to(client, lift_id, kin) else kin
    return in_place_of_hurt(client, lift_id) if gear == "band" else None
