"""From a client to the lifts, muscles and days that a week may be made of."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lengthwise.actions.grading import weights_named
from lengthwise.actions.known_strength import calibrated_person
from lengthwise.actions.lift_facts import facts_of_lifts
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.errors import InputError
from lengthwise.grading.criteria import Target, score, target_named, values_of
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.joint_load import references
from lengthwise.mechanics.measures import REST_S
from lengthwise.planning.question import DayOffer, Muscle
from lengthwise.planning.week import Choice
from lengthwise.training.client import Client
from lengthwise.training.counted_sets import fractions, head_shares
from lengthwise.training.defaults import rest_s
from lengthwise.training.prescription import loads_at
from lengthwise.training.weekly_sets import weekly_band

USUAL = (
    "chest", "latissimus", "upper_back", "deltoid_middle", "deltoid_posterior", "biceps", "triceps", "abdominals", "glutes", "quadriceps",
    "hamstrings", "calves",
)  # fmt: skip
"""Muscles of a week unless a client names others too: common practice, no source. Anterior deltoid and erectors get theirs from presses
and hinges, which the weekly sets by head show."""
BODY = "body"
SERVES = 0.15
"""A lift serves a muscle when a set counts at least this much for it (own choice)."""
LIKED = 1.15
"""A liked lift's value is raised by this (claim preference; size own choice)."""
KNOWN = 1.05
"""So is that of a lift with a known load, which needs no test and whose progress is on record: keep what works (size own choice)."""
WHOLE_BODY = 0.4
"""Share of the whole body's muscle force in use at which a lift counts as costly as any (estimate: the deadlifts of the library)."""
HEAVY = 0.5
HEAVY_REST_S = 180.0
HEAVY_SETUP_S = 150.0
"""Lifts costlier than HEAVY rest at least so long and get so much more set-up time for warm-up sets: common practice, no source."""
TOO_LIGHT, TOO_HEAVY = 0.75, 1.15
"""Whole resistance over that of a set of 10 with 2 in reserve: about 20 and about 5 repetitions. Loads outside cannot make such a set."""
MOST_HUNG = 0.4
"""Share of body mass that may be hung on the body; more is clumsy where other gear does the same (common practice, no source)."""
REPETITIONS, RESERVE = 10, 2.0


@dataclass(frozen=True)
class Offer:
    """What a client's week may be made of: every lift that can be done there with its facts, and why others are out."""

    choices: tuple[Choice, ...]
    muscles: tuple[Muscle, ...]
    days: tuple[DayOffer, ...]
    out: Mapping[str, str]


def offer_of(client: Client, progress: Progress = no_progress) -> Offer:
    """Lifts, muscles and days of a client.

    Raises:
        InputError: the client has no training days, or every muscle has priority 0.
    """
    days = day_offers(client)
    gear = frozenset().union(*(d.gear for d in days))
    person = calibrated_person(client)
    asked = [(i, lift, "full") for i, lift in sorted(all_lifts().lifts.items()) if lift.gear in gear]
    found = facts_of_lifts(person, asked, progress)  # type: ignore[arg-type]
    out = {i: f for (i, _), f in found.items() if isinstance(f, str)}
    facts = {i: f for (i, _), f in found.items() if not isinstance(f, str)}
    out |= {i: reason for i, f in facts.items() if (reason := _no_load(client, f, days))}
    facts = {i: f for i, f in facts.items() if i not in out}
    muscles = muscles_of(client, list(facts.values()))
    raised = raised_lifts(client)
    choices = (choice_of(client, f, muscles, raised.get(f.lift_id, 1.0)) for f in facts.values())
    return Offer(tuple(c for c in choices if c.value), muscles, days, out)


def raised_lifts(client: Client) -> dict[str, float]:
    """Factors on the values of liked and known lifts, by id."""
    find = all_lifts().find
    known = {find(k.lift): KNOWN for k in client.known_lifts}
    return known | {find(name): LIKED for name in client.wishes.liked}


def day_offers(client: Client) -> tuple[DayOffer, ...]:
    """The days of a client; the body itself is always there.

    Raises:
        InputError: none.
    """
    if not client.days:
        raise InputError(f"{client.name} has no training days; add them to the record as days", asked=client.name, allowed=["days"])
    return tuple(DayOffer(d.day, d.place, d.minutes, frozenset({*client.places[d.place].gear, BODY})) for d in client.days)


