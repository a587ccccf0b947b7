"""Files sent to be looked into: kept beside the cache until they are imported, for an hour at most."""

import re
import secrets
import shutil
import time
from pathlib import Path

from lengthwise.actions.cache_files import cache_folder
from lengthwise.errors import InputError

LARGEST_UPLOAD = 4_000_000
"""Most bytes of a table; the command takes larger ones."""
KEPT_S = 3600.0
TOKEN = re.compile(r"[0-9a-f]{32}")
LONGEST_NAME = 60
NOBODY = 0
"""Stands for the client where a file is about none."""


def keep_upload(client: int, name: str, content: bytes) -> str:
    """Keep a file that was sent for a client; gives what it is asked for by.

    Raises:
        InputError: it is empty or too large.
    """
    if not 0 < len(content) <= LARGEST_UPLOAD:
        raise InputError(
            f"{name or 'the file'} holds {len(content)} bytes; allowed 1 to {LARGEST_UPLOAD}; larger ones: lengthwise log import",
            asked=len(content),
            allowed=[1, LARGEST_UPLOAD],
        )
    forget_old()
    token = secrets.token_hex(16)
    folder = _folder(client, token)
    folder.mkdir(parents=True)
    (folder / _safe(name)).write_bytes(content)
    return token


def upload_of(client: int, token: str) -> Path:
    """The file that was kept.

    Raises:
        InputError: it is there no longer, or never was.
    """
    folder = _folder(client, token)
    found = next(iter(folder.iterdir()), None) if TOKEN.fullmatch(token) and folder.is_dir() else None
    if found is None:
        raise InputError("the file is kept for an hour and is there no longer; send it again", asked=token)
    return found


def upload_text(client: int, token: str) -> tuple[str, str]:
    """Name and text of a file that was kept.

    Raises:
        InputError: it is there no longer, or is not UTF-8 text.
    """
    found = upload_of(client, token)
    return found.name, as_text(found.name, found.read_bytes())


def as_text(name: str, content: bytes) -> str:
    """What was sent as text.

    Raises:
        InputError: it is not UTF-8.
    """
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(f"{name or 'the file'} is not UTF-8 text (byte {error.start})", asked=name) from error


def forget_upload(client: int, token: str) -> None:
    """Remove a file that is no longer needed."""
    if TOKEN.fullmatch(token):
        shutil.rmtree(_folder(client, token), ignore_errors=True)


def forget_old() -> None:
    """Remove what was sent long ago."""
    for folder in _uploads().glob("*"):
        if time.time() - folder.stat().st_mtime > KEPT_S:
            shutil.rmtree(folder, ignore_errors=True)


def _uploads() -> Path:
    return cache_folder() / "uploads"


def _folder(client: int, token: str) -> Path:
    return _uploads() / f"{client}-{token}"


def _safe(name: str) -> str:
    """The file's own name as it may stand in a folder: letters, digits, points and dashes."""
    plain = re.sub(r"[^\w.\- ]+", "_", name.replace("\\", "/").rpartition("/")[2]).strip(". ")
    return plain[-LONGEST_NAME:] or "table.csv"
