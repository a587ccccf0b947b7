"""What stands in a client's log: sessions, measurements, and everything entered, each of which can be taken back."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Annotated, Any, Literal

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.errors import LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.records import log_entries
from lengthwise.training.client import StoredClient
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.measure_kinds import MEASURES, SITES, MeasureKind
from lengthwise.web.asker import Seen
from lengthwise.web.kept_clients import account_of
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.units_shown import shown_units

router = Routes()
Day = Annotated[date | None, Query()]
Words = Annotated[str, Form(max_length=300)]
EIGHT_WEEKS = timedelta(weeks=8)
ENTRIES = 60
"""So many of the last entries are listed."""


@dataclass(frozen=True, kw_only=True)
class LiftDone:
    """One lift of a session: its id and name, range, sets in order, joints that hurt and notes."""

    lift: str
    name: str
    range: str
    sets: tuple[LoggedSet, ...]
    pain: tuple[str, ...]
    notes: tuple[str, ...]


@router.get("/log/{number:client}/sessions", Role.OWN)
def sessions(
    request: Request,
    found: Seen,
    first: Day = None,
    last: Day = None,
    gone: Annotated[int | None, Query(ge=1)] = None,
    rows: Annotated[int | None, Query(ge=0)] = None,
) -> HTMLResponse:
    """Sessions between two days, eight weeks where none are named, newest first; and the last entries."""
    end = last or date.today() + timedelta(days=1)
    start = first or max(end, date.min + EIGHT_WEEKS) - EIGHT_WEEKS
    return _sessions(request, found, (start, end), {"gone": gone, "rows": rows})


@router.post("/log/{number:client}/take-back", Role.OWN)
def take_back(request: Request, found: Seen, entry: Annotated[int, Form(ge=1)]) -> Response:
    """Take one entry or import back as a whole, or say why it cannot be."""
    try:
        gone = log_entries.undo(found.number, entry)
    except LengthwiseError as error:
        end = date.today() + timedelta(days=1)
        return _sessions(request, found, (end - EIGHT_WEEKS, end), {"fault": str(error)}, 422)
    rows = gone.sets + gone.measurements + gone.readiness
    return RedirectResponse(f"/log/{found.number}/sessions?gone={entry}&rows={rows}", 303)


@router.get("/log/{number:client}/measurements", Role.OWN)
def measurements(
    request: Request, found: Seen, kind: Annotated[str, Query(max_length=40)] = "", kept: Annotated[int | None, Query(ge=1)] = None
) -> HTMLResponse:
    """Measurements by day, newest first, of one kind where named; and a form for another."""
    return _measurements(request, found, kind, {"kept": kept})


@router.post("/log/{number:client}/measurements", Role.OWN)
def measure(
    request: Request,
    found: Seen,
    kind: Annotated[MeasureKind, Form()],
    day: Annotated[date, Form()],
    values: Words = "",
    site: Annotated[str, Form(max_length=40)] = "",
    side: Annotated[Literal["", "right", "left"], Form()] = "",
    note: Words = "",
) -> Response:
    """Keep a measurement, or say what is wrong with it; readings are in the units shown where they name none."""
    account = account_of(request)
    measure = MEASURES[kind]
    filled = {"kind": kind, "day": day.isoformat(), "values": values, "site": site, "side": side, "note": note}
    try:
        where = "_".join(site.split()).casefold() if measure.sited or not measure.unit else ""
        about = {"day": day, "site": where, "side": side if where else "", "note": note.strip()}
        measured = log_entries.as_read(
            kind, tuple(values.split() if measure.unit else [values.strip()]), shown_units(request), **about
        )
        entry = log_entries.add_measurement(found.number, measured, account.name if account else "")
    except LengthwiseError as error:
        return _measurements(request, found, "", {"fault": str(error), "f": filled}, 422)
    return RedirectResponse(f"/log/{found.number}/measurements?kept={entry}", 303)


def _sessions(
    request: Request, found: StoredClient, days: tuple[date, date], values: dict[str, Any], status: int = 200
) -> HTMLResponse:
    start, end = days
    fault = ""
    try:
        done = log_entries.read_log(found.number, start, end)
    except LengthwiseError as error:
        done, fault, status = (), str(error), 422
    shown = {
        "here": "log",
        "found": found,
        "first": start,
        "last": end,
        "before": max(start, date.min + EIGHT_WEEKS) - EIGHT_WEEKS,
        "sessions": [(s, lifts_of(s)) for s in reversed(done)],
        "n_set": sum(len(s.sets) for s in done),
        "entered": log_entries.list_entries(found.number, ENTRIES),
        "fault": fault,
        "gone": None,
        "rows": None,
        **values,
    }
    return page(request, "sessions.html", shown, status)


def lifts_of(session: Session) -> list[LiftDone]:
    """A session lift by lift, in the order they were done."""
    lifts = all_lifts().lifts
    out = []
    for (lift, part), group in groupby(session.sets, lambda s: (s.lift, s.range)):
        sets = tuple(group)
        pain = tuple(dict.fromkeys(joint for s in sets for joint in s.pain))
        notes = tuple(dict.fromkeys(s.note for s in sets if s.note))
        out.append(
            LiftDone(lift=lift, name=lifts[lift].name if lift in lifts else lift, range=part, sets=sets, pain=pain, notes=notes)
        )
    return out


def _measurements(request: Request, found: StoredClient, kind: str, values: dict[str, Any], status: int = 200) -> HTMLResponse:
    mass, length = shown_units(request)
    usual = {"kind": kind or "mass", "day": date.today().isoformat(), "values": "", "site": "", "side": "", "note": ""}
    kept = log_entries.read_measurements(found.number, kind or None)
    shown = {
        "here": "log",
        "found": found,
        "rows": [(m, *m.shown(mass, length)) for m in reversed(kept)],
        "kind": kind,
        "measures": [(key, m, m.shown(mass, length)[0]) for key, m in MEASURES.items()],
        "sites": sorted({*SITES, *(m.site for m in kept if m.site)}),
        "today": date.today(),
        "f": usual,
        "fault": "",
        "kept": None,
        **values,
    }
    return page(request, "measurements.html", shown, status)
