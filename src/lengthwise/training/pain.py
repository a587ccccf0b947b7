"""Where and when it hurt: a map of joints over weeks, lifts that hurt, and signs that a clinician should see. No diagnosis."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import ClassVar

from lengthwise.days import monday_of
from lengthwise.quantities import day as day_in_words
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.record_words import joint_told
from lengthwise.training.review_rules import ReviewRules
from lengthwise.training.volume import LiftKey

MOST_LIFTS = 3
"""So many lifts that hurt are named for a joint."""


@dataclass(frozen=True)
class PainWeek:
    """Sets of a week in which a joint hurt, of all working sets of that week."""

    monday: date
    joint: str
    painful_sets: int
    sets: int


@dataclass(frozen=True, kw_only=True)
class JointPain:
    """A joint's last weeks.

    Attributes:
        joint: which. visits: days on which it hurt. first, last: of them. of_visits: days trained.
        lifts: (lift and range, painful sets, sets), most painful first.
        persists: whether it hurt often and long enough to be looked at by a clinician.
    """

    PUBLIC: ClassVar = """
        joint visits of_visits first last lifts[lift range painful_sets sets]
        see_clinician=persists
    """
    joint: str
    visits: int
    of_visits: int
    first: date
    last: date
    lifts: tuple[tuple[LiftKey, int, int], ...]
    persists: bool

    def told(self, names: Mapping[str, str]) -> str:
        """What was logged, in one sentence; lifts by these names."""
        most = ", ".join(f"{names.get(lift, lift)} ({hurt} of {n} sets)" for (lift, _), hurt, n in self.lifts[:MOST_LIFTS])
        return f"{joint_told(self.joint)}: on {self.visits} of {self.of_visits} visits, last on {day_in_words(self.last)}; {most}."


@dataclass(frozen=True)
class WarningSign:
    """A note that holds a word that needs a clinician, with its day."""

    day: date
    word: str
    note: str


@dataclass(frozen=True)
class Pain:
    """The whole map, and what stands out of the last weeks."""

    weeks: tuple[PainWeek, ...]
    joints: tuple[JointPain, ...]
    warnings: tuple[WarningSign, ...]


def pain(sessions: Iterable[Session], as_of: date, rules: ReviewRules) -> Pain:
    """Pain in a log, and what stands out of the weeks before a day."""
    ordered = sorted(sessions, key=lambda s: s.day)
    recent = [s for s in ordered if as_of - timedelta(weeks=rules.look_back_weeks) < s.day <= as_of]
    joints = sorted({j for s in recent for one in s.sets for j in one.pain})
    found = (_joint(j, recent, rules) for j in joints)
    return Pain(pain_weeks(ordered), tuple(sorted(found, key=lambda j: -j.visits)), warning_signs(recent, rules.warning_words))


def _working(session: Session) -> list[LoggedSet]:
    return [one for one in session.sets if not one.warm_up or one.pain]


def pain_weeks(sessions: Iterable[Session]) -> tuple[PainWeek, ...]:
    """One entry for every week and joint that hurt, by week."""
    total: dict[date, int] = defaultdict(int)
    hurt: dict[tuple[date, str], int] = defaultdict(int)
    for session in sessions:
        monday = monday_of(session.day)
        for one in _working(session):
            total[monday] += 1
            for joint in set(one.pain):
                hurt[monday, joint] += 1
    return tuple(PainWeek(m, j, n, total[m]) for (m, j), n in sorted(hurt.items()))


def _joint(joint: str, recent: Sequence[Session], rules: ReviewRules) -> JointPain:
    days = sorted({s.day for s in recent if any(joint in one.pain for one in s.sets)})
    done: dict[LiftKey, list[int]] = defaultdict(lambda: [0, 0])
    for session in recent:
        for one in _working(session):
            done[one.lift, one.range][0] += joint in one.pain
            done[one.lift, one.range][1] += 1
    lifts = [(key, hurt, n) for key, (hurt, n) in done.items() if hurt]
    persists = len(days) >= rules.pain_visits and (days[-1] - days[0]).days >= rules.pain_days
    ordered = tuple(sorted(lifts, key=lambda x: (-x[1], x[0])))
    return JointPain(
        joint=joint,
        visits=len(days),
        of_visits=len({s.day for s in recent}),
        first=days[0],
        last=days[-1],
        lifts=ordered,
        persists=persists,
    )


def warning_signs(sessions: Iterable[Session], words: Sequence[str]) -> tuple[WarningSign, ...]:
    """Notes of visits and sets that hold a warning word as a word of its own, not behind a plain "no"."""
    out = []
    for session in sessions:
        for note in (session.note, *(one.note for one in session.sets)):
            found = _warning(note, words)
            if found:
                out.append(WarningSign(session.day, found, note))
    return tuple(out)


def _warning(note: str, words: Sequence[str]) -> str:
    text = note.lower()
    for word in words:
        if re.search(rf"(?<!no )(?<!not )(?<!without )\b{re.escape(word)}\b", text):
            return word
    return ""
