"""A lift whose equipment is gone is replaced one for one: on its day, in its place, with its sets, by the nearest lift that can stand there, or that
stands there already and takes them beside its own (common practice, no source).
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.practice import BIG
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.planning.week_model import HALF, Model, direct, forgiving
from lengthwise.quantities import BODY

Key = tuple[str, str]
Line = tuple[str, Key]
Slot = tuple[int, int]
Instead = Mapping[Line, Sequence[str]]
"""Lines that cannot stand, by day and lift, each with the lifts that may take its place, nearest first."""
TAKEN, FURTHER, LATE = 50.0, 5.0, 2.5
"""What it is worth to replace a line, less for each nearer lift that is passed over, and for each minute by which the day is late if nothing is done in
turn: a rule of practice, or two minutes, may choose the next lift, neither an empty place (own choice)."""
FIRST_TIME = 2
"""So many sets on a day begins what bears the body itself on one joint and was never done: it leaves days of soreness (common practice, no source)."""
NODES = 50
"""Nodes with which replacements are shared out (own choice)."""


def left_of(week: Week, instead: Instead) -> Week:
    """A week without the lines that cannot stand."""

    def left(day: PlannedDay) -> PlannedDay:
        return replace(day, lifts=tuple(x for x in day.lifts if (day.day, (x.lift, x.range)) not in instead))

    return replace(week, days=tuple(map(left, week.days)))


def with_instead(model: Model, week: Week, instead: Instead) -> tuple[Week, dict[Key, str]]:
    """A week with its lines that cannot stand replaced, and the names of the lifts that others take the place of; a line for which no lift can stand is
    left out.

    Args:
        model: of the question, beside the week without these lines.
    """
    lines: dict[Line, PlannedLift] = {
        (d.day, (x.lift, x.range)): x for d in week.days for x in d.lifts if (d.day, (x.lift, x.range)) in instead
    }
    taken = _taken(model, lines, instead)
    more: dict[Line, int] = {(at[0], (x.lift, x.range)): x.sets for at, x in taken.items()}

    def replaced(day: PlannedDay) -> PlannedDay:
        there: list[tuple[Line, PlannedLift]] = [((day.day, (x.lift, x.range)), x) for x in day.lifts]
        own = {key for (_, key), _ in there}
        stays = [(at, x if at in instead else replace(x, sets=more.get(at, x.sets))) for at, x in there]
        came = {at: x for at, x in taken.items() if (x.lift, x.range) not in own}
        return replace(day, lifts=tuple(came.get(at, x) for at, x in stays if at in came or at not in instead))

    names: dict[Key, str] = {(x.lift, x.range): lines[at].name for at, x in reversed(taken.items())}
    return replace(week, days=tuple(map(replaced, week.days))), names


def _taken(model: Model, lines: Mapping[Line, PlannedLift], instead: Instead) -> dict[Line, PlannedLift]:
    """What takes the place of each line, with the sets that it then has on that day; nothing where no lift can."""
    question, columns = model.question, _may_take(model, lines, instead)
    slots = dict.fromkeys(slot for _, slot in columns)
    less = {i for i, c in enumerate(question.choices) if c.gentle or c.strains}  # of these a joint may have to get fewer sets
    stay = (slot for slot in model.slots if slot not in slots and not (slot[0] in less and _stood(model, *slot)))
    held = {k: n for slot in stay for k, n in _as_it_stood(model, *slot).items()}
    found = maximise(forgiving(model).fixing(held), Work(nodes=NODES, gap=1.0))
    taken = {at: slot for (at, slot), k in columns.items() if found.found and found.point[k] > HALF}
    sets = {slot: _stood(model, *slot) + _room(model, slot, lines[at].sets) for at, slot in taken.items()}
    return {at: _planned(question.choices[slot[0]], lines[at], sets[slot]) for at, slot in taken.items()}


def _room(model: Model, slot: Slot, sets: int) -> int:
    """How many of a line's sets a lift may take on a day, beside those that stood there."""
    most = round(model.programme.columns[model.sets(*slot)].upper)
    return min(sets, (min(most, FIRST_TIME) if is_strange(model.question, slot[0]) else most) - _stood(model, *slot))


