"""An empty store on each kind of database: an SQLite file, and a PostgreSQL server of the tests' own."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from throwaway_server import throwaway_server

from lengthwise.records import store as store_actions
from lengthwise.storage.database import Store, open_store
from lengthwise.training.client import Client

WITH_TABLES, USED = "with_tables", "used"
"""A database whose tables are made once, as a new store's are, and its copy, in which one test after another works."""
SHAPE = """SELECT md5(string_agg(line, chr(10) ORDER BY line)) FROM (
    SELECT concat_ws(' ', table_name, column_name, data_type, is_nullable, column_default) AS line FROM information_schema.columns WHERE table_schema = 'public'
    UNION ALL SELECT indexdef FROM pg_indexes WHERE schemaname = 'public'
    UNION ALL SELECT concat_ws(' ', conrelid::regclass, conname, pg_get_constraintdef(oid)) FROM pg_constraint
    UNION ALL SELECT 'version ' || version_num FROM alembic_version) AS lines"""
"""What a database's tables, indices and rules are, and which version."""
OTHERS = (
    "SELECT pg_terminate_backend(pid, 60000) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
)
"""Ends the connections of processes that a test killed or left."""


def _execute(server: str, words: str) -> None:
    with psycopg.connect(f"{server}/postgres", autocommit=True) as db:
        db.execute(words)


def _column(db: psycopg.Connection, words: str) -> list[str]:
    return [row[0] for row in db.execute(words)]


def _is_empty_again(server: str, shape: list[str]) -> bool:
    """Leave no row and no number that was given away in the database that tests use; false where its tables are not those of a new store."""
    try:
        with psycopg.connect(f"{server}/{USED}", autocommit=True) as db:
            db.execute(OTHERS)
            if _column(db, SHAPE) != shape:
                return False
            tables = _column(db, "SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tablename <> 'alembic_version'")
            filled = _column(db, " UNION ALL ".join(f"SELECT '{t}' WHERE EXISTS (SELECT FROM \"{t}\")" for t in tables))
            if filled:
                db.execute("TRUNCATE " + ", ".join(f'"{t}"' for t in filled) + " CASCADE")
            for name in _column(db, "SELECT sequencename FROM pg_sequences WHERE last_value IS NOT NULL"):
                db.execute(f'ALTER SEQUENCE "{name}" RESTART')
    except psycopg.Error:
        return False
    return True


@pytest.fixture(scope="session")
def new_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a new store, made once and copied for every test."""
    file = tmp_path_factory.mktemp("new_store") / "lengthwise.db"
    open_store(f"sqlite:///{file}").close()
    return file


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[str]:
    """Address of the server, without a database's name; the tests fail where there can be none."""
    with throwaway_server() as address:
        _execute(address, f"CREATE DATABASE {WITH_TABLES}")
        open_store(f"{address}/{WITH_TABLES}").close()
        yield address


@pytest.fixture(scope="session")
def new_shape(postgresql_server: str) -> list[str]:
    """What the tables of a new store are."""
    with psycopg.connect(f"{postgresql_server}/{WITH_TABLES}") as db:
        return _column(db, SHAPE)


@pytest.fixture
def emptied(postgresql_server: str, new_shape: list[str]) -> str:
    """Address of the database that tests use, as empty as a new store's; it is copied anew where a test before changed more than rows."""
    if not _is_empty_again(postgresql_server, new_shape):
        _execute(postgresql_server, f"DROP DATABASE IF EXISTS {USED} WITH (FORCE)")
        _execute(postgresql_server, f"CREATE DATABASE {USED} TEMPLATE {WITH_TABLES}")
    return f"{postgresql_server}/{USED}"


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path, new_file: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """Address of a database that holds nothing, in use by the actions; each test runs on both kinds."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "data"))
    if request.param == "sqlite":
        (tmp_path / "data").mkdir(mode=0o700)
        address = f"sqlite:///{shutil.copy(new_file, tmp_path / 'data' / new_file.name)}"
        monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    else:
        address = request.getfixturevalue("emptied")
        monkeypatch.setenv("LENGTHWISE_DATABASE", address)
    yield address
    store_actions.store().close()
    store_actions._opened.cache_clear()


@pytest.fixture
def store(database: str) -> Store:
    return store_actions.store()


@pytest.fixture
def mara(store: Store) -> str:
    """An invented client in the store."""
    store_actions.save_client(Client(name="Mara Lindqvist"))
    return "Mara Lindqvist"
