"""Entering and reading the log of one client: sets by quick line, whole sessions, measurements, and taking the last entry back."""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

from lengthwise import reading
from lengthwise.errors import InputError, unknown
from lengthwise.known.lifts import all_lifts
from lengthwise.records.lift_names import find_lift
from lengthwise.records.store import Asked, client_number, kept_number, store
from lengthwise.storage import client_rows, entries, log_rows, mappings, measurements
from lengthwise.storage.account_rows import write_done
from lengthwise.storage.entries import Entry, Undone
from lengthwise.training.client import MassUnit
from lengthwise.training.log import LoggedSet, Measurement, Session
from lengthwise.training.measure_kinds import MEASURES, Measure
from lengthwise.training.quick_line import MOST_REPETITIONS, MOST_RESERVE, read_quick_line
from lengthwise.training.record_words import LengthUnit
from lengthwise.units import INCH, LB

TO_UNIT = {
    "kg": ("kg", 1.0),
    "lb": ("kg", LB),
    "cm": ("cm", 1.0),
    "mm": ("mm", 1.0),
    "in": ("cm", INCH * 100),
}


@dataclass(frozen=True)
class EnteredSets:
    """Sets that were entered, and the number of the entry, by which they can be undone."""

    entry: int
    sets: tuple[LoggedSet, ...]


@dataclass(frozen=True)
class EnteredMeasurement:
    """A measurement that was entered, and the number of the entry, by which it can be undone."""

    entry: int
    measurement: Measurement


@dataclass(frozen=True)
class Sessions:
    """A client's sessions by day."""

    sessions: tuple[Session, ...]


@dataclass(frozen=True)
class Measurements:
    """A client's measurements by day."""

    measurements: tuple[Measurement, ...]


def add_sets(person: Asked, lift: str, line: str, day: date | None = None, by: str = "") -> tuple[tuple[LoggedSet, ...], int]:
    """Keep the sets that a quick line describes, in the client's unit where it names none; gives them and the entry's number.

    Raises:
        QuickLineError: the line cannot be read. UnknownNameError: no such client or lift. InputError: a day to come.
    """
    when = checked_day(day)
    with store().writing() as db:
        number = kept_number(db, person)
        unit: MassUnit = client_rows.load_client(db, number).client.mass_unit
        sets = read_quick_line(line, find_lift(lift, mappings.spelling_of(db, lift)), unit)
        entry = entries.begin_logged(db, "sets", number, f"{sets[0].lift} {line.strip()} on {when}", by)
        log_rows.add_to_day(db, number, Session(day=when, sets=sets), entry)
    return sets, entry


def add_session(person: Asked, session: Session, by: str = "") -> tuple[int, int]:
    """Keep a whole session as a visit of its own; gives its number and the entry's.

    Raises:
        UnknownNameError: no such client or lift. InputError: a day to come, or a number that cannot be.
    """
    check_sets(session)
    if session.readiness is not None and session.readiness not in range(1, 6):
        raise InputError(f"readiness {session.readiness}; allowed 1 (poor) to 5 (very good)", asked=session.readiness)
    with store().writing() as db:
        number = kept_number(db, person)
        entry = entries.begin_logged(db, "session", number, f"session of {len(session.sets)} sets on {session.day}", by)
        return log_rows.add_session(db, number, session, entry), entry


def check_sets(session: Session) -> None:
    """Refuse a day to come, lifts that there are not, and numbers that no set has."""
    checked_day(session.day)
    known = all_lifts().lifts
    for s in session.sets:
        if s.lift not in known:
            raise unknown("lift", s.lift, known)
        if not 1 <= s.repetitions <= MOST_REPETITIONS:
            raise InputError(f"{s.repetitions} repetitions; allowed 1 to {MOST_REPETITIONS}", asked=s.repetitions)
        if s.reserve is not None and not 0 <= s.reserve <= MOST_RESERVE:
            raise InputError(f"{s.reserve} repetitions in reserve; allowed 0 to {MOST_RESERVE}", asked=s.reserve)


def read_log(person: Asked, first: date | None = None, last: date | None = None) -> tuple[Session, ...]:
    """A client's sessions between two days, both counted.

    Raises:
        UnknownNameError: no such client. InputError: the last day is before the first.
    """
    if first and last and last < first:
        raise InputError(f"{first} to {last}: the last day is before the first", asked=[str(first), str(last)])
    with store().reading() as db:
        return log_rows.sessions_between(db, client_number(db, person), first, last)


def add_measurement(person: Asked, measured: Measurement, by: str = "") -> int:
    """Keep a measurement; gives the entry's number.

    Raises:
        UnknownNameError: no such client. InputError: kind, site or readings are not allowed.
    """
    check_measurement(measured)
    with store().writing() as db:
        number = kept_number(db, person)
        what = f"{measured.kind} {measured.site} {measured.side}".strip() + f" on {measured.day}"
        entry = entries.begin_logged(db, "measurement", number, what, by)
        measurements.add_measurement(db, number, measured, entry)
    return entry


