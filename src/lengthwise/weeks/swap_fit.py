"""Which lifts stand in for another, best first: for the same heads, for the reason that it goes, with what sore joints leave of them."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.practice import lists
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import MANNERS, Choice
from lengthwise.practice.borne import is_easy
from lengthwise.practice.hard_sets import light_part
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.loading import is_turned_to
from lengthwise.practice.logged_pain import rest_after_pain, rests_of
from lengthwise.practice.week_lifts import BODY, KEEPS_STILL, MAIN, is_same_sort, sort_of
from lengthwise.training.client import Client
from lengthwise.training.sore import bears_usual, hurts_many, keeps_less, practice_turns_to, spoiled
from lengthwise.weeks.clients import lighter_of
from lengthwise.weeks.week_choices import Offer
from lengthwise.weeks.week_steps import strains

Because = Literal["", "pain", "gear", "time", "taste"]
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


@dataclass(frozen=True)
class Why:
    """Why a lift goes, the joint that hurts, and the client with that joint sore; wide: whether what trains one of its heads, or easy sets, will do."""

    because: Because
    joint: str
    client: Client
    wide: bool = False


@dataclass(frozen=True)
class Replacements:
    """The best replacements, and what all rest on: the parts of their usual loads, and what they are worth beside the old lift.

    Attributes:
        best: the few that a coach would look at. ranked: every one, nearest first.
    """

    question: WeekQuestion
    best: list[Choice]
    ranked: list[Choice]
    parts: Mapping[str, float]
    worth: Mapping[str, float]


def found_instead(why: Why, old: Choice, offer: Offer, heads: Collection[str]) -> Replacements:
    """What an offer holds instead of a lift, for one of some heads."""
    question, client = WeekQuestion(choices=offer.choices, days=offer.days, muscles=offer.muscles), why.client
    gone, rests = {*(all_lifts().find(n) for n in client.wishes.refused), old.lift}, rests_of(client, date.today())
    gone |= {
        c.lift for c in offer.choices if rest_after_pain(client, c.lift, rests) and not is_turned_to(client, c.lift, why.joint)
    }
    near = [c for c in offer.choices if c.lift not in gone and {*heads} & {*all_lifts().lifts[c.lift].targets}]
    parts = {i: part for c in near for i, part in _parts(why, c).items()}
    able = [c for c in (_with_part(c, parts.get(c.lift, 1.0)) for c in near) if _suits(why, old, c)]
    here = _here(client, able, offer)
    worth = {c.lift: _worth(why, old, c, question) * parts.get(c.lift, 1.0) * here[c.lift] for c in able}
    alike = [c for c in able if _is_like(why, old, c, worth[c.lift])]
    return Replacements(question, *_best(why, old, alike, worth), parts, worth)


def _is_like(why: Why, old: Choice, new: Choice, worth: float) -> bool:
    """Whether a lift gives enough of what another gives; where nothing does without pain, a set of one of its heads will do."""
    if why.wide:
        both = (h for h in new.practice.targets[:MAIN] if min(c.fraction.get(h, 0.0) for c in (old, new)) >= SERVES)
        return (new.gentle or worth >= LEAST_SHARED) and any(both)
    return min(shared(old, new), worth) >= LEAST_SHARED or {old.lift, new.lift} <= KEEPS_STILL


def _parts(why: Why, new: Choice) -> dict[str, float]:
    """What sore joints leave of a lift's usual load, as a week would begin it; nothing where it bears the whole."""
    return lighter_of(why.client, new.lift)


def _with_part(choice: Choice, part: float) -> Choice:
    """A lift with so much of its usual load; what the body itself weighs cannot be cut."""
    cut = 1.0 if choice.gear == BODY else part
    return (
        choice
        if part == 1
        else replace(choice, joint_nm={j: cut * nm for j, nm in choice.joint_nm.items()}, gentle=choice.gentle or is_easy(part))
    )


