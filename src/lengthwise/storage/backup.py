"""The whole store as one zip of JSON lines, and back: the same for SQLite and PostgreSQL, so that it also moves a store between them.

Sign-ins, failed tries and what a browser has picked are left out: nobody should be signed in by a restored backup.
"""

import json
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import islice
from typing import IO, Annotated, Any

from pydantic import Field, TypeAdapter, ValidationError
from sqlalchemy import Connection, Integer, Table, delete, func, insert, or_, select, text, type_coerce
from sqlalchemy.exc import StatementError
from typing_extensions import TypedDict

from lengthwise.errors import DataFileError, InputError
from lengthwise.reading import FIRST_DAY, LAST_DAY
from lengthwise.storage.backup_bounds import check_sizes, head_of, lines_of
from lengthwise.storage.client_rows import list_clients
from lengthwise.storage.database import KNOWN, NEWEST
from lengthwise.storage.tables import Day, Moment, clients, known_browsers, metadata, picks, sign_in_failures, sign_ins

KIND = "lengthwise backup"
UNREADABLE = (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, EOFError, OSError, KeyError, ValueError)
"""What reading an archive raises that is none, is damaged, locked, or packed in another way."""
BATCH = 10_000
Heard = Callable[[str, float], None]
KEPT = tuple(t for t in metadata.sorted_tables if t not in (sign_ins, sign_in_failures, picks, known_browsers))
READABLE = KNOWN
"""Versions of the tables whose backups can be read; what came since is empty, or as it was for everybody before."""


class _Head(TypedDict):
    kind: str
    version: Annotated[str, Field(max_length=20)]
    made_at: Annotated[str, Field(max_length=60)]
    rows: dict[str, Annotated[int, Field(ge=0, le=10**12)]]


HEAD = TypeAdapter(_Head)


@dataclass(frozen=True)
class Backup:
    """What a backup holds: version of the tables, when it was made, rows by table."""

    version: str
    made_at: str
    rows: dict[str, int]


def write_backup(db: Connection, out: IO[bytes], heard: Heard) -> Backup:
    """Write every row of every table that is kept."""
    counts = {t.name: int(db.execute(select(func.count()).select_from(t)).scalar_one()) for t in KEPT}
    total, done = max(sum(counts.values()), 1), 0
    made = Backup(NEWEST, datetime.now(UTC).isoformat(timespec="seconds"), counts)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as archive:
        archive.writestr("backup.json", json.dumps({"kind": KIND, "version": NEWEST, "made_at": made.made_at, "rows": counts}))
        for table in KEPT:
            with archive.open(f"{table.name}.jsonl", "w", force_zip64=True) as member:
                for row in db.execution_options(yield_per=BATCH).execute(_plain(table)):
                    member.write(json.dumps(list(row), default=_written).encode() + b"\n")
                    done += 1
                    if done % BATCH == 0:
                        heard(table.name, done / total)
    return made


def read_backup(name: str, file: IO[bytes]) -> Backup:
    """What a backup holds.

    Raises:
        DataFileError: it is none, or of a version that this code does not know.
    """
    try:
        with zipfile.ZipFile(file) as archive:
            check_sizes(name, archive)
            head = HEAD.validate_json(head_of(archive))
            missing = [t.name for t in _kept_by(head["version"]) if f"{t.name}.jsonl" not in archive.namelist()]
    except UNREADABLE as error:
        why = "its list cannot be read" if isinstance(error, ValidationError) else error
        raise DataFileError([f"{name}: this is not a backup ({why}); allowed a file made by: store backup"], asked=name) from error
    if head["kind"] != KIND or missing:
        raise DataFileError([f"{name}: this backup is not complete; missing {', '.join(missing) or 'its kind'}"], asked=name)
    if head["version"] not in READABLE:
        raise DataFileError([f"{name}: tables of version {head['version']}; allowed {', '.join(READABLE)}"], asked=name)
    return Backup(head["version"], head["made_at"], head["rows"])


