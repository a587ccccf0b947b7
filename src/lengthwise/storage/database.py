"""A store: where it lies, opened at the newest version, read and written in transactions.

Functions of this part take the connection that `reading` or `writing` yields; everything done in one `writing` is kept together or not at all.
"""

import contextlib
import os
import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DatabaseError

from lengthwise.errors import DataFileError, InputError, LengthwiseError
from lengthwise.storage.tables import metadata

KNOWN = ("0001", "0002", "0003", "0004")
"""Versions of the tables that there were."""
NEWEST = KNOWN[-1]
"""The version of the tables that this code reads and writes."""
WAIT_S = 30
"""How long a writer waits for another [s]."""


@dataclass(frozen=True)
class Store:
    """An open store; `where` is its address without the password."""

    engine: Engine
    where: str

    @property
    def is_postgresql(self) -> bool:
        """Whether a PostgreSQL server keeps it, rather than an SQLite file."""
        return self.engine.dialect.name == "postgresql"

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection for questions; they all see one state of the store."""
        with _told(self.where), self.engine.connect() as db, db.begin():
            if self.is_postgresql:
                db.execute(text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY"))
            yield db

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection for changes: kept when the block ends well, all undone when it does not."""
        with _told(self.where), self.engine.connect().execution_options(writing=True) as db, db.begin():
            yield db

    @contextmanager
    def trying(self) -> Iterator[Connection]:
        """A connection for changes that are never kept: to see what would come of them."""
        with _told(self.where), self.engine.connect() as db:
            try:
                yield db
            finally:
                db.rollback()

    def forget_traces(self) -> None:
        """Leave nothing of erased rows in the files: SQLite overwrites them and empties its log, PostgreSQL is asked to clear dead rows."""
        with _told(self.where):
            if self.is_postgresql:
                with self.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as db:
                    db.execute(text("VACUUM"))
                return
            raw = self.engine.raw_connection()
            try:
                raw.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
            finally:
                raw.close()

    def close(self) -> None:
        """Give connections back."""
        self.engine.dispose()


def open_store(url: str) -> Store:
    """The store at an SQLAlchemy address, brought to the newest version; an SQLite file is made where there is none.

    Raises:
        InputError: the address cannot be read, or the server cannot be reached.
        DataFileError: the file is no store, or of a version that this code does not know.
    """
    address = _address(url)
    where = address.render_as_string(hide_password=True)
    is_file = address.get_backend_name() == "sqlite"
    if is_file and address.database not in (None, "", ":memory:"):
        _make_file(address, where)
    store = Store(_sqlite(address) if is_file else create_engine(address, pool_pre_ping=True), where)
    with _told(where):
        _bring_up_to_date(store)
        _check_tables(store)
    return store


def _make_file(address: URL, where: str) -> None:
    """The file of a store, whole at once, so that an empty one is never taken for a store.

    Raises:
        DataFileError: a file or folder stands there that is none, or none can be made.
    """
    file = Path(str(address.database))
    try:
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not file.exists():
            _make_whole(address, file)
        if not file.is_file() or not file.stat().st_size:
            what = "an empty file" if file.is_file() else "a folder"
            raise DataFileError([f"{where}: {what}; allowed a store, or nothing, where one is made; move it away"], asked=where)
    except OSError as error:
        raise DataFileError([f"{where}: {error.strerror}; allowed a file that you may write"], asked=where) from error


def _make_whole(address: URL, file: Path) -> None:
    handle, draft = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.", suffix=".new")
    os.close(handle)
    try:
        made = Store(_sqlite(address.set(database=draft)), str(file))
        with _told(made.where):
            _bring_up_to_date(made)
        made.close()
        with contextlib.suppress(FileExistsError):  # another program was faster
            os.link(draft, file)
    finally:
        for rest in file.parent.glob(f"{Path(draft).name}*"):
            rest.unlink(missing_ok=True)


