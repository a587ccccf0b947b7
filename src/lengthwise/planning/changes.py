"""This week against last: every lift that went, came, moved or changed its sets, each with its reason."""

from collections.abc import Iterable, Iterator, Mapping

from lengthwise.body.muscle_names import in_full
from lengthwise.planning.model import counted
from lengthwise.planning.question import Muscle, Question
from lengthwise.planning.week import PlannedLift, Week, WeekChange

Key = tuple[str, str]
ENOUGH = 0.5
"""Counted sets by which a muscle must be short or over before it is a reason (own choice)."""


def changes_of(question: Question, previous: Week, week: Week, out: Mapping[str, str]) -> tuple[WeekChange, ...]:
    """What differs from the week before, and why.

    Args:
        out: why lifts cannot stand in the week, by id.
    """
    old, new = _by_lift(previous), _by_lift(week)
    before = _sets_before(question, previous)
    return (
        *_together((x[0].name, _why_gone(question, x[0], out, week)) for key, x in old.items() if key not in new),
        *(_new(question, x, before, week) for key, x in new.items() if key not in old),
        *(change for key in new if key in old for change in _differs(question, key, old[key], new[key], before, week)),
    )


Where = tuple[PlannedLift, Mapping[str, int]]


def _by_lift(week: Week) -> dict[Key, Where]:
    out: dict[Key, tuple[PlannedLift, dict[str, int]]] = {}
    for d in week.days:
        for x in d.lifts:
            out.setdefault((x.lift, x.range), (x, {}))[1][d.day] = x.sets
    return dict(out)


def _sets_before(question: Question, previous: Week) -> dict[str, float]:
    """Counted sets of each muscle in the week before; lifts that cannot be chosen any more count by what the week itself said."""
    known = {c.key: c for c in question.choices}
    planned = [x for d in previous.days for x in d.lifts if (x.lift, x.range) in known]
    return {m.name: sum(x.sets * counted(known[x.lift, x.range], m) for x in planned) for m in question.muscles}


def _together(gone: Iterable[tuple[str, str]]) -> Iterator[WeekChange]:
    """Lifts that went, by name and reason; those of one reason in one line, since a trip without machines is one reason for many."""
    names: dict[str, list[str]] = {}
    for name, why in gone:
        names.setdefault(why, []).append(name)
    for why, lifts in names.items():
        *most, last = lifts
        yield WeekChange(f"{', '.join(most)} and {last} are left out" if most else f"{last} is left out", why)


def _why_gone(question: Question, lift: PlannedLift, out: Mapping[str, str], week: Week) -> str:
    if lift.lift in question.refused:
        return "it is refused"
    if lift.gear in question.without:
        return f"{in_full(lift.gear)} is not there this week"
    if lift.lift in out:
        return out[lift.lift]
    over = next((m for m in question.muscles if m.name == lift.muscle and week.muscle_sets[m.name] >= m.low), None)
    if over is not None:
        return f"{in_full(over.name)} has its {week.muscle_sets[over.name]:.0f} sets without it"
    return "the minutes are better spent on muscles that lack sets"


def _new(question: Question, where: Where, before: Mapping[str, float], week: Week) -> WeekChange:
    lift, days = where
    sets = sum(days.values())
    return WeekChange(f"{lift.name} comes in with {sets} sets", _lacked(question, lift, before, week))


def _lacked(question: Question, lift: PlannedLift, before: Mapping[str, float], week: Week) -> str:
    """The muscle that a lift is there for, and how short it was."""
    muscle = next((m for m in question.muscles if m.name == lift.muscle), None)
    if muscle is None:
        return "it takes the place of what went"
    was, wanted = before.get(muscle.name, 0.0), max(muscle.low, muscle.floor)
    if was < wanted - ENOUGH:
        return f"{in_full(muscle.name)} had {was:.0f} of {wanted:g} sets"
    return f"it takes the place of what went: {in_full(muscle.name)} keeps {week.muscle_sets[muscle.name]:.0f} sets"


def _differs(question: Question, key: Key, old: Where, new: Where, before: Mapping[str, float], week: Week) -> Iterator[WeekChange]:
    lift, was, now = new[0], old[1], new[1]
    if was == now:
        return
    went, came = [d for d in was if d not in now], [d for d in now if d not in was]
    if went and came:
        where = (
            "the day is no training day any more" if went[0] not in {d.day for d in question.days} else "its day has no room left"
        )
        yield WeekChange(f"{lift.name} moves from {went[0].capitalize()} to {came[0].capitalize()}", where)
    total_was, total_now = sum(was.values()), sum(now.values())
    if total_was != total_now:
        yield WeekChange(
            f"{lift.name}: {total_now} sets instead of {total_was}", _why_sets(question, lift, total_now > total_was, before, week)
        )
    elif not (went and came):
        yield WeekChange(
            f"{lift.name}: the same {total_now} sets, spread anew over its days", "so that no day is too long or too hard"
        )


def _why_sets(question: Question, lift: PlannedLift, more: bool, before: Mapping[str, float], week: Week) -> str:
    if more:
        return _lacked(question, lift, before, week)
    muscle: Muscle | None = next((m for m in question.muscles if m.name == lift.muscle), None)
    if muscle is not None and before.get(muscle.name, 0.0) > muscle.high + ENOUGH:
        return f"{in_full(muscle.name)} had {before[muscle.name]:.0f} sets, above {muscle.high:g}"
    return "its day is short of minutes for what others lack"
