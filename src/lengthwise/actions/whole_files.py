"""Files that are written whole or not at all."""

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

from lengthwise.errors import InputError


def write_whole(file: Path, text: str) -> None:
    """Write a file, in place of one that exists; it is the old one or the new one, never half of it.

    Raises:
        InputError: it cannot be written.
    """
    _write(file, text, os.replace)


def write_new(file: Path, text: str) -> None:
    """Write a file that does not exist yet, readable by its owner alone.

    Raises:
        InputError: it exists, or cannot be written.
    """
    try:
        _write(file, text, os.link)
    except FileExistsError:
        raise InputError(f"{file} exists and is kept; give another name", asked=str(file)) from None


def _write(file: Path, text: str, put: Callable[[str, Path], None]) -> None:
    draft = None
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, draft = tempfile.mkstemp(dir=file.parent, suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        put(draft, file)
    except FileExistsError:
        raise
    except OSError as error:
        raise InputError(f"{file}: cannot be written: {error.strerror or error}", asked=str(file)) from error
    finally:
        if draft is not None:
            Path(draft).unlink(missing_ok=True)
