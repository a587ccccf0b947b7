"""Where a user's own files live, and where answers are kept that may be forgotten."""

import os
from pathlib import Path

DATA_FOLDER = "LENGTHWISE_DATA"


def data_folder() -> Path:
    """Where a user's own files live: the environment's LENGTHWISE_DATA, else ~/.local/share/lengthwise."""
    return Path(os.environ.get(DATA_FOLDER) or Path.home() / ".local" / "share" / "lengthwise")


def own_folder() -> Path:
    """Where the files of a user's own lifts live."""
    return data_folder() / "lifts"


def cache_folder() -> Path:
    """Where answers are kept: `cache` in the environment's LENGTHWISE_DATA, else ~/.cache/lengthwise. It may be deleted at any time."""
    own = os.environ.get(DATA_FOLDER)
    return Path(own) / "cache" if own else Path.home() / ".cache" / "lengthwise"
