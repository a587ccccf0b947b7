"""What sore joints leave of a lift: how much it may carry, and whether it stays."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from lengthwise.body.anatomy import skeleton
from lengthwise.body.person import Person
from lengthwise.body.scaling import strength_factor, strength_table
from lengthwise.grading.joint_load import references
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Choice
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.week_lifts import practice, sore_grip, stands_for
from lengthwise.training.client import CalmedLift, Client, FreeLift, KnownLift, hurting
from lengthwise.training.joint_use import works_joint
from lengthwise.training.known import known_of
from lengthwise.training.record_words import Severity
from lengthwise.training.sore import (
    bears_usual,
    borne_so_far,
    goes_overhead,
    holds_up,
    is_done,
    is_eased,
    keeps_less,
    leaves_alone,
    loads_by_name,
    practice_turns_to,
    severity,
    spoiled,
)

MILD = 2.0
"""A mildly sore joint, noticed but no limit to daily life, may carry so many times what counts as a real load (own choice)."""
LIGHTEST = 0.3
"""A sore joint gets a lift with a cut load down to this part of the usual; below that it is no training (own choice)."""
MILD_LEAST = 0.6
"""A mildly sore joint, noticed and no limit to daily life, leaves a guess this part of the usual load at least: with three left and many repetitions
less would be no set (own choice)."""
HALF = 0.5
REAL, REAL_SINGLE = 0.4, 0.2
"""A lift strains a joint that hurts when it works it with this part of what a mildly sore one may carry, a single-joint one with the second
(own choice)."""
CARRIED: Mapping[Severity, float] = {"mild": 5 / 2, "moderate": 5 / 2, "severe": 5 / 3}
"""A joint that a lift neither moves nor is meant to hold, and that only carries the load to a support, bears so many times what one that works
does: half of an untrained man's strength there in place of a fifth, a third where it is severely sore (common practice, no source; the parts are
an own choice)."""
UNTRIED = 0.5
"""What was never done and puts more than this part of what it bears on a severely sore joint that it works begins with this part of its usual
load at most (common practice, no source)."""
SHARE: Mapping[Severity, float] = {"mild": 0.9, "moderate": 0.75, "severe": 0.75}
"""Least part of the usual load with which a lift that was done, or that a coach keeps, stays for a sore joint: 80 to 90 % where it is mild, 60
to 80 % where it is moderate, and as much of what a coach turns to where it is severe (common practice, no source; where in those spans is an
own choice: rounded down to loads that exist)."""
PLAIN = (0.9, 0.75)
"""Parts of the usual load that coaches name; what the moment found makes less of is told without a number (common practice, no source)."""
BEYOND_NAMED = 2.25
"""So many times the moment that a record names is left of a lift that was done, at most (own choice: SHARE of three times as much)."""
REGION = {
    "shoulder": "shoulder", "elbow": "arms", "wrist": "arms", "trunk": "trunk", "neck": "trunk", "hip": "hip", "knee": "thigh", "ankle": "shank",
}  # fmt: skip
"""Which muscles' strength says what a joint of this client is used to (strength.toml)."""
PUSH_UPS, HIGHER = frozenset({"dip_push_up"}), frozenset({"push_up_table", "machine_dip", "assisted_dip"})
"""What the body's weight makes as heavy as it is, so that no half of it can be done, and those of it that hands higher up or a machine make lighter (common
practice, no source)."""
ROUNDING = 1 - 1e-9
"""So that a load cut to the very limit does not exceed it by rounding."""


def spared_nm(client: Client) -> dict[str, float]:
    """Moment allowed at each sore joint [N·m]: as named, else what counts as a real load on a joint of this client's strength.

    A mildly sore joint may carry more. What counts as real is stated for an untrained man of 75 kg: a stronger client's joint is used to
    more in proportion; nobody's is taken for weaker (own choice).
    """
    return {
        j: used_to(client, j) * references()[j].load_nm * (MILD if severity(client, j) == "mild" else 1.0) if most is None else most
        for j, most in client.sore_joints.items()
    }


def used_to(client: Client, joint: str) -> float:
    """How much stronger than an untrained man of 75 kg the muscles about a joint are, as moments go; 1 at least."""
    return _used_to(calibrated_person(client), joint)


