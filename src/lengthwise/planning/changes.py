"""This week against last: every lift that went, came, moved or changed its sets, each with its reason."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from lengthwise.body.muscle_names import in_full
from lengthwise.planning.as_before import order_changes
from lengthwise.planning.muscle_rows import NO_REST
from lengthwise.planning.practice import Practice
from lengthwise.planning.question import WEEKDAYS, Muscle, WeekQuestion
from lengthwise.planning.steps import most_sets
from lengthwise.planning.week import PlannedLift, Week, WeekChange
from lengthwise.planning.week_model import close_days, counted, direct
from lengthwise.quantities import set_count
from lengthwise.training.record_words import joint_told

Key = tuple[str, str]
ENOUGH = 0.5
"""Counted sets by which a muscle must be short or over before it is a reason (own choice)."""
SLACK_MIN = 0.5
"""Minutes that do not matter."""
LOADS = 0.1
"""A lift loads a sore joint from this part of what it may carry on (own choice)."""
FREE_MIN = 5.0
"""A day with so many minutes left had room for two sets more: nothing there had to make room (own choice)."""
UNTOLD = ""
"""Where nothing but the score of the whole week speaks for a change: no reason that a client would be told."""


def changes_of(
    question: WeekQuestion, previous: Week, week: Week, out: Mapping[str, str], before: Mapping[str, float]
) -> tuple[WeekChange, ...]:
    """What differs from the week before, and why.

    Args:
        out: why lifts cannot stand in the week, by id. before: counted sets of each muscle in the week before.
    """
    old, new, weeks = _by_lift(previous), _by_lift(week), (before, previous, week)
    return (
        *_together((x.name, _why_gone(question, (x, days), out, weeks)) for key, (x, days) in old.items() if key not in new),
        *(_new(question, x, weeks) for key, x in new.items() if key not in old),
        *(change for key in new if key in old for change in _differs(question, old[key], new[key], weeks)),
        *order_changes(question, previous, week),
    )


Where = tuple[PlannedLift, Mapping[str, int]]


def _by_lift(week: Week) -> dict[Key, Where]:
    out: dict[Key, tuple[PlannedLift, dict[str, int]]] = {}
    for d in week.days:
        for x in d.lifts:
            out.setdefault((x.lift, x.range), (x, {}))[1][d.day] = x.sets
    return dict(out)


def _together(gone: Iterable[tuple[str, str]]) -> Iterator[WeekChange]:
    """Lifts that went, by name and reason; those of one reason in one line, since a trip without machines is one reason for many."""
    names: dict[str, list[str]] = {}
    for name, why in gone:
        names.setdefault(why, []).append(name)
    for why, lifts in names.items():
        *most, last = lifts
        yield WeekChange(f"{', '.join(most)} and {last} are left out" if most else f"{last} is left out", why)


def _why_gone(question: WeekQuestion, where: Where, out: Mapping[str, str], weeks: "Both") -> str:
    (lift, days), week = where, weeks[2]
    if lift.lift in question.refused:
        return "it is refused"
    if lift.gear in question.without:
        return f"{in_full(lift.gear)} is not there this week"
    if lift.lift in out:
        return out[lift.lift]
    if lacks := _lacks(question, lift, days):
        return lacks
    if given_up := _shorter(question, weeks[1], [*days]) or _too_close(question, weeks[1], lift, days):
        return given_up
    if hurts := _hurts(question, lift, week, days):
        return hurts
    over = next((m for m in question.muscles if m.name == lift.muscle and week.muscle_sets[m.name] >= m.low), None)
    if over is not None:
        return f"{in_full(over.name)} has its {week.muscle_sets[over.name]:.0f} sets without it"
    return _makes_room(question, weeks, lift, [*days])


def _new(question: WeekQuestion, where: Where, weeks: "Both") -> WeekChange:
    lift, days = where
    return WeekChange(f"{lift.name} comes in with {set_count(sum(days.values()))}", _lacked(question, lift, weeks))


def _lacked(question: WeekQuestion, lift: PlannedLift, weeks: "Both") -> str:
    """The muscle that a lift is there for, and how short it was, or what it has now."""
    before, previous, week = weeks
    if gone := question.in_place_of.get((lift.lift, lift.range)):
        return f"it takes the place of {gone}"
    if by_hand := _by_hand(question, previous, lift):
        return by_hand
    muscle, went = _of(question, lift), _lost(question, previous, week, lift)
    if muscle is None:
        like = any(_alike(question, lift, x) for d in previous.days for x in d.lifts)
        return f"it takes the place of {went}" if went else UNTOLD if like else "last week held no lift like it"
    was, now, wanted = before.get(muscle.name, 0.0), week.muscle_sets[muscle.name], max(muscle.low, muscle.floor)
    if was < wanted - ENOUGH:
        return f"{in_full(muscle.name)} had {was:.0f} of {wanted:g} sets"
    if now > was + ENOUGH:
        return _goes(muscle.name, was, now) + (", since you want more of it" if muscle.raised else "")
    keeps = f"{in_full(muscle.name)} keeps {now:.0f} sets" if now > was - ENOUGH else f"{in_full(muscle.name)} has {now:.0f} sets"
    return f"it takes the place of {went}: {keeps}" if went else keeps


def _lacks(question: WeekQuestion, lift: PlannedLift, days: Collection[str]) -> str:
    """That a lift's equipment is not there on one of some days; empty where it is."""
    lacking = [d.day for d in question.days if d.day in days and lift.gear and lift.gear not in d.gear]
    return f"{in_full(lift.gear)} is not there on {lacking[0].capitalize()}" if lacking else ""


