"""Days that end late or early: asked anew with what their pairs really save, the others held."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.assembly import sets_of_point
from lengthwise.planning.effort import effort
from lengthwise.planning.highs import Solved, maximise
from lengthwise.planning.pairing import minutes_of, pair_saves, pairs_of
from lengthwise.planning.question import NEARLY_MET, Muscle, WeekQuestion
from lengthwise.planning.search import searched
from lengthwise.planning.week_model import Model, Sets, counted, forgiving
from lengthwise.planning.week_rows import tied_days
from lengthwise.planning.whole import model_of, solved, work_of

CAREFUL = 0.9
"""Where real pairs save less than was counted on, this part of what they do save is counted on next (own choice)."""
LATE_MIN = 1e-3
"""Minutes by which a day may be late: rounding."""
EARLY_MIN = 4.0
"""A day that ends so much before its minutes has room for a set more (own choice)."""


@dataclass(frozen=True)
class OnTime:
    """A week whose days are on time with their real pairs: its programme, its point and its worth."""

    model: Model
    point: NDArray[np.float64]
    worth: float


def with_early_days(best: OnTime) -> OnTime:
    """A week in which days whose pairs save more than was counted on are asked anew with what they save, the others held, where a muscle could
    use the minutes.
    """
    model, sets = best.model, sets_of_point(best.model, best.point)
    early = _early(model, best.point, sets)
    if not early or effort().done or not any(_wants_more(m, model.question, sets) for m in model.question.muscles):
        return best
    fuller = model_of(model.question, tuple(early.get(d, part) for d, part in enumerate(model.saved)))
    return max(best, on_time(fuller, _with_others_held(fuller, sets, set(early))), key=lambda one: one.worth)


def _wants_more(muscle: Muscle, question: WeekQuestion, sets: Sets) -> bool:
    """Whether a muscle is below its band, or raised and below the end of it."""
    got = sum(n * counted(question.choices[i], muscle) for (i, _), n in sets.items())
    return got < (muscle.high if muscle.raised else muscle.low) - NEARLY_MET


def _early(model: Model, point: NDArray[np.float64], sets: Sets) -> dict[int, float]:
    """Days with minutes left for which nobody looked, and of what pairs are counted on to save the part that theirs do save."""
    question, out = model.question, dict[int, float]()
    for d, offer in enumerate(question.days):
        mine = {i: n for (i, e), n in sorted(sets.items()) if e == d}
        pairs = pairs_of(question, d, mine)
        rounds = _rounds(model, point, d) if pairs else 0.0
        if rounds > 0 and minutes_of(question, mine, pairs) < offer.minutes - EARLY_MIN:
            part = CAREFUL * _saved_part(question, mine, pairs, rounds)
            out |= {d: part} if part > model.saved[d] else {}
    return out


def _rounds(model: Model, point: NDArray[np.float64], d: int) -> float:
    """How many rounds of pairs a week counts on; none where nothing is counted on to be saved by them."""
    place = model.programme.place.get(("rounds", d))
    return 0.0 if place is None else float(point[place])


def _saved_part(question: WeekQuestion, mine: Mapping[int, int], pairs: list[tuple[int, int]], rounds: float) -> float:
    """What the pairs of a day save beside what is usual for so many rounds."""
    return sum(pair_saves(question, mine, p) for p in pairs) / (question.rules.pair_round_s * max(rounds, 1e-9))


def on_time(model: Model, found: Solved) -> OnTime:
    """A week in which late days are asked anew, the others held: with what their pairs do save, then with nothing, which always fits."""
    for careful in (CAREFUL, CAREFUL, 0.0):
        sets = sets_of_point(model, found.point)
        late = really_saved(model, found.point, sets)
        if not late:
            break
        saved = tuple(careful * late[d] if d in late else part for d, part in enumerate(model.saved))
        model = model_of(model.question, saved)
        found = _with_others_held(model, sets, set(late))
    return OnTime(model, found.point, found.worth)


def _with_others_held(model: Model, sets: Sets, late: set[int]) -> Solved:
    """The best week in which only some days change, and those that are tied to them; all may where that is impossible."""
    programme = forgiving(model)
    late = late | {d for pair in tied_days(model.question) if late & {*pair} for d in pair}
    held = {model.sets(i, d): float(sets.get((i, d), 0)) for i, d in model.slots if d not in late}
    held |= {model.used(i, d): float((i, d) in sets) for i, d in model.slots if d not in late}
    found = maximise(programme.fixing(held), replace(work_of(model.question), nodes=1, looks="afresh"))
    return found if found.found else solved(model, programme, searched)


def really_saved(model: Model, point: NDArray[np.float64], sets: Sets) -> dict[int, float]:
    """Of each day that takes too long, the part of the usual saving in turn that its pairs really give."""
    question, out = model.question, {}
    for d, offer in enumerate(question.days):
        mine = {i: n for (i, e), n in sorted(sets.items()) if e == d}
        pairs = pairs_of(question, d, mine)
        if minutes_of(question, mine, pairs) > offer.minutes + LATE_MIN:
            out[d] = _saved_part(question, mine, pairs, _rounds(model, point, d))
    return out


def saved_on_time(model: Model, point: NDArray[np.float64], sets: Sets) -> tuple[float, ...] | None:
    """Of each day, the part of the usual saving in turn that its pairs really give, or what is counted on where that is more; none where a day takes
    too long.
    """
    question, out = model.question, list(model.saved)
    for d, offer in enumerate(question.days):
        mine = {i: n for (i, e), n in sorted(sets.items()) if e == d}
        pairs = pairs_of(question, d, mine)
        if minutes_of(question, mine, pairs) > offer.minutes + LATE_MIN:
            return None
        if pairs and out[d]:
            out[d] = max(out[d], _saved_part(question, mine, pairs, _rounds(model, point, d)))
    return tuple(out)
