"""The store in use: the SQLite file of the data folder, or the PostgreSQL server that the environment names."""

import io
import os
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import IO, Any

from lengthwise.errors import DataFileError, InputError
from lengthwise.files.folders import cache_folder, data_folder
from lengthwise.files.whole_files import begin_draft, settle
from lengthwise.records.people import read_client
from lengthwise.records.sealed import is_sealed, opened, sealed
from lengthwise.storage import account_rows, backup, client_rows, coach_rows, export
from lengthwise.storage.backup import Backup
from lengthwise.storage.database import NEWEST, Store, open_store
from lengthwise.training.client import Client, StoredClient

DATABASE = "LENGTHWISE_DATABASE"
SQLITE = "sqlite:///"
Asked = str | int
"""How a client is asked for: by name, by its file (.toml), or by its number, which is already known to be one that may be seen."""
Heard = Callable[[str, float], None]
"""Told of a step and how much of it is done, 0-1."""


def address() -> str:
    """Where the store is: the environment's LENGTHWISE_DATABASE, else lengthwise.db in the data folder."""
    return os.environ.get(DATABASE) or f"{SQLITE}{data_folder() / 'lengthwise.db'}"


def exists() -> bool:
    """Whether anything was ever kept; looking makes no store."""
    where = address()
    return not where.startswith(SQLITE) or Path(where.removeprefix(SQLITE)).exists()


def store() -> Store:
    """The store in use, opened once."""
    return _opened(address())


@lru_cache(maxsize=4)
def _opened(url: str) -> Store:
    return open_store(url)


def release() -> None:
    """Close the stores that this process has opened; the next question opens them anew."""
    if _opened.cache_info().currsize:
        store().close()
    _opened.cache_clear()


def named_client(name: str) -> StoredClient:
    """The client of the store called so (the whole name, or its beginning where that is clear), or the one of a file (.toml).

    Raises:
        UnknownNameError: nobody is called so. InputError: several are. DataFileError: the file has faults.
    """
    with store().reading() as db:
        return client_rows.load_client(db, client_number(db, name))


def stored_clients() -> tuple[StoredClient, ...]:
    """All clients of the store with their numbers, by name."""
    with store().reading() as db:
        return client_rows.list_clients(db)


def numbered_client(number: int) -> StoredClient:
    """The client of a number.

    Raises:
        UnknownNameError: there is none.
    """
    with store().reading() as db:
        return client_rows.numbered_client(db, number)


def save_client(client: Client, number: int | None = None) -> int:
    """Keep a client's record; one of that name, or of the number given, is replaced."""
    with store().writing() as db:
        return client_rows.save_client(db, client, number)


def add_client(client: Client, coach: int | None = None) -> int:
    """Keep a new client's record, whose name nobody has, as a coach's own (an account's number) from the beginning.

    Raises:
        InputError: somebody of that name is kept.
    """
    with store().writing() as db:
        number = client_rows.add_client(db, client)
        coach_rows.give(db, number, coach)
        return number


def keep(file: Path) -> StoredClient:
    """Keep the record of a person's file, in place of an older one of that name.

    Raises:
        DataFileError: every fault of the file at once.
    """
    client = read_client(file)
    return StoredClient(save_client(client), client)


def client_number(db: Any, asked: Asked) -> int:
    """The number of a client by number, by name or by its file (.toml), in a connection of the store.

    Raises:
        UnknownNameError, InputError: as named_client. DataFileError: the file has faults.
    """
    if isinstance(asked, int):
        return asked
    return client_rows.find_number(db, read_client(Path(asked)).name if asked.endswith(".toml") else asked)


def kept_number(db: Any, asked: Asked) -> int:
    """As client_number, for a change: the client of a file that the store does not have yet is kept.

    Raises:
        UnknownNameError, InputError, DataFileError: as client_number.
    """
    if isinstance(asked, int):
        return asked
    return _kept_as(db, read_client(Path(asked))) if asked.endswith(".toml") else client_rows.find_number(db, asked)


def kept_as(client: Client) -> int:
    """The number of a client by name; kept now where the store has nobody of that name."""
    with store().writing() as db:
        return _kept_as(db, client)


def _kept_as(db: Any, client: Client) -> int:
    known = {client_rows.key_of(name): number for number, name in client_rows.client_names(db).items()}
    number = known.get(client_rows.key_of(client.name))
    return client_rows.save_client(db, client) if number is None else number


@dataclass(frozen=True)
class StoreInfo:
    """Where the store is, the version of its tables, and rows by table; no rows where nothing was kept yet."""

    where: str = ""
    version: str = ""
    rows: Mapping[str, int] = field(default_factory=dict)


