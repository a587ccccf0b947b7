"""What the log says of pain: lifts that hurt when they were last done, and what a week makes of them. No diagnosis."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.sore_choices import HALF
from lengthwise.actions.week_choices import Offer
from lengthwise.planning.week import Week
from lengthwise.quantities import day as in_words
from lengthwise.training.client import joint_named
from lengthwise.training.log import Session


@dataclass(frozen=True)
class Hurt:
    """A lift that hurt when it was last done: which joint, when, and in how many of its sets that day."""

    lift: str
    joint: str
    day: date
    sets: int
    of: int

    @property
    def told(self) -> str:
        """What was logged and what to do, as a coach says it."""
        return (
            f"{all_lifts().lifts[self.lift].name}: you logged pain in the {self.joint} on {in_words(self.day)} ({self.sets} of {self.of} sets). "
            "Where it is planned, it is with half the load, in easy sets that end at the first pain and are not counted. Better: swap it "
            "for a lift that spares the joint (swap, because it hurts). Pain that lasts, wakes you or gets worse belongs to a clinician."
        )


def hurt_lately(sessions: Iterable[Session]) -> tuple[Hurt, ...]:
    """Lifts that hurt on the last day that they were done; the joint that hurt in most of their sets that day."""
    last: dict[str, tuple[date, list[tuple[str, ...]]]] = {}
    for session in sorted(sessions, key=lambda s: s.day):
        for s in session.sets:
            if s.pain or not s.warm_up:
                day, before = last.get(s.lift, (session.day, []))
                last[s.lift] = (session.day, [*before, s.pain] if day == session.day else [s.pain])
    return tuple(h for lift, (day, sets) in sorted(last.items()) if (h := _hurt(lift, day, sets)) is not None)


def _hurt(lift: str, day: date, sets: list[tuple[str, ...]]) -> Hurt | None:
    joints = [joint_named(j) for pain in sets for j in pain]
    if not joints or lift not in all_lifts().lifts:
        return None
    joint = max(sorted(set(joints)), key=joints.count)
    return Hurt(lift, joint, day, sum(bool(p) for p in sets), len(sets))


def with_pain(offer: Offer, hurt: Mapping[str, Hurt]) -> Offer:
    """The lifts of a week with those that hurt begun with half the load, in easy sets that count for nothing."""
    here = {c.lift for c in offer.choices} & set(hurt)
    if not here:
        return offer
    choices = tuple(replace(c, gentle=True) if c.lift in here else c for c in offer.choices)
    lighter = {**offer.lighter, **{i: min(HALF, offer.lighter.get(i, 1.0)) for i in here}}
    return replace(offer, choices=choices, lighter=lighter)


def pain_told(hurt: Mapping[str, Hurt], week: Week) -> Iterator[str]:
    """What is said of each lift of a week that hurt."""
    for i in dict.fromkeys(x.lift for d in week.days for x in d.lifts if x.lift in hurt):
        yield hurt[i].told
