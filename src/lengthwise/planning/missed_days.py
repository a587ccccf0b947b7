"""A day that falls out: its first lifts go to the days that are left, which give up small ones for them (common practice, no source)."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.practice import lists
from lengthwise.planning.question import NEARLY_MET, WeekQuestion
from lengthwise.planning.shape import belongs
from lengthwise.planning.shorter_days import OTHER, WANTED, FullDay, counted_in
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week, WeekChange
from lengthwise.planning.week_model import direct, may_stand
from lengthwise.training.record_words import DayName

Missed = Mapping[DayName, Sequence[DayName]]
"""Days that fall out, each with the days that may take its lifts, first to last."""
JOBS = ("chest press", "overhead press", "row", "pulldown", "knee", "hip")
"""What a day needs no second lift for, but for a raised muscle."""
BROUGHT, TO_A_DAY = 3, 2
"""So many lifts of a day are brought elsewhere, and so many come to one day (own choice): the rest of it waits for next week."""


def without_missed(question: WeekQuestion, week: Week, missed: Missed, stands: Callable[[Week], bool]) -> Week:
    """A week without its days that fall out; their first lifts stand on others, where minutes, equipment and the lifts there allow it.

    Args:
        stands: whether a week keeps every other bound.
    """
    now = replace(week, days=tuple(d for d in week.days if d.day not in missed))
    came: Counter[str] = Counter()
    for day in (d for d in week.days if d.day in missed):
        brought = 0
        for x in _first(question, day, now):
            for host in _hosts(question, now, x, missed[day.day]) if brought < BROUGHT else ():
                fuller = _with(question, now, host, x) if came[host] < TO_A_DAY else None
                if fuller and stands(fuller):
                    now, brought = fuller, brought + 1
                    came[host] += 1
                    break
    return now


def missed_told(missed: Missed, before: Week, week: Week) -> tuple[WeekChange, ...]:
    """What becomes of days that fall out, in words."""
    old = {(d.day, x.lift) for d in before.days for x in d.lifts}
    came = {x.lift: d.day for d in week.days for x in d.lifts if (d.day, x.lift) not in old}
    return tuple(WeekChange(f"{d.day.capitalize()} falls out", _goes(d, came)) for d in before.days if d.day in missed)


def _goes(day: PlannedDay, came: Mapping[str, str]) -> str:
    """Where the lifts of a day that falls out go."""
    where = [f"{x.name} goes to {came[x.lift].capitalize()}" for x in day.lifts if x.lift in came]
    return "; ".join(
        [*where, "the rest waits for next week"]
        if where
        else ["its lifts wait for next week: the days that are left hold none of them"]
    )


def _hosts(question: WeekQuestion, week: Week, lift: PlannedLift, days: Sequence[DayName]) -> list[DayName]:
    """Days that may take a lift: those for its part of the body, then others where no lift that is left does the same, or a muscle is below its floor."""
    known, had = _choices(question), counted_in(question, week)
    own, shapes = known[lift.lift, lift.range], {o.day: o.shape for o in question.days}
    at_home = [day for day in days if day in shapes and belongs(own.practice, shapes[day], question.muscles)]
    there = (known[x.lift, x.range] for d in week.days for x in d.lifts if (x.lift, x.range) in known)
    short = any(had[m.name] < m.floor - NEARLY_MET for m in question.muscles if direct(own, m))
    wanted = short or not any(_alike(own, other) for other in there)
    return [*at_home, *(day for day in days if wanted and day not in at_home)]


def _choices(question: WeekQuestion) -> dict[tuple[str, str], Choice]:
    return {c.key: c for c in question.choices}


def _first(question: WeekQuestion, day: PlannedDay, week: Week) -> list[PlannedLift]:
    """The lifts of a day that are not small ones: what the rest of the week does not do first, then what matters most."""
    known = _choices(question)
    own = {x: known[x.lift, x.range] for x in day.lifts if (x.lift, x.range) in known}
    there = [known[x.lift, x.range] for d in week.days for x in d.lifts if (x.lift, x.range) in known]
    rank = {x: FullDay.rank_of(question, c) for x, c in own.items()}
    done = {x: any(_alike(c, other) for other in there) for x, c in own.items()}
    return sorted((x for x in own if rank[x] >= OTHER), key=lambda x: (done[x], -rank[x]))


def _alike(one: Choice, other: Choice) -> bool:
    """Whether two lifts do one job, so that a day needs no second one."""
    jobs = [lists().jobs[job] for job in JOBS] if one.practice.multi else []
    same = [{one.practice.pattern}, *(patterns for patterns in jobs if one.practice.pattern in patterns)]
    return one.kind == other.kind or any(other.practice.pattern in patterns for patterns in same)


def _with(question: WeekQuestion, week: Week, host: DayName, lift: PlannedLift) -> Week | None:
    """The week with a lift on a day as well; none where it cannot stand there, or another that is no small one would have to go."""
    known = _choices(question)
    d = next((d for d, o in enumerate(question.days) if o.day == host), None)
    day = next((x for x in week.days if x.day == host), None)
    own = known[lift.lift, lift.range]
    if d is None or day is None:
        return None
    offer = question.days[d]
    if not may_stand(question, own, offer if offer.strict else replace(offer, shape="whole"), False):
        return None
    wanted = FullDay.rank_of(question, own) == WANTED
    for x in day.lifts:
        there = known.get((x.lift, x.range))
        if there is None or there.lift == own.lift or (_alike(own, there) and not wanted):
            return None
    main = [x for x in day.lifts if FullDay.rank_of(question, known[x.lift, x.range]) >= OTHER]
    put = (*main, replace(lift, pair=None), *(x for x in day.lifts if x not in main))
    full = FullDay(question, d, counted_in(question, week), ())
    cut = full.cut(replace(day, lifts=put))
    if not {x.lift for x in (*main, lift)} <= {x.lift for x in cut.lifts} or not full.holds(cut):
        return None
    return replace(week, days=tuple(cut if x.day == host else x for x in week.days))