def info() -> StoreInfo:
    """Where the store is, its version and how much it holds; looking makes no store."""
    if not exists():
        return StoreInfo()
    with store().reading() as db:
        return StoreInfo(store().where, NEWEST, backup.counts(db))


def write_backup(file: Path, heard: Heard) -> Backup:
    """Write the whole store to a new file, whole or not at all.

    Raises:
        InputError: the file exists or cannot be written.
    """
    with _new_file(file) as out, store().reading() as db:
        return backup.write_backup(db, out, heard)


def write_sealed_backup(file: Path, heard: Heard, passphrase: str) -> Backup:
    """Write the whole store to a new file that only the passphrase opens; all of it is held in memory on the way.

    Raises:
        InputError: the file exists or cannot be written; the passphrase is short.
    """
    plain = io.BytesIO()
    with store().reading() as db:
        made = backup.write_backup(db, plain, heard)
    content = sealed(plain.getvalue(), passphrase)
    with _new_file(file) as out:
        out.write(content)
    return made


@contextmanager
def unsealed(file: Path, passphrase: Callable[[], str]) -> Iterator[Path]:
    """A backup as it can be read: itself, or opened beside the cache for as long as it is used.

    Raises:
        InputError: another passphrase sealed it.
    """
    if not is_sealed(file):
        yield file
        return
    cache_folder().mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=cache_folder()) as folder:
        plain = Path(folder) / file.name
        plain.write_bytes(opened(file, passphrase()))
        yield plain


def read_backup(file: Path) -> Backup:
    """What a backup holds, without restoring it.

    Raises:
        DataFileError: it cannot be read or is no whole backup of this version.
    """
    try:
        with file.open("rb") as source:
            return backup.read_backup(file.name, source)
    except OSError as error:
        raise DataFileError([f"{file}: cannot be read: {error.strerror}"], asked=str(file)) from error


def restore(file: Path, heard: Heard, replace: bool = False, by: int | None = None) -> Backup:
    """Fill an empty store from a backup, or put it in place of everything; a fault leaves the store as it was.

    Args:
        by: number of the account that asked; it is noted only where the restored store has it too.

    Raises:
        InputError: the store is not empty. DataFileError: the file is no whole backup.
    """
    try:
        with file.open("rb") as source, store().writing() as db:
            found = backup.restore(db, file.name, source, heard, replace)
            known = {a.number for a in account_rows.list_accounts(db)}
            account_rows.write_audit(db, "backup restored", by if by in known else None)
    except OSError as error:
        raise DataFileError([f"{file}: cannot be read: {error.strerror}"], asked=str(file)) from error
    return found


def export_person(person: Asked, file: Path, by: int | None = None) -> dict[str, int]:
    """Write all that is kept about a client to a new zip; gives how many sessions, sets and measurements it holds.

    Args:
        by: number of the account that asked.

    Raises:
        UnknownNameError: no such client. InputError: the file exists or cannot be written.
    """
    with store().reading() as db:
        who = client_rows.load_client(db, client_number(db, person))
        with _new_file(file) as out:
            held = export.write_export(db, who, out, datetime.now(UTC))
    with store().writing() as db:
        account_rows.write_audit(db, "data exported", by, who.number)
    return held


def erase_person(person: Asked, by: int | None = None) -> str:
    """Delete everything about a client for good and give the name; backups made before still hold it.

    Args:
        by: number of the account that asked.

    Raises:
        UnknownNameError: no such client.
    """
    with store().writing() as db:
        number = client_number(db, person)
        name = client_rows.client_names(db)[number]
        client_rows.erase_client(db, number)
        account_rows.write_audit(db, "client erased", by, number)
    store().forget_traces()
    for learned in (cache_folder() / "responses").glob("*.json"):
        learned.unlink(missing_ok=True)
    return name


@contextmanager
def _new_file(file: Path) -> Iterator[IO[bytes]]:
    """A file that did not exist, there only when it is whole, readable by its owner alone."""
    draft = None
    try:
        if file.exists():
            raise InputError(f"{file} already exists; choose another name", asked=str(file))
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, draft = begin_draft(file.parent)
        with os.fdopen(handle, "wb") as out:
            yield out
            out.flush()
            os.fsync(out.fileno())
        os.link(draft, file)
        settle(file.parent)
    except FileExistsError:
        raise InputError(f"{file} already exists; choose another name", asked=str(file)) from None
    except OSError as error:
        raise InputError(f"{str(file)[:200]}: cannot be written: {error.strerror}", asked=str(file)[:200]) from error
    finally:
        if draft is not None:
            Path(draft).unlink(missing_ok=True)


def holds_clients() -> bool:
    """Whether a store was ever made, and holds a client."""
    if not exists():
        return False
    with store().reading() as db:
        return bool(client_rows.client_names(db))
