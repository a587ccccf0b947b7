"""Clients' records, found by name."""

import json
import unicodedata
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache

from pydantic import ValidationError
from sqlalchemy import Connection, Text, bindparam, cast, delete, insert, select, update

from lengthwise.body.anatomy import describe_faults
from lengthwise.errors import DataFileError, InputError, UnknownNameError, unknown
from lengthwise.storage.tables import audit, clients
from lengthwise.training.client import Client, StoredClient

NUMBERED = select(clients.c.name, cast(clients.c.record, Text).label("record")).where(clients.c.id == bindparam("number"))
"""Asked with nearly every request, so it is made once."""


@dataclass(frozen=True)
class KeptRecord:
    """A client's number, name and record as they are kept; the record is read when it is needed."""

    number: int
    name: str
    text: str

    def read(self) -> StoredClient:
        """The client.

        Raises:
            DataFileError: the record has faults.
        """
        return StoredClient(self.number, _client_of_text(self.name, self.text))


def key_of(name: str) -> str:
    """A name without what people write differently: case, width of letters, spaces."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def _unmarked(name: str) -> str:
    """The key of a name without accents and other marks, as it is typed where the keyboard has none."""
    return "".join(c for c in unicodedata.normalize("NFD", key_of(name)) if not unicodedata.combining(c))


def _called(names: dict[int, str], asked: str) -> list[int]:
    """Numbers of the clients called so; whole names before beginnings, marks as written before marks left out."""
    for plain in (key_of, _unmarked):
        key = plain(asked)
        whole = [n for n, name in names.items() if plain(name) == key]
        found = whole or [n for n, name in names.items() if key and plain(name).startswith(key + " ")]
        if found:
            return found
    return []


def save_client(db: Connection, client: Client, number: int | None = None) -> int:
    """Keep a client's record and give its number; a client of that name, or of the number given, is replaced.

    Raises:
        InputError: the new name belongs to another client.
    """
    key = key_of(client.name)
    holder = db.execute(select(clients.c.id).where(clients.c.key == key)).scalar()
    if number is not None and holder not in (None, number):
        raise InputError(f"client {client.name!r}: another client has this name; choose another name", asked=client.name)
    row = {"key": key, "name": client.name, "record": client.model_dump(mode="json"), "saved_at": datetime.now(UTC)}
    known = number if number is not None else holder
    if known is None:
        return int(db.execute(insert(clients).values(row).returning(clients.c.id)).scalar_one())
    db.execute(update(clients).where(clients.c.id == known).values(row))
    return int(known)


def add_client(db: Connection, client: Client) -> int:
    """Keep a new client's record and give its number.

    Raises:
        InputError: somebody of that name is kept.
    """
    if db.execute(select(clients.c.id).where(clients.c.key == key_of(client.name))).first() is not None:
        raise InputError(f"{client.name} already exists; choose another name, or change that record", asked=client.name)
    return save_client(db, client)


def list_clients(db: Connection) -> tuple[StoredClient, ...]:
    """All clients, by name."""
    rows = db.execute(select(clients.c.id, clients.c.name, clients.c.record).order_by(clients.c.key))
    return tuple(StoredClient(r.id, _client(r.name, r.record)) for r in rows)


def client_names(db: Connection) -> dict[int, str]:
    """Names by number, in order of name; cheaper than the records."""
    return {r.id: r.name for r in db.execute(select(clients.c.id, clients.c.name).order_by(clients.c.key))}


def find_number(db: Connection, asked: str) -> int:
    """The number of the client called so: whole name, or the beginning of one name alone; accents may be left out.

    Raises:
        UnknownNameError: nobody is called so; the nearest names are given.
        InputError: several are.
    """
    names = client_names(db)
    begins = _called(names, asked)
    if len(begins) == 1:
        return begins[0]
    if begins:
        found = [names[n] for n in begins]
        raise InputError(
            f"{len(found)} clients are called {asked!r}: {', '.join(found)}; give the whole name", asked=asked, allowed=found
        )
    raise unknown("client", asked, names.values())


def load_client(db: Connection, asked: str | int) -> StoredClient:
    """The client of a name or a number.

    Raises:
        UnknownNameError, InputError: as find_number; DataFileError: the record has faults.
    """
    number = asked if isinstance(asked, int) else find_number(db, asked)
    row = db.execute(select(clients.c.name, clients.c.record).where(clients.c.id == number)).one_or_none()
    if row is None:
        raise unknown("client", str(asked), client_names(db).values())
    return StoredClient(number, _client(row.name, row.record))


def numbered_client(db: Connection, number: int) -> StoredClient:
    """The client of a number; who there is else is not told.

    Raises:
        UnknownNameError: there is none. DataFileError: the record has faults.
    """
    row = db.execute(NUMBERED, {"number": number}).one_or_none()
    if row is None:
        raise UnknownNameError(f"no client has the number {number}", asked=number)
    return KeptRecord(number, row.name, row.record).read()


def client_exists(db: Connection, number: int) -> bool:
    """Whether a client of that number is kept."""
    return db.execute(select(clients.c.id).where(clients.c.id == number)).first() is not None


def erase_client(db: Connection, number: int) -> None:
    """Remove a client and everything that hangs on it; the audit keeps numbers and actions, no words about the client."""
    db.execute(update(audit).where(audit.c.client_id == number).values(detail=""))
    db.execute(delete(clients).where(clients.c.id == number))


def _client(name: str, record: object) -> Client:
    return _client_of_text(name, json.dumps(record))


@lru_cache(maxsize=256)
def _client_of_text(name: str, record: str) -> Client:
    """A record as it is kept; read once while it stays the same, since nothing changes a client in place."""
    try:
        return Client.model_validate_json(record)
    except ValidationError as error:
        raise DataFileError(describe_faults(f"record of {name}", error), asked=name) from error
