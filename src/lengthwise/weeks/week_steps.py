"""What a week grows from: the week done last, the joints that hurt, and lifts that rest since they hurt."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from lengthwise.body.muscle_names import in_full
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import NEARLY_MET, Muscle, SetsBefore, WeekQuestion
from lengthwise.planning.steps import WAITS, held_back, most_sets
from lengthwise.planning.week import Choice, Conflict, Swapped, Week
from lengthwise.planning.week_model import counted
from lengthwise.planning.wording import at_least
from lengthwise.practice.borne import strains_nm
from lengthwise.practice.logged_pain import Hurt, rest_after_pain
from lengthwise.practice.swaps import away_told
from lengthwise.training.client import Client
from lengthwise.training.counted_sets import convention
from lengthwise.training.record_words import joint_told
from lengthwise.weeks.week_choices import Offer

NEARLY = 0.5
"""Counted sets short of a band that do not matter (own choice: sets are whole)."""


def without_resting(client: Client, offer: Offer, rests: Iterable[Hurt], fixed: Iterable[str]) -> Offer:
    """The offer without lifts that rest since they hurt, and those of their families that were never done, but for those that are fixed by hand."""
    rests, fixed = tuple(rests), {*fixed}
    asked = {*(h.lift for h in rests), *(c.lift for c in offer.choices)} - fixed
    out = {i: rest.why for i in sorted(asked) if (rest := rest_after_pain(client, i, rests))}
    return replace(offer, choices=tuple(c for c in offer.choices if c.lift not in out), out={**offer.out, **out})


def without_swapped(offer: Offer, away: Iterable[Swapped], fixed: Iterable[str]) -> Offer:
    """The offer without lifts that were swapped for others which can be done, but for those that are fixed by hand; where one hurts it is out
    anyhow.
    """
    fixed, here = {*fixed}, {c.lift for c in offer.choices}
    out = {s.lift: away_told(s) for s in away if s.lift not in fixed and (s.joint or s.to in here)}
    return replace(offer, choices=tuple(c for c in offer.choices if c.lift not in out), out={**offer.out, **out})


def strained(client: Client, offer: Offer) -> Offer:
    """The offer with what each lift strains of sore joints; easy sets that went without pain strain none."""

    def of(c: Choice) -> frozenset[str]:
        return frozenset() if c.gentle and c.familiar else frozenset(j for j in client.sore_joints if strains(client, c, j))

    return replace(offer, choices=tuple(replace(c, strains=of(c)) for c in offer.choices))


def strains(client: Client, choice: Choice, joint: str) -> bool:
    """Whether a lift strains a joint at the load that is usual for the client."""
    return strains_nm(client, choice.lift, joint, choice.joint_nm.get(joint, 0.0))


def done_of(base: Week, offer: Offer) -> SetsBefore:
    """The week done last as the planner grows from it."""
    strained_by = {c.key: c.strains for c in offer.choices}
    planned = [x for d in base.days for x in d.lifts]
    lifts = dict(sum((Counter({x.lift: x.sets}) for x in planned), Counter()))
    targets = {x.lift: set(all_lifts().lifts[x.lift].targets) for x in planned}
    muscles = {m.name: sum(x.sets for x in planned if targets[x.lift] & set(m.share)) for m in offer.muscles}
    joints = sorted({j for c in offer.choices for j in c.strains})
    strain = {j: sum(x.sets for x in planned if j in strained_by.get((x.lift, x.range), ())) for j in joints}
    return SetsBefore(
        sets=sum(x.sets for x in planned), muscles=muscles, counted=counted_before(base, offer), lifts=lifts, strain=strain
    )


def growing_of(base: Week, offer: Offer) -> frozenset[str]:
    """Muscles that the next week is to add sets for: those below their band in a week that was done, and raised ones up to its end."""
    had = counted_before(base, offer)
    return frozenset(m.name for m in offer.muscles if had[m.name] < (m.high if m.raised else m.low) - NEARLY)


def counted_before(week: Week, offer: Offer) -> dict[str, float]:
    """Counted sets of each muscle in a week; lifts that cannot be chosen any more count by the fixed convention."""
    known = {c.key: c for c in offer.choices}
    planned = [x for d in week.days for x in d.lifts]
    return {m.name: sum(x.sets * _counts(x.lift, known.get((x.lift, x.range)), m) for x in planned) for m in offer.muscles}


def _counts(lift_id: str, choice: Choice | None, muscle: Muscle) -> float:
    if choice is not None:
        return counted(choice, muscle)
    lift = all_lifts().lifts[lift_id]
    part: Mapping[str, float] = convention(lift.targets, lift.movers)
    return sum(share * part.get(head, 0.0) for head, share in muscle.share.items())


def own_bands_wait(asked: WeekQuestion, within: WeekQuestion, week: Week) -> Iterator[Conflict]:
    """Own bands that the steps keep a week from reaching."""
    for wanted, now in zip(asked.muscles, within.muscles, strict=True):
        if now.low < wanted.low and week.muscle_sets[wanted.name] < wanted.low - NEARLY_MET:
            yield Conflict(at_least(wanted.name, wanted.low).text, f"it gets {week.muscle_sets[wanted.name]:.1f}; {WAITS}")


def steps_told(asked: WeekQuestion, within: WeekQuestion, week: Week) -> Iterator[str]:
    """What a week that follows one that was done may add, and what waits for later weeks; what joints that hurt are spared.

    Args:
        asked: what the week was asked for. within: the same as far as steps allow.
    """
    done = within.done
    if done is None:
        return
    now = sum(x.sets for d in week.days for x in d.lifts)
    if any(week.muscle_sets[m.name] < m.low - NEARLY and "steps" in held_back(within, week, m) for m in within.muscles):
        yield (
            f"Sets grow in steps: {now} this week after {done.sets} in the last ({most_sets(within):.0f} at most, and two more for a muscle, or "
            "half of what it lacks of its least; common practice). What is below its band gets more in later weeks, and minutes stay free until "
            "then. If you did more than is logged, log it; a week planned anew does not wait."
        )
    if waits := [
        f"{in_full(m.name)} {week.muscle_sets[m.name]:.1f} of {m.floor:g}"
        for m, now in zip(asked.muscles, within.muscles, strict=True)
        if now.floor < m.floor and week.muscle_sets[m.name] < m.floor - NEARLY_MET
    ]:
        yield f"The last week held little or nothing for these, so they come in half-way now and have their least sets in a week or two: {', '.join(waits)}."
    for joint in done.strain:
        yield (
            f"{joint_told(joint).capitalize()}: no more sets of lifts that load it much than last week, and no new one of these, while it hurts. "
            "A new lift that works it loads it less, or is one that a coach turns to for it."
        )
