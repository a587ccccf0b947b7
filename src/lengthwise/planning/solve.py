"""The best week for a question, how far from the best it can be at most, or which wishes stand against each other."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.planning.assembly import sets_of_point, week_of
from lengthwise.planning.conflict import can_hold
from lengthwise.planning.distance import difference, moved
from lengthwise.planning.effort import at_most, effort
from lengthwise.planning.floors import firmer
from lengthwise.planning.highs import Solved, Work
from lengthwise.planning.integer_programme import INFINITE, Programme
from lengthwise.planning.made_up import lost_made_up, taken_made_up
from lengthwise.planning.nearby import begun_nearby, improved_nearby, kept_nearby, stays_near
from lengthwise.planning.on_time import CAREFUL, OnTime, on_time, saved_on_time, with_early_days
from lengthwise.planning.question import NEARLY_MET, WeekQuestion
from lengthwise.planning.search import begun, begun_with, improved, lowered, shared_out
from lengthwise.planning.shortfalls import conflicts, gave_way_told
from lengthwise.planning.week import Week
from lengthwise.planning.week_model import Model, Sets, counted, forgiving
from lengthwise.planning.whole import model_of, solved, start_of, work_of, yardstick

TURNS = 3
"""How often a week is made better with what its pairs really save (own choice)."""


@dataclass(frozen=True, kw_only=True)
class Found:
    """Sets by choice and day with what they are worth, how far from the best at most, and what gave way.

    Attributes:
        saved: of each day, the part of the usual saving in turn that the bound counts on.
    """

    model: Model
    sets: Sets
    worth: float
    gap: float
    gave_way: tuple[str, ...]
    saved: tuple[float, ...]


def plan(question: WeekQuestion) -> Week:
    """The week that is worth most within the wishes; the same for the same question, however busy the machine.

    Where own wishes cannot all be met, the smallest set in conflict is named and the week misses them by as little as was found.

    Raises:
        InputError: no days, the same day twice, or no muscles. NoSolutionError: there is no lift to choose.
    """
    _check(question)
    with at_most(question.rules.most_steps):
        found = _floors_first(question)
    week = week_of(question, found.sets, found.worth, found.gap)
    gave_way = tuple(gave_way_told(found.model, week, words) for words in found.gave_way if words not in found.model.wished)
    week = replace(week, conflicts=conflicts(found.model, found.gave_way, week), notes=(*gave_way, *week.notes))
    if question.previous is not None:
        week = replace(week, moved=moved(week, question.previous))
    return replace(week, difference=difference(week, question.earlier)) if question.earlier else week


def _check(question: WeekQuestion) -> None:
    days = [d.day for d in question.days]
    if not days or len(set(days)) < len(days):
        raise InputError(f"days of a week: found {', '.join(days) or 'none'}; allowed one or more, each once", asked=days)
    if not question.muscles:
        raise InputError("no muscle is wished for; give at least one a priority above 0")
    if question.choices and all(c.lift in question.refused for c in question.choices):
        raise NoSolutionError("every lift that could be done is refused; refuse fewer", asked=sorted(question.refused))
    gear = frozenset().union(*(d.gear for d in question.days))
    if not any(c.gear in d.gear and c.practice.stations <= d.stations for c in question.choices for d in question.days):
        raise NoSolutionError(f"no lift can be done with {', '.join(sorted(gear)) or 'no gear'}", asked=sorted(gear))


def _floors_first(question: WeekQuestion) -> Found:
    """The best week; where a beginner's, or a draft, leaves a muscle below its floor the best of those that do not, if one is as good within
    what counts as near enough: at any price it would drop presses from short days for the sake of a raised muscle's floor.
    """
    found, near = _best(question), question.rules.near_gap * yardstick(question)
    usual = found.gap <= question.rules.near_gap and not question.beginner
    if usual or question.previous is not None or question.pinned:
        return found
    for firm in firmer(found.model, forgiving(found.model), found.sets):
        if effort().done:
            break
        try:
            held = _beside(found, firm)
        except NoSolutionError:
            continue
        if held is not None and held.worth >= found.worth - near:
            return held
    return found


def _beside(found: Found, firm: frozenset[str]) -> Found | None:
    """The best week that holds some floors, begun with the lifts of one that does not, whose bound holds for it too; none where none is found."""
    model = model_of(replace(found.model.question, firm=firm), found.saved)
    lifts = {model.question.choices[i].lift for i, _ in found.sets}

    def begin(model: Model) -> OnTime | None:
        programme = forgiving(model)
        first = begun_with(model, programme, lifts, work_of(model.question))
        return on_time(model, first) if first.found else None

    first = begin(model)
    above = found.worth + found.gap * yardstick(model.question)
    return None if first is None else _whole(_made_better(first, begin, improved, above))


def _best(question: WeekQuestion) -> Found:
    """The best sets, all days on time with their real pairs; near to the week before where one stands, or that week where another gains too little."""
    stays = _as_before(question) if question.trouble else None
    if stays is None:
        return _best_of(model_of(question))
    if question.trouble == INFINITE and not (_misses_own(stays) and _may_meet_own(stays.model)):
        return _refilled(stays)
    stays = stays if question.trouble == INFINITE else _made_up(stays)
    found = _best_of(model_of(question, stays.saved), stays.sets)
    if question.trouble == INFINITE or found.worth > stays.worth + question.trouble:
        return found
    return replace(stays, gap=found.gap + max(0.0, found.worth - stays.worth) / yardstick(question))


def _as_before(question: WeekQuestion) -> Found | None:
    """The week before as it is, or without what a bound forbids, of which nothing is claimed but that it can stand; none where a lift cannot stand
    or a day takes too long with its real pairs.
    """
    model = model_of(question)
    programme = forgiving(model)
    found = kept_nearby(model, programme, work_of(question), start_of(model, programme, model.old))
    out = {k for r in programme.rows if r.wish and r.wish.kind == "forbidden" and not r.upper for k in r.factors}
    able = {(question.days[d].day, question.choices[i].key) for i, d in model.slots if model.used(i, d) not in out}
    if not found.found or not model.old.keys() <= able:
        return None
    stays = _found(OnTime(model, found.point, found.worth), found.worth)
    saved = saved_on_time(model, found.point, stays.sets)
    return replace(stays, saved=saved) if saved else None


def _made_up(stays: Found) -> Found:
    """What is left of the week before, with what a bound took from it made up for; as it is where that gains nothing, or a day gets late."""
    model = model_of(stays.model.question, stays.saved)
    found = taken_made_up(model, stays.sets)
    if found is None or not found.found or found.worth <= stays.worth:
        return stays
    sets = sets_of_point(model, found.point)
    return replace(stays, sets=sets, worth=found.worth) if saved_on_time(model, found.point, sets) else stays


def _refilled(stays: Found) -> Found:
    """A week that has to do with less equipment, with what that took made up for on its emptier days; as it is where a day gets late."""
    for part in (1.0, CAREFUL, 0.0):
        made = lost_made_up(stays.model.question, stays.sets, tuple(part * saved for saved in stays.saved))
        if made is not None and made[1].found:
            model, found = made
            if saved_on_time(model, found.point, sets_of_point(model, found.point)):
                return _found(OnTime(model, found.point, found.worth), found.worth)
    return stays


def _best_of(model: Model, stood: Sets | None = None) -> Found:
    """The best sets near to the week before where most of it can stand, else of all weeks.

    A week near to it that misses a band of the client's own is made better among all weeks.

    Args:
        stood: what is left of the week before where it can stand.
    """

    def begin(model: Model) -> OnTime | None:
        return _first_nearby(model, stood)

    near = begin(model) if stays_near(model) else None
    if near is None:
        return _whole(_made_better(_first(model), _first, improved))
    found = _found(*(made := _made_better(near, begin, improved_nearby)))
    return _found(*_made_better(made[0], _first, improved)) if _misses_own(found) and _may_meet_own(model) else found


def _whole(made: tuple[OnTime, float]) -> Found:
    """A week made better, with its sets shared out anew and its early days filled."""
    best, bound = _with_sets_anew(*made)
    return replace(_found(with_early_days(best), bound), saved=best.model.saved)


def _first(model: Model) -> OnTime:
    """A first week, soon found."""
    return on_time(model, solved(model, forgiving(model), begun))


def _first_nearby(model: Model, stood: Sets | None) -> OnTime | None:
    """The same near to the week before; none where its other days cannot stay."""
    programme, question = forgiving(model), model.question
    left = {(str(question.days[d].day), question.choices[i].key): n for (i, d), n in (stood or {}).items()}
    start = start_of(model, programme, model.old if stood is None else left)
    found = begun_nearby(model, programme, work_of(question), start)
    return on_time(model, found) if found.found else None


Improve = Callable[[Model, Programme, Solved, Work], Solved]


def _made_better(
    week: OnTime, begin: Callable[[Model], OnTime | None], improve: Improve, above: float = INFINITE
) -> tuple[OnTime, float]:
    """A first week made better, and its bound; none is known to be worth more than `above`.

    It has told what pairs really save: days that were late with that are asked anew, the others held, and what their pairs save then is what is
    counted on from there. Where a better week makes other days late, it is made better again with what theirs save, or a week that is begun
    with that where being late cost more than was gained.
    """
    question = week.model.question
    near, work = question.rules.near_gap * yardstick(question), work_of(question)
    best, bound = week, above
    for _ in range(TURNS):
        found = improve(week.model, forgiving(week.model), Solved("stopped", week.point, week.worth, bound), work)
        again, bound = on_time(week.model, found), found.bound
        late, lost = again.model is not week.model, again.worth < best.worth
        best = max(best, again, key=lambda one: one.worth)
        if late and improve is improved and bound - best.worth > near and not effort().done:
            asked = Solved("stopped", best.point, best.worth, bound)  # days that were late cost what the bound had stopped at
            bound = lowered(best.model, forgiving(best.model), asked, work).bound
        if not late or bound - best.worth <= near or effort().done:
            break
        anew = begin(again.model) if lost else None
        week = again if anew is None else max(again, anew, key=lambda one: one.worth)
    return best, bound


def _with_sets_anew(best: OnTime, bound: float) -> tuple[OnTime, float]:
    """A week with its sets shared out anew, where its days are on time with that too."""
    if effort().done:
        return best, bound
    found = Solved("stopped", best.point, best.worth, bound)
    better = on_time(best.model, shared_out(best.model, forgiving(best.model), found, work_of(best.model.question)))
    return max(best, better, key=lambda one: one.worth), bound


def _found(best: OnTime, bound: float) -> Found:
    gap = max(0.0, bound - best.worth) / yardstick(best.model.question)
    return Found(
        model=best.model,
        sets=sets_of_point(best.model, best.point),
        worth=best.worth,
        gap=gap,
        gave_way=_gave_way(best.model, best.point),
        saved=best.model.saved,
    )


def _misses_own(found: Found) -> bool:
    """Whether a band of the client's own is not met."""
    question = found.model.question
    got = ((m.low, sum(n * counted(question.choices[i], m) for (i, _), n in found.sets.items())) for m in question.muscles if m.own)
    return any(sets < low - NEARLY_MET for low, sets in got)


def _may_meet_own(model: Model) -> bool:
    """Whether all wishes can be met together, lifts in parts."""
    return can_hold(model.programme, frozenset(model.programme.wishes()), whole=False)


def _gave_way(model: Model, point: NDArray[np.float64]) -> tuple[str, ...]:
    return tuple(told for column, told in model.soft if told and point[column] > NEARLY_MET)
