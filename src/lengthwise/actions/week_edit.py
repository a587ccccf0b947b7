"""Changing a planned week by hand: move, add or take out a lift, change its sets; and what the recount says against it at once."""

from dataclasses import dataclass, replace
from typing import Literal

from pydantic import ValidationError

from lengthwise.actions.clients import starts_easy
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week import with_loads
from lengthwise.actions.week_choices import Offer, spared_nm
from lengthwise.errors import InputError
from lengthwise.planning.check import check
from lengthwise.planning.question import Question
from lengthwise.planning.recount import recounted
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.storage.weeks import WEEK
from lengthwise.training.client import Client

SETS, MOST_SETS = 3, 12


@dataclass(frozen=True)
class Edit:
    """One change: `day` and lift say what, `to` the day it goes to, `sets` how many it then has."""

    do: Literal["look", "move", "sets", "remove", "add"] = "look"
    day: str = ""
    lift: str = ""
    range: Literal["full", "long", "short"] = "full"
    to: str = ""
    sets: int = SETS


@dataclass(frozen=True)
class Edited:
    """The week as it now is, and everything that stands against it, in words."""

    week: Week
    against: tuple[str, ...]


def edit_week(client: Client, offer: Offer, week: Week, edit: Edit) -> Edited:
    """Change a week and say at once what stands against it; nothing is kept.

    Raises:
        InputError: a day the client does not train on, a lift that is not there or has no load there, sets that cannot be.
    """
    question = Question(
        offer.choices, offer.days, offer.muscles, frozenset(all_lifts().find(n) for n in client.wishes.refused), frozenset(),
        spared_nm(client), client.wishes.pair_lifts,
    )  # fmt: skip
    days = [o.day for o in offer.days]
    lifts = {d.day: d.lifts for d in week.days if d.day in days}
    gone = [d.day for d in week.days if d.day not in days and d.lifts]
    known = {c.key for c in offer.choices}
    strange = [x for d in lifts.values() for x in d if (x.lift, x.range) not in known]
    lifts = {d: tuple(x for x in own if (x.lift, x.range) in known) for d, own in lifts.items()}
    changed = _changed({d: lifts.get(d, ()) for d in days}, edit, known, offer)
    found = recounted(question, {str(d): own for d, own in changed.items()})
    against = [_named(f) for f in check(found, question)]
    against += [f"{day}: no training day any more; its lifts were left out" for day in gone]
    against += [f"{x.name}: left out; {offer.out.get(x.lift, 'it cannot be done with this gear')}" for x in strange]
    return Edited(with_loads(client, found, starts_easy(client)), tuple(against))


def _changed(
    lifts: dict[str, tuple[PlannedLift, ...]], edit: Edit, known: set[tuple[str, str]], offer: Offer
) -> dict[str, tuple[PlannedLift, ...]]:
    if edit.do == "look":
        return lifts
    target = edit.to if edit.do in ("move", "add") else edit.day
    for day in {target, edit.day} - ({""} if edit.do == "add" else set()):
        if day not in lifts:
            raise InputError(f"no training on {day or 'that day'}", asked=day, allowed=list(lifts))
    if not 1 <= edit.sets <= MOST_SETS:
        raise InputError(f"{edit.sets} sets; allowed 1 to {MOST_SETS}", asked=edit.sets)
    if edit.do == "add":
        return {**lifts, target: (*_without(lifts[target], edit), _new(edit, known, offer))}
    own = next((x for x in lifts[edit.day] if (x.lift, x.range) == (edit.lift, edit.range)), None)
    if own is None:
        raise InputError(f"{edit.lift} is not planned on {edit.day}", asked=edit.lift)
    rest = {**lifts, edit.day: _without(lifts[edit.day], edit)}
    if edit.do == "remove":
        return rest
    if edit.do == "sets":
        return {**lifts, edit.day: tuple(replace(x, sets=edit.sets) if x is own else x for x in lifts[edit.day])}
    return {**rest, target: (*_without(rest[target], edit), replace(own, pair=None))}


def _without(lifts: tuple[PlannedLift, ...], edit: Edit) -> tuple[PlannedLift, ...]:
    return tuple(x for x in lifts if (x.lift, x.range) != (edit.lift, edit.range))


def _new(edit: Edit, known: set[tuple[str, str]], offer: Offer) -> PlannedLift:
    lift_id = all_lifts().find(edit.lift)
    if (lift_id, edit.range) not in known:
        reason = offer.out.get(lift_id, "its gear is at none of the places, or it serves no muscle of the week")
        raise InputError(f"{all_lifts().lifts[lift_id].name} cannot be added: {reason}", asked=edit.lift)
    lift = all_lifts().lifts[lift_id]
    return PlannedLift(lift_id, edit.range, lift.name, edit.sets, (8, 12), 2.0, gear=lift.gear, why="Added by hand.")


def _named(fault: str) -> str:
    """A fault with lifts by name instead of id."""
    words = [
        all_lifts().lifts[w.rstrip(":,")].name + w[len(w.rstrip(":,")) :] if w.rstrip(":,") in all_lifts().lifts else w
        for w in fault.split()
    ]
    told = " ".join(words).replace("_", " ")
    return f"{told}; another lift should share the work" if " gives " in told else told


def week_from_text(text: str) -> Week:
    """A week as it was sent.

    Raises:
        InputError: it is none.
    """
    try:
        return WEEK.validate_json(text)
    except ValidationError as error:
        raise InputError(f"what was sent is no week: {error.errors()[0]['msg']}") from error


def week_text(week: Week) -> str:
    """A week as it is sent."""
    return WEEK.dump_json(week).decode()
