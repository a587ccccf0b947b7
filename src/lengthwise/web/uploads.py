"""Files that were sent to be looked into, or made to be fetched: kept beside the cache until that is done, for an hour at most."""

import json
import os
import re
import secrets
import shutil
import threading
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Literal
from urllib.parse import quote

from fastapi import Request, UploadFile
from starlette.responses import Response, StreamingResponse

from lengthwise.errors import InputError
from lengthwise.files.folders import cache_folder
from lengthwise.reading import utf8_of
from lengthwise.web.asker import asker_of

KEPT_S = 3600.0
TOKEN = re.compile(r"[0-9a-f]{32}")
LONGEST_NAME = 60
NOBODY = 0
"""Stands for the client where a file is about none, and for the account where nobody has one."""
Purpose = Literal["table", "export", "backup", "restore", "sheets", "studies", "trials"]
PIECE = 1 << 20
SAID = ".said"
"""Lies beside a file; no file that was sent is called so, since points in front are taken from names."""
KINDS = {".zip": "application/zip", ".pdf": "application/pdf"}


@dataclass(frozen=True)
class Kind:
    """What is sent: at most how many bytes, and the command that takes larger files, if any does."""

    largest: int
    command: str = ""


TABLE = Kind(4_000_000, "lengthwise log import")
BACKUP = Kind(64_000_000, "lengthwise store restore")
STUDIES = Kind(900_000, "lengthwise study import")
COMPARISONS = Kind(200_000, "lengthwise trials --file")
EFFECTS = Kind(200_000, "lengthwise pool --file")
RECORD = Kind(200_000)
"""A record with everything in it takes ten thousand."""


@dataclass(frozen=True)
class Shelf:
    """What a file is for, whose it is and which client it is about: found again by the same account for the same purpose alone."""

    purpose: Purpose
    account: int
    client: int = NOBODY

    @property
    def name(self) -> str:
        """What its folders' names begin with."""
        return f"{self.purpose}-{self.account}-{self.client}"


def shelf_of(request: Request, purpose: Purpose, client: int = NOBODY) -> Shelf:
    """The shelf of whoever asks."""
    account = asker_of(request).account
    return Shelf(purpose, account.number if account else NOBODY, client)


def keep_upload(shelf: Shelf, name: str, source: IO[bytes], kind: Kind = TABLE) -> str:
    """Keep a file that was sent, readable by this machine's user alone; gives what it is asked for by.

    Raises:
        InputError: it is empty or too large; nothing of it is kept.
    """
    token, file = room_for(shelf, name)
    try:
        _check_size(name or "the file", _copied(source, file, kind.largest), kind)
    except InputError:
        forget_upload(shelf, token)
        raise
    return token


def sent_text(file: UploadFile, kind: Kind) -> tuple[str, str]:
    """Name and text of a small file that was sent, which is not kept.

    Raises:
        InputError: it is empty or too large. DataFileError: it is not UTF-8 text.
    """
    name, content = file.filename or "the file", file.file.read(kind.largest + 1)
    _check_size(name, len(content), kind)
    return name, utf8_of(name, content)


def _check_size(name: str, size: int, kind: Kind) -> None:
    if not 0 < size <= kind.largest:
        found, beyond = f"more than {kind.largest}" if size else 0, f"; larger ones: {kind.command}" if kind.command else ""
        raise InputError(f"{name} holds {found} bytes; allowed 1 to {kind.largest}{beyond}", asked=size, allowed=[1, kind.largest])


def room_for(shelf: Shelf, name: str) -> tuple[str, Path]:
    """A place for a file that is to be kept for an hour at most: what it is asked for by, and where it is to be written."""
    forget_old()
    token = secrets.token_hex(16)
    folder = _folder(shelf, token)
    folder.mkdir(parents=True, mode=0o700)
    gone = threading.Timer(KEPT_S, forget_upload, (shelf, token))
    gone.daemon = True
    gone.start()
    return token, folder / _safe(name)


