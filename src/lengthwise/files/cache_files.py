"""Answers that are kept on disk and may be forgotten at any time."""

import hashlib
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TypeVar
from zipfile import BadZipFile

from lengthwise.files.folders import cache_folder
from lengthwise.files.whole_files import write_lightly

T = TypeVar("T")
MADE = Path(__file__).parents[1] / "made"
"""Where an installation may have answers of its own, made when it was installed (made.py)."""


def kept_or_made(name: str, read: Callable[[bytes], T], make: Callable[[], T], written: Callable[[T], bytes]) -> T:
    """An answer that nobody's own data change: as it is kept, as it came with the installation, or made now and kept.

    Args:
        name: of its file in a folder of answers; made of all that the answer was computed from.
    """
    for folder in (cache_folder(), MADE):
        if (known := kept_content(folder / name, read)) is not None:
            return known
    made = make()
    keep(cache_folder() / name, written(made))
    return made


def kept(file: Path, read: Callable[[str], T]) -> T | None:
    """What is kept in a file, as `read` understands it; nothing where there is none or a single bit of it is damaged."""
    return kept_content(file, lambda content: read(content.decode("utf-8")))


def kept_content(file: Path, read: Callable[[bytes], T]) -> T | None:
    """The same where the file holds more than text."""
    try:
        seal, _, content = file.read_bytes().partition(b"\n")
        return read(content) if seal == _seal(content) else None
    except (OSError, ValueError, KeyError, TypeError, EOFError, BadZipFile):
        return None


def keep(file: Path, content: str | bytes) -> None:
    """Write a whole file or none; a disk that cannot be written to only means that the next run solves again."""
    whole = content.encode("utf-8") if isinstance(content, str) else content
    with suppress(OSError):
        write_lightly(file, _seal(whole) + b"\n" + whole)


def _seal(content: bytes) -> bytes:
    return hashlib.sha256(content).hexdigest().encode()