def _by_hand(question: WeekQuestion, previous: Week, lift: PlannedLift) -> str:
    """That a lift is fixed on a day with other sets than it had there; empty where it is not."""
    key, old = (lift.lift, lift.range), {(d.day, (x.lift, x.range)): x.sets for d in previous.days for x in d.lifts}
    fixed = [
        day for (day, one), n in question.pinned.items() if one == key and old.get((day, one)) != n and day not in question.closed
    ]
    return f"it is fixed on {fixed[0].capitalize()} by hand" if fixed else ""


def _lost(question: WeekQuestion, previous: Week, week: Week, lift: PlannedLift) -> str:
    """Of the lifts like one the one that lost most sets; empty where none did."""
    old, new = _by_lift(previous), _by_lift(week)
    lost = {
        key: sum(days.values()) - sum(new[key][1].values() if key in new else ())
        for key, (x, days) in old.items()
        if _alike(question, lift, x)
    }
    most = max(lost, key=lambda key: (lost[key], key), default=None)
    return old[most][0].name if most is not None and lost[most] > 0 else ""


def _alike(question: WeekQuestion, one: PlannedLift, other: PlannedLift) -> bool:
    """Whether two lifts are there for one muscle or do one job, so that one may take the other's place: no push-up is done for a calf raise."""
    if one.muscle and one.muscle == other.muscle:
        return True
    a, b = _practice(question, one), _practice(question, other)
    return a is not None and b is not None and a.multi and b.multi and a.pattern == b.pattern


def _practice(question: WeekQuestion, lift: PlannedLift) -> Practice | None:
    return next((c.practice for c in question.able or question.choices if c.lift == lift.lift), None)


def _of(question: WeekQuestion, lift: PlannedLift) -> Muscle | None:
    return next((m for m in question.muscles if m.name == lift.muscle), None)


Both = tuple[Mapping[str, float], Week, Week]
"""Counted sets of each muscle in the week before, that week, and this one."""