def read_measurements(person: Asked, kind: str | None = None) -> tuple[Measurement, ...]:
    """A client's measurements by day; of one kind where given.

    Raises:
        UnknownNameError: no such client or kind.
    """
    if kind is not None:
        measure_named(kind)
    with store().reading() as db:
        return measurements.measurements_between(db, client_number(db, person), kind=kind)


def undo(person: Asked | None = None, number: int | None = None) -> Undone:
    """Take back the last entry (of one client's own where given), or the one numbered.

    Raises:
        InputError: there is none, or it was taken back before.
    """
    with store().writing() as db:
        gone = entries.undo(db, client_number(db, person) if person is not None else None, number)
        write_done(db, "entry undone", gone.entry.client, f"entry {gone.entry.number}")
    return gone


def list_entries(person: Asked | None = None, n: int = 20) -> tuple[Entry, ...]:
    """The last entries, newest first."""
    with store().reading() as db:
        return entries.list_entries(db, client_number(db, person) if person is not None else None, n)


def as_read(kind: str, words: tuple[str, ...], units: tuple[MassUnit, LengthUnit], **about: Any) -> Measurement:
    """A measurement from readings as they are written, bare numbers in these units; of a photo the words say where it lies.

    Raises:
        UnknownNameError: no such kind. InputError: what cannot be read, or a unit that does not fit the kind.
    """
    read = readings(kind, words, *units) if measure_named(kind).unit else ()
    return Measurement(kind=kind, values=read, reference="" if read else " ".join(words), **about)


def readings(kind: str, words: tuple[str, ...], mass_unit: MassUnit = "kg", length_unit: LengthUnit = "cm") -> tuple[float, ...]:
    """Readings written as `36.5`, `36,5 cm`, `14.5in` or `180lb`, in the kind's unit; bare numbers are in the client's.

    Raises:
        InputError: what cannot be read, or a unit that does not fit the kind.
    """
    bare, _ = measure_named(kind).shown(mass_unit, length_unit)
    return tuple(_reading(kind, word, bare) for word in words)


def _reading(kind: str, word: str, bare: str) -> float:
    found = re.fullmatch(r"\s*(\d+(?:[.,]\d+)?)\s*([a-z]*)\s*", word.casefold())
    wanted = MEASURES[kind].unit
    known = TO_UNIT | ({wanted: (wanted, 1.0)} if wanted else {})
    allowed = [u for u, (to, _) in known.items() if to == wanted or {to, wanted} == {"mm", "cm"}]
    unit = (found[2] or bare) if found else ""
    if found is None or unit not in allowed:
        raise InputError(
            f"{kind} {word!r}; allowed a number, alone or with {', '.join(allowed) or 'nothing'}", asked=word, allowed=allowed
        )
    to, factor = known[unit]
    scale = {("mm", "cm"): 0.1, ("cm", "mm"): 10.0}.get((to, wanted), 1.0)
    return float(found[1].replace(",", ".")) * factor * scale


def check_measurement(m: Measurement) -> None:
    """Refuse a kind, a site or readings that cannot be."""
    checked_day(m.day)
    measure = measure_named(m.kind)
    if measure.sited and not m.site:
        raise InputError(f"a {measure.words} needs its site, such as upper_arm", asked=m.kind)
    if not measure.unit:
        if not m.reference or m.values:
            raise InputError("a photo is stored as a reference: say where the file is, without readings", asked=m.reference)
        return
    if not m.values:
        raise InputError(f"{measure.words}: no reading was given; allowed one or more", asked=m.kind)
    other, one = measure.shown("lb", "in")
    for value in m.values:
        if not measure.least <= value <= measure.most:
            also = "" if one == 1 else f" ({value / one:.4g} {other}; {measure.least / one:.3g} to {measure.most / one:.3g})"
            raise InputError(
                f"{m.kind} of {value:g} {measure.unit}; allowed {measure.least:g} to {measure.most:g}{also}",
                asked=value,
                allowed=[measure.least, measure.most],
            )


def measure_named(kind: str) -> Measure:
    """The kind of measurement called so.

    Raises:
        UnknownNameError: there is none.
    """
    if kind not in MEASURES:
        raise unknown("kind of measurement", kind, MEASURES)
    return MEASURES[kind]


def checked_day(day: date | None) -> date:
    """The day, today where none is given; refused where it is still to come."""
    today = datetime.now(UTC).date()
    if day is not None and day > today + timedelta(days=1):
        raise InputError(f"{day} is in the future; allowed days up to {today}", asked=str(day))
    return reading.checked_day(day or date.today())
