"""A table of sets into a client's log, or those of several: how it is understood is shown and can be corrected; then all of it is kept or nothing."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import Depends, File, Form, Path, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.errors import InputError, LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.questions.answering.imports import Understanding, first_rows
from lengthwise.questions.log_import import ImportWishes
from lengthwise.records import log_entries
from lengthwise.training.log_columns import MEANINGS, guess_columns
from lengthwise.web.asker import RefusedAsk, asker_of
from lengthwise.web.background import Job, finished
from lengthwise.web.client_jobs import working
from lengthwise.web.fault_answers import FOR_THE_COMMAND, told
from lengthwise.web.import_jobs import import_job, imports, look_job
from lengthwise.web.kept_clients import account_of
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.sent_form import Sent
from lengthwise.web.uploads import NOBODY, TABLE, Shelf, keep_said, keep_upload, said_of, shelf_of, upload_of

router = Routes()
Count = Annotated[int | None, Query(ge=0)]
SHOWN = 12
"""So many faults are shown; the rest is counted."""
LOOKED_BACK = 200
"""Among so many of the last entries, tables of several people are looked for."""


@dataclass(frozen=True)
class Into:
    """Whose log a table goes into: one client's, or, without a name, those of the people that its rows name."""

    number: int
    name: str | None

    @property
    def about(self) -> int | None:
        """The client's number, where it is about one."""
        return self.number if self.name else None


def _into(request: Request, number: Annotated[int, Path(ge=0)]) -> Into:
    asker = asker_of(request)
    if number != NOBODY:
        return Into(number, asker.client(number).client.name)
    if not asker.leads:
        raise RefusedAsk
    return Into(NOBODY, None)


Log = Annotated[Into, Depends(_into)]
"""The log of an address that whoever asks may change: a client's, or 0 for those of several people, which are to be changed by a coach who leads."""


@router.get("/log/{number:log}/import", Role.OWN)
def choose(
    request: Request, found: Log, entry: Count = None, sets: Count = None, sessions: Count = None, undone: Count = None
) -> HTMLResponse:
    """The choice of a file, and what was imported just now."""
    done = {"entry": entry, "sets": sets, "sessions": sessions, "undone": undone}
    return _page(request, found, done=done)


@router.post("/log/{number:log}/import", Role.OWN)
def send(request: Request, found: Log, file: Annotated[UploadFile, File()]) -> Response:
    """Keep a file aside to be looked into, on a page of its own; nothing of it is in the log yet."""
    try:
        token = keep_upload(_shelf(request, found), file.filename or "", file.file)
        first_rows(upload_of(_shelf(request, found), token))
    except LengthwiseError as error:
        return _page(request, found, faults=told(error), status=422)
    return _shown(found, token)


def _shown(found: Into, token: str) -> RedirectResponse:
    return RedirectResponse(f"/log/{found.number}/import/{token}", 303)


@router.get("/log/{number:log}/import/{token}", Role.OWN)
def look(request: Request, found: Log, token: str) -> Response:
    """How a file is understood, with what was corrected."""
    shelf = _shelf(request, found)
    fields = said_of(shelf, token)
    try:
        wishes = wishes_of(found, fields)
    except LengthwiseError as error:
        return _understood(request, found, token, ImportWishes(person=found.about), None, told(error))
    job = look_job(shelf, token, fields, wishes)
    if not finished(job):
        return _working(request, found, job, f"/log/{found.number}/import/{token}", "Looking into the table, row by row.")
    if request.headers.get("hx-request") == "true":
        return Response(headers={"hx-redirect": f"/log/{found.number}/import/{token}"})
    broken = job.future.exception()
    if isinstance(broken, LengthwiseError):
        return _understood(request, found, token, wishes, None, told(broken))
    seen = job.future.result()
    return _understood(request, found, token, wishes, seen, tuple(FOR_THE_COMMAND.sub("", fault) for fault in seen.faults))


def _working(
    request: Request, found: Into, job: Job[Any], asks: str, words: str, sent: dict[str, str] | None = None
) -> HTMLResponse:
    """How far a job is: a page of its own, or the part of one that asked."""
    values = working(job, words, asks, sent)
    if request.headers.get("hx-request") == "true":
        return page(request, "parts/working.html", values)
    return page(request, "importing.html", {**values, "here": "log", "found": found})


@router.post("/log/{number:log}/import/{token}", Role.OWN)
def confirm(request: Request, found: Log, token: str, form: Sent) -> Response:
    """Look again with what was corrected, or keep every row."""
    fields = {k: v for k, v in form.items() if isinstance(v, str) and len(v) <= 300}
    keep_said(_shelf(request, found), token, fields)
    if fields.get("do") != "keep":
        return _shown(found, token)
    return _keep(request, found, token)


@router.post("/log/{number:log}/import/{token}/keep", Role.OWN)
def keep(request: Request, found: Log, token: str) -> Response:
    """How far keeping every row is, and on to what was kept."""
    return _keep(request, found, token)


