"""What a client could do instead of a lift: for the same heads, with the new load, why, and what is lost."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, Literal, get_args

from lengthwise.actions.clients import lighter_of, starts_easy, with_sore
from lengthwise.actions.hard_sets import light_part
from lengthwise.actions.known_strength import calibrated_person
from lengthwise.actions.lift_facts import facts_of_lifts
from lengthwise.actions.lift_growth import worth_of
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.loading import Loading
from lengthwise.actions.past import NOTHING, Past
from lengthwise.actions.sore_choices import is_easy, spared_nm
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.actions.week_choices import Offer, choice_of, day_offers, offer_of
from lengthwise.actions.week_lifts import BODY, KEEPS_STILL, MAIN, fits, is_same_sort, sort_of
from lengthwise.actions.week_loads import loaded
from lengthwise.body.muscle_names import in_full
from lengthwise.errors import InputError, NoSolutionError, unknown
from lengthwise.grading.joint_load import references
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.assembly import REPETITIONS, RESERVE
from lengthwise.planning.model import trained
from lengthwise.planning.pairing import main_muscle
from lengthwise.planning.practice import lists
from lengthwise.planning.question import Question
from lengthwise.planning.week import MANNERS, Choice, PlannedLift
from lengthwise.quantities import percent
from lengthwise.training.client import Client, joint_named
from lengthwise.training.client import joint_told as in_words
from lengthwise.training.sore import bears_usual, hurts_many, is_done, keeps_less, sparing_part, spoiled, stops

Because = Literal["", "pain", "gear", "time", "taste"]
Where = Literal["", "neck", "shoulder", "elbow", "wrist", "trunk", "hip", "knee", "ankle"]
"""Joints that may hurt; the trunk is the back."""
MOST, OF_A_PATTERN = 5, 2
GROWTH_STEPS = 20
"""Growth is told apart in so many steps up to that of the lift that goes (own choice)."""
SERVES, LOSES = 0.5, 0.3
"""A head that got at least SERVES of a set and gets less than LOSES has lost its lift (own choice)."""
LEAST_SHARED = 0.4
"""A replacement gives at least this part of what the lift gives its heads, in sets and in growth (own choice)."""
EASIER = 0.7
"""For pain: the joint carries at most this part of what the lift puts on it (own choice)."""
QUICKER = 0.85
ALIKE = 0.9
"""Growth below this part of that of the lift that goes is a loss to be told (own choice)."""
SETS = 3
OTHER = 3
"""How far another job is (`_far`)."""


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
    to be spared, for pain; `guessed` says whether nobody named it.
    """

    PUBLIC: ClassVar = "lift because sparing_part=part joint joint_guessed=guessed candidates"
    lift: str
    name: str
    because: Because
    candidates: tuple[SwapCandidate, ...]
    part: str = ""
    joint: str = ""
    guessed: bool = False


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
    same = _same_heads(client, lift_id)

    def looked(record: Client) -> tuple[Offer, Choice]:
        offer = offer_of(record, progress, wanted=same)
        return offer, next((c for c in offer.choices if c.lift == lift_id), None) or _computed(client, lift_id, offer)

    offer, old = looked(past.of(client))
    refused = {all_lifts().find(n) for n in client.wishes.refused}
    hurts = _hurting(client, old, past, joint) if because == "pain" else ""
    why = _Why(because, hurts, with_sore(past.of(client), hurts))
    if hurts in client.sore_joints:  # by what each puts on the joint, not by what a week leaves of them
        offer, old = looked(_without(past.of(client), hurts))
    question = Question(choices=offer.choices, days=offer.days, muscles=offer.muscles)
    near = [c for c in offer.choices if c.lift not in refused | {lift_id} and c.lift in {*same}]
    parts = {i: part for c in near for i, part in _parts(why, c).items()}
    near = [_with_part(c, parts.get(c.lift, 1.0)) for c in near]
    able = [c for c in near if _suits(why, old, c)]
    here = _here(client, able, offer)
    worth = {c.lift: _worth(why, old, c, question) * parts.get(c.lift, 1.0) * here[c.lift] for c in able}
    alike = [c for c in able if min(_shared(old, c), worth[c.lift]) >= LEAST_SHARED or {lift_id, c.lift} <= KEEPS_STILL]
    best = _best(old, alike, worth)
    if not best:
        raise NoSolutionError(
            f"no lift available does what {old.name} does{f' and spares the {in_words(hurts)}' if hurts else ''}", asked=asked
        )
    how = Loading(why.client, client, easy, {**offer.lighter, **parts})
    told = tuple(_candidate(why, question, old, c, worth[c.lift], how) for c in best)
    return Swap(
        lift=lift_id,
        name=old.name,
        because=because,
        candidates=told,
        part=_sparing(why.client, old) if hurts else "",
        joint=hurts,
        guessed=bool(hurts) and not joint,
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
            f"which joint hurts in {old.name}? Name it: --joint {', '.join(references())}", asked="joint", allowed=[*references()]
        )
    return found


