"""Which lifts of a week sore joints leave, and with what load; what is left of one lift is asked of borne.py."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from lengthwise.grading.facts import LiftFacts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import Muscle
from lengthwise.planning.shortlist import JOBS
from lengthwise.planning.week import Choice
from lengthwise.practice.borne import HALF, LIGHTEST, ROUNDING, borne, counted_nm, goes_free, is_easy, is_strict, spared_nm
from lengthwise.practice.loading import since_pain, was_easy
from lengthwise.practice.week_lifts import BODY, EASY_LEFT, rest_after
from lengthwise.training.client import Client
from lengthwise.training.gear_loads import loads
from lengthwise.training.known import known_of
from lengthwise.training.sore import bears_usual, is_boxed

LEAST_HELD_KG = 2.0
"""What is held in the hand for a set weighs at least so much: less cannot be raised in steps (common practice, no source)."""
TOO_MUCH = "it loads a sore joint too much"
TURNED_TO = 0.25
"""Rows, curls and push-downs are what a coach fills a sore shoulder's days with: each set counts so much of one at the limit (own choice)."""
HELD = frozenset({"dumbbell", "kettlebell", "plate"})
GENTLE, LEFT = 3, 2
"""So many lifts, those that load a sore joint least, are offered with half the load for a muscle with fewer than LEFT lifts left."""


def sparing_joints(
    client: Client, choices: tuple[Choice, ...], muscles: Sequence[Muscle], kept: Collection[str], least: Mapping[str, float]
) -> tuple[tuple[Choice, ...], dict[str, float]]:
    """Lifts that sore joints allow, and the part of the usual load for some.

    Args:
        kept: ids of lifts that the client has done. least: the smallest part of its usual resistance that a lift can be done with, where
            it has one (`least_parts`).

    Those that stay are decided by `borne`. A muscle that would be left with fewer than two lifts gets back those that load the joint least for
    what they give it, with what the joint bears; so do the hamstrings for each of their two jobs. One still left with fewer gets others with LIGHTEST
    of the load, unless a joint is severely sore or has a number of its own.
    """
    if not client.sore_joints:
        return choices, {}
    found = {c.key: borne(client, c.lift, c.practice.family, c.joint_nm) for c in choices}
    part = {key: b.part for key, b in found.items()}
    easy = [
        c for c in choices if found[c.key].stays and (c.lift in kept or found[c.key].whole or part[c.key] >= least.get(c.lift, 0.0))
    ]
    hurt = [c for c in choices if c not in easy and part[c.key] >= LIGHTEST and _worth_cutting(c, part[c.key], least)]
    back = {c.lift: c for c in _light_again(choices, easy, hurt, muscles, part)}
    back |= {c.lift: c for c in _last(client, choices, [*easy, *back.values()], muscles, part, least)}
    lighter = {c.lift: part[c.key] for c in easy if part[c.key] < 1}
    lighter |= {i: max(LIGHTEST, part[c.key]) for i, c in back.items()}
    left = (c for c in choices if c in easy or c.lift in back)
    return tuple(_lighter(client, c, lighter.get(c.lift, 1.0)) for c in left), lighter


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
    if is_strict(client):
        return
    able = [c for c in choices if c not in left and _worth_cutting(c, LIGHTEST, least)]
    for m in muscles:
        gives = {c.key: sum(s * c.fraction.get(h, 0.0) for h, s in m.share.items()) for c in choices}
        if (missing := LEFT - sum(gives[c.key] >= HALF for c in left)) > 0:
            meant = [c for c in able if gives[c.key] >= HALF]
            yield from sorted(
                meant, key=lambda c: (not c.practice.staple, not c.practice.multi, -part[c.key] * gives[c.key], c.key)
            )[:missing]


def eased(client: Client, choices: tuple[Choice, ...], lighter: Mapping[str, float]) -> tuple[tuple[Choice, ...], dict[str, float]]:
    """Lifts that pain asks easy sets of (`since_pain`): begun with half the load."""
    here = {c.lift for c in choices if since_pain(client, c.lift)}
    now = tuple(gently(halved(client, c, lighter)) if c.lift in here else c for c in choices)
    return now, {**lighter, **{i: after_pain(client, lighter.get(i, 1.0)) for i in sorted(here)}}


def halved(client: Client, choice: Choice, lighter: Mapping[str, float]) -> Choice:
    """A lift with half the moment at its joints, unless they are that of easy sets already or the body alone is its load."""
    known = known_of(client.known_lifts, choice.lift, all_lifts().lifts[choice.lift]) if choice.lift in all_lifts().lifts else None
    if is_easy(lighter.get(choice.lift, 1.0)) or was_easy(known) or choice.gear == BODY:
        return choice
    return replace(choice, joint_nm={j: HALF * nm for j, nm in choice.joint_nm.items()})


def after_pain(client: Client, part: float) -> float:
    """The part of its usual load with which a lift begins that hurt when it was last done: half, and less only for a severely sore joint or one of which
    the record names a moment.
    """
    return min(HALF, part) if is_strict(client) else HALF


def least_parts(client: Client, facts: Iterable[LiftFacts]) -> dict[str, float]:
    """The smallest part of its usual resistance that a lift can be done with: the lightest load there is, something worth holding, or the
    body's own weight, less of which goes down to a high chair.
    """
    out = {}
    for f in facts:
        there = (loads(p, f.gear, client.mass_unit).lightest_kg for p in client.places.values() if f.gear in p.gear)
        lightest = min((kg for kg in there if kg is not None), default=0.0)
        if f.gear in HELD and f.working_kg > 0:
            out[f.lift_id] = max(LEAST_HELD_KG, lightest) / f.working_kg
        elif lightest > 0 and f.working_kg > 0:
            out[f.lift_id] = lightest / f.working_kg
        elif f.moved_kg > 0 and is_boxed(client, f.lift_id):
            out[f.lift_id] = LIGHTEST
        elif f.moved_kg > 0:
            out[f.lift_id] = f.moved_kg / max(f.working_kg + f.moved_kg, f.moved_kg)
    return out


def _worth_cutting(choice: Choice, part: float, least: Mapping[str, float]) -> bool:
    """Whether a lift can be made so light: something worth holding is left, and the body itself is no more than that."""
    return part >= least.get(choice.lift, 0.0)


def turned_to(client: Client, choice: Choice) -> Choice:
    """A lift that a coach turns to for a sore joint counts as bearing little of what the joint allows."""
    limits = {j: TURNED_TO * nm for j, nm in spared_nm(client).items() if bears_usual(client, j, choice.practice.family)}
    if not limits:
        return choice
    return replace(choice, joint_nm={j: min(nm, ROUNDING * limits.get(j, nm)) for j, nm in choice.joint_nm.items()})


def _lighter(client: Client, choice: Choice, part: float) -> Choice:
    """The lift with so much of its load: moments at joints shrink with it (at most; the body's own part stays), to what is allowed."""
    counted, limits = counted_nm(client, choice.lift, {j: part * nm for j, nm in choice.joint_nm.items()}), spared_nm(client)
    cut = part < 1 or goes_free(client, choice.lift)
    joint_nm = {j: ROUNDING * min(nm, limits.get(j, nm)) if cut else nm for j, nm in counted.items()}
    return gently(replace(choice, joint_nm=joint_nm)) if is_easy(part) else replace(choice, joint_nm=joint_nm)


def gently(choice: Choice) -> Choice:
    """A lift in easy sets, which need little rest."""
    return replace(choice, gentle=True, rest_s=rest_after(choice.practice, choice.rest_s, EASY_LEFT, False))
