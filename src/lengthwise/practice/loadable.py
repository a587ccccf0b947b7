"""Whether any load that exists makes a set of a lift."""

from collections.abc import Sequence

from lengthwise.grading.facts import LiftFacts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import DayOffer
from lengthwise.planning.week_model import TRUNK
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.careful_loads import first_set, usual_kg
from lengthwise.practice.guessed import cautious_kg, tied
from lengthwise.practice.hard_sets import ALLOWS_FEW, SET_OF, TOO_LIGHT_FOR, ends_beyond, no_set
from lengthwise.practice.sore_choices import HELD, LEAST_HELD_KG
from lengthwise.practice.week_lifts import BODY, Own, fits, sore_grip, takes_weight_soon
from lengthwise.practice.written_repetitions import bounds_of
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.defaults import default_reserve
from lengthwise.training.holds import is_held
from lengthwise.training.joint_use import by_ankle
from lengthwise.training.known import kept, known_of
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import loads_for

TOO_LIGHT, TOO_HEAVY = 0.75, 1.15
"""Whole resistance over that of a set of 10 with 2 in reserve: about 20 and about 5 repetitions. Loads outside cannot make such a set."""
LIGHT_TRUNK = 0.68
"""The same for trunk lifts with the body's own weight: 30 repetitions with 2 in reserve, slowly (common practice, no source)."""
BEGUN_FAR_BELOW = 3
"""A first load may lie so many times below the model's: from there on it is asked for (own choice; asking takes time)."""
HELD_LONG = 15
"""More repetitions than these of a lift that ends when the grip does load a sore elbow or wrist (common practice, no source)."""
MOST_HUNG = 0.4
"""Share of body mass that may be hung on the body; more is clumsy where other gear does the same (common practice, no source)."""


def is_uneasy(reason: str) -> bool:
    """Whether a lift is out since it is too easy or too hard for the usual repetitions: nothing that a coach who asks for it may not have."""
    return TOO_LIGHT_FOR in reason or ALLOWS_FEW in reason


def no_load(client: Client, facts: LiftFacts, days: Sequence[DayOffer], own: Own) -> str:
    """Why no load that exists makes a set of 5 to 20 repetitions, or of the fewest that suit the lift with what is to be left; empty where one
    does, and for lifts that the client has done, unless weeks without lifting have passed since.
    """
    lift, moved = all_lifts().lifts[facts.lift_id], facts.moved_kg
    done = known_of(client.known_lifts, facts.lift_id, lift)
    if is_held(facts.lift_id) or (done is None and facts.lift_id in own.all):
        return ""
    if done is not None and facts.lift_id in own.all and kept(done) == 1:
        return no_set(client, facts, days)
    working = facts.working_kg if facts.gear == BODY else min(facts.working_kg, cautious_kg(client, facts.lift_id, SET_OF))
    whole = (working + moved) * (min(tied(client, facts.lift_id), 1.0) if takes_weight_soon(facts.lift_id) else 1.0)
    if facts.gear in HELD and (working < BEGUN_FAR_BELOW * LEAST_HELD_KG or by_ankle(lift)):
        first = min(working, usual_kg(client, facts.lift_id, starts_easy(client)) or 0.0)
        if first < LEAST_HELD_KG:
            return f"a first set would take {first:.1f} kg in the hand, too little to be raised in steps"
    if facts.gear == BODY and facts.working_kg > MOST_HUNG * client.mass_kg:
        return f"{TOO_LIGHT_FOR}: {facts.working_kg:.0f} kg would have to be hung on the body"
    least, reserve = bounds_of(client, facts.lift_id, starts_easy(client))[0], default_reserve(client, starts_easy(client))
    light = LIGHT_TRUNK if facts.gear == BODY and all_lifts().family[facts.lift_id] in TRUNK else TOO_LIGHT
    if takes_weight_soon(facts.lift_id) and done is None and usual_kg(client, facts.lift_id, starts_easy(client)) is None:
        return f"{ALLOWS_FEW}: your own body is too heavy for the fewest that are written of it"
    if done is None and facts.gear == BODY and by_ankle(lift):
        begun = first_set(client, facts.lift_id, starts_easy(client))
        if begun.load_kg is None or begun.repetitions[0] < least:
            few = f"fewer than {least} with {reserve:g} left"
            return f"{ALLOWS_FEW}: {few}" if lift.sides == "both" else f"both legs come before one: {few}"
    if many := ends_beyond(client, facts, days):
        return f"{TOO_LIGHT_FOR}: what is heaviest there allows about {many} repetitions"
    reasons, grips = [], sore_grip(client, facts.lift_id)
    for place in dict.fromkeys(d.place for d in days if fits(facts.lift_id, d)):
        exist = (
            (0.0,)
            if facts.gear == BODY and not takes_weight_soon(facts.lift_id)
            else loads_for(client, place, facts.lift_id, lift).exist
        )
        if not exist:
            return ""
        if exist[0] + moved > TOO_HEAVY * whole:
            lightest = f"the lightest load at {place} ({exist[0]:g} kg)" if exist[0] else "your own body"
            reasons.append(f"{lightest} is too heavy")
        elif repetitions_at(whole * factor(SET_OF), exist[0], moved, reserve) < least:
            reasons.append(
                f"{ALLOWS_FEW}: fewer than {least} with {reserve:g} left at the lightest load of {place} ({exist[0]:g} kg)"
            )
        elif grips and repetitions_at(whole * factor(SET_OF), exist[-1], moved, reserve) > HELD_LONG:
            reasons.append(f"{grips}: so many repetitions with {exist[-1]:g} kg in the hands load it")
        elif exist[-1] + moved < light * whole:
            reasons.append(f"{TOO_LIGHT_FOR}: the heaviest load at {place} is {exist[-1]:g} kg")
        else:
            return ""
    return "; ".join(reasons)
