"""Loads, repetitions, rest and warm-up of a planned week: as a coach would dare to write them down."""

from dataclasses import replace

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.practice.bands import band_told, may_go_up
from lengthwise.practice.borne import is_easy
from lengthwise.practice.careful_loads import SetAt, borne_out, is_frail
from lengthwise.practice.end_of_gear import Draft, allowed, at_end_of_gear
from lengthwise.practice.guessed import tied, two_held
from lengthwise.practice.known_strength import calibration_of
from lengthwise.practice.load_sentences import BEYOND, FAR_BEYOND, old_told, sore_words, stepped
from lengthwise.practice.loading import Loading, begins_light, is_back, is_spared, keeps_hurting, near_pain, works_hurt
from lengthwise.practice.logged_pain import waiting_told
from lengthwise.practice.own_days import line_days, on_day
from lengthwise.practice.promised import promised
from lengthwise.practice.week_lifts import EASY_LEFT, practice, rest_after
from lengthwise.practice.written_repetitions import (
    GENTLE_LEFT,
    SORE_LEFT,
    Repetitions,
    as_written,
    bounded,
    bounds_of,
    easily,
    easily_again,
    is_trained_heavy,
    practice_of_sets,
    repetitions_for,
    usual_repetitions,
)
from lengthwise.quantities import load as in_words
from lengthwise.training.bridge import Bridge
from lengthwise.training.client import Client
from lengthwise.training.defaults import default_reserve
from lengthwise.training.gear_loads import SAME_KG, Loads
from lengthwise.training.holds import hold_s, is_held
from lengthwise.training.joint_use import works_sore
from lengthwise.training.load_notes import TAKE, TOLD
from lengthwise.training.prescription import Prescription, SetTarget, prescribe
from lengthwise.training.promise import next_step, reaching
from lengthwise.training.record_words import joint_told
from lengthwise.training.trail import Promise
from lengthwise.training.warm_up import WarmUpSet, test_steps, warm_up

HEAVY_KG, HEAVY_PART = 40.0, 0.5
"""A load above this, or above this part of the body's mass, wants rising sets before it (common practice, no source)."""
LONG_ENOUGH = "Once every set lasts {} s, a harder hold does more than a longer one."
STILL = "Nothing goes up until two weeks and two visits without pain in the {}."
HELD = "Held at {} for the first session: nothing lifted so far bears out the heavier load that the body alone would suggest."


def with_loads(week: Week, how: Loading) -> Week:
    """The week with a load, repetitions, reserve and warm-up for every lift.

    A muscle's later lifts of a day warm up with one set, once one for it has warmed up in full.
    """
    days, lines = [], line_days(week, how.client)
    for d in week.days:
        warm: set[str] = set()
        lifts: list[PlannedLift] = []
        for x in d.lifts:
            made = loaded(x, how, d.place, lines.get((d.day, x.lift), d.day))
            lifts.append(replace(made, warm_up=made.warm_up[-1:]) if x.muscle in warm else made)
            if len(made.warm_up) > 1:
                warm.add(x.muscle)
        days.append(replace(d, lifts=tuple(lifts)))
    return replace(week, days=tuple(days))


def loaded(planned: PlannedLift, how: Loading, place: str, day: str | None = None) -> PlannedLift:
    """One lift with what exists at a place, on a day where it has a heavy and a light one."""
    client, lift = how.client, all_lifts().lifts[planned.lift]
    there = place if place in client.places and lift.gear in client.places[place].gear else None
    found = prescribed(planned.lift, SetTarget(range=planned.range, place=there, easy=how.easy, sets=planned.sets, day=day), how)
    steps = found.first_session[:3] if found.guess else ()
    gentle = found.notes if found.gentle else sore_words(how, planned.lift, found, found.load_kg)
    step = found.bridge if found.earned_in_range and not (found.guess or found.gentle) else None
    return replace(
        planned,
        gear=lift.gear,
        load_kg=found.load_kg,
        each=two_held(lift),
        guess=found.guess,
        repetitions=found.repetitions,
        reserve=found.reserve,
        gentle=found.gentle,
        rest_s=planned.rest_s or found.rest_s,
        warm_up=tuple((w.load_kg, w.repetitions) for w in found.warm_up),
        next_kg=step.next_kg if step else None,
        next_at=found.up_to[1] if step or may_go_up(how, found) else None,
        find=" ".join(
            (
                *waiting_told(client, planned.lift, how.day),
                *gentle,
                *old_told(how, planned.lift),
                *steps,
                *_told(planned.lift, found, how, gentle),
            )
        ),
    )


def _told(lift_id: str, found: Prescription, how: Loading, said: tuple[str, ...]) -> tuple[str, ...]:
    """What a week says of a load beside how to find it: that none can be given, that it is light, or how far it goes beyond the last."""
    if found.load_kg is None:
        notes = [note for note in found.notes if note not in said]
        return (*([note for note in notes if note.startswith(TAKE)] or notes[:1]), *band_told(how, found))
    if found.gentle or is_spared(how, lift_id):
        return ()
    then = () if found.guess else tuple(filter(None, [found.then(all_lifts().lifts[lift_id].gear, how.client.mass_unit)]))
    return (*(note for note in found.notes if note.startswith((*TOLD, BEYOND, FAR_BEYOND))), *then)