def _differs(question: WeekQuestion, old: Where, new: Where, weeks: Both) -> Iterator[WeekChange]:
    lift, was, now = new[0], old[1], new[1]
    if was == now:
        return
    went, came = [d for d in was if d not in now], [d for d in now if d not in was]
    if went and came:
        gone = went[0] not in {d.day for d in question.days}
        close = _too_close(question, weeks[1], lift, went)
        where = _shorter(question, weeks[1], went) if {*went} & question.missed else ""
        where = where or _by_hand(question, weeks[1], lift) or _lacks(question, lift, went)
        where = where or ("the day is no training day any more" if gone else close or _makes_room(question, weeks, lift, went))
        yield WeekChange(f"{lift.name} moves from {went[0].capitalize()} to {came[0].capitalize()}", where)
    total_was, total_now = sum(was.values()), sum(now.values())
    fewer = [d for d in was if now.get(d, 0) < was[d]]
    if total_was != total_now:
        why = _lacked(question, lift, weeks) if total_now > total_was else _why_fewer(question, lift, fewer, weeks)
        yield WeekChange(f"{lift.name}: {set_count(total_now)} instead of {total_was}", why)
    elif not (went and came):
        yield WeekChange(
            f"{lift.name}: the same {set_count(total_now)}, spread again over its days", _makes_room(question, weeks, lift, fewer)
        )


def _why_fewer(question: WeekQuestion, lift: PlannedLift, days: Sequence[str], weeks: Both) -> str:
    """Why a lift loses sets on some days: its own day is shorter, its muscle has enough or has them elsewhere, or others of the day need them."""
    before, previous, week = weeks
    muscle = _of(question, lift)
    if asked := _by_hand(question, previous, lift) or _lacks(question, lift, days):
        return asked
    if given_up := _shorter(question, previous, days) or _too_close(question, previous, lift, days):
        return given_up
    if hurts := _hurts(question, lift, week, days):
        return hurts
    if muscle is not None and before.get(muscle.name, 0.0) > muscle.high + ENOUGH:
        return f"{in_full(muscle.name)} had {before[muscle.name]:.0f} sets, above {muscle.high:g}"
    if muscle is not None and week.muscle_sets[muscle.name] >= before.get(muscle.name, 0.0) - ENOUGH:
        return f"{in_full(muscle.name)} keeps {week.muscle_sets[muscle.name]:.0f} sets"
    return _makes_room(question, weeks, lift, days)


def _hurts(question: WeekQuestion, lift: PlannedLift, week: Week, days: Collection[str]) -> str:
    """The joint that hurts and keeps a lift from more sets on some days: the week works it as much as it may, or these days load it so; empty
    where none does.
    """
    known = {c.key: c for c in (*question.able, *question.choices)}
    choice, done = known.get((lift.lift, lift.range)), question.done
    if choice is None:
        return ""
    planned = [(d.day, known[x.lift, x.range], x.sets) for d in week.days for x in d.lifts if (x.lift, x.range) in known]
    worked = {j: sum(n for _, c, n in planned if j in c.strains) for j in choice.strains}
    held = {j for j, n in worked.items() if done is not None and n >= done.strain.get(j, 0) - ENOUGH}
    for joint, lifts, sets in done.back if done is not None else ():
        if lift.lift in lifts and sum(n for _, c, n in planned if c.lift in lifts) >= sets - ENOUGH:
            if len(lifts) == 1 and done is not None and sets < done.lifts.get(lift.lift, 0) and joint in question.joint_nm:
                return f"one of its sets hurt the {joint_told(joint)}: half of them for now"
            if joint not in question.joint_nm:
                return f"the {joint_told(joint)} gets its sets back in steps"
            held.add(joint)
    for joint, most in question.joint_nm.items():
        loaded = {day: sum(n * c.joint_nm.get(joint, 0.0) for d, c, n in planned if d == day) for day in days}
        more = choice.joint_nm.get(joint, 0.0)
        if more > LOADS * most and all(nm + more > (question.most_dose(joint) * most if most else 0.0) for nm in loaded.values()):
            held.add(joint)
    names = " and ".join(map(joint_told, sorted(held)))
    return f"it works the {names}, which gets no more sets while it hurts" if held else ""


