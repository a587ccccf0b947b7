"""Entries: each thing entered or imported, so that it can be taken back as a whole."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, ClassVar, Literal

from sqlalchemy import Connection, Row, Table, bindparam, delete, exists, insert, select, update

from lengthwise.errors import InputError
from lengthwise.storage.account_rows import write_done
from lengthwise.storage.tables import clients, entries, measurements, readiness, sessions, sets

AFTER_DIGITS = "g"
"""Comes after every digit of a digest, so that those that begin alike lie between two."""
NEW = insert(entries).returning(entries.c.id)
OF_KEY = select(entries).where(
    entries.c.client_id == bindparam("client"), entries.c.digest >= bindparam("first"), entries.c.digest < bindparam("after")
)
EntryKind = Literal["sets", "session", "file", "measurement", "readiness"]


@dataclass(frozen=True, kw_only=True)
class Entry:
    """Something entered.

    Attributes:
        number: the store's. client: whose; none for a file of several clients. what: in words, or the file's name. digest: of what it was made of.
    """

    PUBLIC: ClassVar = "number what kind by at undone_at"
    number: int
    kind: EntryKind
    client: int | None
    what: str
    by: str
    at: datetime
    undone_at: datetime | None
    digest: str = ""


@dataclass(frozen=True)
class Undone:
    """What taking back an entry removed."""

    PUBLIC: ClassVar = "*@entry{number what kind}"
    entry: Entry
    sets: int
    sessions: int
    measurements: int
    readiness: int


def begin_entry(db: Connection, kind: EntryKind, client: int | None, what: str, by: str = "", digest: str = "") -> int:
    """A new entry's number, for the rows that belong to it."""
    row = {"kind": kind, "client_id": client, "what": what, "by": by, "digest": digest, "at": datetime.now(UTC)}
    return int(db.execute(NEW, row).scalar_one())


def begin_logged(db: Connection, kind: EntryKind, client: int, what: str, by: str = "", digest: str = "") -> int:
    """The same for what is entered one by one, of which the audit tells too; whoever imports a file notes the file."""
    entry = begin_entry(db, kind, client, what, by, digest)
    write_done(db, f"{kind} logged", client, f"entry {entry}")
    return entry


def list_entries(db: Connection, client: int | None = None, n: int = 20) -> tuple[Entry, ...]:
    """The last entries, newest first; those of one client alone, or all."""
    rows = select(entries).order_by(entries.c.id.desc()).limit(n)
    if client is not None:
        rows = rows.where(entries.c.client_id == client)
    return tuple(_entry(r) for r in db.execute(rows))


def entry_of_file(db: Connection, digest: str) -> Entry | None:
    """The import of the same bytes that still stands, if there was one."""
    rows = select(entries).where(entries.c.digest == digest, entries.c.undone_at.is_(None)).order_by(entries.c.id.desc()).limit(1)
    row = db.execute(rows).one_or_none()
    return None if row is None else _entry(row)


def entry_of_key(db: Connection, client: int, digest: str) -> Entry | None:
    """A client's entry whose digest begins so, also where it was taken back since; the client is held until the change is done."""
    hold_client(db, client)
    row = db.execute(OF_KEY, {"client": client, "first": digest, "after": digest + AFTER_DIGITS}).first()
    return None if row is None else _entry(row)


def hold_client(db: Connection, client: int) -> None:
    """Let changes of one client's log come one after the other; SQLite has one writer anyway."""
    if db.dialect.name != "sqlite":
        db.execute(select(clients.c.id).where(clients.c.id == client).with_for_update())


def undo(db: Connection, client: int | None = None, number: int | None = None) -> Undone:
    """Take back the last entry that still stands (of a client alone where given), or the one numbered.

    Raises:
        InputError: there is none, or it was taken back before.
    """
    entry = _to_undo(db, client, number)
    removed = [_remove(db, table, entry) for table in (sets, measurements, readiness)]
    db.execute(update(entries).where(entries.c.id == entry.number).values(undone_at=datetime.now(UTC)))
    return Undone(entry, removed[0], _drop_empty_sessions(db), removed[1], removed[2])


def _remove(db: Connection, table: Table, entry: Entry) -> int:
    rows = delete(table).where(table.c.entry_id == entry.number)
    if entry.client is not None:
        rows = rows.where(table.c.client_id == entry.client)
    return db.execute(rows).rowcount


def _drop_empty_sessions(db: Connection) -> int:
    """Remove sessions whose entry was taken back and that hold no set of another entry."""
    taken_back = select(entries.c.id).where(entries.c.undone_at.is_not(None))
    holds = exists().where(sets.c.session_id == sessions.c.id)
    return db.execute(delete(sessions).where(sessions.c.entry_id.in_(taken_back), ~holds)).rowcount


def _to_undo(db: Connection, client: int | None, number: int | None) -> Entry:
    rows = select(entries).order_by(entries.c.id.desc()).limit(1)
    rows = rows.where(entries.c.undone_at.is_(None)) if number is None else rows.where(entries.c.id == number)
    if client is not None:
        rows = rows.where(entries.c.client_id == client)
    row = db.execute(rows).one_or_none()
    if row is None:
        raise InputError("there is no entry to undo" if number is None else f"there is no entry {number}", asked=number)
    if row.undone_at is not None:
        raise InputError(f"entry {number} was undone on {row.undone_at:%Y-%m-%d}; nothing was changed", asked=number)
    return _entry(row)


def _entry(row: Row[Any]) -> Entry:
    return Entry(
        number=row.id,
        kind=row.kind,
        client=row.client_id,
        what=row.what,
        by=row.by,
        at=row.at,
        undone_at=row.undone_at,
        digest=row.digest,
    )