def prescribed(lift_id: str, target: SetTarget, how: Loading) -> Prescription:
    """How a client does a lift as a coach would dare to write it down: the same in a week and when it is asked for alone.

    Repetitions that are asked for stay as they are; else they are those that suit the lift.
    """
    at = SetAt(replace(how, client=on_day(how.client, lift_id, target.day)), lift_id, target)
    if is_held(lift_id):
        return _held_still(at)
    if is_easy(how.lighter.get(lift_id, 1.0)):
        return _gentle(at)
    draft = _drafted(at)
    return _written_down(at, draft if draft.promised and not at.ends(draft.load_kg) else at_end_of_gear(at, draft))


def _held_still(at: SetAt) -> Prescription:
    """A set that is held: seconds for repetitions, no load, and no reserve that could be counted."""
    found = prescribe(at.how.client, at.lift_id, at.lift, replace(at.target, load_kg=0.0), calibration_of(at.how.body))
    return replace(
        found,
        guess=False,
        repetitions=hold_s(),
        likely_kg=None,
        expected=None,
        bridge=None,
        notes=(LONG_ENOUGH.format(hold_s()[1]),),
        rest_s=_rest(found, found.reserve),
        warm_up=(),
        first_session=(),
    )


def _gentle(at: SetAt) -> Prescription:
    """Easy sets for the sake of a joint: little load, many repetitions, nothing added on the day, an end at the first pain.

    They count for nothing in a muscle's sets and are told beside them: light loads grow alike only when sets end near failure (claim load).
    """
    how, lift_id, target = at.how, at.lift_id, at.target
    reps = target.repetitions or repetitions_for(how.client, lift_id, how.easy)
    found = at.prescribe(replace(target, repetitions=reps, tied=tied(how.client, lift_id)))
    load = _load_kg(at, found)
    least, most = easily_again(how.client, lift_id) or easily(found, load, practice(lift_id).multi)
    if how.easy:
        least = max(least, min(most, bounds_of(how.client, lift_id, True)[0]))
    return replace(
        found,
        load_kg=load,
        gentle=True,
        repetitions=target.repetitions or (least, most),
        reserve=max(found.reserve, GENTLE_LEFT),
        likely_kg=None,
        expected=None,
        bridge=None,
        notes=sore_words(how, lift_id, found, load),
        rest_s=_rest(found, EASY_LEFT),
        warm_up=(),
        first_session=(),
    )


def _load_kg(at: SetAt, found: Prescription) -> float | None:
    """The load of a set: as given, else as careful as it is written down."""
    return found.load_kg if at.target.load_kg is not None else at.careful_kg(found)


def _drafted(at: SetAt) -> Draft:
    """A set before the end of what loads there are is looked at."""
    asked = _asked(at.how, at.lift_id, at.target)
    found = at.prescribe(asked)
    if (promise := promised(at, asked, found.moved_kg)) is not None:
        asked = replace(asked, repetitions=promise.repetitions)
        found = at.prescribe(replace(asked, load_kg=promise.load_kg))
        off = found.likely_kg is not None and not found.likely_kg[0] <= promise.load_kg <= found.likely_kg[1]
        return Draft(asked=asked, found=found, load_kg=promise.load_kg, repetitions=promise.repetitions, held=off, promised=True)
    load, reps = _load_kg(at, found), _repetitions(at, asked, found)
    held = load is not None and load != found.load_kg
    again = at.prescribe(replace(asked, load_kg=load)) if held else found
    return Draft(asked=asked, found=again, load_kg=load, repetitions=reps, held=held)


def _as_printed(at: SetAt, reps: Repetitions, step: Bridge | None) -> Repetitions:
    """The range up to what earns the next load, where that many suit the lift: a goblet squat's line says 8 to 12 and asks for more below."""
    wide = reaching(reps, step)
    return wide if wide[1] <= bounds_of(at.how.client, at.lift_id, at.how.easy)[1] else reps