def _makes_room(question: WeekQuestion, weeks: Both, lift: PlannedLift, days: Sequence[str]) -> str:
    """Why sets of a lift leave some days: one is shorter, else what gained most there, or the muscle that gained most in the week; nothing of
    these where minutes and sets are left for both.
    """
    before, previous, week = weeks
    if shorter := _shorter(question, previous, days):
        return shorter
    full = sum(x.sets for d in week.days for x in d.lifts) >= most_sets(question) - 1
    spent = {d.day: d.minutes for d in week.days}
    tight = [d for d in question.days if d.day in days and (full or spent.get(d.day, 0.0) > d.minutes - FREE_MIN)]
    if grown := _grown(question, weeks, lift, days, frozenset(d.day for d in tight)):
        return grown
    if not tight:
        return UNTOLD
    gained = {m.name: week.muscle_sets[m.name] - before.get(m.name, week.muscle_sets[m.name]) for m in question.muscles}
    most = max(gained, key=lambda name: (gained[name], name), default="")
    if not most or gained[most] <= ENOUGH:
        return UNTOLD
    return _goes(most, before[most], week.muscle_sets[most])


def _goes(muscle: str, was: float, now: float) -> str:
    """From how many sets to how many, to a tenth where whole sets would be the same."""
    digits = int(f"{was:.0f}" == f"{now:.0f}")
    return f"{in_full(muscle)} goes from {was:.{digits}f} to {now:.{digits}f} sets"


def _shorter(question: WeekQuestion, previous: Week, days: Sequence[str]) -> str:
    """That one of some days falls out, or has fewer minutes than it took in the week before; empty where none has."""
    if missed := sorted(question.missed & {*days}, key=WEEKDAYS.index):
        return f"{missed[0].capitalize()} is skipped"
    took = {d.day: d.minutes for d in previous.days}
    for d in question.days:
        if d.day in days and took.get(d.day, 0.0) > d.minutes + SLACK_MIN:
            return f"{d.day.capitalize()} has {d.minutes:.0f} minutes"
    return ""


def _too_close(question: WeekQuestion, previous: Week, lift: PlannedLift, days: Collection[str]) -> str:
    """That some days of the week before would train a muscle that a lift is meant for hard right after or before another, as where a session moved;
    empty where none would.
    """
    known = {c.key: c for c in question.choices}
    choice = known.get((lift.lift, lift.range))
    planned = [(d.day, known[x.lift, x.range], x.sets) for d in previous.days for x in d.lifts if (x.lift, x.range) in known]
    for m in [m for m in question.muscles if choice is not None and m.name not in NO_REST and direct(choice, m)]:
        for a, b in ((question.days[i].day, question.days[j].day) for i, j in close_days(question)):
            sets = [max(sum(n * of(c, m) for d, c, n in planned if d == day) for of in (counted, direct)) for day in (a, b)]
            if {a, b} & {*days} and min(sets) > question.rules.hard_from_sets:
                return f"{in_full(m.name)} would have hard sets on {a.capitalize()} and {b.capitalize()}, without a day between"
    return ""


def _grown(question: WeekQuestion, weeks: Both, lift: PlannedLift, days: Sequence[str], tight: Collection[str]) -> str:
    """What takes the place of a lift's sets: of lifts that gained on some days the one that does the same, or gained most where the day is
    full; named with the days on which it gained. Empty where none did.
    """
    _, previous, week = weeks
    old = {(d.day, x.lift, x.range): x.sets for d in previous.days for x in d.lifts}
    gained: Counter[str] = Counter()
    where: dict[str, list[str]] = {}
    same: set[str] = set()
    for d in week.days:
        for x in d.lifts if d.day in days else ():
            more = x.sets - old.get((d.day, x.lift, x.range), 0)
            alike = _alike(question, lift, x)
            if more > 0 and (d.day in tight or alike):
                same |= {x.name} if alike else set()
                gained[x.name] += more
                where.setdefault(x.name, []).append(d.day.capitalize())
    if not gained:
        return ""
    most = max(gained, key=lambda name: (name in same, gained[name], name))
    return f"it makes room for {most}: more of it on {' and '.join(where[most])}"
