"""The log of one client: what was done, sent once or more often and kept once."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated, Any, ClassVar

from fastapi import Query, Request, Response

from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.definition import Lift
from lengthwise.questions.answers import model_of
from lengthwise.records import log_entries as actions
from lengthwise.records.log_once import KeptOnce, Sender, add_line_once, add_measurement_once, add_sets_once
from lengthwise.storage.entries import Entry, Undone
from lengthwise.training.client import StoredClient
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.measure_kinds import MeasureKind
from lengthwise.web.api.client_models import LineIn, MeasurementIn, SetsIn
from lengthwise.web.api.waiting import Number, sent
from lengthwise.web.asker import Seen
from lengthwise.web.kept_clients import account_of
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["log"])
A_MONTH = timedelta(days=31)


@dataclass(frozen=True)
class NamedSet:
    """A set of the log with its lift's name."""

    PUBLIC: ClassVar = "lift=done.lift name *@done{load_kg repetitions reserve range pain note warm_up}"

    done: LoggedSet
    name: str


@dataclass(frozen=True)
class Visit:
    """A visit; readiness 1 (poor) to 5 (very good), where it was asked."""

    PUBLIC: ClassVar = "*@session{number day minutes readiness note} sets"

    session: Session
    sets: tuple[NamedSet, ...]


@dataclass(frozen=True)
class Log:
    """A client's log between two days, and the last entries that still stand."""

    PUBLIC: ClassVar = "sessions entries@entries{number what kind}"

    sessions: tuple[Visit, ...]
    entries: tuple[Entry, ...]


@dataclass(frozen=True)
class Entries:
    """The last things entered, newest first, those taken back included."""

    entries: tuple[Entry, ...]


KeptOut, EntryOut = model_of(KeptOnce), model_of(Undone)
SENT: dict[int | str, dict[str, Any]] = {200: {"model": KeptOut, "description": "it had been kept before"}}


@router.get("/log/{number:client}", Role.OWN, response_model=model_of(Log))
def read(
    found: Seen,
    first: Annotated[date | None, Query(description="first day; a month before the last where none is named")] = None,
    last: Annotated[date | None, Query(description="last day; today where none is named")] = None,
) -> Response:
    """The sessions between two days, and the last entries that can be taken back."""
    end = last or date.today() + timedelta(days=1)
    start = first or max(end, date(1, 3, 1)) - A_MONTH
    sessions, lifts = actions.read_log(found.number, start, end), all_lifts().lifts
    visits = tuple(Visit(s, tuple(named(x, lifts) for x in s.sets)) for s in sessions)
    standing = tuple(e for e in actions.list_entries(found.number, 20) if e.undone_at is None)
    return sent(model_of(Log), Log(visits, standing))


@router.get("/log/{number:client}/entries", Role.OWN, response_model=model_of(Entries))
def entries(found: Seen, n: Annotated[int, Query(ge=1, le=200, description="how many of the last")] = 20) -> Response:
    """What was entered or imported last, those taken back included."""
    return sent(model_of(Entries), Entries(actions.list_entries(found.number, n)))


@router.get("/log/{number:client}/measurements", Role.OWN, response_model=model_of(actions.Measurements))
def measurements(found: Seen, kind: Annotated[MeasureKind | None, Query(description="of one kind alone")] = None) -> Response:
    """Body measurements by day."""
    return sent(model_of(actions.Measurements), actions.Measurements(actions.read_measurements(found.number, kind)))


def named(s: LoggedSet, lifts: Mapping[str, Lift]) -> NamedSet:
    """A logged set with its lift's name; `lifts` are those of the library."""
    return NamedSet(s, lifts[s.lift].name if s.lift in lifts else s.lift)


@router.post("/log/{number:client}/sets", Role.OWN, response_model=KeptOut, status_code=201, responses=SENT)
def add_sets(request: Request, found: Seen, new: SetsIn) -> Response:
    """Keep sets, whole or not at all."""
    return _kept(add_sets_once(_sender(request, found, new.key), new.session))


@router.post("/log/{number:client}/line", Role.OWN, response_model=KeptOut, status_code=201, responses=SENT)
def add_line(request: Request, found: Seen, new: LineIn) -> Response:
    """Keep the sets of a line such as `3x8 @ 60 r2`."""
    sender = _sender(request, found, new.key)
    return _kept(add_line_once(sender, found.client.mass_unit, new.lift, new.line, new.day))


@router.post("/log/{number:client}/measurements", Role.OWN, response_model=KeptOut, status_code=201, responses=SENT)
def add_measurement(request: Request, found: Seen, new: MeasurementIn) -> Response:
    """Keep a measurement."""
    return _kept(add_measurement_once(_sender(request, found, new.key), new.measured))


@router.delete("/log/{number:client}/entries/{entry}", Role.OWN, response_model=EntryOut)
def take_back(found: Seen, entry: Number) -> Response:
    """Undo something entered, as a whole."""
    return sent(EntryOut, actions.undo(found.number, entry))


def _sender(request: Request, found: StoredClient, key: str) -> Sender:
    account = account_of(request)
    return Sender(found.number, key, account.name if account else "")


def _kept(found: KeptOnce) -> Response:
    return sent(KeptOut, found, 200 if found.known else 201)
