"""What a sore joint takes from a muscle, and the nearest that spares it: a part of the same lift, another grip, a machine, another lift."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from lengthwise.body.anatomy import muscles
from lengthwise.body.muscle_names import in_full
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.pairing import MACHINES
from lengthwise.planning.question import Muscle
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import HALF, direct, trained
from lengthwise.practice.week_lifts import fits, practice
from lengthwise.training.client import Client
from lengthwise.training.record_words import joint_named
from lengthwise.training.sore import NOT_BEGUN, hurts_many, is_done, sparing_part
from lengthwise.weeks.week_choices import Offer

MOST = 2
"""So many lifts are offered beside a part of the lost one (own choice)."""
NOTHING = "Nothing here trains it and spares the joint: ask a clinician which of its lifts may be done, in which part of the range, and with how much."
WORDS = (
    "What is left out may come back later: begin where nothing hurts, with half the load, and add a step after each week without pain. "
    "See a clinician if pain lasts, wakes you or gets worse."
)


@dataclass(frozen=True)
class SoreOffer:
    """A lift that a muscle loses to a sore joint, why, and the nearest that spares it, each in words and nearest first."""

    muscle: str
    lost: str
    reason: str
    instead: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """The offer as a coach says it."""
        return f"{in_full(self.muscle).capitalize()}: {self.lost} is left out ({self.reason}). {_nearest_told(self.instead)}"


def _nearest_told(instead: Collection[str]) -> str:
    return f"Nearest that spares it: {'; '.join(instead)}." if instead else NOTHING


def nearest(client: Client, offer: Offer, muscle: Muscle, lost: str) -> str:
    """What spares a joint for a muscle that loses a lift to it, nearest first, in a sentence."""
    return _nearest_told(_instead(client, offer, muscle, lost))


def sore_offers(client: Client, offer: Offer) -> tuple[SoreOffer, ...]:
    """For every muscle of the week that loses a lift to a sore joint: the client's own lost lift, else one that any coach would write down."""
    if not client.sore_joints:
        return ()
    out = (_offer(client, offer, m, lost) for m in offer.muscles if (lost := _lost(client, offer, m)))
    return tuple({o.lost: o for o in reversed([*out])}.values())[::-1]


def _lost(client: Client, offer: Offer, muscle: Muscle) -> str:
    """The lift of a muscle that is missed most: an own one first, then a multi-joint staple; empty where none is lost."""
    lifts = all_lifts().lifts
    gone = [
        i
        for i, why in sorted(offer.out.items())
        if i in lifts and joint_named(why.partition(":")[0]) in client.sore_joints and any(fits(i, d) for d in offer.days)
    ]
    meant = [i for i in gone if set(lifts[i].targets) & set(muscles()[muscle.name]) and (i in offer.own.all or practice(i).staple)]
    return min(
        meant,
        key=lambda i: (i not in offer.own.all, not practice(i).multi, lifts[i].gear != "barbell", lifts[i].gear == "band", i),
        default="",
    )


def _offer(client: Client, offer: Offer, muscle: Muscle, lost: str) -> SoreOffer:
    return SoreOffer(muscle.name, all_lifts().lifts[lost].name, offer.out[lost], _instead(client, offer, muscle, lost))


def spares(client: Client, offer: Offer, muscle: Muscle, lost: str) -> tuple[Choice, ...]:
    """The lifts that spare a joint for a muscle that loses a lift to it, nearest first, what it bears in easy sets alone last; MOST at most."""
    able = (
        c for c in offer.choices if c.value and direct(c, muscle) and trained(c, muscle) >= HALF and not _waits(client, offer, c)
    )
    return tuple(sorted(able, key=lambda c: (c.gentle, _far(lost, c), -c.value.get(muscle.name, 0.0), c.key))[:MOST])


def _instead(client: Client, offer: Offer, muscle: Muscle, lost: str) -> tuple[str, ...]:
    return (*_part(client, lost), *(f"{c.name} ({_how(lost, c)})" for c in spares(client, offer, muscle, lost)))


def _waits(client: Client, offer: Offer, choice: Choice) -> bool:
    """Whether a lift was never done and some sore joints are spared it by name, or goes over several joints and others of its pattern wait until the
    joint is well: no other name for the same.
    """
    lifts, known = all_lifts().lifts, choice.practice
    if not choice.familiar and any(hurts_many(j, choice.lift) for j in client.sore_joints):
        return True
    waiting = {practice(i).pattern for i, why in offer.out.items() if i in lifts and why.endswith(NOT_BEGUN)}
    return known.multi and known.pattern in waiting and not is_done(client, choice.lift, lifts[choice.lift])


def _part(client: Client, lost: str) -> Iterator[str]:
    lift = all_lifts().lifts[lost]
    part = sparing_part(client, lost, lift, all_lifts().family[lost])
    if part:
        yield f"the same lift {lift.ranges[part].cue}"


def _far(lost: str, other: Choice) -> int:
    """How unlike another lift is: the same family and gear, the same family, the same sort, anything else."""
    lift, family = all_lifts().lifts[lost], all_lifts().family[lost]
    if other.practice.family == family:
        return 0 if other.gear == lift.gear else 1
    return 2 if other.practice.pattern == practice(lost).pattern else 3


def _how(lost: str, other: Choice) -> str:
    far = _far(lost, other)
    if far == 0:
        return "another grip or angle"
    if other.gear in MACHINES and other.gear != "guided_bar":
        return "on a machine"
    return f"with {gear()[other.gear].name}" if far < 3 else "another lift for it"
