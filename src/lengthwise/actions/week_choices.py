"""From a client to the lifts, muscles and days that a week may be made of."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from lengthwise.actions.borne import begun_less, borne, works
from lengthwise.actions.careful_loads import first_set, usual_kg
from lengthwise.actions.clients import starts_easy
from lengthwise.actions.guessed import cautious_kg, tied
from lengthwise.actions.hard_sets import ALLOWS_FEW, SET_OF, TOO_LIGHT_FOR, bites, hard_part, less_worth, no_set
from lengthwise.actions.joint_caps import capped, held_to_caps, usual_nm, with_like
from lengthwise.actions.known_strength import calibrated_person
from lengthwise.actions.lift_facts import facts_of_lifts
from lengthwise.actions.lift_growth import GrowthMeasure, SetWorth, growth_draws, measure_of, worth_of
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.outgrown import outgrown
from lengthwise.actions.rests import is_heavy, is_warmed, rest_of, systemic, tires
from lengthwise.actions.sore_choices import HELD, LEAST_HELD_KG, TOO_MUCH, eased, least_parts, sparing_joints, turned_to
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.actions.week_candidates import TOO_EASY, candidates, needless_bands
from lengthwise.actions.week_lifts import (
    BODY,
    Own,
    fits,
    named_muscles,
    offer,
    own_lifts_of,
    practice,
    practice_for,
    saving_on,
    sore_grip,
    takes_weight_soon,
)
from lengthwise.actions.written_repetitions import bounds_of
from lengthwise.errors import InputError
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.target import target_named
from lengthwise.mechanics.measures import REST_S
from lengthwise.planning.jobs import OF_A_WEEK
from lengthwise.planning.model import TRUNK
from lengthwise.planning.practice import ALONE, BIG, SMALL, Practice, lists
from lengthwise.planning.question import FEW_DAYS, WEEKDAYS, DayOffer, Muscle
from lengthwise.planning.rules import default_rules
from lengthwise.planning.shape import TWICE, days_of, shapes
from lengthwise.planning.shortlist import JOBS
from lengthwise.planning.week import Choice
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.counted_sets import head_shares
from lengthwise.training.defaults import default_reserve
from lengthwise.training.holds import is_held
from lengthwise.training.joint_use import by_ankle
from lengthwise.training.known import kept, known_of
from lengthwise.training.methods import methods
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import loads_for
from lengthwise.training.sore import is_done, turned_to_with_less
from lengthwise.training.weekly_sets import weekly_band

SERVES = 0.15
"""A lift serves a muscle when a set counts at least this much for it (own choice)."""
RISING_S = 150.0
"""The rising sets before a heavy lift (rests.py) take so much: common practice, no source."""
TRANSFER_S = 60.0
"""Who keeps to a seat needs so much more to change lifts: getting from chair to bench, brakes, straps [s] (common practice, no source)."""
RISING_LIGHT_S, ONE_SET_S = 90.0, 45.0
"""What the rising sets of other multi-joint lifts take, and the one set before a light load: 4 s a repetition, half a minute after each, and of a
muscle's later lifts of a day one set alone (common practice, no source)."""
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
SMALL_FROM_DAYS = 3
"""With fewer days small muscles that presses, pulls and leg work train too have no floor (common practice, no source)."""
ON_ONE_OF_TWO = frozenset({"quadriceps", "hamstrings", "glutes", "upper_back"})
"""Big muscles that one squat, one hinge and one row of two short days serve: their floor is a small one's (common practice, no source)."""
FULL_DAY_MIN = 45.0
"""With three days or more, fewer than three of which are so long, a big muscle's floor is a small one's: 115 minutes a week do not hold four sets of
each, as the expert's row `no_big_muscle_starved` has it (common practice, no source)."""
LEFT = 2
"""A muscle with fewer lifts gets light and easy ones back (own choice)."""


