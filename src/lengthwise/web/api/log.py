"""The log of one client: what was done, sent once or more often and kept once."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Annotated

from fastapi import Query, Request, Response

from lengthwise.actions import log as actions
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.log_once import KeptOnce, Sender, add_line_once, add_measurement_once, add_sets_once
from lengthwise.lifts.definition import Lift
from lengthwise.storage.clients import StoredClient
from lengthwise.training.log import UNIT, LoggedSet, MeasureKind, Session
from lengthwise.web.api.client_models import (
    EntriesOut,
    EntryLine,
    EntryOut,
    KeptOut,
    LineIn,
    LogOut,
    MeasurementIn,
    MeasurementOut,
    MeasurementsOut,
    SessionOut,
    SetOut,
    SetsIn,
)
from lengthwise.web.api.waiting import Number
from lengthwise.web.asking import Seen
from lengthwise.web.kept_clients import account_of
from lengthwise.web.routes import Role, Routes, open_to

router = Routes(tags=["log"])
A_MONTH = timedelta(days=31)
SENT = {200: {"model": KeptOut, "description": "it had been kept before"}}


@router.get("/log/{number:client}", response_model=LogOut)
@open_to(Role.OWN)
def read(
    found: Seen,
    first: Annotated[date | None, Query(description="first day; a month before the last where none is named")] = None,
    last: Annotated[date | None, Query(description="last day; today where none is named")] = None,
) -> LogOut:
    """The sessions between two days, and the last entries that can be taken back."""
    end = last or date.today() + timedelta(days=1)
    start = first or max(end, date(1, 3, 1)) - A_MONTH
    sessions = actions.read_log(found.number, start, end)
    entries = [
        EntryOut(number=e.number, what=e.what, kind=e.kind) for e in actions.list_entries(found.number, 20) if e.undone_at is None
    ]
    return LogOut(sessions=[session_out(s) for s in sessions], entries=entries)


@router.get("/log/{number:client}/entries", response_model=EntriesOut)
@open_to(Role.OWN)
def entries(found: Seen, n: Annotated[int, Query(ge=1, le=200, description="how many of the last")] = 20) -> EntriesOut:
    """What was entered or imported last, those taken back included."""
    listed = actions.list_entries(found.number, n)
    return EntriesOut(
        entries=[EntryLine(number=e.number, what=e.what, kind=e.kind, by=e.by, at=e.at, undone_at=e.undone_at) for e in listed]
    )


@router.get("/log/{number:client}/measurements", response_model=MeasurementsOut)
@open_to(Role.OWN)
def measurements(
    found: Seen, kind: Annotated[MeasureKind | None, Query(description="of one kind alone")] = None
) -> MeasurementsOut:
    """Body measurements by day."""
    read = actions.read_measurements(found.number, kind)
    return MeasurementsOut(
        measurements=[MeasurementOut(**{**vars(m), "values": list(m.values), "unit": UNIT[m.kind]}) for m in read]
    )


def session_out(s: Session) -> SessionOut:
    """A visit as it is sent."""
    lifts = all_lifts().lifts
    sets = [set_out(x, lifts) for x in s.sets]
    return SessionOut(number=s.number, day=s.day, minutes=s.minutes, readiness=s.readiness, note=s.note, sets=sets)


def set_out(s: LoggedSet, lifts: Mapping[str, Lift]) -> SetOut:
    """A logged set as it is sent; `lifts` are those of the library."""
    found = lifts.get(s.lift)
    return SetOut(
        lift=s.lift,
        name=found.name if found else s.lift,
        load_kg=s.load_kg,
        repetitions=s.repetitions,
        reserve=s.reserve,
        range=s.range,
        pain=list(s.pain),
        note=s.note,
        warm_up=s.warm_up,
    )


@router.post("/log/{number:client}/sets", response_model=KeptOut, status_code=201, responses=SENT)  # type: ignore[arg-type]
@open_to(Role.OWN)
def add_sets(request: Request, response: Response, found: Seen, new: SetsIn) -> KeptOut:
    """Keep sets, whole or not at all."""
    return _kept(response, add_sets_once(_sender(request, found, new.key), new.session))


@router.post("/log/{number:client}/line", response_model=KeptOut, status_code=201, responses=SENT)  # type: ignore[arg-type]
@open_to(Role.OWN)
def add_line(request: Request, response: Response, found: Seen, new: LineIn) -> KeptOut:
    """Keep the sets of a line such as `3x8 @ 60 r2`."""
    sender = _sender(request, found, new.key)
    return _kept(response, add_line_once(sender, found.client.mass_unit, new.lift, new.line, new.day))


@router.post("/log/{number:client}/measurements", response_model=KeptOut, status_code=201, responses=SENT)  # type: ignore[arg-type]
@open_to(Role.OWN)
def add_measurement(request: Request, response: Response, found: Seen, new: MeasurementIn) -> KeptOut:
    """Keep a measurement."""
    return _kept(response, add_measurement_once(_sender(request, found, new.key), new.measured))


@router.delete("/log/{number:client}/entries/{entry}", response_model=EntryOut)
@open_to(Role.OWN)
def take_back(found: Seen, entry: Number) -> EntryOut:
    """Undo something entered, as a whole."""
    gone = actions.undo(found.number, entry).entry
    return EntryOut(number=gone.number, what=gone.what, kind=gone.kind)


def _sender(request: Request, found: StoredClient, key: str) -> Sender:
    account = account_of(request)
    return Sender(found.number, key, account.name if account else "")


def _kept(response: Response, found: KeptOnce) -> KeptOut:
    if found.known:
        response.status_code = 200
    return KeptOut(entry=found.entry, known=found.known)
