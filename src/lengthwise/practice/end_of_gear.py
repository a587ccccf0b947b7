"""Where no heavier load is there, or the body alone is light: repetitions fitted to what the load allows, and what is told of it."""

from dataclasses import dataclass, replace

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.careful_loads import SetAt
from lengthwise.practice.harder_forms import harder_forms
from lengthwise.practice.week_lifts import practice, sore_grip, takes_weight_soon
from lengthwise.practice.written_repetitions import Repetitions, as_written, bounds_of, fitting, practice_of_sets
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.gear_loads import Loads
from lengthwise.training.joint_use import works_sore
from lengthwise.training.load_notes import (
    BODY,
    LIGHT,
    PLATES,
    PLATES_END,
    TEST_FIRST,
    easier_told,
    end_told,
    few_told,
    harder_told,
    last_told,
)
from lengthwise.training.prescription import Prescription, SetTarget

MOST_LEFT = 5.0
"""No more repetitions than these are said to be left: further off nobody can tell (own choice)."""


@dataclass(frozen=True, kw_only=True)
class Draft:
    """A set on its way to what is written down.

    Attributes:
        asked: what it is to be. found: what is prescribed for that. load_kg: its load; none where none can be told.
        repetitions: least and most. held: whether its load is lighter than what would be prescribed.
        unborne: whether the load is a guess that allows more repetitions than are written, or was held back. told: what is said of it.
        promised: whether load and repetitions are those of a promise.
    """

    asked: SetTarget
    found: Prescription
    load_kg: float | None
    repetitions: Repetitions
    held: bool
    unborne: bool = False
    promised: bool = False
    told: tuple[str, ...] = ()


def at_end_of_gear(at: SetAt, draft: Draft) -> Draft:
    """A set whose repetitions are fitted to its load where no heavier one is there, with what is told of the end of loads."""
    draft = _fitted(at, draft)
    return replace(
        draft, told=(*_easier_told(at, draft), *draft.told, *_end_told(at, draft), *_harder_told(at, draft), *_last_told(at, draft))
    )


def _fitted(at: SetAt, draft: Draft) -> Draft:
    """Repetitions as the load allows; those that are asked for stay, and so do those of a guess that could still be made heavier."""
    found, load, reps = draft.found, draft.load_kg, draft.repetitions
    allows, ends = allowed(found, at.exist, load), at.ends(load)
    alone = found.guess and at.exist.kind == "body" and not takes_weight_soon(at.lift_id)
    more = allows is not None and allows > reps[1]
    unborne = found.guess and (draft.held or (more and (at.spared or at.how.easy or not (ends or alone))))
    if at.target.repetitions or unborne or (draft.held and at.spared) or allows is None:
        return replace(draft, unborne=unborne)
    up = ends and not (found.guess or at.spared) and allows == reps[1]
    fitted = fitting((reps[0], reps[1] - up), allows, _bounds(at, found.guess, ends and not at.spared), not found.guess)
    fitted = as_written(at.how.client, at.lift_id, fitted)
    drawn = replace(
        draft,
        asked=replace(draft.asked, repetitions=fitted),
        repetitions=fitted,
        told=few_told(allows, reps, found.reserve),
    )
    if found.guess and ends and at.lift.gear == "barbell" and fitted[0] > reps[0]:
        drawn = _lower(at, drawn, reps)
    elif (left := _left(at, found, ends, allows, fitted)) > found.reserve:
        told = (*drawn.told, PLATES_END.format(fitted[1], left))
        drawn = replace(drawn, asked=replace(drawn.asked, reserve=left), told=told)
    found = at.prescribe(replace(drawn.asked, load_kg=drawn.load_kg))
    notes = tuple(n for n in found.notes if not (drawn.told and n.startswith(BODY)))
    return replace(drawn, found=replace(found, notes=notes), unborne=found.guess and allows > drawn.repetitions[1])


def _lower(at: SetAt, draft: Draft, usual: Repetitions) -> Draft:
    """A guess for a barbell whose plates end, for its many repetitions; with the usual ones where it begins lower than the plates' end."""
    draft = replace(draft, load_kg=at.careful_kg(at.prescribe(draft.asked)))
    if draft.load_kg is None or at.ends(draft.load_kg):
        return draft
    return replace(draft, asked=replace(draft.asked, repetitions=usual), repetitions=usual, held=True, told=())


