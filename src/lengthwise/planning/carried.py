"""A change is carried out on the week before as a coach does it by hand, before anything is planned: sessions go to their new days, lifts whose
equipment is gone are replaced, shorter days give up what matters least. What was not asked for stays.
"""

from dataclasses import dataclass, field, replace
from functools import partial

from lengthwise.planning.fixed_lines import with_fixed
from lengthwise.planning.instead import Instead, Key, left_of, with_instead
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.missed_days import Missed, without_missed
from lengthwise.planning.moved_days import Moves
from lengthwise.planning.nearby import stands_whole
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.shorter_days import SLACK_MIN, counted_in, with_shorter_days
from lengthwise.planning.week import Week
from lengthwise.planning.week_model import direct, forgiving
from lengthwise.planning.whole import model_of, start_of, work_of

WHOLE = 0.99
"""What takes the place of a lift may give as much of a muscle's sets as that one gave: all but none (own choice)."""
MOST_SAVED = 3.0
"""No pair saves so many times what is usual (own choice)."""
A_HALF = 0.5
"""So much of a counted set less is no loss: another lift counts a little more or less (own choice)."""
A_MINUTE = 1.0
"""A day of a week that grows is no shorter one while it is late by no more, as loads and rests went on (own choice)."""


@dataclass(frozen=True, kw_only=True)
class Carried:
    """What is carried out on the week before.

    Attributes:
        moves: sessions that went to other weekdays, on which the week before stands already. instead: what may take the place of lines that cannot
            stand. missed: days that fall out. trouble: worth that anything beyond that must gain. saved: whether that holds of a week on which nothing is
            carried out as well, since it is saved for these very days. for_joints: that hurt, where that alone is the change: it brings more for those
            muscles only whose lifts they take or make lighter.
    """

    moves: Moves = field(default_factory=dict)
    instead: Instead = field(default_factory=dict)
    missed: Missed = field(default_factory=dict)
    trouble: float = 0.0
    saved: bool = False
    for_joints: frozenset[str] = frozenset()


NOTHING_CARRIED = Carried()


def carried_out(question: WeekQuestion, week: Week, carried: Carried) -> WeekQuestion:
    """The question near to the week before with the change carried out on it; without a change near to that week as it is, and so where what is fixed
    by hand cannot be put into it.
    """
    names = dict[Key, str]()
    if (now := with_fixed(question, week)) is None:
        return question
    if carried.instead:
        most = question.most_share or WHOLE
        days = _no_shorter(question, week)
        left = replace(question, days=days, previous=left_of(now, carried.instead), trouble=INFINITE, most_share=most)
        now, names = with_instead(model_of(left, (MOST_SAVED,) * len(question.days)), now, carried.instead)
    if carried.missed:
        question = replace(question, missed=frozenset(carried.missed))
        now = without_missed(replace(question, previous=now), now, carried.missed, partial(_stands, question))
    now = with_shorter_days(replace(question, previous=now), now, names, SLACK_MIN if carried.trouble else A_MINUTE)
    if carried.for_joints:
        question = replace(_around(question, week, carried.for_joints), previous=now)
    if carried.instead and carried.trouble == INFINITE:
        question = replace(
            question,
            lost=_lost(question, week, now),
            emptied=frozenset(d.day for d in question.days if any(day == d.day for day, _ in carried.instead)),
        )
    touched = carried.saved or bool(carried.moves) or now != week or carried.trouble == INFINITE
    return replace(question, previous=now, in_place_of=names, trouble=carried.trouble if touched else 0.0)


def _no_shorter(question: WeekQuestion, week: Week) -> tuple[DayOffer, ...]:
    """The days with the minutes that they took in the week before: what stands there is replaced first, and gives up sets only then."""
    took = {d.day: d.minutes for d in week.days}
    return tuple(replace(d, minutes=max(d.minutes, took.get(d.day, 0.0))) for d in question.days)


def _lost(question: WeekQuestion, before: Week, now: Week) -> dict[str, float]:
    """Muscles that have clearly fewer counted sets than before, and are below their band or raised: each with what it had."""
    has, had = counted_in(question, now), before.muscle_sets
    short = (m for m in question.muscles if has[m.name] < had.get(m.name, 0.0) - A_HALF and (m.raised or has[m.name] < m.low))
    return {m.name: had[m.name] for m in short}


def _stands(question: WeekQuestion, week: Week) -> bool:
    """Whether a week keeps every bound, minutes apart."""
    model = model_of(replace(question, previous=week, trouble=INFINITE))
    programme = forgiving(model)
    return stands_whole(programme, work_of(question), start_of(model, programme, model.old))


def _around(question: WeekQuestion, before: Week, joints: frozenset[str]) -> WeekQuestion:
    """The question in which lifts for muscles that lose nothing to joints, and lifts that strain these, get no more than they had: what they take
    from others is no reason for more.
    """
    known = {c.key: c for c in question.choices}
    planned = [(x, known.get((x.lift, x.range))) for d in before.days for x in d.lifts]
    lost = {x.muscle for x, c in planned if c is None}
    less = [c for _, c in planned if c is not None and (c.strains & joints or c.gentle)]
    losing = [m for m in question.muscles if m.name in lost or any(direct(c, m) for c in less)]
    free = {c.key for c in question.choices if not c.strains & joints and any(direct(c, m) for m in losing)}
    return replace(question, no_more=frozenset(known.keys() - free))
