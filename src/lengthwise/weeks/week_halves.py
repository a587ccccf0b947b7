"""Long halves that a planned week may add: of its lifts, where the estimate favours the half and it ends safely for the client."""

from collections.abc import Sequence

from lengthwise.body.person import Person
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.long_half import SURE, safety_of
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.week import HalfOffer, PlannedLift, Week
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.lift_growth import growth_draws, half_chance, long_halves_open
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_lifts import methods_of
from lengthwise.weeks.clients import LONG_HALVES

MOST = 5
"""So many long halves are offered in a week, the surest first (own choice: what a coach reads)."""
PARTS: tuple[RangeName, ...] = ("full", "long")


def half_offers(how: Loading, week: Week) -> tuple[HalfOffer, ...]:
    """Long halves of the lifts of a week, where sets may end in them (training/data/methods.toml): none for who must be careful."""
    once = {x.lift: x for d in week.days for x in d.lifts if x.range == "full" and _allowed(how, x.lift)}
    return favoured_halves(calibrated_person(how.body), list(once.values())) if once else ()


def _allowed(how: Loading, lift_id: str) -> bool:
    return any(m.key == LONG_HALVES for m in methods_of(how.client, lift_id, how.easy))


def favoured_halves(person: Person, planned: Sequence[PlannedLift]) -> tuple[HalfOffer, ...]:
    """The long halves of some lifts that are favoured by two to one and end safely, the surest first, MOST at most."""
    if not long_halves_open():
        return ()
    lifts = all_lifts().lifts
    some = [x for x in planned if safety_of(lifts[x.lift])]
    found = facts_of_lifts(person, [(x.lift, lifts[x.lift], part) for x in some for part in PARTS])
    draws, out = growth_draws(), []
    for x in some:
        whole, half = (found[x.lift, part] for part in PARTS)
        if isinstance(whole, LiftFacts) and isinstance(half, LiftFacts):
            out.append(_offer(x, half_chance(whole, half, lifts[x.lift].targets, draws)))
    return tuple(sorted((o for o in out if o.better >= SURE), key=lambda o: (-o.better, o.lift))[:MOST])


def _offer(planned: PlannedLift, better: float) -> HalfOffer:
    lift = all_lifts().lifts[planned.lift]
    return HalfOffer(planned.lift, planned.name, better, lift.ranges["long"].cue, safety_of(lift))
