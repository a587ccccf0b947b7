"""The way back after pain: loads go up by steps from week to week, to the load before it; an easy set is no measure of strength."""

from collections.abc import Collection, Iterable, Sequence
from datetime import date, timedelta
from functools import reduce
from math import inf
from typing import Any, cast, get_args

from lengthwise.days import monday_of
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.shown import LOOK_BACK, MOST_REPETITIONS, MOST_RESERVE, shown_by
from lengthwise.practice.week_lifts import practice, stands_for
from lengthwise.practice.written_repetitions import SORE_LEFT
from lengthwise.training.client import FreeLift, KnownLift, ReturningLift
from lengthwise.training.gear_loads import SAME_KG
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.known import counts_body, possible
from lengthwise.training.log import Session
from lengthwise.training.one_rm import factor
from lengthwise.training.record_words import JointName, joint_named
from lengthwise.training.sore import is_free, is_harder, loads_by_name

STEPS = (0.5, 0.65, 0.8, 0.9, 1.0)
"""Parts of the load before pain, a step for each week without pain (common practice, no source; as an outside coach writes them)."""
NEARLY = 0.03
"""What was done counts for a step up to so much below it: loads are rounded down (own choice)."""
UNTRIED, NAMED = 0.8, STEPS[0]
"""With so much begins what was not done since; with the second, in easy sets, what is harder on such a joint or of the sort of what hurt (common
practice, no source)."""
FAR = timedelta(weeks=16)
"""So far back the set before pain is looked for: two weeks of rest, five steps and what went before (own choice)."""
FACTOR_AT = 10
"""Repetitions by which the line from load to repetitions is read: it is straight beyond one (Epley)."""
LAST = timedelta(weeks=8)
"""So long after a joint hurt last its sets and loads come back by steps (own choice)."""


def pain_days(sessions: Iterable[Session]) -> dict[JointName, list[date]]:
    """The days on which each joint hurt, in order."""
    found: dict[JointName, list[date]] = {}
    for session in sorted(sessions, key=lambda s: s.day):
        for joint in sorted({joint_named(j) for one in session.sets for j in one.pain} & {*get_args(JointName)}):
            found.setdefault(cast(JointName, joint), []).append(session.day)
    return found


def began(sessions: Iterable[Session], joints: Collection[str]) -> date | None:
    """The first day on which one of some joints hurt this time; none where none did."""
    return min((_began(days) for j, days in pain_days(sessions).items() if j in joints), default=None)


def coming_back(sessions: Sequence[Session], sore: Collection[str], today: date) -> dict[JointName, date]:
    """Joints that hurt in the last weeks and are settled, each with the day on which it hurt last.

    Args:
        sore: joints that are not settled yet.
    """
    return {j: days[-1] for j, days in pain_days(sessions).items() if j not in sore and today - days[-1] <= LAST}


def returning(
    known: FreeLift, sessions: Sequence[Session], settled: Iterable[JointName], lowered: Collection[str], today: date
) -> KnownLift:
    """A known set as it counts on the way back; as it is where its lift lost nothing to a joint that is settled since.

    Args:
        sessions: of FAR. lowered: lifts of which the plan lowered the load and nobody fell short: others go by what was done.
    """
    lift = all_lifts().lifts[known.lift]
    if counts_body(lift) or known.load_kg <= 0:
        return known
    days = pain_days(sessions)
    found = (_back(known, sessions, j, days[j], known.lift in lowered, today) for j in settled)
    return min((f for f in found if f is not None), key=lambda f: f.load_kg, default=known)


def _back(
    known: FreeLift, sessions: Sequence[Session], joint: JointName, hurt: Sequence[date], lowered: bool, today: date
) -> ReturningLift | None:
    lift_id = known.lift
    own = any(one.lift == lift_id and joint in map(joint_named, one.pain) for s in sessions for one in s.sets)
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    late = [s for s in sessions if s.day >= next_monday(hurt[-1])]
    known, since = (found, True) if (found := _since(known, late)) is not None else (known, False)
    harder = is_harder(joint, lift_id, lift, family)
    cut = lowered and not is_free(joint, family)
    if not (own or cut or loads_joint(joint, lift_id, lift, family) or (harder and not since)):
        return None
    done_hard = _before(lift_id, sessions, _began(hurt)) or (None if known.easy else _before(lift_id, sessions, hurt[-1]))
    before = done_hard or (_guessed(known, sessions, hurt[-1]) if since and known.easy else None)
    if before is None or (since and (known.load_kg >= before.load_kg - SAME_KG or not (lowered or before is not done_hard))):
        return None
    kin = own or harder or loads_by_name(joint, lift_id) or _is_kin(lift_id, sessions, joint)
    weeks, part = _weeks(known, late, today), NAMED if kin else UNTRIED
    if since:
        part = known.load_kg / before.load_kg if not weeks else _after(known.load_kg / before.load_kg)
    shown = max(_strength(s) for s in (before, known) if s is before or (since and not known.easy))
    most, written, held = _fitting(known, shown) / before.load_kg if since else part, known.written, False
    if since and _is_raised(known) and (most < part or weeks > 1):
        part, written = known.load_kg / before.load_kg, known.usual
    elif held := most < part:
        part = max(most, known.load_kg / before.load_kg)
    return ReturningLift(
        **_as_strong(before, part, shown),
        day=known.day,
        easy=part < 1 and not held and (known.easy if since else kin),
        written=written,
        hurt_before=joint,
        before_kg=before.load_kg,
        done_kg=known.load_kg if since else None,
        most_kg=reduce(lambda p, _: _after(p), range(max(weeks, 1)), part) * before.load_kg,
        stands_in=before is not done_hard,
    )