def _copied(source: IO[bytes], file: Path, largest: int) -> int:
    """Bytes that were copied, one piece past what is allowed at most."""
    size = 0
    with file.open("wb") as out:
        while size <= largest and (piece := source.read(PIECE)):
            size += out.write(piece)
    return size


def upload_of(shelf: Shelf, token: str) -> Path:
    """The file that was kept.

    Raises:
        InputError: it is there no longer, or never was.
    """
    folder = _folder(shelf, token)
    files = sorted(folder.iterdir()) if TOKEN.fullmatch(token) and folder.is_dir() else []
    found = next((f for f in files if f.name != SAID), None)
    if found is None:
        raise _no_longer(token)
    return found


def _no_longer(token: str) -> InputError:
    return InputError("files are held for an hour and this one is gone; upload it again", asked=token)


def keep_said(shelf: Shelf, token: str, fields: Mapping[str, str]) -> None:
    """Keep beside a file what a form said about it, so that the page that shows it can be gone back to.

    Raises:
        InputError: the file is there no longer.
    """
    said = upload_of(shelf, token).parent / SAID
    draft = said.with_suffix(".new")
    draft.write_text(json.dumps(dict(fields)), encoding="utf-8")
    draft.replace(said)


def said_of(shelf: Shelf, token: str) -> dict[str, str]:
    """What a form said about a file; nothing yet where none was sent."""
    said = upload_of(shelf, token).parent / SAID
    found: dict[str, str] = json.loads(said.read_text(encoding="utf-8")) if said.exists() else {}
    return found


def upload_text(shelf: Shelf, token: str) -> tuple[str, str]:
    """Name and text of a file that was kept.

    Raises:
        InputError: it is there no longer. DataFileError: it is not UTF-8 text.
    """
    found = upload_of(shelf, token)
    return found.name, utf8_of(found.name, found.read_bytes())


def forget_upload(shelf: Shelf, token: str) -> None:
    """Remove a file that is no longer needed."""
    if TOKEN.fullmatch(token):
        shutil.rmtree(_folder(shelf, token), ignore_errors=True)


def sent_away(shelf: Shelf, token: str) -> Response:
    """A file that was made, as an answer: opened and removed at once, so that it is sent once and nothing of it stays.

    Raises:
        InputError: it is there no longer, or never was.
    """
    file = upload_of(shelf, token)
    try:
        source = file.open("rb")
        file.unlink()  # what is open can be read to its end
    except FileNotFoundError as error:  # somebody else was quicker
        raise _no_longer(token) from error
    forget_upload(shelf, token)
    headers = {
        "content-disposition": f"attachment; filename*=UTF-8''{quote(file.name)}",
        "content-length": str(os.fstat(source.fileno()).st_size),
        "content-encoding": "identity",
        "cache-control": "no-store",
    }
    return StreamingResponse(_pieces(source), media_type=KINDS[file.suffix], headers=headers)


def _pieces(source: IO[bytes]) -> Iterator[bytes]:
    with source:
        while piece := source.read(PIECE):
            yield piece


def forget_waiting(client: int) -> None:
    """Remove every file that waits about a client, and backups of everything, since they hold the client too."""
    about = (f"*-*-{client}-*", "backup-*", "restore-*", f"table-*-{NOBODY}-*")
    for folder in (found for pattern in about for found in _uploads().glob(pattern)):
        shutil.rmtree(folder, ignore_errors=True)


def forget_old() -> None:
    """Remove what was sent long ago."""
    for folder in _uploads().glob("*"):
        if time.time() - folder.stat().st_mtime > KEPT_S:
            shutil.rmtree(folder, ignore_errors=True)


def _uploads() -> Path:
    return cache_folder() / "uploads"


def _folder(shelf: Shelf, token: str) -> Path:
    return _uploads() / f"{shelf.name}-{token}"


def _safe(name: str) -> str:
    """The file's own name as it may stand in a folder: letters, digits, points and dashes."""
    plain = re.sub(r"[^\w.\- ]+", "_", name.replace("\\", "/").rpartition("/")[2]).strip(". ")
    return plain[-LONGEST_NAME:] or "table.csv"
