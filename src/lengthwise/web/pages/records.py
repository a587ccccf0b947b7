"""The store as a whole: where it is and how much it holds, a backup to be fetched, and one to be restored."""

import secrets
from typing import Annotated, Any

from fastapi import File, Form, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, Response

from lengthwise.errors import LengthwiseError
from lengthwise.records import accounts, store
from lengthwise.records.store import exists as store_exists
from lengthwise.web.client_jobs import gave
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_clients import account_of, drop_pick
from lengthwise.web.rendering import page
from lengthwise.web.routes import Care, Role, Routes
from lengthwise.web.store_jobs import REPLACE, backup_job, demo_job, restore_job
from lengthwise.web.uploads import BACKUP, forget_upload, keep_upload, sent_away, shelf_of, upload_of

router = Routes()
Asked = Annotated[str, Form(pattern=r"^[0-9a-f]{0,32}$")]
LOOKED_BACK = 200
"""So many lines of the audit are looked through for the last backup."""


@router.get("/records", Role.LEAD, care=Care.GUARDED)
def records(request: Request, restored: Annotated[int | None, Query(ge=0)] = None) -> HTMLResponse:
    """Where the store is, how much it holds, and what can be done with it as a whole."""
    return _page(request, {"restored": restored})


@router.post("/records/backup", Role.LEAD, care=Care.GUARDED)
def make_backup(request: Request, asked: Asked = "") -> HTMLResponse:
    """Write a backup of everything beside the page; it can then be fetched once."""
    asked = asked or secrets.token_hex(16)
    job = backup_job(asked, account_of(request))
    made = gave(request, job, "Writing the backup, row by row.", {"asked": asked})
    return page(request, "parts/backup_made.html", {"made": made})


@router.get("/records/backup/{token}", Role.LEAD, care=Care.GUARDED)
def fetch_backup(request: Request, token: str) -> Response:
    """The backup that was made; it is removed here as it is sent.

    Raises:
        InputError: it was fetched before, or made more than an hour ago.
    """
    shelf = shelf_of(request, "backup")
    return sent_away(shelf, token)


@router.post("/records/restore", Role.LEAD, care=Care.GUARDED)
def send_backup(request: Request, file: Annotated[UploadFile, File()]) -> HTMLResponse:
    """Keep a backup aside and say what it holds; nothing is restored yet."""
    shelf = shelf_of(request, "restore")
    try:
        token = keep_upload(shelf, file.filename or "", file.file, BACKUP)
    except LengthwiseError as error:
        return _page(request, {"faults": told(error)}, 422)
    try:
        return _page(request, {"token": token, "sent": store.read_backup(upload_of(shelf, token)), "file": file.filename})
    except LengthwiseError as error:
        forget_upload(shelf, token)
        return _page(request, {"faults": told(error, f"{shelf.name}-{token}/")}, 422)


@router.post("/records/restore/{token}", Role.LEAD, care=Care.GUARDED)
def restore(request: Request, token: str, replace: Annotated[bool, Form()] = False, word: Annotated[str, Form()] = "") -> Response:
    """Fill the store from the backup that was sent, beside the page; a fault leaves the store as it was."""
    try:
        job = restore_job(token, replace, word, account_of(request))
        found = gave(request, job, "Restoring, row by row.", {"replace": str(replace).lower(), "word": word})
    except LengthwiseError as error:
        values = {
            "token": token,
            "fault": told(error, f"{shelf_of(request, 'restore').name}-{token}/"),
            "clients": _clients(),
            "word": REPLACE,
        }
        return page(request, "parts/restore_form.html", values, 422)
    done = Response(headers={"hx-redirect": f"/records?restored={sum(found.rows.values())}"})
    drop_pick(request, done)
    return done


@router.post("/people/demo", Role.LEAD, care=Care.GUARDED)
def demo(request: Request, asked: Asked = "") -> Response:
    """Keep the invented gym, beside the page; on to the people then."""
    asked = asked or secrets.token_hex(16)
    gave(request, demo_job(asked, account_of(request)), "Inventing logs, client by client.", {"asked": asked})
    return Response(headers={"hx-redirect": "/people"})


def _clients() -> int:
    return store.info().rows.get("clients", 0)


def _page(request: Request, values: dict[str, Any], status: int = 200) -> HTMLResponse:
    shown = {
        "here": "people",
        "info": store.info(),
        "clients": _clients(),
        "last": _last(),
        "largest_mb": BACKUP.largest // 1_000_000,
        "word": REPLACE,
        "restored": None,
        "faults": (),
        "fault": (),
        "sent": None,
        "token": "",
        "file": "",
        **values,
    }
    return page(request, "records.html", shown, status)


def _last() -> dict[str, Any]:
    """When a backup was last made and restored on these pages, where that is not long ago."""
    lines = accounts.read_audit(LOOKED_BACK) if store_exists() else ()
    return {line.action: line.at for line in reversed(lines) if line.action in ("backup made", "backup restored")}
