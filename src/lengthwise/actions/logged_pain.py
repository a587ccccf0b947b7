"""What the log says of pain: lifts that hurt when they were last done, and what a week makes of them. No diagnosis."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import cast, get_args

from lengthwise.actions.lifts import all_lifts
from lengthwise.planning.week import Week
from lengthwise.quantities import day as in_words
from lengthwise.training.client import JointName, joint_named, joint_told
from lengthwise.training.log import LoggedSet, Session


@dataclass(frozen=True, kw_only=True)
class Hurt:
    """A lift that hurt when it was last done: which joint, when, in how many of its sets that day, and the first of these."""

    lift: str
    joint: JointName
    day: date
    sets: int
    of: int
    load_kg: float
    repetitions: int

    @property
    def told(self) -> str:
        """What was logged and what to do, as a coach says it."""
        return (
            f"{all_lifts().lifts[self.lift].name}: you logged pain in the {joint_told(self.joint)} on {in_words(self.day)} ({self.sets} of {self.of} sets). "
            "It stands here with half the load, in easy sets that end at the first pain. Better: swap it for "
            "a lift that spares the joint (swap, because it hurts). Pain that lasts, wakes you or gets worse belongs to a clinician."
        )


def hurt_lately(sessions: Iterable[Session]) -> tuple[Hurt, ...]:
    """Lifts that hurt on the last day that they were done; the joint that hurt in most of their sets that day."""
    last: dict[str, tuple[date, list[LoggedSet]]] = {}
    for session in sorted(sessions, key=lambda s: s.day):
        for one in session.sets:
            if one.lift in all_lifts().lifts and (one.pain or not one.warm_up):
                day, before = last.get(one.lift, (session.day, []))
                last[one.lift] = (session.day, [*before, one] if day == session.day else [one])
    return tuple(h for day, sets in (v for _, v in sorted(last.items())) if (h := _hurt(day, sets)) is not None)


def _hurt(day: date, sets: list[LoggedSet]) -> Hurt | None:
    joints = [j for one in sets for j in map(joint_named, one.pain) if j in get_args(JointName)]
    if not joints:
        return None
    joint, painful = max(sorted(set(joints)), key=joints.count), [one for one in sets if one.pain]
    first = painful[0]
    return Hurt(
        lift=first.lift,
        joint=cast(JointName, joint),
        day=day,
        sets=len(painful),
        of=len(sets),
        load_kg=first.load_kg,
        repetitions=max(first.repetitions, 1),
    )


def with_pain_told(week: Week, hurt: Iterable[Hurt]) -> Week:
    """The week with what is said of each of its lifts that hurt when it was last done."""
    here = {x.lift for d in week.days for x in d.lifts}
    said = tuple(h.told for h in hurt if h.lift in here)
    return replace(week, notes=tuple(dict.fromkeys((*said, *week.notes))))
