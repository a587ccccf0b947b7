"""Weights in the hands that somebody has outgrown: where a bar or a machine loads the same lift, nobody counts to twenty with dumbbells."""

from collections.abc import Mapping, Sequence

from lengthwise.grading.facts import LiftFacts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import DayOffer
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import borne
from lengthwise.practice.hard_sets import SET_OF
from lengthwise.practice.joint_caps import usual_nm
from lengthwise.practice.sore_choices import HELD
from lengthwise.practice.week_lifts import Own, fits, practice_for
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.defaults import FROM_FLOOR, default_reserve
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import loads_for

MANY = 15
"""More repetitions than these of a lift over several joints are for want of load (common practice, no source)."""


def outgrown(client: Client, facts: Mapping[str, LiftFacts], days: Sequence[DayOffer], own: Own) -> dict[str, str]:
    """Lifts over several joints that end only beyond MANY repetitions with the heaviest weights for the hands, where a lift of their family that is
    loaded otherwise stands on each of their days: which one. The client's own stay.
    """
    out = {}
    for i in sorted(facts.keys() - own.all):
        there = [d for d in days if fits(i, d)]
        if practice_for(client, i).multi and all_lifts().lifts[i].gear in HELD and _light(client, facts[i], there):
            other = [next((k for k in _loaded(client, facts, i) if fits(k, d)), "") for d in there]
            if all(other):
                out[i] = f"{facts[other[0]].name} does the same here with more load"
    return out


def _light(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> bool:
    """Whether the heaviest weights of each day allow more than MANY repetitions with the reserve asked for."""
    lift, whole = all_lifts().lifts[facts.lift_id], (facts.working_kg + facts.moved_kg) * factor(SET_OF)
    reserve = default_reserve(client, starts_easy(client))
    heaviest = [loads_for(client, d.place, facts.lift_id, lift).exist[-1:] for d in days]
    return all(kg and repetitions_at(whole, kg[0], facts.moved_kg, reserve) > MANY for kg in heaviest)


def _loaded(client: Client, facts: Mapping[str, LiftFacts], lift_id: str) -> list[str]:
    """Lifts of the same family that any coach would write down for this client, with a bar or machine, and that sore joints bear; no deadlift from the
    floor, which comes once.
    """
    family, lifts = all_lifts().family, all_lifts().lifts
    same = (
        k
        for k in sorted(facts.keys() - FROM_FLOOR)
        if family[k] == family[lift_id] and lifts[k].gear not in {*HELD, "body", "band"}
    )
    return [k for k in same if practice_for(client, k).staple and borne(client, k, family[k], usual_nm(client, facts[k])).stays]
