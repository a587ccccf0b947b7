"""Loads, repetitions, rest and warm-up of a planned week: as a coach would dare to write them down."""

from dataclasses import replace
from math import inf

from lengthwise.actions.guessed import cautious_kg, tied, two_held, with_related
from lengthwise.actions.known_strength import calibration_of
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.load_sentences import old_told, sore_words, stepped
from lengthwise.actions.loading import Loading, is_spared
from lengthwise.actions.sore_choices import is_easy
from lengthwise.actions.week_lifts import HEAVY_REST_S, SINGLE_REST_S, practice, sore_grip, takes_weight_soon
from lengthwise.actions.written_repetitions import (
    GENTLE_LEFT,
    Repetitions,
    bounded,
    bounds_of,
    easily,
    fitting,
    practice_of_sets,
    repetitions_for,
    usual_repetitions,
)
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.quantities import MassUnit
from lengthwise.quantities import load as in_words
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client, RelatedLift
from lengthwise.training.defaults import default_reserve
from lengthwise.training.gear_loads import Loads
from lengthwise.training.holds import hold_s, is_held
from lengthwise.training.joint_use import works_sore
from lengthwise.training.known import kept, known_of
from lengthwise.training.load_notes import BODY, PLATES_END, TOLD, easier_told, end_told, few_told
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import Prescription, SetTarget, loads_for, prescribe
from lengthwise.training.progression import size
from lengthwise.training.warm_up import WarmUpSet, test_steps, warm_up

MOST_LEFT = 5.0
"""No more repetitions than these are said to be left: further off nobody can tell (own choice)."""
HEAVY_KG, HEAVY_PART = 40.0, 0.5
"""A load above this, or above this part of the body's mass, wants rising sets before it (common practice, no source)."""
SORE_LEFT = 3.0
"""Repetitions left where a lift works a sore joint (common practice, no source)."""

LONG_ENOUGH = "Once every set lasts {} s, a harder hold does more than a longer one."
HELD = "Held at {} for the first session: nothing lifted so far bears out the heavier load that the body alone would suggest."


def with_loads(week: Week, how: Loading) -> Week:
    """The week with a load, repetitions, reserve and warm-up for every lift.

    A muscle's later lifts of a day warm up with one set, once one for it has warmed up in full.
    """
    days = []
    for d in week.days:
        warm: set[str] = set()
        lifts: list[PlannedLift] = []
        for x in d.lifts:
            made = loaded(x, how, d.place)
            lifts.append(replace(made, warm_up=made.warm_up[-1:]) if x.muscle in warm else made)
            if len(made.warm_up) > 1:
                warm.add(x.muscle)
        days.append(replace(d, lifts=tuple(lifts)))
    return replace(week, days=tuple(days))


def loaded(planned: PlannedLift, how: Loading, place: str) -> PlannedLift:
    """One lift with what exists at a place."""
    client, lift = how.client, all_lifts().lifts[planned.lift]
    there = place if place in client.places and lift.gear in client.places[place].gear else None
    found = prescribed(planned.lift, SetTarget(range=planned.range, place=there, easy=how.easy, sets=planned.sets), how)
    steps = found.first_session[:3] if found.guess else ()
    gentle = found.notes if found.gentle else sore_words(how, planned.lift, found, found.load_kg)
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
        find=" ".join((*gentle, *old_told(how, planned.lift), *steps, *_told(planned.lift, found, how, gentle))),
    )


def _told(lift_id: str, found: Prescription, how: Loading, said: tuple[str, ...]) -> tuple[str, ...]:
    """What a week says of a load beside how to find it: that none can be given, that it is light, or how far it goes beyond the last."""
    if found.load_kg is None:
        return tuple(note for note in found.notes if note not in said)[:1]
    if found.gentle or is_spared(how, lift_id):
        return ()
    light = tuple(note for note in found.notes if note.startswith(TOLD))
    return light if found.guess else (*light, *stepped(how, lift_id, found.load_kg))


