"""Clients: who is kept, whose body is computed with, and each one's record."""

from typing import Annotated, Any, get_args

from fastapi import Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from lengthwise.body import anatomy
from lengthwise.errors import InputError, LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.shape import HOLDS, TEMPLATES
from lengthwise.practice.beginning import screening_of
from lengthwise.records import accounts, coaching, store
from lengthwise.records.people import client_of as client_of_table
from lengthwise.storage.account_rows import Account
from lengthwise.training.client import Client, StoredClient
from lengthwise.training.methods import SUPERSET, methods
from lengthwise.training.phases import phases
from lengthwise.training.places import presets
from lengthwise.training.record_words import JointName
from lengthwise.training.screening import screening_questions
from lengthwise.training.stations import stations
from lengthwise.web.asker import Seen
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_clients import account_of, drop_pick, is_coach, keep_pick, leads, visible
from lengthwise.web.pages.settings import local
from lengthwise.web.record_form import (
    BOUNDS,
    MOST_KNOWN,
    MOST_MUSCLES,
    MOST_PLACES,
    ONE_OF,
    SPARE_ROWS,
    fields_of,
    table_of,
)
from lengthwise.web.rendering import page
from lengthwise.web.routes import Care, Role, Routes
from lengthwise.web.sent_form import Sent
from lengthwise.web.uploads import forget_waiting, room_for, sent_away, shelf_of
from lengthwise.web.who import units_of
from lengthwise.weeks.clients import gaps

router = Routes()
NEW: dict[str, str] = {
    "sex": "woman", "training": "untrained", "training_years": "0", "pair_lifts": "yes", "intensity": "vigorous"
}  # fmt: skip


@router.get("/people", Role.SIGNED_IN)
def people(request: Request) -> HTMLResponse:
    """The clients that may be seen, and a start where there is none."""
    shown = visible(request)
    values = {
        "here": "people",
        "people": [(c, screening_of(c.client), gaps(c.client)) for c in shown],
        "empty": not shown and is_coach(request),
    }
    return page(request, "people.html", values)


@router.get("/people/new", Role.COACH)
def new(request: Request) -> HTMLResponse:
    """An empty record."""
    return record_form(request, None, dict(NEW), ())


@router.post("/people/new", Role.COACH)
def add(request: Request, form: Sent) -> Response:
    """Keep a new client, or say everything that is wrong with its record."""
    return _kept(request, form, None)


@router.get("/people/{number:client}", Role.OWN)
def record(request: Request, found: Seen) -> HTMLResponse:
    """One client's record, to be read or changed."""
    return record_form(request, found, fields_of(found.client, units_of(request)), ())


@router.post("/people/{number:client}/record", Role.COACH)
def change(request: Request, found: Seen, form: Sent) -> Response:
    """Keep a changed record, or say everything that is wrong with it; then nothing is changed."""
    return _kept(request, form, found)


@router.post("/people/{number:client}/pick", Role.OWN)
def pick(request: Request, found: Seen, back: Annotated[str, Form(max_length=2000)] = "/people") -> RedirectResponse:
    """Compute for this client from now on."""
    onward = RedirectResponse(local(back), 303)
    keep_pick(request, onward, found.number)
    return onward


@router.post("/people/{number:client}/export", Role.COACH, care=Care.CONFIRMED)
def export(request: Request, found: Seen) -> Response:
    """Everything kept about a client as one zip; it is removed here as it is sent."""
    account, shelf = account_of(request), shelf_of(request, "export", found.number)
    token, file = room_for(shelf, f"{'_'.join(found.client.name.split())}.zip")
    store.export_person(found.number, file, account.number if account else None)
    return sent_away(shelf, token)


@router.post("/people/{number:client}/coach", Role.LEAD, care=Care.CONFIRMED)
def give(found: Seen, coach: Annotated[str, Form(max_length=400)] = "") -> RedirectResponse:
    """Let a client be one coach's, or every coach's."""
    coaching.give_client(found.number, coach)
    return RedirectResponse(f"/people/{found.number}", 303)


