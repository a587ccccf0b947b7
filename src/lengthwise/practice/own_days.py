"""A lift that the client does heavy on one day and light on another stays so: each day goes on from its own sets."""

from collections.abc import Mapping, Sequence

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import Week
from lengthwise.practice.shown import shown_by
from lengthwise.training.client import Client, PromisedLift
from lengthwise.training.known import is_called, known_of
from lengthwise.training.record_words import DayName
from lengthwise.training.trail import Trail

LineDays = Mapping[tuple[DayName, str], DayName]
"""The day of the week whose line a planned day of a lift goes on with."""


def on_day(client: Client, lift_id: str, day: str | None) -> Client:
    """The record with a lift known by the last sets of a day's own line, where it has a heavy and a light day."""
    lift = all_lifts().lifts[lift_id]
    known = known_of(client.known_lifts, lift_id, lift)
    if not isinstance(known, PromisedLift) or known.day is None or (trail := known.trail.at(day)) is known.trail:
        return client
    shown = shown_by(known.day, list(trail.days[-1] if trail.days else trail.before))
    own = known.model_copy(update={**(dict(shown) if shown else {}), "trail": trail})
    others = (k for k in client.known_lifts if not is_called(lift_id, lift, k.lift))
    return client.model_copy(update={"known_lifts": (*others, own)})


def line_days(week: Week, client: Client) -> LineDays:
    """The line of each planned day of a lift that has a heavy and a light one: its own where there is one of that day, else the next that no
    day of the week has, in the order of the week they had; so both stay, on whatever days.
    """
    out: dict[tuple[DayName, str], DayName] = {}
    for lift_id in dict.fromkeys(x.lift for d in week.days for x in d.lifts):
        known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
        if isinstance(known, PromisedLift) and known.trail.others:
            days = [d.day for d in week.days if any(x.lift == lift_id for x in d.lifts)]
            out |= {(day, lift_id): line for day, line in _taken(known.trail, days).items()}
    return out


def _taken(trail: Trail, days: Sequence[DayName]) -> dict[DayName, DayName]:
    own = [sorted((d for d in WEEKDAYS if d in t.on), key=WEEKDAYS.index) for t in (trail, *trail.others)]
    free = sorted((on for on in own if on and not {*on} & {*days}), key=lambda on: WEEKDAYS.index(on[0]))
    moved = sorted((d for d in days if not any(d in on for on in own)), key=WEEKDAYS.index)
    return {day: on[0] for day, on in zip(moved, free, strict=False)}
