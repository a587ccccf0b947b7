"""Muscles that sore joints leave without a lift: what else is looked at for them, and what a week says where they get nothing."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import replace
from typing import get_args

from lengthwise.body.anatomy import muscles
from lengthwise.body.muscle_names import in_full
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import NEARLY_MET, Muscle
from lengthwise.planning.week import Conflict, Week
from lengthwise.planning.week_model import HALF, trained
from lengthwise.practice.borne import is_easy
from lengthwise.practice.sore_choices import gently, halved
from lengthwise.practice.week_lifts import fits
from lengthwise.training.client import Client
from lengthwise.training.record_words import JointName, joint_named, joint_told
from lengthwise.weeks.sore_offers import nearest, spares
from lengthwise.weeks.week_candidates import PRESSES_MORE, SAME_HERE, TOO_EASY
from lengthwise.weeks.week_choices import Offer
from lengthwise.weeks.week_steps import done_of

PAIN = ("hurt", "sore joint", "you logged pain")
"""How reasons read that a joint gives."""


def by_joint(why: str) -> bool:
    """Whether a reason for which a lift is out is a joint's."""
    return any(words in why for words in PAIN) or joint_named(why.partition(":")[0]) in get_args(JointName)


def refused_by(client: Client) -> frozenset[str]:
    """The lifts that a client does not do."""
    return frozenset(all_lifts().find(name) for name in client.wishes.refused)


def with_needed(offered: Callable[[Collection[str]], Offer], refused: Collection[str] = ()) -> Offer:
    """An offer; where sore joints leave a muscle no lift in it, with those that stand back only since others do the same better or more heavily.

    Args:
        offered: makes the offer, with lifts that stay beside others that do the same. refused: lifts that the client does not do.
    """
    offer = offered(())
    needed = {i for m in offer.muscles if is_bare(offer, m, refused) for i in _aside(offer, m)}
    return eased_again(offered(needed), needed) if needed else offer


def eased_again(offer: Offer, needed: Collection[str]) -> Offer:
    """The offer with those of its lifts that come back for want of others, and load a sore joint, in easy sets: a few of these strain no joint, as a
    week counts it; they keep the movement, and end at the first pain.
    """
    here = {c.lift for c in offer.choices if c.lift in needed and (c.gentle or c.strains)}
    if not here:
        return offer
    eased = (replace(gently(c), strains=frozenset[str]()) if c.lift in here else c for c in offer.choices)
    return replace(
        offer, choices=tuple(eased), lighter={**offer.lighter, **{i: min(HALF, offer.lighter.get(i, HALF)) for i in sorted(here)}}
    )


def with_spared(client: Client, offer: Offer, done: Week | None, refused: Collection[str] = ()) -> Offer:
    """The offer; where a joint took a muscle's lift and lets no other come in, with those that spare the joint nearest in easy sets, as `eased_again`.

    Args:
        done: the week that the next one grows from; without one nothing is kept out. refused: lifts that the client does not do.
    """
    if done is None:
        return offer
    had, strain = {x.lift for d in done.days for x in d.lifts}, done_of(done, offer).strain
    out = {
        c.lift for c in offer.choices if c.strains and c.lift not in had and not (c.familiar and all(strain[j] for j in c.strains))
    }
    left = replace(offer, choices=tuple(c for c in offer.choices if c.lift not in out))
    bare = [m for m in offer.muscles if had & {*_taken(offer, m)} and is_bare(left, m, refused)]
    able = replace(offer, choices=tuple(c for c in offer.choices if c.lift in out - {*refused}))
    here = {c.lift for m in bare for c in spares(client, able, m, _missed(offer, m))}
    lighter = replace(offer, choices=tuple(halved(client, c, offer.lighter) if c.lift in here else c for c in offer.choices))
    return eased_again(lighter, here)


def is_bare(offer: Offer, muscle: Muscle, refused: Collection[str] = ()) -> bool:
    """Whether no lift is left that trains a muscle, and a joint took one."""
    left = (c for c in offer.choices if c.lift not in refused)
    return not any(c.value and trained(c, muscle) >= HALF for c in left) and bool(_taken(offer, muscle))


def _taken(offer: Offer, muscle: Muscle) -> list[str]:
    """Lifts meant for a muscle that a joint took from it."""
    return [i for i, why in sorted(offer.out.items()) if _meant(i, muscle, offer) and by_joint(why)]


def _missed(offer: Offer, muscle: Muscle) -> str:
    """The lift that a joint took from a muscle: one of the client's own where there is one."""
    taken = _taken(offer, muscle)
    return next((i for i in taken if i in offer.own.all), taken[0])


def _aside(offer: Offer, muscle: Muscle) -> list[str]:
    spare = (TOO_EASY, PRESSES_MORE, SAME_HERE)
    return [i for i, why in offer.out.items() if _meant(i, muscle, offer) and why.endswith(spare)]


def _meant(lift_id: str, muscle: Muscle, offer: Offer) -> bool:
    lift = all_lifts().lifts.get(lift_id)
    return lift is not None and bool({*lift.targets} & {*muscles()[muscle.name]}) and any(fits(lift_id, d) for d in offer.days)


def at_nothing(client: Client, offer: Offer, week: Week) -> Iterator[Conflict]:
    """Muscles that get no counted set since joints took their lifts, each with the nearest that spares them; first of all those that are raised."""
    told, here = " ".join(c.wish for c in week.conflicts), {x.lift for d in week.days for x in d.lifts}
    joints = " and ".join(map(joint_told, client.sore_joints))
    for m in sorted(offer.muscles, key=lambda m: not m.raised):
        name = in_full(m.name)
        if week.muscle_sets[m.name] >= NEARLY_MET or f"for {name}" in told or not _taken(offer, m):
            continue
        easy = any({*all_lifts().lifts[i].targets} & {*m.share} for i in here if is_easy(offer.lighter.get(i, 1.0)))
        got = "it gets easy sets alone, which keep the movement" if easy else "it gets none"
        goal = ", which you want more of: that goal rests" if m.raised else ""
        yield Conflict(
            f"hard sets a week for {name}{goal}",
            f"{got}: what trains it loads the sore {joints}. {nearest(client, offer, m, _missed(offer, m)).rstrip('.')}",
        )
