"""What the log says of pain: lifts that hurt when they were last done, and what a week makes of them. No diagnosis."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from types import MappingProxyType
from typing import cast, get_args

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Week, WeekChange
from lengthwise.practice.kin import puts_less
from lengthwise.practice.week_lifts import BODY
from lengthwise.quantities import day as in_words
from lengthwise.training.client import Client, PainfulLift
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.known import known_of
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.record_words import JointName, Severity, joint_named, joint_told
from lengthwise.training.sore import leaves_alone, practice_turns_to, severity

RESTS = timedelta(days=14)
"""So long a lift that hurt stands in no week; then it is tried again lightly (common practice, no source)."""
CLEAN = 2
"""On so many visits what hurt is loaded without pain before anything goes up (common practice, no source)."""
AGAIN = 2
"""A joint that hurt on so many days within two weeks is moderately sore, on fewer mildly (own choice: a log says no more of how bad it was)."""
ADVERBS: Mapping[Severity, str] = {"mild": "mildly", "moderate": "moderately", "severe": "severely"}
RESTS_TOLD = "you logged pain in the {} on {}; it rests until {}, then try it with half the load"
NOT_NOW = "Not now: {}."
NO_TWINGES: Mapping[str, str] = MappingProxyType({})
KIN = "{} hurt the {} on {}, and this is the same movement, never done: it rests until {} too"
"""Why a lift rests beside one that hurt."""


@dataclass(frozen=True, kw_only=True)
class Painful:
    """A lift that hurt when it was last done: which joint, and when."""

    lift: str
    joint: JointName
    day: date

    @property
    def until(self) -> date:
        """The first day on which it is tried again."""
        return self.day + RESTS


@dataclass(frozen=True, kw_only=True)
class Hurt(Painful):
    """In how many of its sets that day a lift hurt, and the first of these."""

    sets: int
    of: int
    load_kg: float
    repetitions: int

    @property
    def told(self) -> str:
        """What was logged and what to do, as a coach says it."""
        part = f" ({self.sets} of {self.of} sets)" if self.of > 1 else ""
        return (
            f"{all_lifts().lifts[self.lift].name}: you logged pain in the {joint_told(self.joint)} on {in_words(self.day)}{part}. "
            "It stands here with half the load, in easy sets that end at the first pain. Better: swap it for "
            "a lift that spares the joint (swap, because it hurts). See a clinician if pain lasts, wakes you or gets worse."
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


def without_twinges(hurt: Iterable[Hurt], sessions: Sequence[Session]) -> tuple[Hurt, ...]:
    """Lifts that hurt, without those of which one set of several did and whose joint hurt on no other day: they go on with fewer sets."""
    days = {(joint_named(j), s.day) for s in sessions for one in s.sets for j in one.pain}
    return tuple(h for h in hurt if h.sets > 1 or h.of == 1 or any(j == h.joint and day != h.day for j, day in days))


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


@dataclass(frozen=True)
class SoreByLog:
    """A joint that hurt in the log and is not settled yet: when it hurt last, and how sore it counts as."""

    day: date
    how: Severity


def unsettled(sessions: Sequence[Session], today: date) -> dict[JointName, SoreByLog]:
    """Joints that hurt in any lift and had not both since, two weeks and two visits that loaded them without pain; by name."""
    days: dict[str, set[date]] = {}
    for joint, day in ((joint_named(j), s.day) for s in sessions for one in s.sets for j in one.pain):
        days.setdefault(joint, set()).add(day)
    found = (j for j in sorted(days.keys() & {*get_args(JointName)}) if not is_settled(max(days[j]), _loaded(sessions, j), today))
    return {cast(JointName, j): _sore(days[j]) for j in found}


def _sore(days: Collection[date]) -> SoreByLog:
    often = sum(max(days) - day < RESTS for day in days) >= AGAIN
    return SoreByLog(max(days), "moderate" if often else "mild")


def with_logged(client: Client, joints: Mapping[JointName, SoreByLog]) -> Client:
    """The record with joints that hurt in the log beside its sore ones: the one answer of every face. The worse of the two words holds; a moment
    that the record names stands as it is.
    """
    if not joints:
        return client
    ranks = get_args(Severity)
    worse = {
        j: max(found.how, client.soreness.get(j, "moderate") if j in client.sore_joints else found.how, key=ranks.index)
        for j, found in joints.items()
        if client.sore_joints.get(j) is None
    }
    sore = {**dict.fromkeys(worse), **client.sore_joints}
    return client.model_copy(update={"sore_joints": sore, "soreness": {**client.soreness, **worse}})


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
    return tuple(h for h in hurt if today < h.until)


@dataclass(frozen=True)
class Rest:
    """Why a lift rests, and the first day on which it is tried again."""

    why: str
    until: date


def rest_after_pain(client: Client, lift_id: str, rests: Iterable[Painful]) -> Rest | None:
    """Why a lift rests for now, and until when; nothing where it does not: the one answer of the week and of a load that is asked for alone.

    It hurt lately, or it has a load, was never done and is of the family of one that did: nobody looks for a load in a movement that hurt last week.
    """
    lifts, rests = all_lifts(), tuple(rests)
    if own := next((r for r in rests if r.lift == lift_id), None):
        return Rest(RESTS_TOLD.format(joint_told(own.joint), in_words(own.day), in_words(own.until)), own.until)
    lift, family = lifts.lifts[lift_id], lifts.family[lift_id]
    if lift.gear == BODY or known_of(client.known_lifts, lift_id, lift) is not None:
        return None
    near = (r for r in rests if lifts.family[r.lift] == family and not leaves_alone(client, r.joint, family))
    kin = (r for r in near if not puts_less(client, lift_id, r.lift, r.joint))
    told = ((KIN.format(lifts.lifts[r.lift].name, joint_told(r.joint), in_words(r.day), in_words(r.until)), r.until) for r in kin)
    return next((Rest(*words) for words in told), None)


def waiting_told(client: Client, lift_id: str, today: date) -> tuple[str, ...]:
    """That a lift rests, beside what it begins with then; nothing where it does not."""
    rest = rest_after_pain(client, lift_id, rests_of(client, today))
    return (NOT_NOW.format(rest.why),) if rest else ()


def rests_of(client: Client, today: date) -> tuple[Painful, ...]:
    """Lifts that rest on a day, by what a client is known to have done (`Past.of`)."""
    last = {k.lift: k for k in client.known_lifts}
    hurt = (Painful(lift=k.lift, joint=k.hurt, day=k.hurt_on) for k in last.values() if isinstance(k, PainfulLift) and k.hurt_on)
    return tuple(p for p in hurt if today < p.until)


def with_pain_told(
    week: Week, hurt: Iterable[Hurt], sore: Collection[str] = (), before: Week | None = None, easy: Iterable[str] = ()
) -> Week:
    """The week with what is said of each of its lifts that hurt when it was last done, and of others that work the same joint alike; beside a
    week before in which it was no easy lift yet, what follows from it is a change.

    Args:
        sore: joints that hurt and are not settled yet. easy: lifts done in easy sets, which say so themselves.
    """
    here, hurt = {x.lift for d in week.days for x in d.lifts}, tuple(hurt)
    found = [h for h in hurt if h.lift in here]
    told = {h.lift for h in found}
    apart = {*told, *easy}
    others = {h: tuple(_others(week, h, apart)) if h.joint in sore else () for h in hurt}
    said = (
        *(words for h in found for words in (h.told, *others[h])),
        *(words for h in hurt if h not in found for words in others[h]),
    )
    hard = {x.lift for d in before.days for x in d.lifts if not x.gentle} if before else set[str]()
    changes = tuple(h.change for h in found if h.lift in hard)
    return replace(week, notes=tuple(dict.fromkeys((*said, *week.notes))), changes=(*changes, *week.changes))


def _others(week: Week, hurt: Hurt, told: Collection[str]) -> Iterator[str]:
    """Lifts of the week that did not hurt and load the joint, less what a coach turns to for it."""
    alike = dict.fromkeys(x.name for d in week.days for x in d.lifts if x.lift not in told and _loads_much(hurt.joint, x.lift))
    if alike:
        works, stands = ("it works", "stands") if len(alike) == 1 else ("they work", "stand")
        yield (
            f"{', '.join(alike)}: {works} the {joint_told(hurt.joint)} too, and {stands} here with three or more left and no "
            "heavier until two weeks and two visits without pain. Stop at the first pain."
        )


def _loads_much(joint: str, lift_id: str) -> bool:
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    return loads_joint(joint, lift_id, lift, family) and not practice_turns_to(joint, family)


def sore_told(record: Client, joints: Mapping[JointName, SoreByLog], twinges: Mapping[str, str] = NO_TWINGES) -> Iterator[str]:
    """How sore a joint counts as that hurt in the log: as the log says, and for how long, or as the record does where that is no milder; and what one sore
    set asks.

    Args:
        twinges: lifts of which a few sets hurt, and none that rests for the same joint, with the joint.
    """
    now = with_logged(record, joints)
    for joint, found in joints.items():
        how = severity(now, joint)
        by_record = joint in record.sore_joints and how == severity(record, joint)
        ends = "as the record says" if by_record else "until two weeks and two visits that load it went without pain"
        yield f"{joint_told(joint).capitalize()}: it hurt on {in_words(found.day)}, by the log, and counts as {ADVERBS[how]} sore{',' * by_record} {ends}."
        if how == "mild" and (lifts := [all_lifts().lifts[i].name for i, j in twinges.items() if j == joint]):
            yield (
                f"{' and '.join(lifts)}: a single sore set, so half of the sets, lighter, with three left. Other lifts that work the "
                f"{joint_told(joint)} keep the load that you have done, with three left."
            )
