"""The store in use: the SQLite file of the data folder, or the PostgreSQL server that the environment names."""

import os
from functools import lru_cache

from lengthwise.actions.clients import finders
from lengthwise.actions.lifts import data_folder
from lengthwise.storage import clients
from lengthwise.storage.store import Store, open_store
from lengthwise.training.client import Client

DATABASE = "LENGTHWISE_DATABASE"


def address() -> str:
    """Where the store is: the environment's LENGTHWISE_DATABASE, else lengthwise.db in the data folder."""
    return os.environ.get(DATABASE) or f"sqlite:///{data_folder() / 'lengthwise.db'}"


def store() -> Store:
    """The store in use, opened once."""
    return _opened(address())


@lru_cache(maxsize=4)
def _opened(url: str) -> Store:
    return open_store(url)


def stored_client(name: str) -> Client:
    """The client of the store called so (the whole name, or its beginning where that is clear).

    Raises:
        UnknownNameError: nobody is called so. InputError: several are.
    """
    with store().reading() as db:
        return clients.load_client(db, name).client


def stored_clients() -> tuple[clients.StoredClient, ...]:
    """All clients of the store with their numbers, by name."""
    with store().reading() as db:
        return clients.list_clients(db)


def save_client(client: Client, number: int | None = None) -> int:
    """Keep a client's record; one of that name, or of the number given, is replaced."""
    with store().writing() as db:
        return clients.save_client(db, client, number)


def _kept(name: str) -> Client | None:
    """For find_client: the stored client of a name; nothing where no store was ever made or it is empty."""
    if not os.environ.get(DATABASE) and not (data_folder() / "lengthwise.db").exists():
        return None
    with store().reading() as db:
        return clients.load_client(db, name).client if clients.client_names(db) else None


finders.append(_kept)