def _is_raised(known: FreeLift) -> bool:
    """Whether the range of hard sets was raised for a joint: it goes back before the load goes on, at the latest in the second week of a load."""
    return not known.easy and known.usual is not None and known.written is not None and known.usual[0] < known.written[0]


def _since(known: FreeLift, late: Iterable[Session]) -> FreeLift | None:
    """A known set as the days since a joint hurt show it; none where the lift was not done on any of them.

    Args:
        late: visits from the week after that in which it hurt.
    """
    days = ((s.day, [x for x in s.sets if x.lift == known.lift and not (x.warm_up or x.pain) and x.range == "full"]) for s in late)
    shown = max((k for day, sets in days if (k := shown_by(day, sets)) is not None), key=_strength, default=None)
    return None if shown is None else known.model_copy(update=shown.model_dump(include={*KnownLift.model_fields}))


def next_monday(day: date) -> date:
    """The first day on which a plan answers what hurt in the week of a day: what was done in that week was planned before."""
    return monday_of(day) + timedelta(weeks=1)


def _began(hurt: Sequence[date]) -> date:
    """The day on which a joint began to hurt this time."""
    return min(d for d in hurt if hurt[-1] - d <= LAST)


def _after(part: float) -> float:
    """The step after a part of the load before."""
    return next((step for step in STEPS if step > part + NEARLY), 1.0)


def _guessed(known: FreeLift, sessions: Iterable[Session], hurt: date) -> FreeLift | None:
    """The guess of which a lift begun since pain did half in easy sets: what it goes up to."""
    days = sorted((s for s in sessions if s.day >= hurt), key=lambda s: s.day)
    first = next((one.load_kg for s in days for one in s.sets if one.lift == known.lift and not (one.warm_up or one.pain)), None)
    if not first:
        return None
    least = known.written[0] if known.written else known.repetitions
    return FreeLift(lift=known.lift, load_kg=first / STEPS[0], repetitions=least, reserve=SORE_LEFT, day=known.day)


def _strength(known: KnownLift) -> float:
    """The load that a set would show if all of its repetitions were done once [kg]."""
    return known.load_kg * factor(possible(known))


def _fitting(known: FreeLift, shown: float) -> float:
    """The most that allows the least repetitions written last, with three left [kg]: no step asks for fewer."""
    return shown / factor(known.written[0] + SORE_LEFT) if known.written else inf


def _is_kin(lift_id: str, sessions: Iterable[Session], joint: str) -> bool:
    """Whether a lift is of the family or the sort of one that hurt a joint."""
    hurt = {one.lift for s in sessions for one in s.sets if joint in map(joint_named, one.pain)} & all_lifts().lifts.keys()
    family, sort = all_lifts().family, stands_for(practice(lift_id).pattern)
    return any(family[i] == family[lift_id] or stands_for(practice(i).pattern) == sort for i in hurt)


def _before(lift_id: str, sessions: Iterable[Session], hurt: date) -> KnownLift | None:
    """The strongest hard set of a lift without pain, in the weeks until the end of that in which the joint hurt."""
    near = (s for s in sessions if hurt - LOOK_BACK < s.day < next_monday(hurt))
    shown = (
        shown_by(s.day, [x for x in s.sets if x.lift == lift_id and not (x.warm_up or x.pain) and x.range == "full"]) for s in near
    )
    return max((k for k in shown if k is not None), key=_strength, default=None)


def before_pain(lift_id: str, joint: str, sessions: Sequence[Session]) -> KnownLift | None:
    """The strongest hard set of a lift in the weeks before a joint began to hurt; none where the log has none.

    Args:
        sessions: of FAR, with pain in the joint on some day.
    """
    days = [d for j, found in pain_days(sessions).items() if j == joint for d in found]
    return _before(lift_id, sessions, _began(days))


def _weeks(known: FreeLift, sessions: Iterable[Session], today: date) -> int:
    """The weeks before that of today in which the load of now was done since a joint hurt."""
    near = (1 - NEARLY) * known.load_kg
    days = (s.day for s in sessions if any(x.lift == known.lift and x.load_kg >= near for x in s.sets))
    return len({monday_of(day) for day in days} - {monday_of(today)})


def _as_strong(before: KnownLift, part: float, shown: float) -> dict[str, Any]:
    """A set with a part of a load that shows so much strength [kg]."""
    most = shown / (part * before.load_kg)
    could = (most - 1) / (factor(FACTOR_AT) - 1) * FACTOR_AT if part < 1 else possible(before)
    reserve = min(max(could - MOST_REPETITIONS, before.reserve), MOST_RESERVE)
    repetitions = min(max(round(could - reserve), 1), MOST_REPETITIONS)
    left = min(max(could - repetitions, 0.0), MOST_RESERVE)
    return {"lift": before.lift, "load_kg": part * before.load_kg, "repetitions": repetitions, "reserve": left}
