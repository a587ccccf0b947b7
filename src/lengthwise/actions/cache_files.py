"""Answers that are kept on disk and may be forgotten at any time."""

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TypeVar

from lengthwise.actions.lifts import DATA_FOLDER
from lengthwise.actions.whole_files import write_whole
from lengthwise.errors import InputError

T = TypeVar("T")


def cache_folder() -> Path:
    """Where answers are kept: `cache` in the environment's LENGTHWISE_DATA, else ~/.cache/lengthwise. It may be deleted at any time."""
    own = os.environ.get(DATA_FOLDER)
    return Path(own) / "cache" if own else Path.home() / ".cache" / "lengthwise"


def kept(file: Path, read: Callable[[str], T]) -> T | None:
    """What is kept in a file, as `read` understands it; nothing where there is none or it is damaged."""
    try:
        return read(file.read_text(encoding="utf-8"))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def keep(file: Path, text: str) -> None:
    """Write a whole file or none; a disk that cannot be written to only means that the next run solves again."""
    with suppress(InputError):
        write_whole(file, text)