@lru_cache(maxsize=256)
def _used_to(person: Person, joint: str) -> float:
    groups = strength_table().region[REGION[joint]]
    force = sum(strength_factor(person, g) for g in groups) / len(groups)
    return max(1.0, force * person.stature_m * 1e3 / skeleton().person.stature_mm)


@dataclass(frozen=True)
class Borne:
    """What sore joints leave of a lift: a part of its usual load, and whether it stays with that; else it is left out, or comes back with half.

    whole: whether the joint bears the usual load, so that a lift whose lightest load is more than the part stays with that.
    """

    part: float = 1.0
    stays: bool = True
    whole: bool = False


def borne(client: Client, lift_id: str, family: str, joint_nm: Mapping[str, float]) -> Borne:
    """What sore joints leave of a lift: the one answer that weeks, loads, swaps, ranks and paper rest on.

    The load that a joint bears is the same whether a lift was done or is guessed, and falls behind the usual one without a step: all of it up
    to `limit_nm`, beyond that as much as makes that moment; of what was done or a coach keeps never less than SHARE, unless the record allows
    the joint less than a third of that. What was never done gets SHARE at most, and half at most where it works a severely sore joint with more
    than half of what that bears. Practice decides for families that it turns to, but what was never done and the joint only carries, beyond its
    limit, begins with SHARE, and so does what comes overhead. What nobody did, likes or turns to goes.

    What the log shows without pain is borne whole, unless the record names a moment: else each week's lighter load would be cut again.

    Args:
        joint_nm: moments of a usual set at the joints [N·m].
    """
    found = (
        replace(b, part=min(b.part, _part_of_kin(client, lift_id, j)))
        for j, most in spared_nm(client).items()
        if not goes_free(client, lift_id, j)
        for b in [_eased(client, j, lift_id, family, _borne_by(client, j, most, (lift_id, family, joint_nm.get(j, 0.0))))]
    )
    return min(found, key=lambda b: (b.part, b.stays), default=Borne())


def _part_of_kin(client: Client, lift_id: str, joint: str) -> float:
    """The most of the load done that is left of a lift last done before a joint hurt, where it is of the same family as one that hurt it, such as a
    squat with a guided bar beside one with a free bar, or of the same sort, whatever moment the model finds.
    """
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id]) if lift_id in all_lifts().lifts else None
    if not isinstance(known, FreeLift) or joint not in known.hurt_since:
        return 1.0
    near = [i for i, j in hurting(client.known_lifts).items() if j == joint]
    if any(all_lifts().family[i] == all_lifts().family[lift_id] for i in near):
        return SHARE["moderate"]
    sort = stands_for(practice(lift_id).pattern)
    return SHARE["mild"] if any(stands_for(practice(i).pattern) == sort for i in near) else 1.0


def goes_free(client: Client, lift_id: str, joint: str = "") -> bool:
    """Whether a lift went without pain when it was last done, by the log, no record says how much a joint may carry, and none that it works hurt since
    but for one sore set of another lift.

    Args:
        joint: that alone is asked about; all sore ones where none is named.
    """
    lift = all_lifts().lifts.get(lift_id)
    known = None if lift is None else known_of(client.known_lifts, lift_id, lift)
    if not isinstance(known, FreeLift) or any(most is not None for most in client.sore_joints.values()):
        return False
    return all(is_twinge(client, known, j) for j in known.hurt_since if not joint or j == joint)


def is_twinge(client: Client, known: KnownLift, joint: str) -> bool:
    """Whether a joint hurt mildly in single sets of other lifts alone, all of which go on: then three left are enough, and no load is cut that did not
    hurt (common practice, no source).
    """
    own = isinstance(known, CalmedLift) and known.hurt_before == joint
    return not own and severity(client, joint) == "mild" and joint not in hurting(client.known_lifts).values()


def _eased(client: Client, joint: str, lift_id: str, family: str, found: Borne) -> Borne:
    """What is left of a lift in which a severely sore joint bends under the load: half at most."""
    if not is_eased(client, joint, family):
        return found
    whole = (found.whole or found.part == 1) and not (family in PUSH_UPS and lift_id not in HIGHER)
    return replace(found, part=min(found.part, HALF), whole=whole)