def restore(db: Connection, name: str, file: IO[bytes], heard: Heard, replace: bool = False) -> Backup:
    """Put a backup's rows into an empty store, or in place of everything in it.

    Raises:
        InputError: the store is not empty and is not to be replaced. DataFileError: no backup, or one that is not whole.
    """
    found = read_backup(name, file)
    if not replace and db.execute(select(clients.c.id).limit(1)).first() is not None:
        raise InputError(f"the store holds clients; allowed an empty store, or --replace to put {name} in its place", asked=name)
    for table in reversed(metadata.sorted_tables):
        db.execute(delete(table))
    total, done = max(sum(found.rows.values()), 1), 0
    with zipfile.ZipFile(file) as archive:
        for table in _kept_by(found.version):
            n = 0
            for batch in _batches(archive, table, found.version, name):
                _insert(db, table, batch, name)
                n, done = n + len(batch), done + len(batch)
                heard(table.name, done / total)
            if n != found.rows.get(table.name, 0):
                raise DataFileError([f"{name}: {table.name}: {n} rows; its list says {found.rows.get(table.name)}"], asked=name)
    _check_restored(db, name)
    if db.dialect.name == "postgresql":
        _continue_numbers(db)
    return found


def _kept_by(version: str) -> tuple[Table, ...]:
    """The tables that a backup of some version holds."""
    return tuple(t for t in KEPT if t.info.get("since", "") <= version)


def _batches(archive: zipfile.ZipFile, table: Table, version: str, name: str) -> Iterator[list[dict[str, Any]]]:
    columns = [(c.name, isinstance(c.type, Moment)) for c in table.columns]
    since = [c.info["before"] for c in table.columns if c.info.get("since", "") > version]
    try:
        with archive.open(f"{table.name}.jsonl") as member:
            lines = lines_of(member)
            while some := list(islice(lines, BATCH)):
                yield [_row(_whole(json.loads(line), since), columns) for line in some]
    except (*UNREADABLE, TypeError) as error:
        raise DataFileError([f"{name}: {table.name}: {error}; the backup is damaged"], asked=name) from error


def _insert(db: Connection, table: Table, batch: list[dict[str, Any]], name: str) -> None:
    try:
        db.execute(insert(table), batch)
    except (StatementError, OverflowError, TypeError) as error:
        said = str(getattr(error, "orig", None) or error).splitlines()[0][:200]
        raise DataFileError([f"{name}: {table.name}: {said}; the backup is damaged"], asked=name) from error


def _check_restored(db: Connection, name: str) -> None:
    """Refuse rows that nothing of ours could have written: records with faults, days that are none.

    Raises:
        DataFileError: there are such rows.
    """
    list_clients(db)
    first, last = FIRST_DAY.toordinal(), LAST_DAY.toordinal()
    for table in KEPT:
        for column in (c for c in table.columns if isinstance(c.type, Day)):
            number = type_coerce(column, Integer)
            if db.execute(select(table).where(or_(number < first, number > last)).with_only_columns(number).limit(1)).first():
                raise DataFileError([f"{name}: {table.name}: a day before {FIRST_DAY} or after {LAST_DAY}"], asked=name)


def _whole(values: list[Any], since: list[Any]) -> list[Any]:
    """A row of an older version with the columns that came since, which stand last."""
    return values + since


def _row(values: list[Any], columns: list[tuple[str, bool]]) -> dict[str, Any]:
    pairs = zip(values, columns, strict=True)
    return {c: datetime.fromisoformat(v) if moment and v is not None else v for v, (c, moment) in pairs}


def _plain(table: Table) -> Any:
    """All rows by primary key."""
    return select(table).order_by(*table.primary_key.columns)


def _written(value: Any) -> Any:
    return value.isoformat() if isinstance(value, datetime) else value.toordinal()


def _continue_numbers(db: Connection) -> None:
    """New rows get numbers after the restored ones; SQLite sees to that itself."""
    for table in KEPT:
        if "id" in table.c:
            highest = f"GREATEST((SELECT COALESCE(MAX(id), 0) FROM {table.name}), 1)"
            db.execute(text(f"SELECT setval(pg_get_serial_sequence('{table.name}', 'id'), {highest})"))


def counts(db: Connection) -> dict[str, int]:
    """How many clients, sessions, sets and so on the store holds."""
    return {t.name: int(db.execute(select(func.count()).select_from(t)).scalar_one()) for t in KEPT}
