"""Whom a question is about: a client by its record, its file or its name."""

from pathlib import Path

from lengthwise.errors import InputError
from lengthwise.records.people import read_client
from lengthwise.training.client import Client, StoredClient

Whom = StoredClient | Client | Path | str
"""A client: its record, the file of one, or the name of one that is kept."""


def kept_client(asked: Whom) -> StoredClient:
    """A client as the store keeps it.

    Raises:
        UnknownNameError: nobody is kept under that name. InputError: several are. DataFileError: the file has faults.
    """
    if isinstance(asked, StoredClient):
        return asked
    from lengthwise.records import store  # only here: a file asks no store

    return store.named_client(asked.name if isinstance(asked, Client) else str(asked))


def whole_client(asked: Whom) -> StoredClient:
    """The client of a record or its TOML file, or the one kept under this name.

    Raises:
        DataFileError: the file has faults; all of them at once.
        InputError: neither a file nor a kept client.
    """
    if isinstance(asked, StoredClient | Client):
        return asked if isinstance(asked, StoredClient) else StoredClient(0, asked)
    file = Path(asked)
    if file.suffix == ".toml" or file.is_file():
        return StoredClient(0, read_client(file))
    from lengthwise.records import store  # only here: a file asks no store

    if store.holds_clients():
        return store.named_client(str(asked))
    raise InputError(f"no client is called {asked!r}; give a record file (.toml) or a stored client's name", asked=asked)