def prescribed(lift_id: str, target: SetTarget, how: Loading) -> Prescription:
    """How a client does a lift as a coach would dare to write it down: the same in a week and when it is asked for alone.

    Repetitions that are asked for stay as they are; else they are those that suit the lift.
    """
    if is_held(lift_id):
        return _held_still(lift_id, target, how)
    if is_easy(how.lighter.get(lift_id, 1.0)):
        return _gentle(lift_id, target, how)
    client, lift = how.client, all_lifts().lifts[lift_id]
    asked = _asked(how, lift_id, target)
    client = with_related(client, lift_id)
    found = prescribe(client, lift_id, lift, asked, calibration_of(how.body))
    exist = loads_for(client, target.place, lift_id, lift)
    reps = _written(how, lift_id, target, asked, found)
    load = found.load_kg if target.load_kg is not None else _careful(found, how, exist, lift_id, target)
    held, spared = load is not None and load != found.load_kg, is_spared(how, lift_id)
    if held:
        found = prescribe(client, lift_id, lift, replace(asked, load_kg=load), calibration_of(how.body))
    allows, ends = allowed(found, exist, load), load is not None and exist.above(load) is None
    alone = found.guess and exist.kind == "body" and not takes_weight_soon(lift_id)
    more = allows is not None and allows > reps[1]
    unborne = found.guess and (held or (more and (spared or how.easy or not (ends or alone))))
    few: tuple[str, ...] = ()
    if not (target.repetitions or unborne or (held and spared)) and allows is not None:
        few = few_told(allows, reps, found.reserve)
        asked_for, reps = reps, fitting(reps, allows, _fits(how, lift_id, found.guess, ends and not spared))
        asked = replace(asked, repetitions=reps)
        if found.guess and ends and lift.gear == "barbell" and reps[0] > asked_for[0]:
            load = _careful(prescribe(client, lift_id, lift, asked, calibration_of(how.body)), how, exist, lift_id, target)
            if load is not None and exist.above(load) is not None:
                held, reps, few = True, asked_for, ()
                asked = replace(asked, repetitions=reps)
        elif (left := _left(lift_id, found, ends, allows, reps)) > found.reserve:
            asked, few = replace(asked, reserve=left), (*few, PLATES_END.format(reps[1], left))
        found = prescribe(client, lift_id, lift, replace(asked, load_kg=load), calibration_of(how.body))
        found = replace(found, notes=tuple(n for n in found.notes if not (few and n.startswith(BODY))))
        unborne = found.guess and allows > reps[1]
    if found.guess and not (spared or how.easy or target.repetitions):
        few = (*few, *_end_told(how, found, exist, load, reps))
    if found.guess and exist.kind == "body" and load == 0:
        few = (*easier_told(reps[0], found.reserve, _easier(lift_id)), *few)
    gentle = sore_words(how, lift_id, found, load) or (_held(load, lift.gear, client.mass_unit) if found.guess and held else ())
    guessed = found.guess and load is not None and exist.readable and not (exist.kind == "body" and load == 0)
    return replace(
        found,
        load_kg=load,
        repetitions=reps,
        likely_kg=None if held else found.likely_kg,
        expected=None if unborne or not _within(found.expected, reps) else found.expected,
        one_rm_kg=borne_out(found, load, reps) if found.guess and held and load is not None else found.one_rm_kg,
        bridge=None if spared else found.bridge,
        notes=(
            *gentle,
            *old_told(how, lift_id),
            *few,
            *found.notes,
            *(() if spared or found.guess or target.repetitions else stepped(how, lift_id, load)),
        ),
        rest_s=_rest(lift_id, found.rest_s),
        warm_up=_warm_up(client, lift_id, exist, load, found.moved_kg),
        first_session=test_steps(exist, load, found.moved_kg, (*reps, found.reserve), client.mass_unit, target.sets)
        if guessed and load is not None and lift_id not in how.lighter
        else (),
    )


def _easier(lift_id: str) -> str:
    table = practice_of_sets()["easier"]
    return str(table.get(all_lifts().family[lift_id], table["other"]))


def _held_still(lift_id: str, target: SetTarget, how: Loading) -> Prescription:
    """A set that is held: seconds for repetitions, no load, and no reserve that could be counted."""
    found = prescribe(how.client, lift_id, all_lifts().lifts[lift_id], replace(target, load_kg=0.0), calibration_of(how.body))
    return replace(
        found,
        guess=False,
        repetitions=hold_s(),
        likely_kg=None,
        expected=None,
        bridge=None,
        notes=(LONG_ENOUGH.format(hold_s()[1]),),
        rest_s=_rest(lift_id, found.rest_s),
        warm_up=(),
        first_session=(),
    )