def _address(url: str) -> URL:
    try:
        address = make_url(url)
    except ArgumentError:
        raise InputError(
            f"database address {url.split('@')[-1]!r} cannot be read; allowed sqlite:///FILE or postgresql://USER@HOST/NAME",
            allowed=["sqlite:///FILE", "postgresql://USER@HOST/NAME"],
        ) from None
    if address.drivername in ("postgresql", "postgres"):
        address = address.set(drivername="postgresql+psycopg")
    if address.drivername not in ("postgresql+psycopg", "sqlite"):
        allowed = ["sqlite:///FILE", "postgresql://USER@HOST/NAME"]
        raise InputError(f"database address begins with {address.drivername!r}; allowed {' or '.join(allowed)}", allowed=allowed)
    if address.drivername != "sqlite" and find_spec("psycopg") is None:  # the extra postgresql is not installed
        raise InputError(
            "the database address asks for PostgreSQL, whose driver is not installed; allowed sqlite:///FILE, "
            "or PostgreSQL after: pip install 'psycopg[binary]>=3.2'",
            allowed=["sqlite:///FILE"],
        )
    return address


def _sqlite(address: URL) -> Engine:
    """An engine whose transactions are real (the driver's own begin too late), durable at commit, and private to the user."""
    engine = create_engine(address, connect_args={"timeout": WAIT_S})
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_up_sqlite(connection: sqlite3.Connection, record: Any) -> None:
    connection.isolation_level = None
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "secure_delete=ON", "cache_size=-65536"):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(db: Connection) -> None:
    driver: Any = db.connection.driver_connection  # asked with every request, so without what statements pass otherwise
    driver.execute("BEGIN IMMEDIATE" if db.get_execution_options().get("writing") else "BEGIN")


def _bring_up_to_date(store: Store) -> None:
    with store.engine.connect() as db:
        found = _version(db)
    if found == NEWEST:
        return
    if found is not None and found not in KNOWN:
        raise DataFileError([f"{store.where}: made by another Lengthwise (tables {found}); this one knows {NEWEST}; update it"])
    if found is None and (strange := _tables(store)):
        said = f"tables of another program ({', '.join(sorted(strange)[:5])}); allowed a store, or nothing, where one is made"
        raise DataFileError([f"{store.where}: {said}"], asked=store.where)
    from lengthwise.storage.migrate import migrate

    migrate(store.engine)


def _tables(store: Store) -> set[str]:
    with store.engine.connect() as db:
        return set(inspect(db).get_table_names())


def _check_tables(store: Store) -> None:
    """Notice tables that are gone.

    Raises:
        DataFileError: some are.
    """
    missing = sorted(set(metadata.tables) - _tables(store))
    if missing:
        raise DataFileError([f"{store.where}: missing tables {', '.join(missing)}; restore a backup"], asked=store.where)


def _version(db: Connection) -> str | None:
    if not inspect(db).has_table("alembic_version"):
        return None
    return db.execute(text("SELECT version_num FROM alembic_version")).scalar()


@contextmanager
def _told(where: str) -> Iterator[None]:
    """Turn the driver's troubles into messages that say what to do."""
    try:
        yield
    except _driver_errors() as error:
        raise _explained(where, error) from error


def _driver_errors() -> tuple[type[Exception], ...]:
    """What is raised by a driver; PostgreSQL's is not loaded unless it is asked for."""
    postgresql = sys.modules.get("psycopg")
    return (DatabaseError, sqlite3.Error, *([postgresql.Error] if postgresql else []))


def _explained(where: str, error: Exception) -> LengthwiseError:
    words = str(getattr(error, "orig", None) or error).strip()
    first = words.splitlines()[0] if words else type(error).__name__
    if "locked" in words:
        return InputError(f"{where}: another program has been writing for {WAIT_S} s; try again when it has finished", asked=where)
    if "not a database" in words or "malformed" in words:
        return DataFileError([f"{where}: {first}; allowed an SQLite file made by Lengthwise; restore a backup"], asked=where)
    if "unable to open" in words or "readonly" in words:
        return DataFileError([f"{where}: {first}; allowed a file that you may write"], asked=where)
    if "disk is full" in words or "No space" in words:
        return DataFileError([f"{where}: the disk is full; nothing of this change was saved"], asked=where)
    return InputError(f"{where}: the database answered: {first}", asked=where)
