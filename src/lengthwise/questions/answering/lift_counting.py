"""What a review needs to know about lifts: names, how sets count, what moves with the load, and lifts in rank for a muscle."""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import get_args

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.known.lift_facts import Outcome, facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.definition import Lift
from lengthwise.practice.borne import spared_nm
from lengthwise.practice.lift_growth import counted_of, growth_draws
from lengthwise.practice.week_lifts import sort_of
from lengthwise.questions.answering.grading import rank_lifts
from lengthwise.questions.rank import RankAsk
from lengthwise.training.client import Client
from lengthwise.training.counted_sets import convention, head_shares
from lengthwise.training.findings import Alternative, FollowedLifts
from lengthwise.training.joint_use import by_ankle, loads_joint
from lengthwise.training.known import counts_body
from lengthwise.training.lift_strength import pose
from lengthwise.training.record_words import JointName
from lengthwise.training.volume import Counting, LiftKey

FEW_POSITIONS = 11


def catalogue_of(client: Client, done: Iterable[LiftKey], progress: Progress = no_progress) -> FollowedLifts:
    """What is known about the lifts a client has done or planned; lifts the library does not have count for nothing.

    Fractions are computed on the client's body once and then read from disk; the first time for a lift takes a tenth of a second or so.
    """
    lifts = all_lifts().lifts
    keys = [k for k in dict.fromkeys(done) if k[0] in lifts]
    moved = {k[0]: moved_kg(client.person, k[0]) for k in keys if counts_body(lifts[k[0]]) or by_ankle(lifts[k[0]])}
    counting = _counting(facts_of_lifts(client.person, [(k[0], lifts[k[0]], k[1]) for k in keys], progress))
    sorts, family = {k[0]: sort_of(k[0]) for k in keys}, all_lifts().family
    loads = {i: frozenset(j for j in get_args(JointName) if loads_joint(j, i, lifts[i], family[i])) for i in sorts}
    return FollowedLifts(names={i: lifts[i].name for i in sorts}, counting=counting, moved_kg=moved, sorts=sorts, loads=loads)


def _counting(found: Mapping[LiftKey, Outcome]) -> Counting:
    """Computed fractions; the fixed convention for a lift that the model cannot do on this body."""
    lifts, draws = all_lifts().lifts, growth_draws()
    facts = [f for f in found.values() if not isinstance(f, str)]
    parts = {
        k: convention(lifts[k[0]].targets, lifts[k[0]].movers) if isinstance(f, str) else counted_of(f, draws)
        for k, f in found.items()
    }
    strength = {h: own.strength_n for h, own in facts[0].heads.items()} if facts else {}
    shares = {
        m: head_shares(strength, heads, tuple(parts.values()))
        for m, heads in anatomy.muscles().items()
        if all(h in strength for h in heads)
    }
    return Counting(parts, shares, {k: muscle_of(lifts[k[0]]) for k in found})


def muscle_of(lift: Lift) -> str:
    """The muscle of the lift's first target: of groups that hold it, the one with most of the lift's targets, then the smallest."""
    holding = {m: heads for m, heads in anatomy.muscles().items() if lift.targets[0] in heads}
    return min(holding, key=lambda m: (-len(set(holding[m]) & set(lift.targets)), len(holding[m]), m), default="")


@lru_cache(maxsize=256)
def moved_kg(person: Person, lift_id: str) -> float:
    """How much of the body counts to the resistance of a lift [kg], as its loads are told."""
    posed = pose(body_of(person), all_lifts().lifts[lift_id], n_pos=FEW_POSITIONS)
    return posed.moved_kg + posed.carried_kg


def ranked_for(client: Client, muscles: Iterable[str], progress: Progress = no_progress) -> dict[str, tuple[Alternative, ...]]:
    """Lifts for some muscles, best first, as the client's gear allows, without more load on sore joints than the record allows; none for a muscle nothing is left for."""
    out, spare = {}, tuple(f"{joint}={nm!r}" for joint, nm in spared_nm(client).items())
    for muscle in muscles:
        asked = RankAsk(muscle=muscle, person=client.person, spare=spare, ranges=("full", "long"), record=client)
        try:
            found = rank_lifts(asked, progress)
        except NoSolutionError:
            continue
        refused = {all_lifts().find(name) for name in client.wishes.refused}
        out[muscle] = tuple(
            Alternative(r.facts.lift_id, r.facts.range, r.facts.name, r.value, sort_of(r.facts.lift_id))  # type: ignore[arg-type]
            for r in found.lifts
            if r.facts.lift_id not in refused
        )
    return out
