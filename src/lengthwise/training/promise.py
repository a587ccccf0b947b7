"""What a line of a week promises, and what became of it: load and repetitions stay until every set has reached the most, or left clearly more
than was asked, then one step.

Repetitions first, load second (double progression; common practice, no source). Every face asks here, so that week, load, page, phone, paper
and block say the same.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import floor

from lengthwise.quantities import RANGES
from lengthwise.training.bridge import Bridge, bridge, in_place_of_far_lighter, repetitions_at
from lengthwise.training.defaults import defaults
from lengthwise.training.gear_loads import SAME_KG, Loads
from lengthwise.training.log import LoggedSet
from lengthwise.training.one_rm import factor
from lengthwise.training.trail import Promise
from lengthwise.training.warm_up import RISE

WRITTEN = (6, 8, 10, 12, 15, 20, 25, 30)
"""Ends of a range of repetitions as people write them down; common practice, no source."""
NEARLY = 0.8
"""From this part of the least repetitions on a set is near it: one visit so changes nothing, and a coarse step may lead there (own choice)."""
EASY = 2
"""Sets that leave so much more than was asked were too easy: the next load need not wait for more repetitions (common practice, no source)."""
FEWER_SPAN = 2
"""Repetitions between least and most where a load is kept for fewer than suit the lift (own choice)."""
ENOUGH = 2
"""So many sets at the most repetitions are asked for before a load rises, where so many are planned (own choice)."""


def least_of(exist: Loads, load_kg: float, moved_kg: float, least: int) -> float:
    """The fewest repetitions with which a load stays: nearly the least where the step that leads to it is coarse."""
    lighter = max((kg for kg in exist.exist if kg < load_kg - SAME_KG), default=load_kg)
    coarse = (load_kg - lighter) * 100 > defaults()["step"]["percent"][1] * (lighter + moved_kg)
    return NEARLY * least if coarse else least


def next_step(exist: Loads, promise: Promise, moved_kg: float) -> Bridge | None:
    """The step to the next load with the repetitions that earn it: the most of the range, or more where the step asks for more; nothing above
    the heaviest.
    """
    heavier = exist.step_up(promise.load_kg, moved_kg)
    if heavier is None:
        return None
    low, high = promise.repetitions
    step = bridge(exist, promise.load_kg, moved_kg, (least_of(exist, heavier, moved_kg, low), promise.reserve))
    if step is None or step.repetitions <= high:
        return step and replace(step, repetitions=high)
    return replace(step, repetitions=next((n for n in WRITTEN if step.repetitions <= n), step.repetitions))


def went_on(
    promise: Promise, days: Sequence[Sequence[LoggedSet]], exist: Loads, moved_kg: float, before: Sequence[LoggedSet] = ()
) -> Promise:
    """The promise after some days, each with at least one set.

    Args:
        before: sets of the visit before these days; none where there was none.
    """
    for sets in days:
        promise, before = _after(promise, sets, exist, moved_kg, before), sets
    return promise


def _after(promise: Promise, sets: Sequence[LoggedSet], exist: Loads, moved_kg: float, before: Sequence[LoggedSet]) -> Promise:
    """The promise after one day: one step up when every set reached what was promised, less after a miss by far of a load not held
    before or a second miss, else the same. A day of fewer sets than the line has does not outvote the visit before.

    A heavier load that held its repetitions is gone on from. Lighter sets change nothing as long as they bear the load out, were easy, or
    had more repetitions than the range: a light day.
    """
    load, low = promise.load_kg, promise.repetitions[0]
    there = [s for s in sets if s.load_kg >= load - SAME_KG]
    if not there:
        stays = _is_light(promise, sets) or _leads_there(promise, sets, exist, moved_kg)
        return promise if stays else _borne(promise, sets, exist, moved_kg)
    held = [s.load_kg for s in there if shown(s, promise) >= floor(least_of(exist, s.load_kg, moved_kg, low)) + promise.reserve]
    heavier = max(s.load_kg for s in there) > load + SAME_KG
    if heavier and not held:
        return _borne(replace(promise, load_kg=max(s.load_kg for s in there)), there, exist, moved_kg)
    if not heavier and _missed(promise, there):
        once = _held(promise, before) or (_nearly(promise, there) and not _missed(promise, before))
        return promise if once else _less(promise, there, exist, moved_kg)
    done = replace(promise, load_kg=max(held), guess=False)
    if promise.guess and (found := _found(done, there, exist, moved_kg)) > done.load_kg:
        return replace(done, load_kg=found)
    step = next_step(exist, done, moved_kg)
    with_it = [s for s in there if s.load_kg >= done.load_kg - SAME_KG]
    earlier = [s for s in before if s.load_kg >= done.load_kg - SAME_KG] if len(with_it) < promise.sets else []
    if step is None or len(with_it) < min(promise.sets, ENOUGH):
        return done
    return _stepped(done, step, [*earlier, *with_it], (exist, moved_kg))


def _found(promise: Promise, sets: Sequence[LoggedSet], exist: Loads, moved_kg: float) -> float:
    """The load that a guess goes on with where its strongest set left clearly more than was asked: what that set bears out, two rises at most."""
    best = max(sets, key=lambda s: (s.load_kg + moved_kg) * factor(shown(s, promise)))
    if _left(best, promise) < promise.reserve + EASY:
        return promise.load_kg
    most = (best.load_kg + moved_kg) * (1 + RISE) ** 2 - moved_kg
    bears = (best.load_kg + moved_kg) * factor(shown(best, promise)) / factor(promise.repetitions[0] + promise.reserve) - moved_kg
    return max(exist.below(min(most, bears)) or promise.load_kg, promise.load_kg)


def _stepped(promise: Promise, step: Bridge, sets: Sequence[LoggedSet], there: tuple[Loads, float]) -> Promise:
    """The promise one step up where every set reached what was promised, or was so easy that the next load is borne too: after a coarse step for
    nearly the least, and then in the range that it allows.

    Args:
        there: the loads that exist, and the moved body [kg].
    """
    if step.reachable and all(_reached(s, step.repetitions, promise) for s in sets):
        return replace(promise, load_kg=step.next_kg, repetitions=_begun_again(promise.repetitions))
    low, (exist, moved_kg) = promise.repetitions[0], there
    easy = all(s.repetitions >= low and _left(s, promise) >= promise.reserve + EASY for s in sets)
    one_rm = min((s.load_kg + moved_kg) * factor(shown(s, promise)) for s in sets)
    allows = repetitions_at(one_rm, step.next_kg, moved_kg, promise.reserve)
    if not easy or allows < max(floor(least_of(exist, step.next_kg, moved_kg, low)), min(promise.fewest, low)):
        return promise
    below = [r for r in RANGES if promise.fewest <= r[0] <= allows < low]
    return replace(promise, load_kg=step.next_kg, repetitions=max(below, default=_begun_again(promise.repetitions)))


def _begun_again(reps: tuple[int, int]) -> tuple[int, int]:
    """The range with a new load: the same, without the repetitions that only a big step asked for."""
    low, high = reps
    return low, min((r[1] for r in RANGES if r[0] == low and r[1] <= high), default=high)


def reaching(reps: tuple[int, int], step: Bridge | None) -> tuple[int, int]:
    """The range as it is printed: up to the repetitions that earn the next load, where a big step asks for more than the range."""
    return reps if step is None or not step.reachable else (reps[0], max(reps[1], step.repetitions))


def fell_short(promise: Promise, sets: Sequence[LoggedSet]) -> bool:
    """Whether a visit missed what was promised: the least with its load, or all sets lighter without being a light day."""
    with_it = any(s.load_kg >= promise.load_kg - SAME_KG for s in sets)
    return _missed(promise, sets) if with_it else not _is_light(promise, sets)


def _is_light(promise: Promise, sets: Sequence[LoggedSet]) -> bool:
    """Whether lighter sets were easy, or had more repetitions than the range."""
    return all(_left(s, promise) > promise.reserve or s.repetitions > promise.repetitions[1] for s in sets)


def _missed(promise: Promise, sets: Sequence[LoggedSet]) -> bool:
    """Whether no set of a visit with the promised load, or a heavier one, reached the least with what was to be left."""
    with_it = [s for s in sets if s.load_kg >= promise.load_kg - SAME_KG]
    return bool(with_it) and all(shown(s, promise) < promise.repetitions[0] + promise.reserve for s in with_it)


def _held(promise: Promise, sets: Sequence[LoggedSet]) -> bool:
    """Whether a visit was done with the promised load, or a heavier one, and did not miss: then one bad day says nothing of the load."""
    return any(s.load_kg >= promise.load_kg - SAME_KG for s in sets) and not _missed(promise, sets)


def _nearly(promise: Promise, sets: Sequence[LoggedSet]) -> bool:
    """Whether the strongest of some sets came near the least."""
    return max(shown(s, promise) for s in sets) >= floor(NEARLY * promise.repetitions[0]) + promise.reserve


def _less(promise: Promise, sets: Sequence[LoggedSet], exist: Loads, moved_kg: float) -> Promise:
    """After sets below the least: the range below where the lighter load lies a coarse step away and they came near, else the load they bear out."""
    best = max(shown(s, promise) for s in sets) - promise.reserve
    low = promise.repetitions[0]
    if least_of(exist, promise.load_kg, moved_kg, low) < low and _nearly(promise, sets):
        below = [r for r in RANGES if promise.fewest <= r[0] <= best and r[0] < low]
        if below:
            return replace(promise, repetitions=max(below))
    return _borne(promise, sets, exist, moved_kg)


def _leads_there(promise: Promise, sets: Sequence[LoggedSet], exist: Loads, moved_kg: float) -> bool:
    """Whether lighter sets are those from which the step to the promised load was taken: a week that was saved after them has it already."""
    allows = repetitions_at(_shown_kg(promise, sets, moved_kg), promise.load_kg, moved_kg, promise.reserve)
    return allows >= floor(least_of(exist, promise.load_kg, moved_kg, promise.repetitions[0]))


def _borne(promise: Promise, sets: Sequence[LoggedSet], exist: Loads, moved_kg: float) -> Promise:
    """What the strongest of some sets bears out: the heaviest load, none above the promised one, with which it does the least repetitions, the
    lightest where none does; where that allows more than anybody counts the next heavier one for fewer.
    """
    one_rm = _shown_kg(promise, sets, moved_kg)
    able = (kg for kg in exist.exist if repetitions_at(one_rm, kg, moved_kg, promise.reserve) >= promise.repetitions[0])
    load = min(promise.load_kg, max(able, default=exist.exist[0]))
    nearer = in_place_of_far_lighter(exist, load, one_rm, moved_kg, promise.reserve)
    if nearer is None or nearer[0] > promise.load_kg + SAME_KG:
        return replace(promise, load_kg=load)
    return replace(promise, load_kg=nearer[0], repetitions=(nearer[1], max(promise.fewest, nearer[1] + FEWER_SPAN)))


def _shown_kg(promise: Promise, sets: Sequence[LoggedSet], moved_kg: float) -> float:
    """The largest 1RM, moved body included, that some sets show [kg]."""
    return max((s.load_kg + moved_kg) * factor(shown(s, promise)) for s in sets)


def _left(one: LoggedSet, promise: Promise) -> float:
    """Repetitions left after a set; as promised where nobody judged them."""
    return promise.reserve if one.reserve is None else one.reserve


def shown(one: LoggedSet, promise: Promise) -> float:
    """Repetitions that a set shows to be possible."""
    return one.repetitions + _left(one, promise)


def _reached(one: LoggedSet, repetitions: int, promise: Promise) -> bool:
    return one.repetitions >= repetitions and shown(one, promise) >= repetitions + promise.reserve
