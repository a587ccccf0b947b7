"""Changing a planned week by hand: move, add or take out a lift, change its sets; what that did, and what stands against it."""

from dataclasses import dataclass, replace
from typing import ClassVar, Literal

from pydantic import ValidationError

from lengthwise.body.muscle_names import in_full
from lengthwise.errors import InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.check import check
from lengthwise.planning.check_order import key_of
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.recount import recounted
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.planning.week_model import trained
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.loadable import is_uneasy
from lengthwise.practice.loading import Loading
from lengthwise.practice.logged_pain import with_pain_told
from lengthwise.practice.week_lifts import practice
from lengthwise.practice.week_loads import with_loads
from lengthwise.quantities import set_count
from lengthwise.records.past import NOTHING, Past
from lengthwise.storage.weeks import WEEK
from lengthwise.training.client import Client, Place
from lengthwise.training.counted_sets import convention
from lengthwise.training.defaults import rest_s
from lengthwise.training.places import preset, presets
from lengthwise.weeks.clients import lighter_of, with_sore
from lengthwise.weeks.done_days import with_done
from lengthwise.weeks.swap_fit import LOSES, SERVES
from lengthwise.weeks.week_choices import Offer, offer_of
from lengthwise.weeks.week_plans import NO_CHANGES, question_of

SETS, MOST_SETS = 3, 24
SET_S = 45.0
"""Seconds of a set of a lift whose facts are not known (common practice, no source)."""
Lifts = dict[str, tuple[PlannedLift, ...]]


@dataclass(frozen=True, kw_only=True)
class Edit:
    """One change: `day` and lift say what, `to` the day it goes to (or the lift that takes its place), `sets` how many it then has."""

    do: Literal["look", "move", "sets", "remove", "add", "swap"] = "look"
    day: str = ""
    lift: str = ""
    range: Literal["full", "long", "short"] = "full"
    to: str = ""
    sets: int = SETS


@dataclass(frozen=True)
class Edited:
    """The week as it now is, everything that stands against it, and what the change did to its sets, in words.

    `met` says whether nothing stands against it, no wish is in conflict, and every muscle has its floor.
    """

    PUBLIC: ClassVar = "week against"
    week: Week
    against: tuple[str, ...]
    said: tuple[str, ...] = ()
    met: bool = False


def edit_week(client: Client, offer: Offer, week: Week, edit: Edit, past: Past = NOTHING, hurt: str = "") -> Edited:
    """Change a week and say at once what that did and what stands against it; nothing is kept.

    No set goes unsaid: a lift that moves onto a day that has it adds its sets there. A lift that stays keeps the load it was planned with.

    Args:
        past: what the client has done, which the loads of new lifts rest on; `offer` rests on it too.
        hurt: the joint for whose sake a lift is swapped, which loads the new one as if it were sore.

    Raises:
        InputError: a day the client does not train on, a lift that is not there or has no load there, sets that cannot be.
    """
    client = past.today(client)
    offer = _with_all(past.of(client), offer, {x.lift for d in week.days for x in d.lifts}, edit)
    question, strange = _question(client, offer, week)
    days = [o.day for o in offer.days]
    gone = [d.day for d in week.days if d.day not in days and d.lifts]
    lifts: Lifts = {d: () for d in days} | {d.day: d.lifts for d in week.days if d.day in days}
    changed, said = _changed(lifts, edit, question, offer)
    found = recounted(question, changed, week)
    against = [_named(f) for f in check(found, question)]
    against += [
        f"{d.day}: no training day any more; {sum(x.sets for x in d.lifts)} sets went with it" for d in week.days if d.day in gone
    ]
    against += [f"{all_lifts().lifts[i].name}: {offer.out.get(i, 'it serves no muscle of the week')}" for i in strange]
    knows = with_sore(past.of(client), hurt)
    lighter = {**offer.lighter, **(lighter_of(knows, all_lifts().find(edit.to)) if hurt else {})}
    anew = with_loads(found, Loading(knows, client, starts_easy(client), lighter))
    loaded = with_done(with_pain_told(_as_planned(anew, week, offer, past), past.hurt, past.sore), past.visits, client)
    short = any(found.muscle_sets[m.name] < max(m.floor, m.low if m.own else 0.0) - 0.05 for m in offer.muscles)
    return Edited(loaded, tuple(dict.fromkeys(against)), said, not against and not loaded.conflicts and not short)