def _gentle(lift_id: str, target: SetTarget, how: Loading) -> Prescription:
    """Easy sets for the sake of a joint: little load, many repetitions, nothing added on the day, an end at the first pain.

    They count for nothing in a muscle's sets and are told beside them: light loads grow alike only when sets end near failure (claim load).
    """
    client, lift = how.client, all_lifts().lifts[lift_id]
    usual = replace(
        target, repetitions=target.repetitions or repetitions_for(client, lift_id, how.easy), tied=tied(client, lift_id)
    )
    client = with_related(client, lift_id)
    found, exist = prescribe(client, lift_id, lift, usual, calibration_of(how.body)), loads_for(client, target.place, lift_id, lift)
    load = found.load_kg if target.load_kg is not None else _careful(found, how, exist, lift_id, target)
    return replace(
        found,
        load_kg=load,
        gentle=True,
        repetitions=target.repetitions or easily(found, load, practice(lift_id).multi),
        reserve=max(found.reserve, GENTLE_LEFT),
        likely_kg=None,
        expected=None,
        bridge=None,
        notes=sore_words(how, lift_id, found, load),
        rest_s=_rest(lift_id, found.rest_s),
        warm_up=(),
        first_session=(),
    )


def allowed(found: Prescription, exist: Loads, load: float | None) -> int | None:
    """Repetitions that a load allows with the reserve asked for; none where no load or no strength can be told."""
    if load is None or found.one_rm_kg is None or not exist.readable:
        return None
    return repetitions_at(found.one_rm_kg + found.moved_kg, load, found.moved_kg, found.reserve)


def _end_told(how: Loading, found: Prescription, exist: Loads, load: float | None, reps: Repetitions) -> tuple[str, ...]:
    """What comes after a guess where the heaviest load there is, or the body alone, is likely to be light."""
    last, ends = allowed(found, exist, exist.heaviest_kg) or 0, load is not None and exist.above(load) is None
    body = exist.kind == "body"
    told = reps[0] <= last <= reps[1] if ends and not body else last > reps[1] and (ends or not body)
    if not told:
        return ()
    return end_told(exist, (reps[1], _fits(how, found.lift, True, True)[1]), found.reserve, how.client.mass_unit)


def _left(lift_id: str, found: Prescription, ends: bool, allows: int, reps: Repetitions) -> float:
    """Repetitions left where the plates end in a heavy lift: its sets grow no longer, they end further from the last one."""
    if not (ends and practice(lift_id).costly) or found.guess:
        return found.reserve
    return max(found.reserve, min(found.reserve + allows - reps[1], MOST_LEFT))


def _within(expected: int | None, reps: Repetitions) -> bool:
    return expected is not None and reps[0] <= expected <= reps[1]


def _fits(how: Loading, lift_id: str, guess: bool, ends: bool) -> Repetitions:
    """Within what repetitions may be written to fit a load; more where no heavier one is there, and most where a set has shown so; not where a
    long grip loads a sore joint, nor in a heavy barbell lift.
    """
    least, most = bounds_of(how.client, lift_id, how.easy)
    ends = ends and not sore_grip(how.client, lift_id) and not practice(lift_id).costly
    return least, max(most, practice_of_sets()["bounds"]["topped_guess_most" if guess else "topped_most"]) if ends else most


def _asked(how: Loading, lift_id: str, target: SetTarget) -> SetTarget:
    """What a set is to be: more left where a lift works a sore joint, and more repetitions where it bears a load that was done."""
    reps, lift = repetitions_for(how.client, lift_id, how.easy), all_lifts().lifts[lift_id]
    reserve = target.reserve
    if is_spared(how, lift_id):
        table = practice_of_sets()["repetitions"]
        low, high = table["sore"]
        reps = bounded(how.client, (max(low, reps[0]), max(high, reps[1])), lift_id, how.easy)
    if reserve is None and (is_spared(how, lift_id) or works_sore(how.client, lift_id, lift, all_lifts().family[lift_id])):
        reserve = max(SORE_LEFT, default_reserve(how.client, how.easy))
    return replace(target, repetitions=target.repetitions or reps, reserve=reserve, tied=tied(how.client, lift_id))


def _written(how: Loading, lift_id: str, target: SetTarget, asked: SetTarget, found: Prescription) -> Repetitions:
    """Repetitions as asked for; else those trained with; else those up to the next load, within what suits the lift; where nothing goes up those of the joint."""
    if target.repetitions:
        return found.repetitions if target.load_kg is None else target.repetitions
    own = not how.easy and asked.repetitions != usual_repetitions(how.client, lift_id)
    if asked.repetitions and (own or is_spared(how, lift_id)):
        return asked.repetitions
    low, high = found.repetitions
    return bounded(how.client, (max(low, asked.repetitions[0] if asked.repetitions else low), high), lift_id, how.easy)


