"""Taking a replacement for a lift: in one kept week, or in every week of the block that is kept from that one on."""

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import ClassVar, Literal

from lengthwise.days import monday_of
from lengthwise.errors import InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Swapped, Week
from lengthwise.practice.logged_pain import RESTS
from lengthwise.practice.week_lifts import fits
from lengthwise.quantities import day as in_words
from lengthwise.records.kept_weeks import weeks_around
from lengthwise.records.past import Past, past_of_week
from lengthwise.records.store import store
from lengthwise.storage.weeks import save_week
from lengthwise.training.client import Client
from lengthwise.training.record_words import joint_named, joint_told
from lengthwise.weeks.falling_out import settled
from lengthwise.weeks.week_choices import Offer, day_offers, offer_of
from lengthwise.weeks.week_edit import Edit, Edited, edit_week, where_it_is

Span = Literal["week", "block"]
COUNTS = "Pain in the {} counts as logged on {}: {} rests until {} at least, and other lifts mind the joint as after logged pain."
LONGEST = timedelta(weeks=7)
"""From the first Monday of a block to the last: a block lasts eight weeks at most."""


@dataclass(frozen=True)
class SwapTaken:
    """What a swap did to one week: its Monday, the week as it is now kept, and what was said."""

    PUBLIC: ClassVar = "monday said"
    monday: date
    week: Week
    said: tuple[str, ...]


def take_swap(
    number: int, client: Client, lift: str, to: str, day: date, *, span: Span = "week", because: str = "", joint: str = ""
) -> tuple[SwapTaken, ...]:
    """Put one lift in the place of another on every day that holds it, and keep the weeks; older versions stay.

    Sets are kept as they are; a day whose place has not what the new lift needs keeps the old one, and that is said, and so does a day of this week
    that is done or over, unless the lift hurts or stands on no later day. Weeks that are planned
    later start from the last kept one, so a swap on the block goes on.

    Args:
        because, joint: as for the offer: what replaces a lift that hurts has the load that the offer gave.

    Raises:
        UnknownNameError: no such lift. InputError: no week that is kept holds the lift, or the new one cannot be done.
    """
    old, new = all_lifts().find(lift), all_lifts().find(to)
    first = monday_of(day)
    last = first + (LONGEST if span == "block" else timedelta())
    weeks = [w for w in weeks_around(number, day) if first <= w.monday <= last and old in _lifts(w.week)]
    if not weeks:
        name = all_lifts().lifts[old].name
        raise InputError(f"no saved week from {first} to {last + timedelta(days=6)} holds {name}", asked=old)
    offers: list[tuple[Client, Offer]] = []
    past = past_of_week(number, day)
    hurt = (joint_named(joint) or past.joint(old)) if because == "pain" else ""
    note = noted_swap(weeks[0].week, (old, new), first, until=last + timedelta(weeks=1), joint=hurt)
    known, told = (past.after(note), hurt), pain_told(note)
    taken = []
    for w in weeks:
        there = where_it_is(client, w.week)
        offer = next((o for c, o in offers if c == there), None) or offer_of(past.of(there), last=_lifts(w.week), wanted={new})
        offers.append((there, offer))
        stays = settled(there, w.week, old, past) if w.monday == first and not hurt else set()
        week, said = _swapped(there, offer, w.week, (old, new), known, stays)
        taken.append(SwapTaken(w.monday, replace(week, swaps=(*week.swaps, note)), (*said, *told)))
    reason = f"{all_lifts().lifts[old].name} swapped for {all_lifts().lifts[new].name}"
    with store().writing() as db:
        for one in taken:
            save_week(db, number, one.monday, one.week, reason)
    return tuple(taken)


def edited_for_pain(client: Client, offer: Offer, week: tuple[Week, date], edit: Edit, past: Past, joint: str) -> Edited:
    """A week, with its Monday, in which a lift is swapped because it hurts on one of its days: once it is kept, the pain counts as logged.

    Raises:
        UnknownNameError: no such lift. InputError: as for `edit_week`.
    """
    before, monday = week
    pair = (all_lifts().find(edit.lift), all_lifts().find(edit.to))
    hurt = joint_named(joint) or past.joint(pair[0])
    if not hurt or pair[0] not in _lifts(before):
        return edit_week(client, offer, before, edit, past)
    note = noted_swap(before, pair, monday, joint=hurt)
    found = edit_week(client, offer, before, edit, past.after(note), hurt)
    return replace(found, week=replace(found.week, swaps=(*before.swaps, note)), said=(*found.said, *pain_told(note)))


def noted_swap(week: Week, pair: tuple[str, str], first: date, *, until: date | None = None, joint: str = "") -> Swapped:
    """What a week remembers of a swap: for that week alone, or until another Monday; where a joint hurts, as pain on that day, today at the latest.

    Args:
        pair: the old lift, which stands in the week, and the new one.
    """
    old, new = pair
    done = max((x for d in week.days for x in d.lifts if x.lift == old), key=lambda x: x.load_kg or 0.0)
    return Swapped(
        lift=old,
        to=new,
        told=min(date.today(), first + timedelta(days=6)),
        first=first,
        until=until or first + timedelta(weeks=1),
        joint=joint,
        load_kg=done.load_kg or 0.0,
        repetitions=done.repetitions[0],
    )


def pain_told(swap: Swapped) -> tuple[str, ...]:
    """That a swap because of pain counts as pain that was logged; nothing where nothing hurts."""
    if not swap.joint:
        return ()
    return (
        COUNTS.format(joint_told(swap.joint), in_words(swap.told), all_lifts().lifts[swap.lift].name, in_words(swap.told + RESTS)),
    )


def _lifts(week: Week) -> set[str]:
    return {x.lift for d in week.days for x in d.lifts}


def _swapped(
    client: Client, offer: Offer, week: Week, pair: tuple[str, str], known: tuple[Past, str], stays: Collection[str]
) -> tuple[Week, tuple[str, ...]]:
    """The week with the new lift on each day that can hold it, but for some that stay, and what was said of each day."""
    old, new = pair
    places, said = {d.day: d for d in day_offers(client)}, list[str]()
    for d in week.days:
        for x in [x for x in d.lifts if x.lift == old]:
            if d.day in stays:
                said.append(f"{d.day.capitalize()} keeps {all_lifts().lifts[old].name}: that day is done or over.")
            elif d.day in places and fits(new, places[d.day]):
                edited = edit_week(client, offer, week, Edit(do="swap", day=d.day, lift=old, range=x.range, to=new), *known)
                week, said = edited.week, [*said, *edited.said]
            else:
                names = all_lifts().lifts
                said.append(f"{d.day.capitalize()} keeps {names[old].name}: what {names[new].name} needs is not at {d.place}.")
    return week, tuple(said)