def _borne_by(client: Client, joint: str, most: float, lift: tuple[str, str, float]) -> Borne:
    lift_id, family, nm = lift
    known = all_lifts().lifts.get(lift_id)
    limit, new = limit_nm(client, joint, most, lift_id), _is_new_to(client, joint, lift_id)
    if bears_usual(client, joint, family):
        less = _begins_overhead(client, joint, lift_id) or (nm > limit and _untried_carried(client, joint, lift_id))
        return Borne(SHARE[severity(client, joint)] if less else 1.0)
    if nm <= (UNTRIED if new else 1.0) * limit:
        return Borne()
    least = MILD_LEAST if borne_so_far(client, joint) else 0.0
    part, named, how = max(least, min(1.0, limit / nm)), client.sore_joints[joint] is not None, severity(client, joint)  # type: ignore[index]
    done = known is not None and is_done(client, lift_id, known)
    if known is not None and keeps_less(client, joint, lift_id, known, family):
        part = max(part, min(SHARE[how], BEYOND_NAMED * part) if named else SHARE[how])
        return Borne(part if done or named else min(part, SHARE[how]), stays=part >= LIGHTEST)
    turned = how == "severe" and not named and practice_turns_to(joint, family)
    part = min(part, UNTRIED) if new else part if done or named else min(part, SHARE[how])
    stays = (done or _liked(client, lift_id) or turned or nm <= limit) and part >= LIGHTEST
    return Borne(part, stays=stays, whole=nm <= limit)


def _untried_carried(client: Client, joint: str, lift_id: str) -> bool:
    """Whether a lift that practice turns to was never done, and a sore joint carries its load without working: a hip thrust for a back."""
    lift = all_lifts().lifts.get(lift_id)
    if lift is None or leaves_alone(client, joint, all_lifts().family[lift_id]):
        return False
    return not (works_joint(lift, joint) or is_done(client, lift_id, lift))


def _begins_overhead(client: Client, joint: str, lift_id: str) -> bool:
    """Whether a lift of several joints was never done, and its arms come overhead: a new pulldown for a shoulder."""
    lift = all_lifts().lifts.get(lift_id)
    if (
        lift is None
        or lift.gear == "body"
        or leaves_alone(client, joint, all_lifts().family[lift_id])
        or not practice(lift_id).multi
    ):
        return False
    return goes_overhead(joint, lift) and not is_done(client, lift_id, lift)


def begun_less(client: Client, choices: Iterable[Choice]) -> dict[str, float]:
    """The part of its usual load of each lift that practice turns to for a sore joint, and that begins with less than the usual one.

    Args:
        choices: before `turned_to`.
    """
    out = {}
    for c in choices:
        new = (j for j in client.sore_joints if _untried_carried(client, j, c.lift) or _begins_overhead(client, j, c.lift))
        if any(bears_usual(client, j, c.practice.family) for j in new):
            found = borne(client, c.lift, c.practice.family, c.joint_nm)
            if found.stays and found.part < 1:
                out[c.lift] = found.part
    return out


def limit_nm(client: Client, joint: str, most: float, lift_id: str) -> float:
    """What a sore joint bears in a lift [N·m]: most, or more where the joint only carries the load; a moment that the record names is the limit."""
    lift = all_lifts().lifts.get(lift_id)
    unnamed = client.sore_joints[joint] is None  # type: ignore[index]
    carried = unnamed and lift is not None and not (works_joint(lift, joint) or holds_up(joint, all_lifts().family[lift_id]))
    return CARRIED[severity(client, joint)] * most if carried else most


def counted_nm(client: Client, lift_id: str, joint_nm: Mapping[str, float]) -> dict[str, float]:
    """Moments as they count for sore joints [N·m]: beyond what a joint that only carries the load bears more than one that works."""
    free = {j: limit_nm(client, j, most, lift_id) - most for j, most in spared_nm(client).items()}
    return {j: max(nm - free.get(j, 0.0), 0.0) for j, nm in joint_nm.items()}