@router.post("/log/{number:log}/import-undo", Role.OWN)
def undo(found: Log, entry: Annotated[int, Form(ge=1)]) -> RedirectResponse:
    """Take a whole import back."""
    gone = log_entries.undo(found.about, entry)
    return RedirectResponse(f"/log/{found.number}/import?undone={gone.sets}", 303)


def _shelf(request: Request, found: Into) -> Shelf:
    return shelf_of(request, "table", found.number)


def _keep(request: Request, found: Into, token: str) -> Response:
    shelf, here = _shelf(request, found), f"/log/{found.number}/import"
    known = imports.known((shelf, token))
    job = known or import_job(shelf, token, wishes_of(found, said_of(shelf, token)), account_of(request))
    if not finished(job):
        return _working(request, found, job, f"{here}/{token}/keep", "Keeping the table, row by row.", {"token": token})
    error = job.future.exception()
    if error is not None and not isinstance(error, LengthwiseError):
        raise error
    if error is not None:
        return _onward(request, f"{here}/{token}")  # where its faults stand beside what they are about
    done = job.future.result()
    entry = f"entry={done.entry}&" if done.entry is not None else ""
    return _onward(request, f"{here}?{entry}sets={done.staged.sets}&sessions={done.staged.sessions}")


def _onward(request: Request, address: str) -> Response:
    if request.headers.get("hx-request") == "true":
        return Response(headers={"hx-redirect": address})
    return RedirectResponse(address, 303)


def _understood(
    request: Request, found: Into, token: str, wishes: ImportWishes, seen: Understanding | None, faults: tuple[str, ...]
) -> HTMLResponse:
    file = upload_of(_shelf(request, found), token)
    header, rows = first_rows(file)
    asked = {name: meaning for meaning, name in wishes.columns.items() if name}
    meant = {name: str(meaning) for meaning, name in seen.columns.items()} if seen else asked or _guessed(header)
    looked = {"token": token, "file": file.name, "columns": _columns(header, rows, meant), "seen": seen}
    foreign = next((header[i] for m, i in guess_columns(header).items() if m == "person"), "") if found.name else ""
    return _page(request, found, faults, 422 if faults else 200, {**looked, "foreign": foreign, "wishes": wishes})


def _guessed(header: tuple[str, ...]) -> dict[str, str]:
    return {header[i]: meaning for meaning, i in guess_columns(header).items()}


def _columns(header: tuple[str, ...], rows: tuple[tuple[str, ...], ...], meant: dict[str, str]) -> list[dict[str, Any]]:
    """Each column with what it means and its first cells."""
    return [
        {"name": name, "meaning": meant.get(name, ""), "cells": [row[i] for row in rows if i < len(row)]}
        for i, name in enumerate(header)
        if name
    ]


def _meanings(found: Into) -> list[str]:
    return [m for m in MEANINGS if m != "person" or found.name is None]


def wishes_of(found: Into, fields: Mapping[str, str]) -> ImportWishes:
    """What a user says about a file: a meaning for each column, lifts by spelling.

    Raises:
        InputError: two columns are to mean the same.
    """
    if not fields:
        return ImportWishes(person=found.about)
    columns = dict.fromkeys((str(m) for m in MEANINGS), "")
    for key in (k for k in fields if k.startswith("name.")):
        meaning = fields.get(f"meaning.{key.removeprefix('name.')}", "")
        if columns.get(meaning):
            raise InputError(f"{meaning.replace('_', ' ')}: {columns[meaning]!r} and {fields[key]!r} cannot both be it; choose one")
        if meaning in columns:
            columns[meaning] = fields[key]
    spelt = {k.removeprefix("spelling."): v for k, v in fields.items() if k.startswith("spelling.")}
    lifts = {v: fields[f"lift.{i}"] for i, v in spelt.items() if fields.get(f"lift.{i}", "").strip()}
    return ImportWishes(
        person=found.about,
        columns={m: name for m, name in columns.items() if m in _meanings(found)},
        dates=fields.get("dates") or None,
        decimal=fields.get("decimal") or None,
        unit=fields.get("unit") or None,
        lifts=lifts,
        skip_faulty="skip_faulty" in fields,
        keep_repeats="keep_repeats" in fields,
    )


def _page(
    request: Request,
    found: Into,
    faults: tuple[str, ...] = (),
    status: int = 200,
    looked: dict[str, Any] | None = None,
    done: dict[str, int | None] | None = None,
) -> HTMLResponse:
    values = {
        "here": "log",
        "found": found,
        "faults": faults[:SHOWN],
        "more": max(0, len(faults) - SHOWN),
        "looked": looked,
        "done": done or {},
        "meanings": _meanings(found),
        "shared": () if found.name else [e for e in log_entries.list_entries(n=LOOKED_BACK) if e.client is None],
        "lifts": {i: lift.name for i, lift in all_lifts().lifts.items()},
        "largest_mb": TABLE.largest // 1_000_000,
    }
    return page(request, "import.html", values, status)
