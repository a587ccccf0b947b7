"""What a client could do instead of a lift: for the same heads, with the new load, why, and what is lost."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import ClassVar, Literal, get_args

from lengthwise.body.anatomy import muscles
from lengthwise.body.muscle_names import in_full
from lengthwise.errors import InputError, NoSolutionError, unknown
from lengthwise.grading.joint_load import references
from lengthwise.grading.sentences import lift_in_text
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.assembly import REPETITIONS, RESERVE
from lengthwise.planning.pairing import main_muscle
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import Choice, PlannedLift, Swapped
from lengthwise.planning.week_model import trained
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import HALF, spared_nm
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.lift_growth import worth_of
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_lifts import fits, sort_of
from lengthwise.practice.week_loads import loaded
from lengthwise.quantities import percent
from lengthwise.records.past import NOTHING, Past
from lengthwise.training.client import Client
from lengthwise.training.known import known_of
from lengthwise.training.record_words import joint_named
from lengthwise.training.record_words import joint_told as in_words
from lengthwise.training.sore import is_done, sparing_part, spoiled, stops
from lengthwise.weeks.bare_muscles import eased_again
from lengthwise.weeks.swap_fit import ALIKE, EASIER, LOSES, SERVES, SETS, Because, Replacements, Why, found_instead, seconds_of
from lengthwise.weeks.week_choices import Offer, choice_of, day_offers, held_by_week, offer_of
from lengthwise.weeks.week_steps import strained

NOTHING_ELSE = "no lift available does what {} does"
NOTHING_SPARES = (
    f"{NOTHING_ELSE} and spares the {{}}: leave it out for two weeks, keep what does not hurt, and ask a clinician which part of its range may "
    "be done, with how much"
)
Where = Literal["", "neck", "shoulder", "elbow", "wrist", "trunk", "hip", "knee", "ankle"]
"""Joints that may hurt; the trunk is the back."""


@dataclass(frozen=True, kw_only=True)
class SwapCandidate:
    """A lift in place of another.

    Attributes:
        growth: of the same heads for a set with what is there, as a ratio to the lift that goes. planned: with its load and how to find it.
        reason: why it fits. lost: what it does not give, in words; empty where nothing is.
    """

    PUBLIC: ClassVar = """
        lift name growth load_kg=planned.load_kg guess=planned.guess
        repetitions=planned.repetitions find=planned.find reason lost
    """
    lift: str
    name: str
    growth: float
    planned: PlannedLift
    reason: str
    lost: str


@dataclass(frozen=True, kw_only=True)
class Swap:
    """A lift, why it goes, and what could come, best first.

    `part` is the half of the lift's own range that spares the joint, as it is cued; empty where none is known to. `joint` is the one that is
    to be spared, for pain; `guessed` says whether nobody named it. `sore`: the joints that are sore by record or log, in words.
    """

    PUBLIC: ClassVar = "lift because sparing_part=part joint joint_guessed=guessed candidates"
    lift: str
    name: str
    because: Because
    candidates: tuple[SwapCandidate, ...]
    part: str = ""
    joint: str = ""
    guessed: bool = False
    sore: str = ""


def swap_lift(
    client: Client, asked: str, because: Because = "", past: Past = NOTHING, progress: Progress = no_progress, joint: str = ""
) -> Swap:
    """The best replacements of a lift for a client.

    Args:
        joint: that hurts; where nobody names it, the one that hurt when the lift was last done, else the sore one of the record.

    Raises:
        UnknownNameError: no such lift. InputError: an unknown reason, nobody knows which joint hurts, or the screening says to see a clinician first.
        NoSolutionError: nothing available does the same.
    """
    joint = _checked(because, joint)
    client = past.today(client)
    easy, lift_id = starts_easy(client), all_lifts().find(asked)

    def looked(record: Client, heads: Collection[str], needed: Collection[str] = ()) -> tuple[Offer, Choice]:
        offer = offer_of(record, progress, wanted=for_heads(client, heads), needed=needed)
        return offer, next((c for c in offer.choices if c.lift == lift_id), None) or computed(client, lift_id, offer)

    def instead(why: Why, heads: Collection[str]) -> Replacements:
        found = found_instead(why, old, offer, heads)
        if not hurts or not found.ranked:
            return found
        held = held_by_week(why.client, {c.lift for c in found.ranked}, progress)
        return found_instead(why, old, replace(offer, choices=tuple(c for c in offer.choices if c.lift in held)), heads)

    heads = frozenset(all_lifts().lifts[lift_id].targets)
    offer, old = looked(past.of(client), heads)
    hurts = _hurting(client, old, past, joint) if because == "pain" else ""
    past = past.after(_told(past, client, lift_id, hurts))
    why = Why(because, hurts, past.of(client))
    spared = _without(past.of(client), hurts)  # by what each puts on the joint, not by what a week leaves of them
    if hurts in client.sore_joints:
        offer, old = looked(spared, heads)

    found = instead(why, heads)
    if why.client.sore_joints and not found.best and (more := frozenset(h for h, f in old.fraction.items() if f >= SERVES)):
        why = replace(why, wide=True)
        offer, old = looked(spared, more, for_heads(client, more))
        offer = eased_again(strained(why.client, offer), {c.lift for c in offer.choices if c.practice.regression})
        found = instead(why, more)
    if not found.best:
        raise NoSolutionError(
            NOTHING_SPARES.format(old.name, in_words(hurts)) if hurts else NOTHING_ELSE.format(old.name), asked=asked
        )
    easily = {c.lift: min(HALF, found.parts.get(c.lift, HALF)) for c in found.best if c.gentle}
    how = Loading(why.client, client, easy, {**offer.lighter, **found.parts, **easily})
    told = tuple(_candidate(why, found.question, old, c, found.worth[c.lift], how) for c in found.best)
    return Swap(
        lift=lift_id,
        name=old.name,
        because=because,
        candidates=told,
        part=_sparing(why.client, old) if hurts else "",
        joint=hurts,
        guessed=bool(hurts) and not joint,
        sore=" and ".join(map(in_words, client.sore_joints)),
    )


def _checked(because: str, joint: str) -> str:
    """The joint that hurts, by its own name.

    Raises:
        InputError: an unknown reason or joint.
    """
    if because not in get_args(Because):
        raise unknown("reason", because, [b for b in get_args(Because) if b])
    named = joint_named(joint)
    if named and named not in references():
        raise unknown("joint", named, references())
    return named


def _hurting(client: Client, old: Choice, past: Past, named: str) -> str:
    """The joint that is to be spared.

    Raises:
        InputError: nobody knows which.
    """
    sore = sore_joint(client, old) if client.sore_joints else ""
    found = named or past.joint(old.lift) or (sore if sore in client.sore_joints else "")
    if not found:
        raise InputError(
            f"which joint hurts in the {lift_in_text(old.name)}? Name it with --joint: {', '.join(references())}",
            asked="joint",
            allowed=[*references()],
        )
    return found


def joint_told(found: Swap) -> str:
    """Which joint replacements spare, and how it came to that; for other reasons than pain which sore ones they mind; empty where there is none."""
    if not found.joint:
        return (
            f"By the record or the log the {found.sore} is sore: lifts and loads here mind it as the week does."
            if found.sore
            else ""
        )
    if found.guessed:
        return f"By the log or the record it is the {in_words(found.joint)} that hurts: these spare it. Name another joint where it is another."
    return f"These spare the {in_words(found.joint)}: it carries less, out of the positions that hurt such joints."


def _told(past: Past, client: Client, lift_id: str, hurts: str) -> Swapped:
    """That a lift goes today for the sake of a joint, where one hurts; with its load in the last kept week, else as it was last done."""
    today, planned = (
        past.day or date.today(),
        [x for d in past.week.days for x in d.lifts if x.lift == lift_id] if past.week else [],
    )
    known = known_of(past.of(client).known_lifts, lift_id, all_lifts().lifts[lift_id])
    load, reps = (
        (planned[0].load_kg or 0.0, planned[0].repetitions[0])
        if planned
        else (known.load_kg, known.repetitions)
        if known
        else (0.0, 1)
    )
    return Swapped(lift=lift_id, to=lift_id, told=today, first=today, until=today, joint=hurts, load_kg=load, repetitions=reps)


def _without(client: Client, joint: str) -> Client:
    """The client as if a joint were not sore."""
    return client.model_copy(update={"sore_joints": {j: nm for j, nm in client.sore_joints.items() if j != joint}})


def _sparing(sore: Client, old: Choice) -> str:
    """The half of a lift's range that keeps a joint that hurts out of the positions that such joints are spared."""
    lift = all_lifts().lifts[old.lift]
    if deep := stops(sore, old.lift, lift, old.practice.family):
        return f"with half the load: {'; '.join(deep)}"
    if not spoiled(sore, old.lift, lift, old.practice.family):
        return ""
    part = sparing_part(sore, old.lift, lift, old.practice.family)
    return lift.ranges[part].cue if part else ""