def allowed(found: Prescription, exist: Loads, load: float | None) -> int | None:
    """Repetitions that a load allows with the reserve asked for; none where no load or no strength can be told."""
    if load is None or found.one_rm_kg is None or not exist.readable:
        return None
    return repetitions_at(found.one_rm_kg + found.moved_kg, load, found.moved_kg, found.reserve)


def _end_told(at: SetAt, draft: Draft) -> tuple[str, ...]:
    """What comes after a guess where the heaviest load there is is likely to be light."""
    found, reps = draft.found, draft.repetitions
    if not found.guess or at.spared or at.how.easy or at.target.repetitions or at.exist.kind == "body":
        return ()
    last, ends = allowed(found, at.exist, at.exist.heaviest_kg) or 0, at.ends(draft.load_kg)
    if not (reps[0] <= last <= reps[1] if ends else last > reps[1]):
        return ()
    return end_told(at.exist, _bounds(at, True, True)[1], at.how.client.mass_unit)


def _harder_told(at: SetAt, draft: Draft) -> tuple[str, ...]:
    """What is harder than the body alone, where no load is hung on it and no joint that is sore works."""
    sore = works_sore(at.how.client, at.lift_id, at.lift, all_lifts().family[at.lift_id])
    if at.exist.kind != "body" or draft.load_kg != 0 or sore or at.spared or at.target.repetitions or takes_weight_soon(at.lift_id):
        return ()
    if any(note.startswith(BODY) for note in (*draft.told, *draft.found.notes)):
        return ()
    return (harder_told(draft.repetitions[1], draft.found.reserve, harder_forms(at.how.client, at.lift_id, at.target.place)),)


def _last_told(at: SetAt, draft: Draft) -> tuple[str, ...]:
    """What comes after the heaviest load there is, of a lift that was done with it; nothing where that is told for being light."""
    light = any(note.startswith((LIGHT, PLATES)) for note in (*draft.told, *draft.found.notes))
    if draft.found.guess or not at.ends(draft.load_kg) or at.spared or at.how.easy or at.target.repetitions or light:
        return ()
    if at.exist.kind == "body" and at.exist.heaviest_kg == 0:
        return ()
    return (last_told(at.exist, draft.repetitions, _bounds(at, False, True)[1], at.how.client, at.lift.sides == "one"),)


def _easier_told(at: SetAt, draft: Draft) -> tuple[str, ...]:
    """What is easier than a guess with the body alone."""
    if not draft.found.guess or at.exist.kind != "body" or draft.load_kg != 0:
        return ()
    family = all_lifts().family[at.lift_id]
    sore = works_sore(at.how.client, at.lift_id, at.lift, family)
    table = {**practice_of_sets()["easier"], **(practice_of_sets()["easier_sore"] if sore else {})}
    easier = str(table.get(at.lift_id) or table.get(family, table["other"]))
    least = draft.repetitions[0]
    if not takes_weight_soon(at.lift_id):
        return easier_told(least, draft.found.reserve, easier)
    least = max(least, bounds_of(at.how.client, at.lift_id, at.how.easy)[0])
    return (TEST_FIRST.format(draft.found.reserve), *easier_told(least, draft.found.reserve, easier))


def _left(at: SetAt, found: Prescription, ends: bool, allows: int, reps: Repetitions) -> float:
    """Repetitions left where the plates end in a heavy lift: its sets grow no longer, they end further from the last one."""
    if not (ends and practice(at.lift_id).costly) or found.guess:
        return found.reserve
    return max(found.reserve, min(found.reserve + allows - reps[1], MOST_LEFT))


def _bounds(at: SetAt, guess: bool, ends: bool) -> Repetitions:
    """Within what repetitions may be written to fit a load; more where no heavier one is there, and most where a set has shown so; not where a
    long grip loads a sore joint, nor in a heavy barbell lift.
    """
    least, most = bounds_of(at.how.client, at.lift_id, at.how.easy)
    table, family = practice_of_sets()["bounds"], all_lifts().family[at.lift_id]
    if guess and family in table["guess_most"]:
        return least, min(most, table["guess_most"][family])
    ends = ends and not sore_grip(at.how.client, at.lift_id) and not practice(at.lift_id).costly
    return least, max(most, table["topped_guess_most" if guess else "topped_most"]) if ends else most