def _as_planned(anew: Week, before: Week, offer: Offer, past: Past) -> Week:
    """The week with each lift that stays on its day loaded as it was; what a joint that is sore by now must not bear whole is loaded anew, and
    so is what was done since.
    """
    was = {(d.day, d.place, x.lift, x.range): x for d in before.days for x in d.lifts if x.load_kg is not None}

    def kept(day: PlannedDay, x: PlannedLift) -> PlannedLift:
        old = was.get((day.day, day.place, x.lift, x.range))
        if old is None or x.lift in offer.lighter or past.went_on(x.lift):
            return x
        same = {k: getattr(old, k) for k in ("load_kg", "guess", "repetitions", "reserve", "rest_s", "find", "next_kg", "next_at")}
        return replace(x, **same, warm_up=old.warm_up if len(old.warm_up) >= len(x.warm_up) else x.warm_up)

    days = tuple(replace(d, lifts=tuple(kept(d, x) for x in d.lifts)) for d in anew.days)
    return replace(anew, days=days)


def where_it_is(client: Client, week: Week) -> Client:
    """The record as a week was planned: with its days at the week's places, and with the ways to save time that its sets are done in."""
    ways = tuple(dict.fromkeys(x.method for d in week.days for x in d.lifts if x.method))
    if ways and ways != client.wishes.methods:
        wishes = client.wishes.model_copy(update={"methods": ways})
        client = client.model_copy(update={"wishes": wishes})
    return _at_its_places(client, week)


def _at_its_places(client: Client, week: Week) -> Client:
    """The record with its days at the places of a week: one planned for a trip stays where it was planned."""
    known = {**dict.fromkeys(client.places), **dict.fromkeys(presets())}
    there = {d.day: d.place for d in week.days if d.place in known}
    if all(there.get(d.day, d.place) == d.place for d in client.days):
        return client
    usual = {p: Place.model_validate(preset(p, client.mass_unit)) for p in there.values() if p not in client.places}
    days = tuple(d.model_copy(update={"place": there.get(d.day, d.place)}) for d in client.days)
    return client.model_copy(update={"places": {**client.places, **usual}, "days": days})


def _with_all(client: Client, offer: Offer, ids: set[str], edit: Edit) -> Offer:
    """The offer with lifts that nobody has looked at yet: those of the week, and one to be added."""
    new = {"add": edit.lift, "swap": edit.to}.get(edit.do)
    asked = ids | ({all_lifts().find(new)} if new else set())
    known = {c.lift for c in offer.choices} | {i for i, why in offer.out.items() if not is_uneasy(why)}
    return offer_of(client, last=offer.own.last, wanted=asked) if asked - known else offer


def _question(client: Client, offer: Offer, week: Week) -> tuple[WeekQuestion, list[str]]:
    """The question that a changed week is held against: every lift available, and those of the week that should not be in it."""
    known = {c.key for c in offer.choices}
    strange = list(dict.fromkeys((x.lift, x.range) for d in week.days for x in d.lifts if (x.lift, x.range) not in known))
    listed = {c.key: c for c in (*offer.choices, *(_unknown(client, key) for key in strange))}
    return replace(question_of(client, offer, NO_CHANGES), choices=tuple(listed.values())), [
        i for i, _ in strange if i in offer.out
    ]


def _unknown(client: Client, key: tuple[str, str]) -> Choice:
    """A lift whose facts are not known: it takes its time and counts by the fixed convention."""
    lift = all_lifts().lifts[key[0]]
    return Choice(
        lift=key[0],
        range=key[1],  # type: ignore[arg-type]
        name=lift.name,
        gear=lift.gear,
        value={},
        fraction=convention(lift.targets, lift.movers),
        setup_s=lift.setup_s,
        set_s=SET_S,
        rest_s=rest_s(client, (8, 12)),
        joint_nm={},
        systemic=0.0,
        practice=practice(key[0]),
    )


