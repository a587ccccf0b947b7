"""The best week for a question, how far from the best it can be at most, or which wishes stand against each other."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.planning.apart import add_apart
from lengthwise.planning.assembly import sets_of_point, week_of
from lengthwise.planning.basics import add_basics
from lengthwise.planning.conflict import can_hold, smallest_conflict
from lengthwise.planning.day_rows import add_day
from lengthwise.planning.distance import difference, moved
from lengthwise.planning.effort import at_most, effort
from lengthwise.planning.few_lifts import add_whole_lifts
from lengthwise.planning.floors import firmer
from lengthwise.planning.highs import Solved, Work, maximise
from lengthwise.planning.implied import add_implied
from lengthwise.planning.jobs import add_jobs
from lengthwise.planning.model import Model, Sets, add_lifts, counted, forgiving, old_sets
from lengthwise.planning.muscle_rows import add_muscle
from lengthwise.planning.nearby import begun_nearby, improved_nearby, stays_near
from lengthwise.planning.own import add_own
from lengthwise.planning.pairing import minutes_of, pair_saves, pairs_of
from lengthwise.planning.programme import INFINITE, Programme
from lengthwise.planning.question import NEARLY_MET, Muscle, Question
from lengthwise.planning.search import begun, begun_with, improved, lowered, searched, shared_out
from lengthwise.planning.shortfalls import conflicts, gave_way_told
from lengthwise.planning.steps import add_steps
from lengthwise.planning.week import Week
from lengthwise.planning.week_rows import add_week, tied_days

ROOM = 0.96
"""Part of the gap that counts as near enough at which the search ends: days asked anew need the rest (own choice)."""
CAREFUL = 0.9
"""Where real pairs save less than was counted on, this part of what they do save is counted on next (own choice)."""

EARLY_MIN = 4.0
"""A day that ends so much before its minutes has room for a set more (own choice)."""
MOST_SAVED = 3.0
"""No pair saves so many times what is usual (own choice)."""
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


@dataclass(frozen=True)
class _OnTime:
    """A week whose days are on time with their real pairs: its programme, its point and its worth."""

    model: Model
    point: NDArray[np.float64]
    worth: float


def plan(question: Question) -> Week:
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


def _check(question: Question) -> None:
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


def model_of(question: Question, saved: tuple[float, ...] | None = None) -> Model:
    """The programme of a question.

    Args:
        saved: of each day, the part of the usual saving in turn that is counted on.
    """
    model = Model(question=question, saved=saved or _usual(question), old=old_sets(question.previous))
    add_lifts(model)
    for d in range(len(question.days)):
        add_day(model, d)
    for muscle in question.muscles:
        add_muscle(model, muscle)
    add_week(model)
    add_jobs(model)
    add_own(model)
    add_basics(model)
    add_apart(model)
    add_steps(model)
    add_implied(model)
    if question.beginner:
        add_whole_lifts(model)
    return model


def _floors_first(question: Question) -> Found:
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

    def begin(model: Model) -> _OnTime | None:
        programme = forgiving(model)
        first = begun_with(model, programme, lifts, _work(model.question))
        return _on_time(model, first) if first.found else None

    first = begin(model)
    above = found.worth + found.gap * yardstick(model.question)
    return None if first is None else _whole(_made_better(first, begin, improved, above))


def _best(question: Question) -> Found:
    """The best sets, all days on time with their real pairs; near to the week before where one stands, or that week where another gains too little."""
    stays = _as_before(question) if question.trouble else None
    if stays is not None and question.trouble == INFINITE and not (_misses_own(stays) and _may_meet_own(stays.model)):
        return stays
    found = _best_of(model_of(question))
    if stays is None or question.trouble == INFINITE or found.worth > stays.worth + question.trouble:
        return found
    return replace(stays, gap=found.gap + max(0.0, found.worth - stays.worth) / yardstick(question))


def _as_before(question: Question) -> Found | None:
    """The week before as it is, of which nothing is claimed but that it can stand; none where it cannot.

    As much is counted on of pairs as they may save at most: whether the days are on time is asked of the real ones.
    """
    model = model_of(question, (MOST_SAVED,) * len(question.days))
    programme = forgiving(model)
    point = _start(model, programme, model.old)
    found = maximise(programme.fixing({k: n for k, n in enumerate(point) if not np.isnan(n)}), _work(question))
    sets = sets_of_point(model, found.point) if found.found else {}
    if len(sets) < len(model.old) or _really_saved(model, found.point, sets):
        return None
    return _found(_OnTime(model, found.point, found.worth), found.worth)


def _best_of(model: Model) -> Found:
    """The best sets near to the week before where most of it can stand, else of all weeks.

    A week near to it that misses a band of the client's own is made better among all weeks.
    """
    near = _first_nearby(model) if stays_near(model) else None
    if near is None:
        return _whole(_made_better(_first(model), _first, improved))
    found = _found(*(made := _made_better(near, _first_nearby, improved_nearby)))
    return _found(*_made_better(made[0], _first, improved)) if _misses_own(found) and _may_meet_own(model) else found


def _whole(made: tuple[_OnTime, float]) -> Found:
    """A week made better, with its sets shared out anew and its early days filled."""
    best, bound = _with_sets_anew(*made)
    return replace(_found(_with_early_days(best), bound), saved=best.model.saved)


def _first(model: Model) -> _OnTime:
    """A first week, soon found."""
    return _on_time(model, _solved(model, forgiving(model), begun))


def _first_nearby(model: Model) -> _OnTime | None:
    """The same near to the week before; none where its other days cannot stay."""
    programme = forgiving(model)
    found = begun_nearby(model, programme, _work(model.question), _start(model, programme, model.old))
    return _on_time(model, found) if found.found else None


Improve = Callable[[Model, Programme, Solved, Work], Solved]


def _made_better(
    week: _OnTime, begin: Callable[[Model], _OnTime | None], improve: Improve, above: float = INFINITE
) -> tuple[_OnTime, float]:
    """A first week made better, and its bound; none is known to be worth more than `above`.

    It has told what pairs really save: days that were late with that are asked anew, the others held, and what their pairs save then is what is
    counted on from there. Where a better week makes other days late, it is made better again with what theirs save, or a week that is begun
    with that where being late cost more than was gained.
    """
    question = week.model.question
    near, work = question.rules.near_gap * yardstick(question), _work(question)
    best, bound = week, above
    for _ in range(TURNS):
        found = improve(week.model, forgiving(week.model), Solved("stopped", week.point, week.worth, bound), work)
        again, bound = _on_time(week.model, found), found.bound
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


def _with_sets_anew(best: _OnTime, bound: float) -> tuple[_OnTime, float]:
    """A week with its sets shared out anew, where its days are on time with that too."""
    if effort().done:
        return best, bound
    found = Solved("stopped", best.point, best.worth, bound)
    better = _on_time(best.model, shared_out(best.model, forgiving(best.model), found, _work(best.model.question)))
    return max(best, better, key=lambda one: one.worth), bound


def _with_early_days(best: _OnTime) -> _OnTime:
    """A week in which days whose pairs save more than was counted on are asked anew with what they save, the others held, where a muscle could
    use the minutes.
    """
    model, sets = best.model, sets_of_point(best.model, best.point)
    early = _early(model, best.point, sets)
    if not early or effort().done or not any(_wants_more(m, model.question, sets) for m in model.question.muscles):
        return best
    fuller = model_of(model.question, tuple(early.get(d, part) for d, part in enumerate(model.saved)))
    return max(best, _on_time(fuller, _with_others_held(fuller, sets, set(early))), key=lambda one: one.worth)


def _wants_more(muscle: Muscle, question: Question, sets: Sets) -> bool:
    """Whether a muscle is below its band, or raised and below the end of it."""
    got = sum(n * counted(question.choices[i], muscle) for (i, _), n in sets.items())
    return got < (muscle.high if muscle.raised else muscle.low) - NEARLY_MET


def _early(model: Model, point: NDArray[np.float64], sets: Sets) -> dict[int, float]:
    """Days with minutes left for which nobody looked, and of what pairs are counted on to save the part that theirs do save."""
    question, out = model.question, dict[int, float]()
    for d, offer in enumerate(question.days):
        mine = {i: n for (i, e), n in sorted(sets.items()) if e == d}
        pairs = pairs_of(question, d, mine)
        rounds = point[model.programme.place["rounds", d]] if pairs else 0.0
        if rounds > 0 and minutes_of(question, mine, pairs) < offer.minutes - EARLY_MIN:
            part = CAREFUL * _saved_part(question, mine, pairs, rounds)
            out |= {d: part} if part > model.saved[d] else {}
    return out


def _saved_part(question: Question, mine: Mapping[int, int], pairs: list[tuple[int, int]], rounds: float) -> float:
    """What the pairs of a day save beside what is usual for so many rounds."""
    return sum(pair_saves(question, mine, p) for p in pairs) / (question.rules.pair_round_s * max(rounds, 1e-9))


def _found(best: _OnTime, bound: float) -> Found:
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


def _usual(question: Question) -> tuple[float, ...]:
    """Of each day, the part of the usual saving in turn that is counted on at first: less where sets stay few."""
    return (question.rules.pair_easy_part if question.easy or question.beginner else 1.0,) * len(question.days)


def _on_time(model: Model, found: Solved) -> _OnTime:
    """A week in which late days are asked anew, the others held: with what their pairs do save, then with nothing, which always fits."""
    for careful in (CAREFUL, CAREFUL, 0.0):
        sets = sets_of_point(model, found.point)
        late = _really_saved(model, found.point, sets)
        if not late:
            break
        saved = tuple(careful * late[d] if d in late else part for d, part in enumerate(model.saved))
        model = model_of(model.question, saved)
        found = _with_others_held(model, sets, set(late))
    return _OnTime(model, found.point, found.worth)


def _with_others_held(model: Model, sets: Sets, late: set[int]) -> Solved:
    """The best week in which only some days change, and those that are tied to them; all may where that is impossible."""
    programme = forgiving(model)
    late = late | {d for pair in tied_days(model.question) if late & {*pair} for d in pair}
    held = {model.sets(i, d): float(sets.get((i, d), 0)) for i, d in model.slots if d not in late}
    held |= {model.used(i, d): float((i, d) in sets) for i, d in model.slots if d not in late}
    found = maximise(programme.fixing(held), replace(_work(model.question), nodes=1, looks="afresh"))
    return found if found.found else _solved(model, programme, searched)


def _really_saved(model: Model, point: NDArray[np.float64], sets: Sets) -> dict[int, float]:
    """Of each day that takes too long, the part of the usual saving in turn that its pairs really give."""
    question, out = model.question, {}
    for d, offer in enumerate(question.days):
        mine = {i: n for (i, e), n in sorted(sets.items()) if e == d}
        pairs = pairs_of(question, d, mine)
        if minutes_of(question, mine, pairs) > offer.minutes + 1e-3:
            out[d] = _saved_part(question, mine, pairs, point[model.programme.place["rounds", d]])
    return out


def yardstick(question: Question) -> float:
    """What all lower bounds together are worth: what a gap is a share of, since a week's own worth may be near zero."""
    return max(sum(m.priority * m.low for m in question.muscles), 1.0)


