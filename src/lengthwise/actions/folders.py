"""Where a user's own files live, and where answers are kept that may be forgotten."""

import os
from functools import lru_cache
from pathlib import Path

DATA_FOLDER = "LENGTHWISE_DATA"


def data_folder() -> Path:
    """Where a user's own files live: the environment's LENGTHWISE_DATA, else ~/.local/share/lengthwise."""
    own = os.environ.get(DATA_FOLDER)
    return _path(own) if own else Path.home() / ".local" / "share" / "lengthwise"


@lru_cache(maxsize=8)
def _path(text: str) -> Path:
    return Path(text)


def own_folder() -> Path:
    """Where the files of a user's own lifts live."""
    return data_folder() / "lifts"


def cache_folder() -> Path:
    """Where answers are kept: `cache` in the environment's LENGTHWISE_DATA, else ~/.cache/lengthwise. It may be deleted at any time."""
    own = os.environ.get(DATA_FOLDER)
    return Path(own) / "cache" if own else Path.home() / ".cache" / "lengthwise"