def _written_down(at: SetAt, draft: Draft) -> Prescription:
    """A set with its notes, rest and warm-up."""
    how, lift_id, found, load, reps = at.how, at.lift_id, draft.found, draft.load_kg, draft.repetitions
    held_guess, unit = found.guess and draft.held and load is not None, how.client.mass_unit
    held_words = (HELD.format(in_words(load, at.lift.gear, unit)),) if held_guess and load is not None else ()
    step = None if at.spared or (works_hurt(how, lift_id) and not found.guess) else _next(at, found, load, reps)
    reps = reps if found.guess or at.target.repetitions else _as_printed(at, reps, step)
    beyond = (
        ()
        if at.spared or found.guess or at.target.repetitions
        else stepped(how, found, load, allowed(found, at.exist, load), at.exist)
    )
    tested = found.guess and at.exist.readable and not (at.exist.kind == "body" and load == 0) and lift_id not in how.lighter
    sore = works_hurt(how, lift_id) or works_sore(
        how.client, lift_id, at.lift, all_lifts().family[lift_id]
    )  # no heavier set on the day
    return replace(
        found,
        load_kg=load,
        repetitions=reps,
        likely_kg=None if draft.held or _beside(found, load) else found.likely_kg,
        expected=None if draft.unborne or not _within(found.expected, reps) else found.expected,
        one_rm_kg=borne_out(found, load, reps) if held_guess and load is not None else found.one_rm_kg,
        bridge=step,
        notes=(
            *(sore_words(how, lift_id, found, load) or held_words),
            *([STILL.format(joint_told(hurt))] if (hurt := near_pain(how, lift_id)) else []),
            *old_told(how, lift_id),
            *draft.told,
            *found.notes,
            *band_told(how, found),
            *beyond,
        ),
        rest_s=_rest(found, found.reserve),
        warm_up=_warm_up(at.client, lift_id, at.exist, load, found.moved_kg),
        first_session=test_steps(
            at.exist,
            load,
            found.moved_kg,
            (*reps, found.reserve),
            unit,
            (1 if sore else at.target.sets, at.tried_kg(found, reps[0])),
            0.0 if sore or is_frail(how.client) else at.right_kg(found, reps[0]),
        )
        if tested and load is not None
        else (),
    )


def _next(at: SetAt, found: Prescription, load: float | None, reps: Repetitions) -> Bridge | None:
    """The step to the next load as it is earned in the lines of a week."""
    if load is None or found.guess:
        return found.bridge
    return next_step(at.exist, Promise(load_kg=load, repetitions=reps, reserve=found.reserve), found.moved_kg)


def _beside(found: Prescription, load: float | None) -> bool:
    """Whether a known load lies outside where the right one may lie, such as an old set that nobody goes beyond at first."""
    if found.guess or found.likely_kg is None or load is None:
        return False
    return not found.likely_kg[0] - SAME_KG <= load <= found.likely_kg[1] + SAME_KG


def _within(expected: int | None, reps: Repetitions) -> bool:
    return expected is not None and reps[0] <= expected <= reps[1]


def _asked(how: Loading, lift_id: str, target: SetTarget) -> SetTarget:
    """What a set is to be: more left where a lift works a sore joint, and more repetitions where it bears a load that was done."""
    reps, lift = repetitions_for(how.client, lift_id, how.easy), all_lifts().lifts[lift_id]
    reserve, light = target.reserve, begins_light(how, lift_id)
    if light:
        low, high = practice_of_sets()["repetitions"]["after_pain"]
        reps = low, high
    if (is_spared(how, lift_id) or keeps_hurting(how, lift_id)) and not (
        is_trained_heavy(how.client, lift_id) or is_back(how.client, lift_id)
    ):
        table = practice_of_sets()["repetitions"]
        low, high = table["sore"]
        reps = bounded(how.client, (max(low, reps[0]), max(high, reps[1])), lift_id, how.easy)
    reps = as_written(how.client, lift_id, reps)
    spares = (
        light
        or is_spared(how, lift_id)
        or works_hurt(how, lift_id)
        or works_sore(how.client, lift_id, lift, all_lifts().family[lift_id])
    )
    if reserve is None and spares:
        reserve = max(SORE_LEFT, default_reserve(how.client, how.easy))
    return replace(target, repetitions=target.repetitions or reps, reserve=reserve, tied=tied(how.client, lift_id))


def _repetitions(at: SetAt, asked: SetTarget, found: Prescription) -> Repetitions:
    """Repetitions as asked for; else those trained with; else those up to the next load, within what suits the lift; where nothing goes up those of the joint."""
    how, lift_id, target = at.how, at.lift_id, at.target
    if target.repetitions:
        return found.repetitions if target.load_kg is None else target.repetitions
    own = not how.easy and asked.repetitions != usual_repetitions(how.client, lift_id)
    if asked.repetitions and (own or at.spared or begins_light(how, lift_id) or keeps_hurting(how, lift_id)):
        return asked.repetitions
    low, high = found.repetitions
    return bounded(how.client, (max(low, asked.repetitions[0] if asked.repetitions else low), high), lift_id, how.easy)


def _rest(found: Prescription, reserve: float) -> float:
    known = practice(found.lift)
    return rest_after(known, found.rest_s, reserve, known.costly)


def _warm_up(client: Client, lift_id: str, exist: Loads, load: float | None, moved_kg: float) -> tuple[WarmUpSet, ...]:
    """Sets before the hard ones: of multi-joint lifts all, where what both hands hold is worth it; the middle one where it is light."""
    if load is None or not practice(lift_id).multi:
        return ()
    sets, whole = warm_up(exist, load, moved_kg), load * (1 + two_held(all_lifts().lifts[lift_id]))
    return sets if whole > min(HEAVY_KG, HEAVY_PART * client.mass_kg) else sets[len(sets) // 2 :][:1]
