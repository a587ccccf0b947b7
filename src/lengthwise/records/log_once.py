"""Entering what was written down where there was no connection: the same thing sent twice is kept once."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import Any

from lengthwise.errors import InputError
from lengthwise.quantities import number_of
from lengthwise.records.lift_names import find_lift
from lengthwise.records.log_entries import check_measurement, check_sets
from lengthwise.records.store import store
from lengthwise.storage import entries, log_rows, mappings, measurements
from lengthwise.storage.entries import EntryKind
from lengthwise.training.client import MassUnit
from lengthwise.training.log import Measurement, Session
from lengthwise.training.quick_line import LEAST_KG, MOST_KG, read_quick_line


@dataclass(frozen=True)
class Sender:
    """Whose log is written, by whom, and the key that the sender gave this one thing."""

    client: int
    key: str
    by: str = ""


@dataclass(frozen=True)
class KeptOnce:
    """The entry's number, and whether it had been kept before."""

    entry: int
    known: bool


class _Digest:
    """What a key is found again by, and what was sent with it: half of the text for each.

    Entries of before have the whole digest of the key and nothing of the content.
    """

    def __init__(self, sender: Sender, content: str) -> None:
        self._whole = hashlib.sha256(f"{sender.client} {sender.key}".encode()).hexdigest()
        self.key = self._whole[:32]
        self.text = self.key + hashlib.sha256(content.encode("utf-8", "surrogatepass")).hexdigest()[:32]

    def fits(self, known: str) -> bool:
        """Whether an entry of this key has this content."""
        return known in (self.text, self._whole)


def add_sets_once(sender: Sender, session: Session) -> KeptOnce:
    """Add sets to the client's visit of that day.

    Raises:
        InputError, UnknownNameError: a day to come, a number that cannot be, no such lift; nothing is kept.
    """
    _check(session)
    with store().writing() as db:
        return _add_sets(db, sender, session)


def add_line_once(sender: Sender, unit: MassUnit, lift: str, line: str, day: date) -> KeptOnce:
    """Add the sets of a quick line to the client's visit of a day, in the client's unit where it names none.

    Raises:
        QuickLineError: the line cannot be read. UnknownNameError: no such lift.
    """
    with store().writing() as db:
        session = Session(day=day, sets=read_quick_line(line, find_lift(lift, mappings.spelling_of(db, lift)), unit))
        _check(session)
        return _add_sets(db, sender, session)


def _check(session: Session) -> None:
    if not session.sets:
        raise InputError("no set was given; allowed one or more")
    check_sets(session)
    for s in session.sets:
        if not LEAST_KG <= s.load_kg <= MOST_KG:
            raise InputError(f"load of {s.load_kg:g} kg; allowed {LEAST_KG:g} to {MOST_KG:g}", asked=s.load_kg)


def _add_sets(db: Any, sender: Sender, session: Session) -> KeptOnce:
    what = f"{number_of(len(session.sets), 'set')} of {session.sets[0].lift} on {session.day}"
    return _once(db, sender, ("sets", what), session, lambda entry: log_rows.add_to_day(db, sender.client, session, entry))


def add_measurement_once(sender: Sender, measured: Measurement) -> KeptOnce:
    """Keep a measurement.

    Raises:
        InputError, UnknownNameError: kind, site or readings are not allowed.
    """
    check_measurement(measured)
    what = f"{measured.kind} {measured.site} {measured.side}".strip() + f" on {measured.day}"
    with store().writing() as db:
        keep = partial(measurements.add_measurement, db, sender.client, measured)
        return _once(db, sender, ("measurement", what), measured, keep)


def _once(db: Any, sender: Sender, entered: tuple[EntryKind, str], content: object, keep: Callable[[int], object]) -> KeptOnce:
    """Keep something by the number of its entry, unless it was kept before; `entered` says what it is, by kind and in words."""
    kind, what = entered
    digest = _Digest(sender, f"{kind} {content!r}")
    before = entries.entry_of_key(db, sender.client, digest.key)
    if before is not None:
        if not digest.fits(before.digest):
            raise InputError(f"key {sender.key!r} was already used for other content; use a new key", asked=sender.key)
        return KeptOnce(before.number, True)
    entry = entries.begin_logged(db, kind, sender.client, what, sender.by, digest.text)
    keep(entry)
    return KeptOnce(entry, False)
