"""From a client to the lifts, muscles and days that a week may be made of."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from lengthwise.errors import InputError
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.target import target_named
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.mechanics.measures import REST_S
from lengthwise.planning.jobs import OF_A_WEEK
from lengthwise.planning.practice import Practice, lists
from lengthwise.planning.question import WEEKDAYS, DayOffer, Muscle
from lengthwise.planning.rules import default_rules
from lengthwise.planning.shape import TWICE, days_of, shapes
from lengthwise.planning.shortlist import JOBS
from lengthwise.planning.week import Choice
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import begun_less, borne, works
from lengthwise.practice.hard_sets import ALLOWS_FEW, bites, hard_part, less_worth
from lengthwise.practice.joint_caps import capped, held_to_caps, usual_nm, with_like
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.lift_growth import GrowthMeasure, SetWorth, growth_draws, measure_of, worth_of
from lengthwise.practice.loadable import is_uneasy, no_load
from lengthwise.practice.outgrown import one_sided, outgrown
from lengthwise.practice.rests import is_heavy, is_warmed, rest_of, systemic, tires
from lengthwise.practice.sore_choices import TOO_MUCH, eased, least_parts, sparing_joints, turned_to
from lengthwise.practice.week_lifts import Own, named_muscles, offer, own_lifts_of, practice, practice_for, saving_on
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.methods import methods
from lengthwise.training.sore import is_done, turned_to_with_less
from lengthwise.weeks.week_candidates import TOO_EASY, candidates, needless_bands
from lengthwise.weeks.week_muscles import muscles_of

SERVES = 0.15
"""A lift serves a muscle when a set counts at least this much for it (own choice)."""
SERVES_SORE = 0.1
"""So much is enough of a lift that is meant for a muscle where a joint is sore: a straight-leg raise lies near the other (own choice)."""
RISING_S = 150.0
"""The rising sets before a heavy lift (rests.py) take so much: common practice, no source."""
TRANSFER_S = 60.0
"""Who keeps to a seat needs so much more to change lifts: getting from chair to bench, brakes, straps [s] (common practice, no source)."""
RISING_LIGHT_S, ONE_SET_S = 90.0, 45.0
"""What the rising sets of other multi-joint lifts take, and the one set before a light load: 4 s a repetition, half a minute after each, and of a
muscle's later lifts of a day one set alone (common practice, no source)."""
MORE_LOAD = "does the same here with more load"
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


def offer_of(
    client: Client,
    progress: Progress = no_progress,
    last: Collection[str] = (),
    wanted: Collection[str] = (),
    needed: Collection[str] = (),
) -> Offer:
    """Lifts, muscles and days of a client.

    Args:
        last: ids of the lifts of the week before. wanted: ids that are looked at whatever any list says. needed: those of them
            that stay beside lifts that do the same.

    Raises:
        InputError: the client has no training days, or every muscle has priority 0.
    """
    days = day_offers(client)
    own = own_lifts_of(client, last)
    ids, out = candidates(client, days, own, wanted)
    asked = [i for i in ids if i not in out or i in wanted]
    facts, light, out = _able(client, days, own, asked, out, (wanted, needed), progress)
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


def held_by_week(client: Client, lift_ids: Collection[str], progress: Progress = no_progress) -> frozenset[str]:
    """Those of some lifts that a week of a client may hold once they stand in it: none in a position, by a name or with a load that a sore joint is
    spared.
    """
    return frozenset(c.lift for c in offer_of(client, progress, lift_ids, lift_ids, lift_ids).choices) & {*lift_ids}


def _able(
    client: Client,
    days: Sequence[DayOffer],
    own: Own,
    asked: Sequence[str],
    out: Mapping[str, str],
    named: tuple[Collection[str], Collection[str]],
    progress: Progress,
) -> tuple[dict[str, LiftFacts], dict[str, LiftFacts], dict[str, str]]:
    """Facts of the lifts that the client can do for a hard set, those of lifts that are too light for one, and why others are out; `named`
    is what `offer_of` calls wanted and needed.
    """
    wanted, needed = named
    lifts = [(i, all_lifts().lifts[i], "full") for i in asked]
    found = facts_of_lifts(calibrated_person(client), lifts, progress)  # type: ignore[arg-type]
    out = {**out} | {i: f for (i, _), f in found.items() if isinstance(f, str)}
    facts = {i: f for (i, _), f in found.items() if not isinstance(f, str)}
    light: dict[str, LiftFacts] = {}
    for i, f in facts.items():
        reason = no_load(client, f, days, own)
        if not reason or (is_uneasy(reason) and i in wanted):
            continue
        out[i] = reason
        light |= {i: f} if is_uneasy(reason) else {}
    facts = {i: f for i, f in facts.items() if i not in out}
    raised = {h for m, n in client.wishes.priority.items() if n > 1 for h in target_named(m).heads}
    asked_too = [(i, all_lifts().lifts[i], "full") for i in sorted(one_sided(client, facts, days, own) - out.keys())]
    sided = {i: f for (i, _), f in facts_of_lifts(calibrated_person(client), asked_too, progress).items() if not isinstance(f, str)}  # type: ignore[arg-type]
    heavier = outgrown(client, facts, days, own, sided)
    needless = needless_bands(facts, days, own, raised) | {
        i: f"{all_lifts().lifts[others[0]].name} {MORE_LOAD}" for i, others in heavier.items()
    }
    needless = {i: why for i, why in needless.items() if i not in needed}
    there = {k: sided[k] for i, others in heavier.items() for k in others if k in sided}
    out, facts = out | needless, {i: f for i, f in {**facts, **there}.items() if i not in needless}
    facts |= _second_best(client, facts, light, out, progress)
    return facts, light, {i: reason for i, reason in out.items() if i not in facts}


def _second_best(
    client: Client, facts: Mapping[str, LiftFacts], light: Mapping[str, LiftFacts], out: Mapping[str, str], progress: Progress
) -> dict[str, LiftFacts]:
    """For muscles with hardly a lift that sore joints bear, for jobs of the week and for movements that a muscle wants: lifts whose heaviest load
    is light or whose lightest allows few, then those that are easy; many repetitions, or few, are better than none. An easy start takes
    back none that allows few for the sake of a wish.
    """
    refused = {all_lifts().find(name) for name in client.wishes.refused}
    sound = {
        i: f for i, f in facts.items() if i not in refused and borne(client, i, all_lifts().family[i], usual_nm(client, f)).stays
    }
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


def choice_of(
    client: Client, facts: LiftFacts, worth: SetWorth, muscles: Sequence[Muscle], own: Own, measure: GrowthMeasure
) -> Choice:
    """A lift as the planner needs it."""
    part, growth, known = worth.counted, worth.growth, practice_for(client, facts.lift_id)
    lift = all_lifts().lifts[facts.lift_id]
    named = {*lift.targets, *lift.movers}
    meant = SERVES_SORE if client.sore_joints else SERVES
    value = {
        m.name: measure.worth(growth, m, lift.targets)
        for m in muscles
        if named & set(m.share)
        and sum(s * part.get(h, 0.0) for h, s in m.share.items()) >= (meant if {*lift.targets} & set(m.share) else SERVES)
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
