"""Files as text: read with what is wrong said in words, written whole or not at all."""

import contextlib
import os
import tempfile
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from lengthwise.errors import DataFileError, InputError
from lengthwise.reading import utf8_of

DRAFT = ".lengthwise-"
"""What files begin with that are being written, then the number of the process that does."""


def read_text(file: Path, name: str = "") -> str:
    """The text of a file, called `name` in messages, else by its path.

    Raises:
        DataFileError: it cannot be read, or is not UTF-8.
    """
    try:
        return utf8_of(name or str(file), file.read_bytes())
    except OSError as error:
        raise DataFileError([f"{name or file}: cannot be read: {error.strerror}"], asked=str(file)) from error


def write_whole(file: Path, content: str | bytes) -> None:
    """Write a file, in place of one that exists; it is the old one or the new one, never half of it.

    What is no file, such as a pipe or /dev/null, is written to and stays; in its place the whole machine would miss it.

    Raises:
        InputError: it cannot be written.
    """
    if file.exists() and not file.is_file():
        with _told(file):
            file.write_bytes(_bytes(content))
    else:
        _write(file, content, os.replace)


def write_new(file: Path, text: str) -> None:
    """Write a file that does not exist yet, readable by its owner alone.

    Raises:
        InputError: it exists, or cannot be written.
    """
    try:
        _write(file, text, os.link)
    except FileExistsError:
        raise InputError(f"{file} already exists; choose another name", asked=str(file)) from None


def write_lightly(file: Path, content: bytes) -> None:
    """The same without waiting for the disk: for what may be forgotten, and whose reader can tell whether it is whole.

    Raises:
        OSError: it cannot be written.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    _swept(file.parent)
    handle, draft = new_draft(file.parent)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
        os.replace(draft, file)
    except OSError:
        Path(draft).unlink(missing_ok=True)
        raise


@cache
def _swept(folder: Path) -> None:
    """Once a process, however many files are written there."""
    sweep(folder)


def begin_draft(folder: Path) -> tuple[int, str]:
    """A new file beside the one to be written; what programs left that were killed while writing goes."""
    sweep(folder)
    return new_draft(folder)


def sweep(folder: Path) -> None:
    """Remove what programs left that were killed while writing."""
    for left in folder.glob(f"{DRAFT}*.part"):
        owner = left.name.removeprefix(DRAFT).partition("-")[0]
        if owner.isdecimal() and not _runs(int(owner)):
            left.unlink(missing_ok=True)


def new_draft(folder: Path) -> tuple[int, str]:
    """A new file in a folder, open, and its name."""
    return tempfile.mkstemp(dir=folder, prefix=f"{DRAFT}{os.getpid()}-", suffix=".part")


def settle(folder: Path) -> None:
    """Have a folder's names on the disk, where its system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _write(file: Path, content: str | bytes, put: Callable[[str, Path], None]) -> None:
    draft = None
    try:
        with _told(file):
            file.parent.mkdir(parents=True, exist_ok=True)
            handle, draft = begin_draft(file.parent)
            with os.fdopen(handle, "wb") as out:
                out.write(_bytes(content))
                out.flush()
                os.fsync(out.fileno())
            put(draft, file)
            settle(file.parent)
    finally:
        if draft is not None:
            Path(draft).unlink(missing_ok=True)


def _bytes(content: str | bytes) -> bytes:
    return content.encode("utf-8") if isinstance(content, str) else content


@contextlib.contextmanager
def _told(file: Path) -> Iterator[None]:
    """Say which file cannot be written, and why; that there is one already is told by whoever asked."""
    try:
        yield
    except FileExistsError:
        raise
    except OSError as error:
        raise InputError(f"{file}: cannot be written: {error.strerror or error}", asked=str(file)) from error
