"""What a sore joint leaves of the lifts of a week: how much it may carry, which lifts go, and which stay with less load."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from lengthwise.actions.known_strength import calibrated_person
from lengthwise.actions.lifts import all_lifts
from lengthwise.body.anatomy import skeleton
from lengthwise.body.scaling import strength_factor, strength_table
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.joint_load import references
from lengthwise.planning.question import Muscle
from lengthwise.planning.shortlist import JOBS
from lengthwise.planning.week import Choice
from lengthwise.training.client import Client
from lengthwise.training.gear_loads import loads
from lengthwise.training.sore import severity, spares

LEAST_HELD_KG = 2.0
"""What is held in the hand for a set weighs at least so much: less cannot be raised in steps (common practice, no source)."""
MILD = 2.0
"""A mildly sore joint, noticed but no limit to daily life, may carry so many times what counts as a real load (own choice)."""
LIGHTEST = 0.3
"""A sore joint gets a lift with a cut load down to this part of the usual; below that it is no training (own choice)."""
HALF = 0.5
TURNED_TO = 0.25
"""Rows, curls and push-downs are what a coach fills a sore shoulder's days with: each set counts so much of one at the limit (own choice)."""
HELD = frozenset({"dumbbell", "kettlebell", "plate"})
REGION = {
    "shoulder": "shoulder", "elbow": "arms", "wrist": "arms", "trunk": "trunk", "neck": "trunk", "hip": "hip", "knee": "thigh", "ankle": "shank",
}  # fmt: skip
"""Which muscles' strength says what a joint of this client is used to (strength.toml)."""
ROUNDING = 1 - 1e-9
"""So that a load cut to the very limit does not exceed it by rounding."""
GENTLE, LEFT = 3, 2
"""So many lifts, those that load a sore joint least, are offered with half the load for a muscle with fewer than LEFT lifts left."""


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
    person, groups = calibrated_person(client), strength_table().region[REGION[joint]]
    force = sum(strength_factor(person, g) for g in groups) / len(groups)
    return max(1.0, force * person.stature_m * 1e3 / skeleton().person.stature_mm)


def sparing_joints(
    client: Client, choices: tuple[Choice, ...], muscles: Sequence[Muscle], kept: Collection[str], least: Mapping[str, float]
) -> tuple[tuple[Choice, ...], dict[str, float]]:
    """Lifts that sore joints allow, and the part of the usual load for some.

    Args:
        kept: ids of lifts that the client has done. least: the smallest part of its usual resistance that a lift can be done with, where
            it has one (`least_parts`).

    A lift that the client has done stays with the load it was done with, unless it loads a joint more than three times too much: that it
    was done says more than the model does. A liked lift stays with as much less load. A muscle that would be left with fewer than two lifts
    gets back those that load the joint least for what they give it, with half the load; so do the hamstrings for each of their two jobs.
    One still left with fewer gets others with LIGHTEST of the load, unless a joint is severely sore or has a number of its own.
    """
    limits = spared_nm(client)
    if not limits:
        return choices, {}
    part = {
        c.key: min([most / c.joint_nm[j] for j, most in limits.items() if c.joint_nm.get(j, 0.0) > most], default=1.0)
        for c in choices
    }
    light = {c.key: part[c.key] >= max(LIGHTEST, 0.0 if c.lift in kept else least.get(c.lift, 0.0)) for c in choices}
    easy = [c for c in choices if part[c.key] >= 1 or (c.kept and light[c.key])]
    hurt = [c for c in choices if c not in easy and part[c.key] >= LIGHTEST and _worth_cutting(c, part[c.key], least)]
    back = {c.lift: c for c in _light_again(choices, easy, hurt, muscles, part)}
    back |= {c.lift: c for c in _last(client, choices, [*easy, *back.values()], muscles, part, least)}
    cut = {c.lift: part[c.key] for c in easy if part[c.key] < 1}
    cut |= {i: max(LIGHTEST, min(HALF, part[c.key])) for i, c in back.items()}
    left = (c for c in choices if c in easy or c.lift in back)
    lighter = {i: 1.0 if i in kept else p for i, p in cut.items()}
    return tuple(_lighter(c, cut[c.lift], limits, lighter[c.lift] < 1) if c.lift in cut else c for c in left), lighter


def part_borne(client: Client, lift_id: str, family: str, joint_nm: Mapping[str, float]) -> dict[str, float]:
    """The part of a lift's usual load that sore joints bear where the lift is asked for alone, under its id; empty where they bear all.

    As a week begins it: 1 for a lift that was done, as much less as the joint asks for a liked one, half at most for any other.

    Args:
        joint_nm: moments of a usual set at the joints [N·m].
    """
    limits = {j: most for j, most in spared_nm(client).items() if not spares(client, j, family)}
    part = min([most / joint_nm[j] for j, most in limits.items() if joint_nm.get(j, 0.0) > most], default=1.0)
    lifts = all_lifts()
    done = any(lifts.find(k.lift) == lift_id for k in client.known_lifts)
    if done and (part < 1 or works(client, joint_nm)):
        return {lift_id: 1.0}
    if part >= 1:
        return {}
    liked = any(lifts.find(name) == lift_id for name in client.wishes.liked)
    return {lift_id: max(part if liked else min(HALF, part), LIGHTEST)}