def _changed(lifts: Lifts, edit: Edit, question: WeekQuestion, offer: Offer) -> tuple[Lifts, tuple[str, ...]]:
    if edit.do == "look":
        return lifts, ()
    for day in [edit.to] if edit.do == "add" else [edit.day, edit.to] if edit.do == "move" else [edit.day]:
        if day not in lifts:
            raise InputError(f"no training on {day or 'that day'}", asked=day, allowed=list(lifts))
    if not 1 <= edit.sets <= MOST_SETS:
        raise InputError(f"{edit.sets} sets; allowed 1 to {MOST_SETS}", asked=edit.sets)
    if edit.do == "add":
        return _put(lifts, edit.to, _new(edit, question, offer))
    own = next((x for x in lifts[edit.day] if (x.lift, x.range) == (edit.lift, edit.range)), None)
    if own is None:
        raise InputError(f"{edit.lift} is not planned on {edit.day}", asked=edit.lift)
    if edit.do == "sets":
        one = tuple(replace(x, sets=edit.sets) if x is own else x for x in lifts[edit.day])
        return {**lifts, edit.day: one}, (f"{own.name}: {set_count(edit.sets)} on {edit.day.capitalize()} instead of {own.sets}.",)
    rest = {**lifts, edit.day: tuple(x for x in lifts[edit.day] if x is not own)}
    if edit.do == "swap":
        new = replace(_new(replace(edit, lift=edit.to), question, offer), sets=own.sets, why=f"In place of {own.name}.")
        swapped, said = _put(rest, edit.day, new)
        taken = f"{new.name} takes the place of {own.name} on {edit.day.capitalize()}: {set_count(own.sets)} as before."
        return swapped, (*(said or (taken,)), *_given_up(question, own, new))
    if edit.do == "remove":
        return rest, (f"{own.name}: {set_count(own.sets)} on {edit.day.capitalize()} removed.",)
    if edit.to == edit.day:
        return lifts, ()
    moved, said = _put(rest, edit.to, replace(own, pair=None))
    return moved, said or (f"{own.name}: {set_count(own.sets)} moved from {edit.day.capitalize()} to {edit.to.capitalize()}.",)


def _given_up(question: WeekQuestion, old: PlannedLift, new: PlannedLift) -> tuple[str, ...]:
    """The muscles whose lift is gone with a swap, in words."""
    choices = {c.key: c for c in question.choices}
    was, now = choices[key_of(old)], choices[key_of(new)]
    gone = [in_full(m.name) for m in question.muscles if trained(was, m) >= SERVES and trained(now, m) < LOSES]
    return (f"{new.name} hardly works what {old.name} does: {', '.join(gone)}.",) if gone else ()


def _put(lifts: Lifts, day: str, new: PlannedLift) -> tuple[Lifts, tuple[str, ...]]:
    """The lift on a day; where it stands there already, its sets are added."""
    there = next((x for x in lifts[day] if (x.lift, x.range) == (new.lift, new.range)), None)
    if there is None:
        return {**lifts, day: (*lifts[day], new)}, ()
    both = replace(there, sets=there.sets + new.sets)
    said = f"{new.name} is already on {day.capitalize()}: its {there.sets} and {set_count(new.sets)} are now {both.sets}."
    return {**lifts, day: tuple(both if x is there else x for x in lifts[day])}, (said,)


def _new(edit: Edit, question: WeekQuestion, offer: Offer) -> PlannedLift:
    lift_id = all_lifts().find(edit.lift)
    if (lift_id, edit.range) not in {c.key for c in question.choices}:
        reason = offer.out.get(lift_id, "its gear is at none of the places, or it serves no muscle of the week")
        raise InputError(f"{all_lifts().lifts[lift_id].name} cannot be added: {reason}", asked=edit.lift)
    lift = all_lifts().lifts[lift_id]
    return PlannedLift(
        lift=lift_id,
        range=edit.range,
        name=lift.name,
        sets=edit.sets,
        repetitions=(8, 12),
        reserve=2.0,
        gear=lift.gear,
        why="Added by hand.",
    )


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
        raise InputError(f"this is not a week: {error.errors()[0]['msg']}") from error


def week_text(week: Week) -> str:
    """A week as it is sent."""
    return WEEK.dump_json(week).decode()
