"""A day that falls out: of its lifts those that the week can least do without go to the days that are left, which give up sets of single joints for
them (common practice, no source).
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.assembly import sets_of_point
from lengthwise.planning.highs import maximise
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.practice import lists
from lengthwise.planning.question import NEARLY_MET, WeekQuestion
from lengthwise.planning.shape import belongs
from lengthwise.planning.shorter_days import LEAST, OTHER, WANTED, FullDay, counted_in
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week, WeekChange
from lengthwise.planning.week_model import Model, direct, forgiving
from lengthwise.planning.whole import model_of, work_of
from lengthwise.training.record_words import DayName

Missed = Mapping[DayName, Sequence[DayName]]
"""Days that fall out, each with the days that may take its lifts, first to last."""
JOBS = ("chest press", "overhead press", "row", "pulldown", "knee")
"""What a week needs no second lift for; of hinges and thrusts neither does the other's."""
BROUGHT, TO_A_DAY = 3, 2
"""So many lifts of a day are brought elsewhere, and so many come to one day (own choice): the rest of it waits for next week."""
Key = tuple[str, str]
Slot = tuple[int, int]
Vector = NDArray[np.float64]


def without_missed(question: WeekQuestion, week: Week, missed: Missed, stands: Callable[[Week], bool]) -> Week:
    """A week without its days that fall out. A lift of the client's own that stood on these alone takes the place of another that does its job; then
    others come to the days that are left, where that is worth more than what single joints give up there.

    Args:
        stands: whether a week keeps every other bound.
    """
    now = replace(week, days=tuple(d for d in week.days if d.day not in missed))
    gone = {x: missed[d.day] for d in week.days if d.day in missed for x in d.lifts}
    for x, hosts in gone.items():
        now = next(filter(stands, _in_a_place(question, now, x, hosts)), now)
    return _with_brought(question, counted_in(question, week), now, gone)


def _in_a_place(question: WeekQuestion, week: Week, lift: PlannedLift, hosts: Collection[DayName]) -> Iterator[Week]:
    """Weeks in which a lift of the client's own that stands nowhere takes the place of one that does its job and is not, or asks less of the body."""
    known = _choices(question)
    own = known.get((lift.lift, lift.range))
    if own is None or not (own.kept and own.practice.multi) or any(x.lift == lift.lift for d in week.days for x in d.lifts):
        return
    for day in (d for d in week.days if d.day in hosts):
        for x in day.lifts:
            there = known.get((x.lift, x.range))
            if there and _alike(own, there) and (not there.kept or there.practice.costly < own.practice.costly):
                put = replace(day, lifts=tuple(replace(lift, pair=None) if y is x else y for y in day.lifts))
                yield replace(week, days=tuple(put if d is day else d for d in week.days))


def _with_brought(
    question: WeekQuestion, had: Mapping[str, float], week: Week, gone: Mapping[PlannedLift, Sequence[DayName]]
) -> Week:
    """The week with lifts of days that fell out where that gains: three at most, two a day. No lift over several joints loses a set for them, nor
    any but for calves and trunk for a single joint.

    Args:
        had: counted sets of each muscle before. gone: those lifts, each with the days that may take it.
    """
    known = _choices(question)
    lost = {m.name: had[m.name] for m in question.muscles if m.raised}
    able = {(day, x.lift, x.range): x for x in gone for day in _hosts(question, week, x, gone[x]) if (x.lift, x.range) in known}
    hosts = {day for day, *_ in able}
    days = tuple(replace(o, shape="whole") if o.day in hosts and not o.strict else o for o in question.days)
    model = model_of(replace(question, days=days, previous=week, lost=lost))
    stood = {(day.day, x.lift, x.range) for day in week.days for x in day.lifts}
    come = {(i, d): able[at] for i, d in model.slots if (at := (days[d].day, *question.choices[i].key)) in able.keys() - stood}
    known_price = question.rules.swap_price + 2 * question.rules.move_price
    programme = forgiving(model).paying(dict.fromkeys((model.used(*slot) for slot in come), known_price))
    there = {(i, d): model.old.get((days[d].day, question.choices[i].key), 0) for i, d in model.slots}
    gives = {s for s, n in there.items() if n and days[s[1]].day in hosts and not question.choices[s[0]].practice.multi}
    held = {
        k: float(n)
        for s, n in there.items()
        if s not in come and s not in gives
        for k, n in ((model.sets(*s), n), (model.used(*s), n > 0))
    }
    most = {model.sets(*s): float(come[s].sets if s in come else there[s]) for s in [*come, *gives]}
    programme = programme.fixing(held).capping(most)
    _give_only(model, programme, {s: there[s] for s in gives}, come)
    programme.keep({model.used(*s): 1.0 for s in come}, upper=float(BROUGHT))
    for d in range(len(days)):
        programme.keep({model.used(*s): 1.0 for s in come if s[1] == d}, upper=float(TO_A_DAY))
    found = maximise(programme, work_of(question)) if come else None
    return _as_found(model, week, found.point, come) if found and found.found else week