@dataclass(frozen=True, kw_only=True)
class Offer:
    """What a client's week may be made of.

    Attributes:
        choices: every lift that can be done, with its facts. muscles, days: what for and when. out: why other lifts are out.
        measure: what growth is measured by.
        lighter: part of the usual load with which a lift is begun for the sake of a sore joint; 1 for one that was done and loads it
            much. own: the client's own lifts. known_lifts: the sets that it rests on, those of the log too.
    """

    choices: tuple[Choice, ...]
    muscles: tuple[Muscle, ...]
    days: tuple[DayOffer, ...]
    out: Mapping[str, str]
    measure: GrowthMeasure
    lighter: Mapping[str, float] = field(default_factory=dict)
    own: Own = field(default_factory=Own)
    known_lifts: tuple[KnownLift, ...] = ()


def offer_of(client: Client, progress: Progress = no_progress, last: Collection[str] = (), wanted: Collection[str] = ()) -> Offer:
    """Lifts, muscles and days of a client.

    Args:
        last: ids of the lifts of the week before. wanted: ids that are looked at whatever any list says.

    Raises:
        InputError: the client has no training days, or every muscle has priority 0.
    """
    days = day_offers(client)
    own = own_lifts_of(client, last)
    ids, out = candidates(client, days, own, wanted)
    asked = [(i, all_lifts().lifts[i], "full") for i in ids if i not in out or i in wanted]
    found = facts_of_lifts(calibrated_person(client), asked, progress)  # type: ignore[arg-type]
    out = out | {i: f for (i, _), f in found.items() if isinstance(f, str)}
    facts = {i: f for (i, _), f in found.items() if not isinstance(f, str)}
    light: dict[str, LiftFacts] = {}
    for i, f in facts.items():
        reason = _no_load(client, f, days, own)
        if not reason or (is_uneasy(reason) and i in wanted):
            continue
        out[i] = reason
        light |= {i: f} if is_uneasy(reason) else {}
    facts = {i: f for i, f in facts.items() if i not in out}
    needless = needless_bands(facts, days, own) | outgrown(client, facts, days, own)
    out, facts = out | needless, {i: f for i, f in facts.items() if i not in needless}
    facts |= _second_best(client, facts, light, out, progress)
    out = {i: reason for i, reason in out.items() if i not in facts}
    draws = growth_draws()
    worth = {i: worth_of(f, draws) for i, f in facts.items()}
    worth |= {i: less_worth(worth[i], hard_part(client, facts[i], days)) for i in light.keys() & facts.keys()}
    muscles = muscles_of(client, list(facts.values()), [w.counted for w in worth.values()])
    measure = measure_of(calibrated_person(client), muscles)
    told = [
        replace(c, bites=bites(client, f, days))
        for f in facts.values()
        if (c := choice_of(client, f, worth[f.lift_id], muscles, own, measure)).value
    ]
    useful = tuple(turned_to(client, c) for c in told)
    least = least_parts(client, facts.values())
    choices, lighter = sparing_joints(client, useful, muscles, own.known, least)
    caps = begun_less(client, told) | capped(client, with_like(client, facts), lighter, sorted({c.lift for c in choices}))
    choices, lighter = held_to_caps(choices, lighter, caps, least)
    held = {i: 1.0 for i in own.known if i in facts and works(client, i, all_lifts().family[i], usual_nm(client, facts[i]))}
    choices, lighter = eased(client, choices, {**held, **lighter})
    out |= {i: "it serves no muscle of the week" for i in facts.keys() - {c.lift for c in useful}}
    out |= {c.lift: TOO_MUCH for c in useful if c not in choices and c.lift not in {x.lift for x in choices}}
    return Offer(
        choices=choices,
        muscles=muscles,
        days=days,
        out=out,
        measure=measure,
        lighter=lighter,
        own=own,
        known_lifts=client.known_lifts,
    )


def is_uneasy(reason: str) -> bool:
    """Whether a lift is out since it is too easy or too hard for the usual repetitions: nothing that a coach who asks for it may not have."""
    return TOO_LIGHT_FOR in reason or ALLOWS_FEW in reason


