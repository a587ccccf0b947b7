"""What the log says of pain: lifts that hurt when they were last done, and what a week makes of them. No diagnosis."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import cast, get_args

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week_lifts import practice, stands_for
from lengthwise.planning.week import Week, WeekChange
from lengthwise.quantities import day as in_words
from lengthwise.training.client import JointName, joint_named, joint_told
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.sore import loads_by_name

RESTS = timedelta(days=14)
"""So long a lift that hurt stands in no week; then it is tried again lightly (common practice, no source)."""
CLEAN = 2
"""On so many visits what hurt is loaded without pain before anything goes up (common practice, no source)."""


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

    @property
    def change(self) -> WeekChange:
        """What follows from it, beside the week before."""
        what = f"{all_lifts().lifts[self.lift].name}: half the load, in easy sets that end at the first pain"
        return WeekChange(what, f"you logged pain in the {joint_told(self.joint)} on {in_words(self.day)}")


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


def unsettled(sessions: Sequence[Session], today: date) -> tuple[JointName, ...]:
    """Joints that hurt in any lift and had not both since, two weeks and two visits that loaded them without pain; by name."""
    last = {joint_named(j): s.day for s in sorted(sessions, key=lambda s: s.day) for one in s.sets for j in one.pain}
    found = (j for j in sorted(last.keys() & {*get_args(JointName)}) if not is_settled(last[j], _loaded(sessions, j), today))
    return tuple(cast(JointName, j) for j in found)


def is_settled(hurt: date, visits: Iterable[date], today: date) -> bool:
    """Whether pain on a day is over: two weeks ago, and on no fewer than two days since all went well.

    Args:
        visits: days on which what hurt was loaded.
    """
    return today - hurt >= RESTS and len({day for day in visits if day > hurt}) >= CLEAN


def _loaded(sessions: Iterable[Session], joint: str) -> set[date]:
    """The days of hard sets that loaded a joint."""
    lifts, family = all_lifts().lifts, all_lifts().family
    done = {(s.day, one.lift) for s in sessions for one in s.sets if not one.warm_up and one.lift in lifts}
    return {day for day, lift in done if loads_joint(joint, lift, lifts[lift], family[lift])}


def resting(hurt: Iterable[Hurt], today: date) -> tuple[Hurt, ...]:
    """Lifts that hurt so lately that they rest."""
    return tuple(h for h in hurt if today - h.day < RESTS)


def with_pain_told(week: Week, hurt: Iterable[Hurt], rests: Iterable[Hurt] = (), before: Week | None = None) -> Week:
    """The week with what is said of each of its lifts that hurt when it was last done, and of others that work the same joint alike; beside a
    week before in which it was no easy lift yet, what follows from it is a change.

    Args:
        rests: lifts that hurt lately and are left out for it.
    """
    here = {x.lift for d in week.days for x in d.lifts}
    found = [h for h in hurt if h.lift in here]
    told = {h.lift for h in found}
    out = [h for h in rests if h.lift not in told]
    said = (
        *(words for h in found for words in (h.told, *_others(week, h, told))),
        *(words for h in out for words in _others(week, h, told)),
    )
    hard = {x.lift for d in before.days for x in d.lifts if not x.gentle} if before else set[str]()
    changes = tuple(h.change for h in found if h.lift in hard)
    return replace(week, notes=tuple(dict.fromkeys((*said, *week.notes))), changes=(*changes, *week.changes))


def _others(week: Week, hurt: Hurt, told: Collection[str]) -> Iterator[str]:
    """Lifts of the week that did not hurt and work the joint as much: the same sort, or named for such joints (training/data/sore.toml)."""
    sort = stands_for(practice(hurt.lift).pattern)
    alike = dict.fromkeys(
        x.name
        for d in week.days
        for x in d.lifts
        if x.lift not in told and (stands_for(practice(x.lift).pattern) == sort or loads_by_name(hurt.joint, x.lift))
    )
    if alike:
        works, stands = ("it works", "stands") if len(alike) == 1 else ("they work", "stand")
        yield (
            f"{', '.join(alike)}: {works} the {joint_told(hurt.joint)} too, and {stands} here with three or more left and no "
            "heavier until two weeks and two visits without pain. Stop at the first pain."
        )