Search = Callable[[Model, Programme, Work, NDArray[np.float64] | None], Solved]


def _solved(model: Model, programme: Programme, search: Search) -> Solved:
    """The week that a search finds, from what is pinned or stood before.

    Raises:
        InputError: what is pinned cannot stand together.
        NoSolutionError: no week was found.
    """
    work = _work(model.question)
    found = search(model, programme, work, _start(model, programme, model.old) if model.old or model.question.pinned else None)
    if found.found:
        return found
    if found.outcome == "infeasible" and model.question.pinned:
        wishes = smallest_conflict(model.programme).wishes
        raise InputError(
            f"what is fixed cannot stand together: {'; '.join(w.text for w in wishes)}", asked=[w.text for w in wishes]
        )
    raise NoSolutionError(f"no week was found in {work.nodes} steps of the search; ask for fewer lifts or days")


def _work(question: Question) -> Work:
    """How hard to try: more for a first week than for a change."""
    rules = question.rules
    nodes = rules.first_nodes if question.previous is None else rules.change_nodes
    return Work(nodes=int(nodes), gap=ROOM * rules.near_gap * yardstick(question), idle=int(rules.idle_nodes))


def _start(model: Model, programme: Programme, old: Mapping[tuple[str, tuple[str, str]], int]) -> NDArray[np.float64]:
    """The week before as far as it may stand still, else the empty week; what follows from it is left open (nan)."""
    out = np.full(len(programme.columns), np.nan)
    question = model.question
    for i, d in model.slots:
        key = question.days[d].day, question.choices[i].key
        number = old.get(key, 0) or question.pinned.get(key, 0)
        out[model.sets(i, d)], out[model.used(i, d)] = number, float(number > 0)
    return out


def _gave_way(model: Model, point: NDArray[np.float64]) -> tuple[str, ...]:
    return tuple(told for column, told in model.soft if told and point[column] > NEARLY_MET)
