"""Weights in the hands that somebody has outgrown: where a bar or a machine loads the same lift, or one side at a time ends a set sooner, nobody counts to
twenty with dumbbells.
"""

from collections.abc import Mapping, Sequence

from lengthwise.grading.facts import LiftFacts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.practice import lists
from lengthwise.planning.question import DayOffer
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import borne
from lengthwise.practice.hard_sets import SET_OF
from lengthwise.practice.joint_caps import usual_nm
from lengthwise.practice.sore_choices import HELD
from lengthwise.practice.week_lifts import Own, fits, practice_for, stands_firm
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.defaults import FROM_FLOOR, default_reserve
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import loads_for

MANY = 15
"""More repetitions than these of a lift over several joints are for want of load (common practice, no source)."""


def outgrown(
    client: Client, facts: Mapping[str, LiftFacts], days: Sequence[DayOffer], own: Own, sided: Mapping[str, LiftFacts]
) -> dict[str, tuple[str, ...]]:
    """Lifts over several joints that end only beyond MANY repetitions with the heaviest weights for the hands, where a lift of their family that is
    loaded otherwise, or the same with one side at a time, stands on each of their days: which ones. The client's own stay.

    Args:
        sided: facts of what `one_sided` names.
    """
    out = {}
    for i in sorted(facts.keys() - own.all):
        there = [d for d in days if fits(i, d)]
        if _ends_light(client, facts[i], there):
            able = [*_loaded(client, facts, i), *_harder(client, sided, i, there)]
            other = [next((k for k in able if fits(k, d)), "") for d in there]
            if all(other):
                out[i] = tuple(dict.fromkeys(other))
    return out


def one_sided(client: Client, facts: Mapping[str, LiftFacts], days: Sequence[DayOffer], own: Own) -> set[str]:
    """Lifts with one side at a time for those whose heaviest weights are light for both: nobody who is new, or who is to stand on both legs, is asked to
    balance on one.
    """
    if client.training == "untrained" or stands_firm(client):
        return set()
    light = (i for i in facts.keys() - own.all if _ends_light(client, facts[i], [d for d in days if fits(i, d)]))
    return {k for i in light for k in lists().one_side.get(i, ())}


def _ends_light(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> bool:
    """Whether a lift over several joints with weights in the hands ends only beyond MANY repetitions on each of its days."""
    i = facts.lift_id
    return practice_for(client, i).multi and all_lifts().lifts[i].gear in HELD and _light(client, facts, days)


def _harder(client: Client, sided: Mapping[str, LiftFacts], lift_id: str, days: Sequence[DayOffer]) -> list[str]:
    """What does the same with one side at a time, ends within MANY repetitions, and is borne by sore joints."""
    family, there = all_lifts().family, [k for k in lists().one_side.get(lift_id, ()) if k in sided]
    sooner = [k for k in there if not _light(client, sided[k], [d for d in days if fits(k, d)] or days)]
    return [k for k in sooner if borne(client, k, family[k], usual_nm(client, sided[k])).stays]


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
