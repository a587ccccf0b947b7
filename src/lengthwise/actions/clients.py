"""A client by file or, where something keeps clients, by name."""

from collections.abc import Callable
from pathlib import Path

from lengthwise.actions.people import read_client
from lengthwise.errors import InputError
from lengthwise.training.client import Client

Finder = Callable[[str], Client | None]
finders: list[Finder] = []
"""Asked in turn for a name that is no file; whatever keeps clients adds itself here."""


def find_client(asked: str) -> Client:
    """The client of a TOML file, or the one kept under this name.

    Raises:
        DataFileError: the file has faults; all of them at once.
        InputError: neither a file nor a kept client.
    """
    file = Path(asked)
    if file.suffix == ".toml" or file.is_file():
        return read_client(file)
    for finder in finders:
        found = finder(asked)
        if found is not None:
            return found
    raise InputError(f"no client is called {asked!r}; give a person file (.toml) or the name of a kept client", asked=asked)