def for_heads(client: Client, heads: Collection[str]) -> list[str]:
    """Lifts that can be done at a place of the client and are meant for one of some heads."""
    days = day_offers(client)
    return [i for i, lift in sorted(all_lifts().lifts.items()) if {*heads} & {*lift.targets} and any(fits(i, d) for d in days)]


def computed(client: Client, lift_id: str, offer: Offer) -> Choice:
    """A lift that is no longer available: what it gave is still to be known.

    Raises:
        InputError: the body cannot do it in the model.
    """
    lift = all_lifts().lifts[lift_id]
    found = facts_of_lifts(calibrated_person(client), [(lift_id, lift, "full")])[lift_id, "full"]
    if isinstance(found, str):
        raise InputError(f"{lift.name} cannot be computed on this body ({found}), so nothing can be held against it", asked=lift_id)
    return choice_of(client, found, worth_of(found, offer.measure.draws), offer.muscles, offer.own, offer.measure)


def sore_joint(client: Client, lift: Choice) -> str:
    """The joint that a lift is likely to hurt: a sore one that it loads most beside what is allowed, else the one it loads most."""
    limits = spared_nm(client)
    loaded_most = {j: nm / max(limits.get(j, 1e3), 1e-9) for j, nm in lift.joint_nm.items()}
    return max(loaded_most, key=lambda j: (loaded_most[j], j), default="")


