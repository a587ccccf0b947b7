"""An empty store on each kind of database: an SQLite file, and a PostgreSQL server of the tests' own."""

import uuid
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from throwaway_server import throwaway_server

from lengthwise.actions import store as store_actions
from lengthwise.storage.database import Store, open_store
from lengthwise.training.client import Client

WITH_TABLES = "with_tables"
"""A database whose tables are made once, as a new store's are, and copied for every test."""


def _execute(server: str, words: str) -> None:
    with psycopg.connect(f"{server}/postgres", autocommit=True) as db:
        db.execute(words)


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[str]:
    """Address of the server, without a database's name; the tests fail where there can be none."""
    with throwaway_server() as address:
        _execute(address, f"CREATE DATABASE {WITH_TABLES}")
        open_store(f"{address}/{WITH_TABLES}").close()
        yield address


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """Address of a database that holds nothing, in use by the actions; each test runs on both kinds."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "data"))
    if request.param == "sqlite":
        address = f"sqlite:///{tmp_path / 'data' / 'lengthwise.db'}"
        monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    else:
        server = request.getfixturevalue("postgresql_server")
        name = f"t_{uuid.uuid4().hex}"
        _execute(server, f"CREATE DATABASE {name} TEMPLATE {WITH_TABLES}")
        address = f"{server}/{name}"
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
