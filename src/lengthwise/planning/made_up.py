"""What a bound or missing equipment took from a week is made up for: more sets of some lifts, none fewer of any, and all else stays."""

from collections.abc import Collection
from dataclasses import replace

from lengthwise.planning.highs import Solved, maximise
from lengthwise.planning.instead import FIRST_TIME, is_strange
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.week_model import Model, Sets, direct, forgiving
from lengthwise.planning.whole import model_of, work_of

Slot = tuple[int, int]


def taken_made_up(model: Model, sets: Sets) -> Solved | None:
    """What a bound took is made up for by sets of the week's lifts for the same muscles; none where nothing was taken."""
    question = model.question
    old = {(i, d): model.old.get((question.days[d].day, question.choices[i].key), 0) for i, d in model.slots}
    lost = [question.choices[slot[0]] for slot, n in old.items() if sets.get(slot, 0) < n]
    hit = [m for m in question.muscles if any(direct(c, m) for c in lost)]
    there = {i for i, _ in sets}
    free = {(i, d) for i, d in model.slots if i in there and _is_meant(question, i, hit)}
    return _with_more(model, sets, free) if hit else None


def lost_made_up(question: WeekQuestion, sets: Sets, saved: tuple[float, ...]) -> tuple[Model, Solved] | None:
    """What missing equipment took from muscles is made up for on the days that it left emptier, by whatever lift for them can stand there; a new one
    comes for the price of two sets, as in a week that grows. None where nothing was lost.

    Args:
        saved: of each day, the part of the usual saving in turn that is counted on.
    """
    hit = [m for m in question.muscles if m.name in question.lost]
    if not hit:
        return None
    model = model_of(replace(question, growing=frozenset(question.lost)), saved)
    days = {d for d, offer in enumerate(question.days) if offer.day in question.emptied}
    free = {(i, d) for i, d in model.slots if d in days and _is_meant(question, i, hit) and _may_begin(question, i)}
    return model, _with_more(model, sets, free)


def _is_meant(question: WeekQuestion, i: int, muscles: Collection[Muscle]) -> bool:
    return any(direct(question.choices[i], m) for m in muscles)


def _may_begin(question: WeekQuestion, i: int) -> bool:
    """Whether a lift is done already, or strains no joint that hurts."""
    return question.choices[i].familiar or not question.choices[i].strains


def _with_more(model: Model, sets: Sets, free: Collection[Slot]) -> Solved:
    """The best week with more sets of some lifts on some days, none fewer, and every other as it is."""
    held = {k: n for slot in model.slots if slot not in free for k, n in _as_in(model, sets, slot).items()}
    least = {k: n for slot in free for k, n in _as_in(model, sets, slot).items()}
    most = {model.sets(i, d): float(max(FIRST_TIME, sets.get((i, d), 0))) for i, d in free if is_strange(model.question, i)}
    return maximise(forgiving(model).fixing(held).flooring(least).capping(most), work_of(model.question))


def _as_in(model: Model, sets: Sets, slot: Slot) -> dict[int, float]:
    return {model.sets(*slot): float(sets.get(slot, 0)), model.used(*slot): float(slot in sets)}