def ceiling(how: Loading, lift_id: str, place: str | None = None) -> float | None:
    """The load that is not exceeded [kg]: what was done without pain of a lift that works a sore joint, or hurt not long ago, or the part of it,
    or of the usual load, that a sore joint leaves.
    """
    if not is_spared(how, lift_id):
        return None
    lift, part = all_lifts().lifts[lift_id], how.lighter.get(lift_id, 1.0)
    usual = _usual(how, lift_id, place)
    known = known_of(how.client.known_lifts, lift_id, lift)
    done = usual.load_kg if known is None else kept(known) * known.load_kg
    return None if done is None else part * (done + usual.moved_kg) - usual.moved_kg


def usual_kg(client: Client, lift_id: str, easy: bool = False) -> float | None:
    """The load of a lift that was done, else the one that would be guessed [kg]; none where none can be given.

    Args:
        easy: whether a screening says to start easy.
    """
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    return _usual(Loading(client, client, easy), lift_id).load_kg if known is None else kept(known) * known.load_kg


def _usual(how: Loading, lift_id: str, place: str | None = None) -> Prescription:
    """A lift as it would be done without a sore joint; a guess within its cautious share, as it would be written down."""
    client = with_related(how.client, lift_id)
    reps = repetitions_for(client, lift_id, how.easy)
    target = SetTarget(repetitions=reps, place=place, tied=tied(how.client, lift_id))
    found = prescribe(client, lift_id, all_lifts().lifts[lift_id], target, calibration_of(how.body))
    if not found.guess or found.load_kg is None:
        return found
    return replace(
        found, load_kg=min(found.load_kg, cautious_kg(how.client, lift_id, found.repetitions[0] + found.reserve, how.easy))
    )


def one_step(client: Client, lift_id: str, exist: Loads, moved_kg: float) -> float:
    """The most that a load may be beside the one last done [kg]: the next that exists, or a small step of a finer one; none where none was done."""
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    if known is None or isinstance(known, RelatedLift) or not exist.readable:
        return inf
    heavier = exist.above(known.load_kg)
    small = (known.load_kg + moved_kg) * (1 + size("small_step_percent") / 100) - moved_kg
    return max(small, known.load_kg if heavier is None else heavier)


def borne_out(found: Prescription, load: float, reps: Repetitions) -> float:
    """The largest load that a load held back stands for: what it would show if all of its repetitions were done."""
    return (load + found.moved_kg) * factor(reps[1] + found.reserve) - found.moved_kg


def _held(load: float | None, kind: str, unit: MassUnit) -> tuple[str, ...]:
    return () if load is None else (HELD.format(in_words(load, kind, unit)),)


def _rest(lift_id: str, usual_s: float) -> float:
    known = practice(lift_id)
    return max(usual_s, HEAVY_REST_S) if known.costly else usual_s if known.multi else min(usual_s, SINGLE_REST_S)


def _warm_up(client: Client, lift_id: str, exist: Loads, load: float | None, moved_kg: float) -> tuple[WarmUpSet, ...]:
    """Sets before the hard ones: of multi-joint lifts all, where what both hands hold is worth it; the middle one where it is light."""
    if load is None or not practice(lift_id).multi:
        return ()
    sets, whole = warm_up(exist, load, moved_kg), load * (1 + two_held(all_lifts().lifts[lift_id]))
    return sets if whole > min(HEAVY_KG, HEAVY_PART * client.mass_kg) else sets[len(sets) // 2 :][:1]


def _careful(found: Prescription, how: Loading, exist: Loads, lift_id: str, target: SetTarget) -> float | None:
    """The load that is written down: a guess never above a cautious share of a related known lift, less for a sore joint."""
    load = found.load_kg
    if load is None or not exist.readable:
        return load
    cautious = cautious_kg(how.client, lift_id, found.repetitions[0] + found.reserve, how.easy) if found.guess else inf
    most = min(load, cautious)
    if is_easy(part := how.lighter.get(lift_id, 1.0)):
        known = known_of(how.client.known_lifts, lift_id, all_lifts().lifts[lift_id])
        usual = most if known is None else min(load, kept(known) * known.load_kg)
        most = min(most, (usual + found.moved_kg) * part - found.moved_kg)
    elif (done := ceiling(how, lift_id, target.place)) is not None:
        most = min(most, done)
    if not target.repetitions:
        most = min(most, one_step(how.client, lift_id, exist, found.moved_kg))
    if most >= load:
        return load
    below = exist.below(most)
    return exist.exist[0] if below is None else below