def joint_told(found: Swap) -> str:
    """Which joint replacements spare, and how it came to that."""
    if found.guessed:
        return f"By the log or the record it is the {in_words(found.joint)} that hurts: these spare it. Name another joint where it is another."
    return f"These spare the {in_words(found.joint)}: it carries less, out of the positions that hurt such joints."


@dataclass(frozen=True)
class _Why:
    """Why a lift goes, the joint that hurts, and the client with that joint sore."""

    because: Because
    joint: str
    client: Client


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


def _parts(why: _Why, new: Choice) -> dict[str, float]:
    """What sore joints leave of a lift's usual load, as a week would begin it; nothing where it bears the whole."""
    return lighter_of(why.client, new.lift)


def _with_part(choice: Choice, part: float) -> Choice:
    """A lift with so much of its usual load; what the body itself weighs cannot be cut."""
    cut = 1.0 if choice.gear == BODY else part
    return (
        choice if part == 1 else replace(choice, joint_nm={j: cut * nm for j, nm in choice.joint_nm.items()}, gentle=is_easy(part))
    )


def _best(old: Choice, choices: Sequence[Choice], worth: Mapping[str, float]) -> list[Choice]:
    """The best few: what loses the lift's own heads last; the same job first, whatever it grows; real sets before easy ones; lifts that any coach
    would write down, where no better one is there, no more than two of one pattern; the nearest job, then in order of growth.
    """

    def rank(c: Choice) -> tuple[bool, bool, bool, bool, int]:
        second = not c.practice.staple or lists().better.get(c.lift) in worth
        return _misses(old, c), _far(old, c) == OTHER, c.gentle, second, _far(old, c)

    ranked = sorted(choices, key=lambda c: (*rank(c), -min(worth[c.lift], 1.0), -worth[c.lift], c.lift))
    taken, out = Counter[str](), []
    for c in ranked:
        taken[c.practice.pattern] += 1
        if taken[c.practice.pattern] <= OF_A_PATTERN:
            out.append(c)
    return sorted(out[:MOST], key=lambda c: (*rank(c), -min(round(worth[c.lift] * GROWTH_STEPS), GROWTH_STEPS)))


def _far(old: Choice, new: Choice) -> int:
    """How far a lift's job is from that of another: the same pattern for the same head first, the same pattern, the same sort of the week's jobs,
    another job; what works one joint never has the job of what works several.
    """
    one, other = old.practice, new.practice
    if one.multi != other.multi:
        return OTHER
    if is_same_sort(one, other):
        return 0 if one.targets[0] == other.targets[0] else 1
    return 2 if sort_of(old.lift) == sort_of(new.lift) else OTHER


def _misses(old: Choice, new: Choice) -> bool:
    """Whether half or more of the heads that a lift is meant for and works hardly work any more."""
    worked = [h for h in old.practice.targets if old.fraction.get(h, 0.0) >= SERVES]
    return 2 * sum(new.fraction.get(h, 0.0) < LOSES for h in worked) >= max(len(worked), 1)


def _here(client: Client, choices: Sequence[Choice], offer: Offer) -> dict[str, float]:
    """What the loads that are there leave of the growth of each lift: a squat with a weight a tenth of the usual is no hard set."""
    facts = facts_of_lifts(calibrated_person(client), [(c.lift, all_lifts().lifts[c.lift], "full") for c in choices])
    return {i: 1.0 if isinstance(f, str) else light_part(client, f, offer.days) for (i, _), f in facts.items()}


def _worth(why: _Why, old: Choice, new: Choice, question: Question) -> float:
    """How much a hard set with the usual load grows beside the old lift; for pain no more than that: where the joint carries less, so do the muscles over it."""
    still = {old.lift, new.lift} <= KEEPS_STILL  # what holds the trunk still grows by its sets: the law knows nothing of a hold
    ratio = _shared(old, new) if still else growth_ratio(old, new, question)
    return min(ratio, 1.0) if why.joint else ratio


def growth_ratio(old: Choice, new: Choice, question: Question) -> float:
    """How much a hard set of another lift grows the heads that a lift is mainly for, the first of its targets, as a ratio to the lift's own."""
    share, main = {h: part for m in question.muscles for h, part in m.share.items()}, old.practice.targets[:MAIN]
    heads = {h: share[h] for h in main if h in share} or dict.fromkeys(main, 1.0)
    before, after = (sum(s * c.growth.get(h, 0.0) for h, s in heads.items()) for c in (old, new))
    return after / before if before > 0 else _shared(old, new)