@router.post("/people/{number:client}/remove", Role.COACH, care=Care.CONFIRMED)
def remove(request: Request, found: Seen, name: Annotated[str, Form(max_length=100)] = "") -> RedirectResponse:
    """Erase everything kept about a client, where its name was typed to confirm.

    Raises:
        InputError: another name was typed; nothing was removed.
    """
    if name.strip() != found.client.name:
        raise InputError(
            f"type {found.client.name!r} to delete everything about this client; found {name!r}; nothing was removed",
            asked=name,
        )
    account = account_of(request)
    store.erase_person(found.number, account.number if account else None)
    forget_waiting(found.number)
    gone = RedirectResponse("/people", 303)
    drop_pick(request, gone)
    return gone


def _kept(request: Request, form: FormData, before: StoredClient | None) -> Response:
    fields = {k: v for k, v in form.items() if isinstance(v, str) and len(v) <= 4000}
    try:
        client = _read(fields, request, before.client if before else None)
        return keep_record(request, client, before)
    except LengthwiseError as error:
        return record_form(request, before, fields, told(error, "record: "), 422)


def keep_record(request: Request, client: Client, before: StoredClient | None) -> Response:
    """Keep a record in place of the one before, and go on to its page; a new client is picked.

    Raises:
        InputError: another client has the name.
    """
    account = account_of(request)
    coach = account.number if account else None
    kept_as = store.save_client(client, before.number) if before else store.add_client(client, coach)
    accounts.note("record changed" if before else "record added", account, kept_as)
    onward = RedirectResponse(f"/people/{kept_as}?kept=yes", 303)
    if before is None:
        keep_pick(request, onward, kept_as)
    return onward


def _read(fields: dict[str, str], request: Request, before: Client | None) -> Client:
    return client_of_table(table_of(fields, units_of(request), before), "record")


def record_form(
    request: Request, found: StoredClient | None, filled: dict[str, str], faults: tuple[str, ...], status: int = 200
) -> HTMLResponse:
    """The form of a record with what is filled in and what is wrong with it."""
    places = [i for i in range(MOST_PLACES) if i == 0 or f"place.{i}" in filled]
    spare = [i for i in range(MOST_PLACES) if i not in places][:1]
    values: dict[str, Any] = {
        "here": "people",
        "f": filled,
        "number": found.number if found else None,
        "found": found,
        "outcome": screening_of(found.client) if found else None,
        "gaps": gaps(found.client) if found else [],
        "faults": faults,
        "kept": request.query_params.get("kept") == "yes",
        "weekdays": WEEKDAYS,
        "places": [*places, *spare],
        "gear": gear(),
        "presets": presets(),
        "stations": stations(),
        "templates": TEMPLATES,
        "holds": HOLDS,
        "phases": phases(),
        "ways": {k: m for k, m in methods().items() if k != SUPERSET},
        "joints": get_args(JointName),
        "one_of": ONE_OF,
        "bounds": BOUNDS,
        "known_rows": _rows(filled, "known.{}.lift", MOST_KNOWN),
        "muscle_rows": _rows(filled, "muscle.{}", MOST_MUSCLES),
        "muscles": list(anatomy.muscles()),
        "lifts": sorted((own.name, i) for i, own in all_lifts().lifts.items()),
        "questions": screening_questions(),
        "may_change": is_coach(request),
        "coaches": _coaches(request),
        "coach": coaching.coach_of(found.number) if found else None,
    }
    return page(request, "person.html", values, status)


def _coaches(request: Request) -> list[Account]:
    """The coaches whose a client may be, for whoever may say so."""
    kept = accounts.list_accounts() if leads(request) else ()
    found = [a for a in kept if a.role == "coach"]
    return found if len(found) > 1 else []


def _rows(filled: dict[str, str], key: str, most: int) -> range:
    used = max((i + 1 for i in range(most) if filled.get(key.format(i))), default=0)
    return range(min(most, used + SPARE_ROWS))