def is_strange(question: WeekQuestion, i: int) -> bool:
    """Whether a lift was never done and bears the body itself on one joint, for a big muscle: a kneeling lean-back or a leg curl with the heels held."""
    choice = question.choices[i]
    own = (m for m in question.muscles if direct(choice, m))
    return choice.gear == BODY and not (choice.practice.multi or choice.familiar) and any(m.name in BIG for m in own)


def _may_take(model: Model, lines: Mapping[Line, PlannedLift], instead: Instead) -> dict[tuple[Line, Slot], int]:
    """Columns that say which lift takes the place of which line: one of each line, and a lift on a day that of one line at most. One that stands on
    the day takes sets beside its own where no other can come.
    """
    question, p = model.question, model.programme
    slots: dict[tuple[str, str], Slot] = {(question.days[d].day, question.choices[i].lift): (i, d) for i, d in model.slots}
    able = [(at, slots[at[0], lift], k) for at in lines for k, lift in enumerate(instead[at]) if (at[0], lift) in slots]
    able = [(at, slot, k) for at, slot, k in able if _room(model, slot, lines[at].sets) > 0]
    passed = {(at, slot): len(instead[at]) if _stood(model, *slot) else k for at, slot, k in able}
    out = {one: p.add(("instead", *one), 1.0, TAKEN - FURTHER * k, whole=True) for one, k in passed.items()}
    for at in lines:
        p.keep({k: 1.0 for (line, _), k in out.items() if line == at}, upper=1.0)
    for slot in dict.fromkeys(slot for _, slot in out):
        stood, mine = _stood(model, *slot), {k: -1.0 for (_, there), k in out.items() if there == slot}
        more = {k: -float(_room(model, slot, lines[at].sets)) for (at, there), k in out.items() if there == slot}
        if stood:
            p.keep({model.sets(*slot): 1.0}, lower=stood)
            p.keep(dict.fromkeys(mine, 1.0), upper=1.0)
        else:
            p.keep({model.used(*slot): 1.0, **mine}, lower=0.0, upper=0.0)
        p.keep({model.sets(*slot): 1.0, **more}, upper=stood)
    for d in sorted({d for _, (_, d) in out}):
        took = {k: -_more_minutes(model, slot, lines[at].sets) for (at, slot), k in out.items() if slot[1] == d}
        p.keep({p.add(("late", d), INFINITE, -LATE): 1.0, **took}, lower=-_free(model, d))
    return out


def _more_minutes(model: Model, slot: Slot, sets: int) -> float:
    choice, stood = model.question.choices[slot[0]], _stood(model, *slot)
    return _minutes(choice, stood + _room(model, slot, sets)) - (_minutes(choice, stood) if stood else 0.0)


def _minutes(choice: Choice, sets: int) -> float:
    return (choice.setup_s + sets * (choice.set_s + choice.rest_s)) / 60


def _free(model: Model, d: int) -> float:
    """Minutes that a day has beside the lifts that stay."""
    stay = ((c, _stood(model, i, d)) for i, c in model.on(d))
    return model.question.days[d].minutes - model.question.rules.warm_up_min - sum(_minutes(c, n) for c, n in stay if n)


def _stood(model: Model, i: int, d: int) -> int:
    """Sets of a lift that stood on a day."""
    return model.old.get((model.question.days[d].day, model.question.choices[i].key), 0)


def _as_it_stood(model: Model, i: int, d: int) -> dict[int, float]:
    n = _stood(model, i, d)
    return {model.sets(i, d): float(n), model.used(i, d): float(n > 0)}


def _planned(c: Choice, line: PlannedLift, sets: int) -> PlannedLift:
    return replace(line, lift=c.lift, range=c.range, name=c.name, gear=c.gear, sets=sets, method=c.method, kept=c.kept)
