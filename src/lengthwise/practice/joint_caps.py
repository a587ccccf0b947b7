"""What sore joints see of a lift: moments at the load that is usual for this client, and a load that like lifts do not exceed."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import inf

from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.joint_load import references
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.definition import Lift, Sled
from lengthwise.planning.week import Choice
from lengthwise.practice.borne import LIGHTEST, ROUNDING, borne, counted_nm, is_easy, spared_nm, works
from lengthwise.practice.careful_loads import usual_kg
from lengthwise.practice.guessed import two_held
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.loading import Loading
from lengthwise.practice.sore_choices import gently
from lengthwise.practice.week_lifts import BODY
from lengthwise.practice.week_loads import prescribed
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.training.sore import bears_usual, is_done, leaves_alone, spoiled

NEAR = 0.5
"""Below this part of what a joint bears at the model's load it is not asked which load is usual: none is so far from it (own choice)."""


def usual_nm(client: Client, facts: LiftFacts) -> dict[str, float]:
    """Moments at the joints at the load done, else at the one guessed [N·m]; the model's own where none can be told."""
    limits = spared_nm(client)
    if not any(facts.joints_nm.get(j, 0.0) > NEAR * most for j, most in limits.items()):
        return dict(facts.joints_nm)
    load, whole = usual_kg(client, facts.lift_id), facts.working_kg + facts.moved_kg
    scale = 1.0 if load is None or whole <= 0 else max(load + facts.moved_kg, 0.0) / whole
    return {j: scale * nm for j, nm in facts.joints_nm.items()}


def capped(client: Client, facts: Mapping[str, LiftFacts], part: Mapping[str, float], of: Iterable[str]) -> dict[str, float]:
    """The part of its usual load that like lifts leave of each never done, where they leave less than the joint does.

    On a carriage that the feet push none has more than the least that a sore joint leaves of a press there, which brings it out of its rests, and
    three are left there however light the guess is; and none more than what it leaves of a done lift of the same family (common practice, no source).

    Args:
        facts: of lifts that can be done. part: what sore joints leave of some, by id. of: ids to answer for.
    """
    loading = [i for i in of if not all(leaves_alone(client, j, all_lifts().family[i]) for j in client.sore_joints)]
    near = {i: _telling(client, [k for k in like_lifts(client, i) if k in facts]) for i in loading}
    left = {k: _left_kg(client, facts[k]) for k in {k for ids in near.values() for k in ids}}
    out = {}
    for i, ids in near.items():
        caps = [kg for k in ids if (kg := left[k]) is not None]
        usual = usual_kg(client, i) if caps else None
        whole = 0.0 if usual is None else usual + facts[i].moved_kg
        least = (min(caps) + facts[i].moved_kg) / whole if whole else inf
        if least <= part.get(i, 1.0) or (whole and pressed(all_lifts().lifts[i])):
            out[i] = min(least, part.get(i, 1.0), ROUNDING)
    return out


def _telling(client: Client, ids: list[str]) -> list[str]:
    """Those of like lifts that were done, else all."""
    return [k for k in ids if is_done(client, k, all_lifts().lifts[k])] or ids


def with_like(client: Client, facts: Mapping[str, LiftFacts]) -> dict[str, LiftFacts]:
    """Facts of some lifts, and of those whose load may cap one of theirs."""
    more = {k for i in facts for k in like_lifts(client, i)} - facts.keys() if client.sore_joints else set()
    asked = [(k, all_lifts().lifts[k], "full") for k in sorted(more)]
    found = facts_of_lifts(calibrated_person(client), asked) if asked else {}  # type: ignore[arg-type]
    return {**facts, **{k: f for (k, _), f in found.items() if not isinstance(f, str)}}


def held_to_caps(
    choices: tuple[Choice, ...], lighter: Mapping[str, float], caps: Mapping[str, float], least: Mapping[str, float]
) -> tuple[tuple[Choice, ...], dict[str, float]]:
    """Lifts with no more load than like ones leave; one that cannot be made so light goes.

    Args:
        caps: from `capped`. least: the smallest part of its usual resistance that a lift can be done with.
    """
    left = [c for c in choices if caps.get(c.lift, 1.0) >= max(LIGHTEST, least.get(c.lift, 0.0)) or c.lift not in caps]
    return tuple(_capped(c, caps[c.lift]) if c.lift in caps else c for c in left), {**lighter, **caps}


def _capped(choice: Choice, part: float) -> Choice:
    return gently(choice) if is_easy(part) else replace(choice, gentle=False)


def like_lifts(client: Client, lift_id: str) -> list[str]:
    """Ids of the lifts whose load caps that of one that was never done: presses on a carriage and lifts of its family that were done."""
    lifts = all_lifts()
    one, family = lifts.lifts[lift_id], lifts.family[lift_id]
    done = {k for x in client.known_lifts if lifts.family[k := lifts.find(x.lift)] == family}
    presses = {k for k, own in lifts.family.items() if own == "leg_press"} if pressed(one) and family != "leg_press" else set()
    seen = (done | presses) - {lift_id}
    if not seen or is_done(client, lift_id, one) or one.gear == BODY:
        return []
    there = {g for place in client.places.values() for g in place.gear}
    return [k for k in sorted(seen) if lifts.lifts[k].gear in there and _alike(client, lift_id, k)]


def _alike(client: Client, lift_id: str, other: str) -> bool:
    """Whether two lifts are presses on a carriage, or of one family the other of which was done, loaded in the same way."""
    lifts = all_lifts()
    one, two = lifts.lifts[lift_id], lifts.lifts[other]
    if one.sides != two.sides:
        return False
    if pressed(one) and pressed(two):
        return lifts.family[other] == "leg_press" and one.gear == two.gear
    same = lifts.family[lift_id] == lifts.family[other] and two_held(one) == two_held(two)
    return same and two.gear != BODY and is_done(client, other, two)


def _left_kg(client: Client, facts: LiftFacts) -> float | None:
    """The load of a lift as it is written down for sore joints; nothing where they do not touch it [kg]."""
    lift, family = all_lifts().lifts[facts.lift_id], all_lifts().family[facts.lift_id]
    nm, done = usual_nm(client, facts), is_done(client, facts.lift_id, lift)
    part = borne(client, facts.lift_id, family, nm).part
    counted = counted_nm(client, facts.lift_id, nm)
    used = done and works(client, facts.lift_id, family, nm)
    used |= any(counted.get(j, 0.0) > references()[j].load_nm and not bears_usual(client, j, family) for j in client.sore_joints)
    if (part == 1 and not (used and pressed(lift))) or (not done and spoiled(client, facts.lift_id, lift, family)):
        return None
    return prescribed(facts.lift_id, SetTarget(), Loading(client, client, False, {facts.lift_id: part})).load_kg


def pressed(lift: Lift) -> bool:
    """Whether the feet push a carriage."""
    way = lift.resistance
    return isinstance(way, Sled) and any(at.startswith("ball_inner") for at in way.at)
