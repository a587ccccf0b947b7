"""Long halves that a planned week may add: of its lifts, where the estimate favours the half and something makes its end safe."""

from collections.abc import Sequence

from lengthwise.actions.lift_facts import facts_of_lifts
from lengthwise.actions.lift_growth import growth_draws, half_chance
from lengthwise.actions.lifts import all_lifts
from lengthwise.body.person import Person
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.long_half import SURE, safety_of
from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.week import HalfOffer, PlannedLift, Week

MOST = 5
"""So many long halves are offered in a week, the surest first (own choice: what a coach reads)."""


def half_offers(person: Person, week: Week) -> tuple[HalfOffer, ...]:
    """Long halves of the lifts of a week that are favoured by two to one and end safely, the surest first."""
    lifts = all_lifts().lifts
    planned = {x.lift: x for d in week.days for x in d.lifts if x.range == "full" and safety_of(lifts[x.lift])}
    parts: Sequence[RangeName] = ("full", "long")
    found = facts_of_lifts(person, [(i, lifts[i], part) for i in planned for part in parts])
    draws, out = growth_draws(), []
    for lift_id, x in planned.items():
        whole, part = found[lift_id, "full"], found[lift_id, "long"]
        if isinstance(whole, LiftFacts) and isinstance(part, LiftFacts):
            out.append(_offer(x, half_chance(whole, part, lifts[lift_id].targets, draws)))
    return tuple(sorted((o for o in out if o.better >= SURE), key=lambda o: (-o.better, o.lift))[:MOST])


def _offer(planned: PlannedLift, better: float) -> HalfOffer:
    lift = all_lifts().lifts[planned.lift]
    return HalfOffer(planned.lift, planned.name, better, lift.ranges["long"].cue, safety_of(lift))