def works(client: Client, joint_nm: Mapping[str, float]) -> bool:
    """Whether a set puts a real load on a sore joint, though the joint bears it: what was done there is not exceeded.

    Args:
        joint_nm: moments of a usual set at the joints [N·m].
    """
    return any(joint_nm.get(j, 0.0) > references()[j].load_nm for j in client.sore_joints)


def _light_again(
    choices: Sequence[Choice],
    easy: Sequence[Choice],
    hurt: Sequence[Choice],
    muscles: Sequence[Muscle],
    part: Mapping[tuple[str, str], float],
) -> Iterator[Choice]:
    """Lifts that come back with half the load: for muscles with hardly a lift left, and for a job of the hamstrings that nothing does."""
    for m in muscles:
        gives = {c.key: sum(s * c.fraction.get(h, 0.0) for h, s in m.share.items()) for c in choices}
        if sum(gives[c.key] >= HALF for c in easy) < LEFT:
            able = [c for c in hurt if gives[c.key] >= HALF]
            yield from sorted(able, key=lambda c: (-part[c.key] * gives[c.key], c.key))[:GENTLE]
    for families in JOBS:
        if not any(c.practice.family in families for c in easy):
            able = [c for c in hurt if c.practice.family in families]
            yield from sorted(able, key=lambda c: (not c.practice.staple, -part[c.key], c.key))[:LEFT]


def _last(
    client: Client,
    choices: Sequence[Choice],
    left: Sequence[Choice],
    muscles: Sequence[Muscle],
    part: Mapping[tuple[str, str], float],
    least: Mapping[str, float],
) -> Iterator[Choice]:
    """For a muscle with hardly a lift those that load the joint least: a light set in the range that does not hurt is better than none."""
    if any(severity(client, j) == "severe" or most is not None for j, most in client.sore_joints.items()):
        return
    able = [c for c in choices if c not in left and _worth_cutting(c, LIGHTEST, least)]
    for m in muscles:
        gives = {c.key: sum(s * c.fraction.get(h, 0.0) for h, s in m.share.items()) for c in choices}
        if (missing := LEFT - sum(gives[c.key] >= HALF for c in left)) > 0:
            meant = [c for c in able if gives[c.key] >= HALF]
            yield from sorted(
                meant, key=lambda c: (not c.practice.staple, not c.practice.multi, -part[c.key] * gives[c.key], c.key)
            )[:missing]


def eased(
    choices: tuple[Choice, ...], lighter: Mapping[str, float], hurt: Collection[str]
) -> tuple[tuple[Choice, ...], dict[str, float]]:
    """Lifts that hurt when they were last done: begun with half the load, in easy sets."""
    here = {c.lift for c in choices} & set(hurt)
    now = tuple(replace(c, gentle=True) if c.lift in here else c for c in choices)
    return now, {**lighter, **{i: min(HALF, lighter.get(i, 1.0)) for i in sorted(here)}}


def least_parts(client: Client, facts: Iterable[LiftFacts]) -> dict[str, float]:
    """The smallest part of its usual resistance that a lift can be done with: the lightest load there is, something worth holding, or the
    body's own weight.
    """
    out = {}
    for f in facts:
        there = (loads(p, f.gear).lightest_kg for p in client.places.values() if f.gear in p.gear)
        lightest = min((kg for kg in there if kg is not None), default=0.0)
        if f.gear in HELD and f.working_kg > 0:
            out[f.lift_id] = max(LEAST_HELD_KG, lightest) / f.working_kg
        elif lightest > 0 and f.working_kg > 0:
            out[f.lift_id] = lightest / f.working_kg
        elif f.moved_kg > 0:
            out[f.lift_id] = f.moved_kg / max(f.working_kg + f.moved_kg, f.moved_kg)
    return out


def _worth_cutting(choice: Choice, part: float, least: Mapping[str, float]) -> bool:
    """Whether a lift can be made so light: something worth holding is left, and the body itself is no more than that."""
    return min(HALF, part) >= least.get(choice.lift, 0.0)


def turned_to(client: Client, choice: Choice) -> Choice:
    """A lift that a coach turns to for a sore joint counts as bearing little of what the joint allows."""
    limits = {j: TURNED_TO * nm for j, nm in spared_nm(client).items() if spares(client, j, choice.practice.family)}
    if not limits:
        return choice
    return replace(choice, joint_nm={j: min(nm, ROUNDING * limits.get(j, nm)) for j, nm in choice.joint_nm.items()})


def _lighter(choice: Choice, part: float, limits: Mapping[str, float], gentle: bool) -> Choice:
    """The lift with so much of its load: moments at joints shrink with it (at most; the body's own part stays), to what is allowed.

    Args:
        gentle: whether its sets are easy ones: they end at the first pain, far from a hard set.
    """
    joint_nm = {j: ROUNDING * min(part * nm, limits.get(j, part * nm)) for j, nm in choice.joint_nm.items()}
    return replace(choice, joint_nm=joint_nm, gentle=gentle)
