"""Answers that are kept on disk and may be forgotten at any time."""

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TypeVar
from zipfile import BadZipFile

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
    return kept_content(file, lambda content: read(content.decode("utf-8")))


def kept_content(file: Path, read: Callable[[bytes], T]) -> T | None:
    """The same where the file holds more than text."""
    try:
        return read(file.read_bytes())
    except (OSError, ValueError, KeyError, TypeError, EOFError, BadZipFile):
        return None


def keep(file: Path, content: str | bytes) -> None:
    """Write a whole file or none; a disk that cannot be written to only means that the next run solves again."""
    with suppress(InputError):
        write_whole(file, content)