def _best(why: Why, old: Choice, choices: Sequence[Choice], worth: Mapping[str, float]) -> tuple[list[Choice], list[Choice]]:
    """The best few, and all in that order: what loses the lift's own heads last; the same job first, whatever it grows; real sets before easy ones; lifts that any coach
    would write down, where no better one is there, no more than two of one pattern; what practice turns to for a joint that hurts; the nearest job,
    for pain one of the family, then in order of growth.
    """

    def rank(c: Choice) -> tuple[bool, bool, bool, bool, bool, int, bool]:
        turned = practice_turns_to(why.joint, c.practice.family)
        like = bool(why.joint) and c.practice.family == old.practice.family
        second = not c.practice.staple or lists().better.get(c.lift) in worth
        return _misses(old, c), _far(old, c) == OTHER, c.gentle, second, not turned, _far(old, c), not like

    ranked = sorted(choices, key=lambda c: (*rank(c), -min(worth[c.lift], 1.0), -worth[c.lift], c.lift))
    taken, out = Counter[str](), []
    for c in ranked:
        taken[c.practice.pattern] += 1
        if taken[c.practice.pattern] <= OF_A_PATTERN:
            out.append(c)
    return sorted(out[:MOST], key=lambda c: (*rank(c), -min(round(worth[c.lift] * GROWTH_STEPS), GROWTH_STEPS))), ranked


def does_the_same(old: Choice, new: Choice) -> bool:
    """Whether a lift has the job of another: what takes a row's place is a row."""
    return not _misses(old, new) and _far(old, new) != OTHER


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


def _worth(why: Why, old: Choice, new: Choice, question: WeekQuestion) -> float:
    """How much a hard set with the usual load grows beside the old lift; for pain no more than that: where the joint carries less, so do the muscles over it."""
    still = {old.lift, new.lift} <= KEEPS_STILL  # what holds the trunk still grows by its sets: the law knows nothing of a hold
    ratio = shared(old, new) if still else growth_ratio(old, new, question)
    return min(ratio, 1.0) if why.joint else ratio


def growth_ratio(old: Choice, new: Choice, question: WeekQuestion) -> float:
    """How much a hard set of another lift grows the heads that a lift is mainly for, the first of its targets, as a ratio to the lift's own. Where
    some of them lose, what others gain does not make up for it.
    """
    share, main = {h: part for m in question.muscles for h, part in m.share.items()}, old.practice.targets[:MAIN]
    heads = {h: share[h] for h in main if h in share} or dict.fromkeys(main, 1.0)
    was, now = ({h: c.growth.get(h, 0.0) if c.fraction.get(h, 0.0) >= LOSES else 0.0 for h in heads} for c in (old, new))
    if (before := sum(s * was[h] for h, s in heads.items())) <= 0:
        return shared(old, new)
    kept = sum(s * min(was[h], now[h]) for h, s in heads.items()) / before
    return sum(s * now[h] for h, s in heads.items()) / before if kept >= ALIKE else kept


def shared(old: Choice, new: Choice) -> float:
    """The part of what a lift gives its targets that another gives them."""
    wanted = {h: old.fraction.get(h, 0.0) for h in old.practice.targets}
    return sum(min(f, new.fraction.get(h, 0.0)) for h, f in wanted.items()) / max(sum(wanted.values()), 1e-9)


def _suits(why: Why, old: Choice, new: Choice) -> bool:
    """Whether a lift answers the reason; for pain the joint carries less and stays out of the positions that such joints are spared."""
    because, joint = why.because, why.joint
    if because == "pain":
        bars = {MANNERS.get(old.gear), MANNERS.get(new.gear)} == {"whole bar"}
        bars = bars and sort_of(new.lift) == sort_of(old.lift) and not practice_turns_to(joint, new.practice.family)
        if bars or (new.practice.family, new.gear) == (old.practice.family, old.gear):
            return False  # the same load on the same joint in another dress
        lift, same = all_lifts().lifts[new.lift], sort_of(new.lift) == sort_of(old.lift)
        less = keeps_less(why.client, joint, new.lift, lift, all_lifts().family[new.lift])
        if strains(why.client, new, joint) and not (less or (why.wide and new.gentle)):
            return False  # as in a week: nothing new that loads it much, but easy sets where nothing else is left
        kept = ((same or why.wide) and less) or bears_usual(why.client, joint, new.practice.family)
        kept = kept or (why.wide and new.gentle and new.practice.regression)  # what anybody begins with
        lighter = kept or new.joint_nm.get(joint, 0.0) <= EASIER * old.joint_nm.get(joint, 0.0)
        return lighter and not hurts_many(joint, new.lift) and not spoiled(why.client, new.lift, lift, new.practice.family)
    if because == "gear":
        return new.gear != old.gear
    if because == "time":
        return seconds_of(new) <= QUICKER * seconds_of(old)
    return because != "taste" or (new.practice.family, new.gear) != (old.practice.family, old.gear)


def seconds_of(choice: Choice) -> float:
    """What a few sets of a lift take with setting up and rests [s]."""
    return choice.setup_s + SETS * (choice.set_s + choice.rest_s)