def muscles_of(client: Client, facts: Sequence[LiftFacts]) -> tuple[Muscle, ...]:
    """The muscles of a client's week: the usual ones and those named, less those with priority 0.

    Raises:
        InputError: none is left.
    """
    wishes = client.wishes
    named = dict.fromkeys([*USUAL, *wishes.priority, *wishes.weekly_sets])
    targets = [target_named(m) for m in named if wishes.priority.get(m, 1.0) > 0]
    if not targets or not facts:
        raise InputError(f"{client.name}: no muscle or no lift is left for a week", asked=client.name)
    strength = {h: own.strength_n for h, own in facts[0].heads.items()}
    parts = [counted_of(f) for f in facts]
    out = []
    for t in targets:
        band = weekly_band(client, t.name)
        share = head_shares(strength, t.heads, parts)
        out.append(Muscle(t.name, share, wishes.priority.get(t.name, 1.0), band.low, band.high, band.own))
    return tuple(out)


def counted_of(facts: LiftFacts) -> dict[str, float]:
    """The fraction of a hard set that each head gets from one set of a lift."""
    return fractions({h: own.shortening for h, own in facts.heads.items()}, _named(facts))


def _named(facts: LiftFacts) -> set[str]:
    """Heads that the lift's file names."""
    lift = all_lifts().lifts[facts.lift_id]
    return {*lift.targets, *lift.prime_movers}


def choice_of(client: Client, facts: LiftFacts, muscles: Sequence[Muscle], raised: float = 1.0) -> Choice:
    """A lift as the planner needs it; `raised` is a factor on its graded values."""
    part = counted_of(facts)
    weights = weights_named("default").value
    value = {
        m.name: min(1.0, raised * score(values_of(facts, Target(m.name, tuple(m.share))), weights))
        for m in muscles
        if _named(facts) & set(m.share) and sum(s * part.get(h, 0.0) for h, s in m.share.items()) >= SERVES
    }
    cost = systemic(facts)
    heavy = cost >= HEAVY
    rest = rest_s(client, (8, 12))
    return Choice(
        facts.lift_id,
        "full",
        facts.name,
        facts.gear,
        value,
        part,
        facts.setup_s + (HEAVY_SETUP_S if heavy else 0.0),
        facts.seconds_per_set - facts.setup_s / 3 - REST_S,
        max(rest, HEAVY_REST_S) if heavy else rest,
        {j: load.moment_nm for j, load in facts.joints.items()},
        cost,
        _kind(facts, part, value, muscles),
    )


def _kind(facts: LiftFacts, part: Mapping[str, float], value: Mapping[str, float], muscles: Sequence[Muscle]) -> str:
    """Lifts of one family that serve the same muscle most are of one kind."""
    worth = {m.name: value[m.name] * sum(s * part.get(h, 0.0) for h, s in m.share.items()) for m in muscles if m.name in value}
    return f"{all_lifts().family[facts.lift_id]}: {max(worth, key=lambda name: worth[name], default='')}"


def systemic(facts: LiftFacts) -> float:
    """How costly a lift is for the whole body, 0-1: peak force of all muscles over their strength, over WHOLE_BODY."""
    used = sum(h.peak_activation * h.strength_n for h in facts.heads.values())
    return min(1.0, used / sum(h.strength_n for h in facts.heads.values()) / WHOLE_BODY)


def _no_load(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> str:
    """Why no load that exists makes a set of 5 to 20 repetitions; empty where one does."""
    moved = facts.moved_kg
    whole = facts.working_kg + moved
    if facts.gear == BODY and facts.working_kg > MOST_HUNG * client.mass_kg:
        return f"{facts.working_kg:.0f} kg would have to be hung on the body"
    reasons = []
    for place in dict.fromkeys(d.place for d in days if facts.gear in d.gear):
        own = client.places[place].gear
        exist = loads_at(client, place, facts.gear).exist if facts.gear in own else (0.0,)
        if not exist:
            return ""
        if exist[0] + moved > TOO_HEAVY * whole:
            reasons.append(f"the lightest load at {place} ({exist[0]:g} kg) is too heavy")
        elif exist[-1] + moved < TOO_LIGHT * whole:
            reasons.append(f"the heaviest load at {place} ({exist[-1]:g} kg) is too light")
        else:
            return ""
    return "; ".join(reasons)


def spared_nm(client: Client) -> dict[str, float]:
    """Moment allowed at each sore joint [N·m]: as named, else below what counts as a real load."""
    return {j: references()[j].load_nm if most is None else most for j, most in client.sore_joints.items()}