def _give_only(model: Model, programme: Programme, gives: Mapping[Slot, int], come: Collection[Slot]) -> None:
    """Lifts with their sets give up some only where something comes to their day: for a lift over several joints, those for calves and trunk for any."""
    choices = model.question.choices
    for (i, d), n in gives.items():
        here = {s: choices[s[0]].practice.multi for s in come if s[1] == d}
        small = FullDay.rank_of(model.question, choices[i]) == LEAST
        takes = {model.used(*s): float(n) for s, multi in here.items() if multi or small}
        programme.keep({model.sets(i, d): 1.0, **takes}, lower=float(n))
        for s in () if small else (s for s, multi in here.items() if not multi):
            programme.keep({model.sets(i, d): 1.0, model.used(*s): -float(n)}, lower=0.0)


def missed_told(missed: Missed, before: Week, week: Week) -> tuple[WeekChange, ...]:
    """What becomes of days that fall out, in words."""
    old = {(d.day, x.lift) for d in before.days for x in d.lifts}
    came = {x.lift: d.day for d in week.days for x in d.lifts if (d.day, x.lift) not in old}
    return tuple(WeekChange(f"{d.day.capitalize()} is skipped", _goes(d, came)) for d in before.days if d.day in missed)


def _goes(day: PlannedDay, came: Mapping[str, str]) -> str:
    """Where the lifts of a day that falls out go."""
    where = [f"{x.name} goes to {came[x.lift].capitalize()}" for x in day.lifts if x.lift in came]
    return "; ".join(
        [*where, "the rest waits for next week"]
        if where
        else ["its lifts wait for next week: the days that are left hold none of them"]
    )


def _hosts(question: WeekQuestion, week: Week, lift: PlannedLift, days: Sequence[DayName]) -> list[DayName]:
    """Days that may take a lift that is no small one, where none does the same, but for a raised muscle: those for its part of the body, and others
    where no lift that is left does the same, or a muscle is below its floor.
    """
    known, shapes = _choices(question), {o.day: o for o in question.days}
    own = known.get((lift.lift, lift.range))
    if own is None or (rank := FullDay.rank_of(question, own)) < OTHER:
        return []
    there, had = (
        [known[x.lift, x.range] for d in week.days for x in d.lifts if (x.lift, x.range) in known],
        counted_in(question, week),
    )
    short = any(had[m.name] < m.floor - NEARLY_MET for m in question.muscles if direct(own, m))
    wanted = short or not any(_alike(own, other) for other in there)
    here = {d.day: any(_alike(own, known[x.lift, x.range]) for x in d.lifts if (x.lift, x.range) in known) for d in week.days}
    return [
        day
        for day in days
        if day in shapes
        and (rank == WANTED or not here[day])
        and (belongs(own.practice, shapes[day].shape, question.muscles) or (wanted and not shapes[day].strict))
    ]


def _choices(question: WeekQuestion) -> dict[tuple[str, str], Choice]:
    return {c.key: c for c in question.choices}


def _alike(one: Choice, other: Choice) -> bool:
    """Whether two lifts do one job, so that a day needs no second one."""
    jobs = [lists().jobs[job] for job in JOBS] if one.practice.multi else []
    same = [{one.practice.pattern}, *(patterns for patterns in jobs if one.practice.pattern in patterns)]
    return one.kind == other.kind or any(other.practice.pattern in patterns for patterns in same)


def _as_found(model: Model, week: Week, point: Vector, come: Mapping[Slot, PlannedLift]) -> Week:
    """The week with the sets of a point: what came stands after the lifts over several joints of its day."""
    question, sets = model.question, sets_of_point(model, point)
    at = {(question.days[d].day, question.choices[i].key): n for (i, d), n in sets.items()}
    known = _choices(question)

    def full(day: PlannedDay) -> PlannedDay:
        left = [replace(x, sets=at[day.day, (x.lift, x.range)]) for x in day.lifts if (day.day, (x.lift, x.range)) in at]
        new = [
            replace(x, sets=sets[i, d], pair=None)
            for (i, d), x in come.items()
            if question.days[d].day == day.day and (i, d) in sets
        ]
        main = [x for x in left if known[x.lift, x.range].practice.multi]
        return replace(day, lifts=(*main, *new, *(x for x in left if x not in main)))

    return replace(week, days=tuple(map(full, week.days)))
