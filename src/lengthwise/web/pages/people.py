"""Clients: who is kept, whose body is computed with, and each one's record."""

from typing import Annotated, Any, get_args

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from lengthwise.actions import accounts, store
from lengthwise.actions import heads as head_actions
from lengthwise.actions.clients import gaps, screening_of, screening_questions
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import client_of as client_of_table
from lengthwise.errors import DataFileError, InputError, LengthwiseError
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.question import WEEKDAYS
from lengthwise.storage.clients import key_of
from lengthwise.training.client import Client, JointName
from lengthwise.web.kept_clients import CLIENT_COOKIE, account_of, kept, kept_client, visible
from lengthwise.web.pages.settings import A_YEAR_S, local
from lengthwise.web.record_form import MOST_KNOWN, MOST_MUSCLES, MOST_PLACES, SPARE_ROWS, FormFault, fields_of, table_of
from lengthwise.web.rendering import page
from lengthwise.web.sent_form import Sent
from lengthwise.web.uploads import forget_waiting, room_for, sent_away
from lengthwise.web.who import units_of

router = APIRouter()
NEW: dict[str, str] = {
    "sex": "woman", "training": "untrained", "training_years": "0", "pair_lifts": "yes", "place.0": "gym", "intensity": "vigorous"
}  # fmt: skip


@router.get("/people")
def people(request: Request) -> HTMLResponse:
    """The clients that may be seen, and a start where there is none."""
    shown = visible(request)
    values = {
        "here": "people",
        "people": [(c, screening_of(c.client), gaps(c.client)) for c in shown],
        "empty": not kept(),
        "muscles": list(head_actions.heads()["muscles"]),
    }
    return page(request, "people.html", values)


@router.get("/people/new")
def new(request: Request) -> HTMLResponse:
    """An empty record."""
    return record_form(request, None, dict(NEW), ())


@router.post("/people/new")
def add(request: Request, form: Sent) -> Response:
    """Keep a new client, or say everything that is wrong with its record."""
    return _kept(request, form, None)


@router.get("/people/{number:int}")
def record(request: Request, number: int) -> HTMLResponse:
    """One client's record, to be read or changed."""
    found = kept_client(number)
    return record_form(request, number, fields_of(found.client, units_of(request)), ())


@router.post("/people/{number:int}/record")
def change(request: Request, number: int, form: Sent) -> Response:
    """Keep a changed record, or say everything that is wrong with it; then nothing is changed."""
    return _kept(request, form, number)


@router.post("/people/{number:int}/pick")
def pick(request: Request, number: int, back: Annotated[str, Form(max_length=2000)] = "/people") -> RedirectResponse:
    """Compute for this client from now on."""
    kept_client(number)
    found = RedirectResponse(local(back), 303)
    secure = request.url.scheme == "https"
    found.set_cookie(CLIENT_COOKIE, str(number), max_age=A_YEAR_S, httponly=True, samesite="lax", secure=secure)
    return found


@router.post("/people/{number:int}/export")
def export(request: Request, number: int) -> Response:
    """Everything kept about a client as one zip; it is removed here as it is sent."""
    found, account = kept_client(number), account_of(request)
    token, file = room_for(number, f"{'_'.join(found.client.name.split())}.zip")
    store.export_person(found.client.name, file, account.number if account else None)
    return sent_away(number, token, file)


@router.post("/people/{number:int}/remove")
def remove(request: Request, number: int, name: Annotated[str, Form(max_length=100)] = "") -> RedirectResponse:
    """Erase everything kept about a client, where its name was typed to confirm.

    Raises:
        InputError: another name was typed; nothing was removed.
    """
    found = kept_client(number)
    if name.strip() != found.client.name:
        raise InputError(
            f"type {found.client.name!r} to remove everything kept about this client; found {name!r}; nothing was removed",
            asked=name,
        )
    account = account_of(request)
    store.erase_person(found.client.name, account.number if account else None)
    forget_waiting(number)
    gone = RedirectResponse("/people", 303)
    gone.delete_cookie(CLIENT_COOKIE)
    return gone


def _kept(request: Request, form: FormData, number: int | None) -> Response:
    fields = {k: v for k, v in form.items() if isinstance(v, str) and len(v) <= 4000}
    before = kept_client(number).client if number is not None else None
    try:
        client = _read(fields, request, before)
        if number is None:
            check_new(client)
        return keep_record(request, client, number)
    except FormFault as error:
        return record_form(request, number, fields, tuple(error.faults), 422)
    except DataFileError as error:
        return record_form(request, number, fields, tuple(f.removeprefix("record: ") for f in error.faults), 422)
    except LengthwiseError as error:
        return record_form(request, number, fields, (str(error),), 422)


def keep_record(request: Request, client: Client, number: int | None) -> Response:
    """Keep a record, and go on to its page; a new client is picked.

    Raises:
        InputError: another client has the name.
    """
    kept_as = store.save_client(client, number)
    accounts.note("record added" if number is None else "record changed", account_of(request), kept_as)
    found = RedirectResponse(f"/people/{kept_as}?kept=yes", 303)
    if number is None:
        secure = request.url.scheme == "https"
        found.set_cookie(CLIENT_COOKIE, str(kept_as), max_age=A_YEAR_S, httponly=True, samesite="lax", secure=secure)
    return found


def _read(fields: dict[str, str], request: Request, before: Client | None) -> Client:
    return client_of_table(table_of(fields, units_of(request), before), "record")


def check_new(client: Client) -> None:
    """A new client does not take the place of one who is kept.

    Raises:
        InputError: somebody of that name is kept.
    """
    if any(key_of(c.client.name) == key_of(client.name) for c in kept()):
        raise InputError(f"{client.name} is kept already; give another name, or change that record", asked=client.name)


def record_form(
    request: Request, number: int | None, filled: dict[str, str], faults: tuple[str, ...], status: int = 200
) -> HTMLResponse:
    """The form of a record with what is filled in and what is wrong with it."""
    places = [i for i in range(MOST_PLACES) if i == 0 or f"place.{i}" in filled]
    spare = [i for i in range(MOST_PLACES) if i not in places][:1]
    found = kept_client(number) if number is not None else None
    values: dict[str, Any] = {
        "here": "people",
        "f": filled,
        "number": number,
        "found": found,
        "outcome": screening_of(found.client) if found else None,
        "gaps": gaps(found.client) if found else [],
        "faults": faults,
        "kept": request.query_params.get("kept") == "yes",
        "weekdays": WEEKDAYS,
        "places": [*places, *spare],
        "gear": gear(),
        "joints": get_args(JointName),
        "known_rows": _rows(filled, "known.{}.lift", MOST_KNOWN),
        "muscle_rows": _rows(filled, "muscle.{}", MOST_MUSCLES),
        "muscles": [*head_actions.heads()["muscles"]],
        "lifts": sorted((own.name, i) for i, own in all_lifts().lifts.items()),
        "questions": screening_questions(),
        "may_change": (a := account_of(request)) is None or a.role == "coach",
    }
    return page(request, "person.html", values, status)


def _rows(filled: dict[str, str], key: str, most: int) -> range:
    used = max((i + 1 for i in range(most) if filled.get(key.format(i))), default=0)
    return range(min(most, used + SPARE_ROWS))
