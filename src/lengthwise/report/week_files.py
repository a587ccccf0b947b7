"""A week as files for other programs: a calendar (iCalendar, RFC 5545) and a table (CSV)."""

import csv
import io
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from typing import TYPE_CHECKING

from lengthwise.later import LaterCall
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.quantities import MassUnit, left, planned_load, work
from lengthwise.reading import harmless
from lengthwise.training.methods import methods

if TYPE_CHECKING:
    from icalendar import Calendar, Event
else:  # the calendar of the world's time zones is slow to load, and a server that starts asks none of it
    Calendar, Event = LaterCall("icalendar", "Calendar"), LaterCall("icalendar", "Event")

STARTS = time(18)
"""When a visit begins unless said otherwise: an assumption for the calendar alone."""
COLUMNS = (
    "day", "place", "day_minutes", "order", "pair", "lift", "name", "range", "gear", "muscle", "sets", "least_repetitions", "most_repetitions",
    "reserve", "load_kg", "guess", "gentle",
)  # fmt: skip


def calendar_text(week: Week, name: str, monday: date, made: datetime | None = None, unit: MassUnit = "kg") -> bytes:
    """The week as an iCalendar file: one event a day, in floating local time, with its lifts in the description.

    Args:
        monday: first day of the week. made: time stamp of the file; now where not given. unit: in which loads are told.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Lengthwise//week//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for day in week.days:
        if day.lifts:
            calendar.add_component(_event(day, name, monday, made or datetime.now(UTC), unit))
    return bytes(calendar.to_ical())


def _event(day: PlannedDay, name: str, monday: date, made: datetime, unit: MassUnit) -> Event:
    begin = datetime.combine(monday + timedelta(days=WEEKDAYS.index(day.day)), STARTS)
    event = Event()
    event.add("uid", f"{sha256(f'{name} {begin.isoformat()}'.encode()).hexdigest()[:32]}@lengthwise.invalid")
    event.add("dtstamp", made)
    event.add("dtstart", begin)
    event.add("duration", timedelta(minutes=round(day.minutes)))
    event.add("summary", f"Training: {', '.join(dict.fromkeys(x.muscle.replace('_', ' ') for x in day.lifts))}")
    event.add("location", day.place)
    event.add("description", "\n".join(line_of(x, unit) for x in day.lifts))
    return event


def line_of(lift: PlannedLift, unit: MassUnit) -> str:
    """A lift in one line: sets, repetitions, reserve, load."""
    load = "" if lift.load_kg is None else f", {planned_load(lift.load_kg, lift.gear, unit, lift.guess, lift.each)}"
    turn = "" if lift.pair is None else f", superset {chr(64 + lift.pair)}"
    part = "" if lift.range == "full" else f", {lift.range} half"
    way = methods()[lift.method].name if lift.method else ""
    return f"{lift.name}: {work(lift.sets, *lift.repetitions, way, lift.held)}, {left(lift.reserve, lift.gentle, lift.held)}{load}{part}{turn}"


def csv_text(week: Week) -> str:
    """The week as a table, one row a lift; load in kilograms, empty where none can be given."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for day in week.days:
        for order, x in enumerate(day.lifts, 1):
            pair, load = "" if x.pair is None else x.pair, "" if x.load_kg is None else f"{x.load_kg:g}"
            row = [day.day, day.place, f"{day.minutes:.1f}", order, pair, x.lift, x.name, x.range, x.gear, x.muscle, x.sets]
            row += [*x.repetitions, f"{x.reserve:g}", load, "yes" if x.guess else "no", "yes" if x.gentle else "no"]
            writer.writerow(harmless(cell) for cell in row)
    return out.getvalue()