def _candidate(why: Why, question: WeekQuestion, old: Choice, new: Choice, growth: float, how: Loading) -> SwapCandidate:
    muscle = main_muscle(question, new)
    place = next(d.place for d in question.days if new.gear in d.gear and new.practice.stations <= d.stations)
    plan = PlannedLift(
        lift=new.lift,
        range=new.range,
        name=new.name,
        sets=SETS,
        repetitions=REPETITIONS,
        reserve=RESERVE,
        muscle=muscle,
        gear=new.gear,
        rest_s=new.rest_s,
    )
    return SwapCandidate(
        lift=new.lift,
        name=new.name,
        growth=growth,
        planned=loaded(plan, how, place),
        reason=_reason(why, old, new, question),
        lost=_lost(old, new, growth),
    )


def _reason(why: Why, old: Choice, new: Choice, question: WeekQuestion) -> str:
    because, joint = why.because, why.joint
    main, targets = main_muscle(question, old), set(old.practice.targets)
    counts = {m.name: trained(new, m) for m in question.muscles if m.name == main or targets & set(m.share)}
    muscle = max(counts, key=lambda name: (round(counts[name], 1), name == main), default=main)
    does = counts.get(muscle, 0.0)
    lead = f"easy sets for {in_full(muscle)}" if new.gentle else f"a set counts {does:.1f} for {in_full(muscle)}"
    if because == "pain" and is_done(why.client, new.lift, all_lifts().lifts[new.lift]) and sort_of(new.lift) == sort_of(old.lift):
        return f"{lead}, and you do it without pain: no more load than that"
    if because == "pain":
        left = new.joint_nm.get(joint, 0.0) / max(old.joint_nm.get(joint, 0.0), 1e-9)
        bears = (
            f"the {in_words(joint)} carries {percent(left)} of what it did"
            if left <= EASIER
            else f"a sore {in_words(joint)} mostly bears it with this load"
        )
        return f"{lead}, and {bears}"
    if because == "time":
        return f"{lead}, and {SETS} sets take {seconds_of(new) / 60:.0f} min instead of {seconds_of(old) / 60:.0f}"
    return f"{lead}, with {gear()[new.gear].name} instead of {gear()[old.gear].name}" if because == "gear" else lead


def _lost(old: Choice, new: Choice, growth: float) -> str:
    gone = [h for h, f in sorted(old.fraction.items()) if f >= SERVES and new.fraction.get(h, 0.0) < LOSES]
    long = {
        h for heads in muscles().values() if new.long & {*heads} for h in heads
    }  # a muscle is loaded long where a head of it is, as in a week
    short = sorted(h for h in old.long - new.long - long if new.fraction.get(h, 0.0) >= LOSES)
    said = [f"about {percent(1 - growth)} of the growth"] if growth < ALIKE else []
    said = ["most of the growth: easy sets, while it hurts"] if new.gentle else said
    said += [f"{_names(gone)} hardly work{'s' if len(gone) == 1 else ''} any more"] if gone else []
    said += [f"{_names(short)} {'is' if len(short) == 1 else 'are'} no longer loaded at length"] if short else []
    return "; ".join(said)


def _names(heads: Sequence[str]) -> str:
    return " and ".join([", ".join(map(in_full, heads[:-1])), in_full(heads[-1])] if len(heads) > 1 else [in_full(heads[0])])