def _same_heads(client: Client, lift_id: str) -> list[str]:
    """Lifts that can be done at a place of the client and are meant for a head that the lift is meant for."""
    days, heads = day_offers(client), set(all_lifts().lifts[lift_id].targets)
    return [i for i, lift in sorted(all_lifts().lifts.items()) if heads & set(lift.targets) and any(fits(i, d) for d in days)]


def _computed(client: Client, lift_id: str, offer: Offer) -> Choice:
    """A lift that is no longer available: what it gave is still to be known.

    Raises:
        InputError: the body cannot do it in the model.
    """
    lift = all_lifts().lifts[lift_id]
    found = facts_of_lifts(calibrated_person(client), [(lift_id, lift, "full")])[lift_id, "full"]
    if isinstance(found, str):
        raise InputError(f"{lift.name} cannot be computed on this body ({found}), so nothing can be held against it", asked=lift_id)
    return choice_of(client, found, worth_of(found, offer.measure.draws), offer.muscles, offer.own, offer.measure)


def _shared(old: Choice, new: Choice) -> float:
    """The part of what a lift gives its targets that another gives them."""
    wanted = {h: old.fraction.get(h, 0.0) for h in old.practice.targets}
    return sum(min(f, new.fraction.get(h, 0.0)) for h, f in wanted.items()) / max(sum(wanted.values()), 1e-9)


def _suits(why: _Why, old: Choice, new: Choice) -> bool:
    """Whether a lift answers the reason; for pain the joint carries less and stays out of the positions that such joints are spared."""
    because, joint = why.because, why.joint
    if because == "pain":
        bars = {MANNERS.get(old.gear), MANNERS.get(new.gear)} == {"whole bar"}
        if (new.practice.family, new.gear) == (old.practice.family, old.gear) or (bars and sort_of(new.lift) == sort_of(old.lift)):
            return False  # the same load on the same joint in another dress
        lift, same = all_lifts().lifts[new.lift], sort_of(new.lift) == sort_of(old.lift)
        kept = (same and keeps_less(why.client, joint, new.lift, lift, all_lifts().family[new.lift])) or bears_usual(
            why.client, joint, new.practice.family
        )
        lighter = kept or new.joint_nm.get(joint, 0.0) <= EASIER * old.joint_nm.get(joint, 0.0)
        return lighter and not hurts_many(joint, new.lift) and not spoiled(why.client, new.lift, lift, new.practice.family)
    if because == "gear":
        return new.gear != old.gear
    if because == "time":
        return _seconds(new) <= QUICKER * _seconds(old)
    return because != "taste" or (new.practice.family, new.gear) != (old.practice.family, old.gear)


def sore_joint(client: Client, lift: Choice) -> str:
    """The joint that a lift is likely to hurt: a sore one that it loads most beside what is allowed, else the one it loads most."""
    limits = spared_nm(client)
    loaded_most = {j: nm / max(limits.get(j, 1e3), 1e-9) for j, nm in lift.joint_nm.items()}
    return max(loaded_most, key=lambda j: (loaded_most[j], j), default="")


def _seconds(choice: Choice) -> float:
    return choice.setup_s + SETS * (choice.set_s + choice.rest_s)


def _candidate(why: _Why, question: Question, old: Choice, new: Choice, growth: float, how: Loading) -> SwapCandidate:
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


def _reason(why: _Why, old: Choice, new: Choice, question: Question) -> str:
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
        return f"{lead}, and {SETS} sets take {_seconds(new) / 60:.0f} min instead of {_seconds(old) / 60:.0f}"
    return f"{lead}, with {gear()[new.gear].name} instead of {gear()[old.gear].name}" if because == "gear" else lead


def _lost(old: Choice, new: Choice, growth: float) -> str:
    gone = [h for h, f in sorted(old.fraction.items()) if f >= SERVES and new.fraction.get(h, 0.0) < LOSES]
    short = sorted(h for h in old.long - new.long if new.fraction.get(h, 0.0) >= LOSES)
    said = [f"about {percent(1 - growth)} of the growth"] if growth < ALIKE else []
    said = ["most of the growth: easy sets, while it hurts"] if new.gentle else said
    said += [f"{_names(gone)} hardly work{'s' if len(gone) == 1 else ''} any more"] if gone else []
    said += [f"{_names(short)} {'is' if len(short) == 1 else 'are'} no longer loaded at length"] if short else []
    return "; ".join(said)


def _names(heads: Sequence[str]) -> str:
    return " and ".join([", ".join(map(in_full, heads[:-1])), in_full(heads[-1])] if len(heads) > 1 else [in_full(heads[0])])
