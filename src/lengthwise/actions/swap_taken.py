"""Taking a replacement for a lift: in one kept week, or in every week of the block that is kept from that one on."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import ClassVar, Literal

from lengthwise.actions.kept_weeks import weeks_around
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.past import Past, past_of_week
from lengthwise.actions.store import store
from lengthwise.actions.week_choices import Offer, day_offers, offer_of
from lengthwise.actions.week_edit import Edit, edit_week, where_it_is
from lengthwise.actions.week_lifts import fits
from lengthwise.days import monday_of
from lengthwise.errors import InputError
from lengthwise.planning.week import Week
from lengthwise.storage.weeks import save_week
from lengthwise.training.client import Client, joint_named

Span = Literal["week", "block"]
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

    Sets are kept as they are; a day whose place has not what the new lift needs keeps the old one, and that is said. Weeks that are planned
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
    taken = []
    for w in weeks:
        there = where_it_is(client, w.week)
        offer = next((o for c, o in offers if c == there), None) or offer_of(past.of(there), last=_lifts(w.week), wanted={new})
        offers.append((there, offer))
        taken.append(SwapTaken(w.monday, *_swapped(there, offer, w.week, (old, new), (past, hurt))))
    reason = f"{all_lifts().lifts[old].name} swapped for {all_lifts().lifts[new].name}"
    with store().writing() as db:
        for one in taken:
            save_week(db, number, one.monday, one.week, reason)
    return tuple(taken)


def _lifts(week: Week) -> set[str]:
    return {x.lift for d in week.days for x in d.lifts}


def _swapped(
    client: Client, offer: Offer, week: Week, pair: tuple[str, str], known: tuple[Past, str]
) -> tuple[Week, tuple[str, ...]]:
    """The week with the new lift on each day that can hold it, and what was said of each day."""
    old, new = pair
    places, said = {d.day: d for d in day_offers(client)}, list[str]()
    for d in week.days:
        for x in [x for x in d.lifts if x.lift == old]:
            if d.day in places and fits(new, places[d.day]):
                edited = edit_week(client, offer, week, Edit(do="swap", day=d.day, lift=old, range=x.range, to=new), *known)
                week, said = edited.week, [*said, *edited.said]
            else:
                names = all_lifts().lifts
                said.append(f"{d.day.capitalize()} keeps {names[old].name}: what {names[new].name} needs is not at {d.place}.")
    return week, tuple(said)
