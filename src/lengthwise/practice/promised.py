"""The load and repetitions that a lift goes on with: what its last kept week, or else its log, promised."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.careful_loads import SetAt
from lengthwise.practice.loading import begins_light, keeps_hurting, works_hurt
from lengthwise.practice.shown import LOOK_BACK
from lengthwise.practice.written_repetitions import bounds_of, practice_of_sets, trained_with, usual_repetitions
from lengthwise.training.client import KnownLift, PromisedLift
from lengthwise.training.gear_loads import SAME_KG, Loads
from lengthwise.training.joint_use import works_sore
from lengthwise.training.known import is_called, known_of
from lengthwise.training.log import LoggedSet
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import SetTarget
from lengthwise.training.promise import went_on
from lengthwise.training.trail import Promise, Trail

STRAYED = 2
"""So many days running with other loads and other repetitions than the range are a new beginning, where no week is kept (own choice)."""


def _held_for_joint(at: SetAt) -> bool:
    """Whether a joint that is sore or hurts holds a set back, so that no line that was kept before says what it is."""
    return at.spared or begins_light(at.how, at.lift_id) or keeps_hurting(at.how, at.lift_id)


def promised(at: SetAt, asked: SetTarget, moved_kg: float) -> Promise | None:
    """The line that a lift goes on with at a place; none where it has none, or where a joint, an easy start or the question says otherwise.

    Args:
        asked: what the set would be without a promise. moved_kg: body mass in the resistance.
    """
    known, target = known_of(at.client.known_lifts, at.lift_id, at.lift), at.target
    own = target.repetitions or target.load_kg is not None or target.range != "full"
    if known is None or own or not at.exist.readable or _held_for_joint(at):
        return None
    trail = known.trail if isinstance(known, PromisedLift) else _written(at, known)
    asked = replace(asked, reserve=at.prescribe(asked).reserve)
    fewest = bounds_of(at.client, at.lift_id, at.how.easy)[0]
    begun = (
        replace(line, reserve=max(line.reserve, asked.reserve or 0), fewest=fewest, guess=line.guess and _searches(at))
        if (line := trail.promise)
        else None
    )
    if begun is None and not trail.days:
        return None
    if begun and at.how.easy and begun.repetitions[0] < practice_of_sets()["bounds"]["easy_least"]:
        return None
    now = went_on(begun, trail.days, at.exist, moved_kg, trail.before) if begun else _from_log(at, trail.days, asked, moved_kg)
    now = _waiting(now, trail)
    there = at.exist.below(min(now.load_kg, known.load_kg) if works_hurt(at.how, at.lift_id) else now.load_kg)
    return replace(now, load_kg=at.exist.exist[0] if there is None else there)


def _written(at: SetAt, known: KnownLift) -> Trail:
    """The days of the last weeks that the record itself tells of a lift, as the log would; none where it tells one, or of a sore joint's, since
    nobody says that they went without pain.
    """
    days: dict[date, list[LoggedSet]] = defaultdict(list)
    if type(known) is KnownLift and known.day and not works_sore(at.client, at.lift_id, at.lift, all_lifts().family[at.lift_id]):
        for k in at.client.known_lifts:
            if type(k) is KnownLift and k.day and known.day - k.day < LOOK_BACK and is_called(at.lift_id, at.lift, k.lift):
                days[k.day].append(LoggedSet(lift=at.lift_id, load_kg=k.load_kg, repetitions=k.repetitions, reserve=k.reserve))
    return Trail(promise=None, days=tuple(tuple(days[day]) for day in sorted(days)) if len(days) > 1 else ())


def _searches(at: SetAt) -> bool:
    """Whether a first load may go up by more than a step: not for a sore joint, nor in an easy start."""
    return not (at.how.easy or works_sore(at.client, at.lift_id, at.lift, all_lifts().family[at.lift_id]))


def _waiting(now: Promise, trail: Trail) -> Promise:
    """What stands after a last visit on a bad day: a step earned before it waits for the next visit, with the range that it was earned in."""
    done = [s.load_kg for sets in (*trail.days, trail.bad) for s in sets]
    most = max([trail.promise.load_kg, *done] if trail.promise else done)
    if not trail.bad or now.load_kg <= most + SAME_KG:
        return now
    return replace(now, load_kg=most, repetitions=trail.promise.repetitions if trail.promise else now.repetitions)


def _from_log(at: SetAt, days: Sequence[Sequence[LoggedSet]], asked: SetTarget, moved_kg: float) -> Promise:
    """What the log alone promises: the range of the day on which it begins, and the load as it went on since."""
    promise, strayed = replace(_begun(at, days[0], asked), guess=len(days) == 1 and _searches(at)), 0
    before: Sequence[LoggedSet] = ()
    for sets in days:
        strayed = strayed + 1 if _strays(promise, sets, at.exist) else 0
        if strayed == STRAYED:
            promise, strayed = _begun(at, sets, asked), 0
        promise = replace(promise, sets=max(promise.sets, len(sets)))
        promise, before = went_on(promise, [sets], at.exist, moved_kg, before), sets
    return promise


def _begun(at: SetAt, sets: Sequence[LoggedSet], asked: SetTarget) -> Promise:
    """The range that people write about a day's strongest set; an easy start keeps its own."""
    best, how = _best(sets), at.how
    usual = usual_repetitions(at.client, at.lift_id)
    bounds = bounds_of(at.client, at.lift_id, how.easy)
    reps = trained_with(best.repetitions, usual, bounds)
    return Promise(
        load_kg=best.load_kg,
        repetitions=asked.repetitions if how.easy and asked.repetitions else reps,
        reserve=asked.reserve or 0.0,
        sets=len(sets),
        fewest=bounds[0],
    )


def _strays(promise: Promise, sets: Sequence[LoggedSet], exist: Loads) -> bool:
    """Whether a day was another sort of training: another load, and repetitions out of the range."""
    best = _best(sets)
    same = exist.below(best.load_kg) == exist.below(promise.load_kg)
    return not same and not promise.repetitions[0] <= best.repetitions <= promise.repetitions[1]


def _best(sets: Sequence[LoggedSet]) -> LoggedSet:
    """The strongest set of a day."""
    return max(sets, key=lambda s: (s.load_kg * factor(s.repetitions + (s.reserve or 0)), s.load_kg, s.repetitions))