def _second_best(
    client: Client, facts: Mapping[str, LiftFacts], light: Mapping[str, LiftFacts], out: Mapping[str, str], progress: Progress
) -> dict[str, LiftFacts]:
    """For muscles with hardly a lift that sore joints bear, for jobs of the week and for movements that a muscle wants: lifts whose heaviest load
    is light or whose lightest allows few, then those that are easy; many repetitions, or few, are better than none. An easy start takes
    back none that allows few for the sake of a wish.
    """
    sound = {i: f for i, f in facts.items() if borne(client, i, all_lifts().family[i], usual_nm(client, f)).stays}
    short = [set(target_named(m).heads) for m in named_muscles(client) if _meant(sound, target_named(m).heads) < LEFT]
    families = {all_lifts().family[i] for i in facts}
    missing = set().union(*(job for job in JOBS if not job & families))
    found = {i: f for i, f in light.items() if any(heads & set(all_lifts().lifts[i].targets) for heads in short)}
    found |= {i: f for i, f in light.items() if all_lifts().family[i] in missing}
    for x in lists().movement:
        if client.wishes.priority.get(x.muscle, 1.0) > x.raised and not (x.from_sets or x.lifts & facts.keys()):
            found |= {i: light[i] for i in sorted(x.lifts & light.keys()) if not (starts_easy(client) and ALLOWS_FEW in out[i])}
    undone = [job for job in OF_A_WEEK if not any(practice(i).staple and _does(i, job) for i in sound)]
    found |= {i: f for i, f in light.items() if any(_does(i, job) for job in undone) or turned_to_with_less(client, i)}
    undone = [job for job in undone if not any(_does(i, job) for i in found)]
    still = [heads for heads in short if _meant({**sound, **found}, heads) < LEFT]
    easy = [
        i
        for i, why in sorted(out.items())
        if why == TOO_EASY and (any(h & set(all_lifts().lifts[i].targets) for h in still) or any(_does(i, job) for job in undone))
    ]
    asked = [(i, all_lifts().lifts[i], "full") for i in easy]
    solved = facts_of_lifts(calibrated_person(client), asked, progress) if asked else {}  # type: ignore[arg-type]
    return found | {i: f for (i, _), f in solved.items() if not isinstance(f, str)}


def _does(lift_id: str, job: str) -> bool:
    """Whether a lift is one of several joints that does a job of the week."""
    return practice(lift_id).multi and practice(lift_id).pattern in lists().jobs[job]


def _meant(facts: Mapping[str, LiftFacts], heads: Collection[str]) -> int:
    """How many lifts are meant for some heads."""
    lifts, wanted = all_lifts().lifts, set(heads)
    return sum(bool(wanted & {*lifts[i].targets}) for i in facts)


def day_offers(client: Client) -> tuple[DayOffer, ...]:
    """The days of a client with what is there and what they hold; the body itself is always there.

    Raises:
        InputError: none.
    """
    if not client.days:
        raise InputError(f"{client.name} has no training days; add them to the record as days", asked=client.name, allowed=["days"])
    order = sorted(client.days, key=lambda d: WEEKDAYS.index(d.day))
    raised = [m for m, much in client.wishes.priority.items() if much > 1]
    usual = shapes(len(order), client.wishes.template, client.training == "untrained", raised)
    held = {d.day: d.holds or own for d, own in zip(order, usual, strict=True)}
    enough = all(days_of(m, tuple(held.values())) >= TWICE for m in raised)
    asked = client.wishes.template != "usual" and enough
    return tuple(offer(client, d.place, d.day, d.minutes, held[d.day], asked or bool(d.holds)) for d in client.days)


def muscles_of(client: Client, facts: Sequence[LiftFacts], counted: Sequence[Mapping[str, float]]) -> tuple[Muscle, ...]:
    """The muscles of a client's week: the usual ones and those named, less those with priority 0.

    Args:
        counted: of each lift, the fraction of a set that each head gets.

    Raises:
        InputError: none is left.
    """
    targets = [target_named(m) for m in named_muscles(client)]
    if not targets:
        raise InputError(f"{client.name}: every muscle has priority 0; give one at least a priority above 0", asked=client.name)
    if not facts:
        raise InputError(
            f"{client.name}: no lift is left for a week; refuse fewer lifts, or list more equipment for the places",
            asked=client.name,
        )
    strength = {h: own.strength_n for h, own in facts[0].heads.items()}
    out = []
    for t in targets:
        band, priority = weekly_band(client, t.name), client.wishes.priority.get(t.name, 1.0)
        share, floor = head_shares(strength, t.heads, counted), _floor(client, t.name, priority)
        floor = floor if band.own or client.wishes.phase == "grow" else min(floor, band.low)
        out.append(Muscle(name=t.name, share=share, priority=priority, low=band.low, high=band.high, own=band.own, floor=floor))
    return tuple(out)