def _is_new_to(client: Client, joint: str, lift_id: str) -> bool:
    """Whether a lift with a load works a severely sore joint and was never done, curls and the like that practice turns to for it apart; a moment
    that the record names is the limit as it is.
    """
    lift = all_lifts().lifts.get(lift_id)
    severe = severity(client, joint) == "severe" and client.sore_joints[joint] is None  # type: ignore[index]
    if not severe or lift is None or lift.gear == "body" or is_done(client, lift_id, lift):
        return False
    turned = practice_turns_to(joint, all_lifts().family[lift_id]) and not practice(lift_id).multi
    return works_joint(lift, joint) and not turned


def _liked(client: Client, lift_id: str) -> bool:
    return any(all_lifts().find(name) == lift_id for name in client.wishes.liked)


def is_easy(part: float) -> bool:
    """Whether sets with this part of the usual load are easy ones, which end at the first pain and grow little."""
    return part <= HALF


def part_borne(client: Client, lift_id: str, family: str, joint_nm: Mapping[str, float]) -> dict[str, float]:
    """The part of a lift's usual load that sore joints bear where the lift is asked for alone, under its id; empty where they bear all.

    As a week begins it: 1 for a lift that was done and works the joint, half at most for one whose position weeks leave out, and no less than
    LIGHTEST unless a joint is severely sore or has a number of its own.

    Args:
        joint_nm: moments of a usual set at the joints [N·m].
    """
    lift, found = all_lifts().lifts[lift_id], borne(client, lift_id, family, joint_nm)
    free = goes_free(client, lift_id)
    part = min(HALF, found.part) if not free and spoiled(client, lift_id, lift, family) else found.part
    if part < 1:
        return {lift_id: part if is_strict(client) else max(part, LIGHTEST)}
    return {lift_id: 1.0} if is_done(client, lift_id, lift) and works(client, lift_id, family, joint_nm) else {}


def works(client: Client, lift_id: str, family: str, joint_nm: Mapping[str, float]) -> bool:
    """Whether what was done is not exceeded for a sore joint: a set puts a real load on it, or practice turns to the lift since it is borne, or a severely sore one
    holds it by the grip.

    What went without pain is free of that, but not for a joint that hurt in another lift when that was last done, unless it is mildly sore.

    Args:
        joint_nm: moments of a usual set at the joints [N·m].
    """
    own, counted = [j for j in client.sore_joints if not leaves_alone(client, j, family)], counted_nm(client, lift_id, joint_nm)
    if goes_free(client, lift_id):
        hurt = {*hurting(client.known_lifts).values()}
        own = [j for j in own if j in hurt and severity(client, j) != "mild"]
    grips = sore_grip(client, lift_id)
    return any(
        bears_usual(client, j, family)
        or counted.get(j, 0.0) > _real_nm(client, j, lift_id, family)
        or (j == grips and severity(client, j) == "severe")
        for j in own
    )


def _real_nm(client: Client, joint: str, lift_id: str, family: str) -> float:
    """From which moment on what was done is not exceeded [N·m]: any where a severely sore joint is worked, or practice turns to the lift for it."""
    lift = all_lifts().lifts.get(lift_id)
    own = practice_turns_to(joint, family) or (lift is not None and works_joint(lift, joint))
    return 0.0 if own and severity(client, joint) == "severe" else references()[joint].load_nm


def strains_nm(client: Client, lift_id: str, joint: str, nm: float) -> bool:
    """Whether a lift strains a joint: it is named for it, or works it under a real load; what practice turns to for the joint does not.

    Args:
        nm: moment of a usual set at the joint [N·m].
    """
    family = all_lifts().family[lift_id]
    if practice_turns_to(joint, family) or (joint in client.sore_joints and leaves_alone(client, joint, family)):
        return False
    real = (REAL if practice(lift_id).multi else REAL_SINGLE) * MILD * used_to(client, joint) * references()[joint].load_nm
    held = works_joint(all_lifts().lifts[lift_id], joint) or holds_up(joint, family)
    return (held and nm >= real) or loads_by_name(joint, lift_id)


def is_strict(client: Client) -> bool:
    """Whether nothing goes beyond what a joint bears: one is severely sore, or the record names its moment."""
    return any(severity(client, j) == "severe" or most is not None for j, most in client.sore_joints.items())
