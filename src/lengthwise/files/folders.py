"""Where a user's own files live, and where answers are kept that may be forgotten."""

import os
from functools import lru_cache
from pathlib import Path

DATA_FOLDER = "LENGTHWISE_DATA"


def data_folder() -> Path:
    """Where a user's own files live: the environment's LENGTHWISE_DATA, else ~/.local/share/lengthwise."""
    return _path(_data())


def own_folder() -> Path:
    """Where the files of a user's own lifts live; asked for with every look at the library, thousands of times in a week."""
    return _path(_data(), "lifts")


def _data() -> str:
    return os.environ.get(DATA_FOLDER) or os.path.expanduser("~/.local/share/lengthwise")


@lru_cache(maxsize=16)
def _path(*parts: str) -> Path:
    return Path(*parts)


def cache_folder() -> Path:
    """Where answers are kept: `cache` in the environment's LENGTHWISE_DATA, else ~/.cache/lengthwise. It may be deleted at any time."""
    own = os.environ.get(DATA_FOLDER)
    return Path(own) / "cache" if own else Path.home() / ".cache" / "lengthwise"