def _floor(client: Client, muscle: str, priority: float) -> float:
    """Counted sets a week below which the week is told to fall short."""
    rules = default_rules()
    if priority > 1:
        new = client.training in ("untrained", "recreational")
        return rules.floor_raised_new if new else rules.floor_raised
    if muscle in SMALL and len(client.days) < SMALL_FROM_DAYS:
        return rules.floor_alone if muscle in ALONE else 0.0
    if muscle in BIG:
        short = _all_but_short(client) or (muscle in ON_ONE_OF_TWO and _two_short(client))
        return rules.floor_small if short else rules.floor_big
    return rules.floor_small if muscle in SMALL else 0.0


def _all_but_short(client: Client) -> bool:
    """Whether three days or more are so short that few of them hold what a big muscle's floor asks for."""
    long = sum(d.minutes >= FULL_DAY_MIN for d in client.days)
    return long < SMALL_FROM_DAYS <= len(client.days)


def _two_short(client: Client) -> bool:
    """Whether one or two short days hold little beside a squat or hinge, a press and a pull each."""
    return len(client.days) < FEW_DAYS and all(d.minutes <= default_rules().short_day_min for d in client.days)


def choice_of(
    client: Client, facts: LiftFacts, worth: SetWorth, muscles: Sequence[Muscle], own: Own, measure: GrowthMeasure
) -> Choice:
    """A lift as the planner needs it."""
    part, growth, known = worth.counted, worth.growth, practice_for(client, facts.lift_id)
    lift = all_lifts().lifts[facts.lift_id]
    named = {*lift.targets, *lift.movers}
    value = {
        m.name: measure.worth(growth, m, lift.targets)
        for m in muscles
        if named & set(m.share) and sum(s * part.get(h, 0.0) for h, s in m.share.items()) >= SERVES
    }
    way = saving_on(client, facts.lift_id, starts_easy(client)) if client.wishes.methods else ""
    times = methods()[way].counts if way else 1
    rising = is_heavy(client, facts) or (tires(client, facts) and _shown(client))
    return Choice(
        lift=facts.lift_id,
        range="full",
        name=facts.name,
        gear=facts.gear,
        value=value,
        fraction={h: times * n for h, n in part.items()},
        growth=growth,
        setup_s=facts.setup_s
        + (TRANSFER_S if client.wishes.seated_only else 0.0)
        + (RISING_S if rising else _light_warm_up_s(known, is_warmed(client, facts))),
        set_s=facts.seconds_per_set - facts.setup_s / 3 - REST_S + (methods()[way].extra_s if way else 0.0),
        rest_s=rest_of(client, facts, starts_easy(client)),
        joint_nm=usual_nm(client, facts),
        systemic=systemic(facts),
        practice=known,
        at_length={h: facts.heads[h].long_range_load for h in lift.targets},
        kept=facts.lift_id in own.kept,
        liked=facts.lift_id in own.liked,
        familiar=is_done(client, facts.lift_id, lift),
        rival=own.rivalled(facts.lift_id),
        kind=_kind(facts, part, value, muscles),
        method=way,
    )


def _light_warm_up_s(known: Practice, warmed: bool) -> float:
    """What the sets before a lift that does not tire the whole body take [s]."""
    if not known.multi:
        return 0.0
    return RISING_LIGHT_S if warmed else ONE_SET_S


def _shown(client: Client) -> bool:
    """Whether a beginner's days are not short, so that there is time to be shown lifts."""
    longest = max((d.minutes for d in client.days), default=0.0)
    return client.training == "untrained" and longest >= default_rules().short_day_min


def _kind(facts: LiftFacts, part: Mapping[str, float], value: Mapping[str, float], muscles: Sequence[Muscle]) -> str:
    """Lifts of one family that serve the same muscle most are of one kind."""
    worth = {m.name: value[m.name] * sum(s * part.get(h, 0.0) for h, s in m.share.items()) for m in muscles if m.name in value}
    return f"{all_lifts().family[facts.lift_id]}: {max(worth, key=lambda name: worth[name], default='')}"


def _no_load(client: Client, facts: LiftFacts, days: Sequence[DayOffer], own: Own) -> str:
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
