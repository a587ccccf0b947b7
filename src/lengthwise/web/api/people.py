"""Questions about kept clients."""

from typing import Annotated

from fastapi import APIRouter, Path, Request

from lengthwise.actions import accounts, store
from lengthwise.actions.clients import gaps, screening_of
from lengthwise.actions.people import client_of
from lengthwise.training.client import Client
from lengthwise.web.api.client_models import PeopleOut, PersonOut, RecordOut
from lengthwise.web.kept_clients import account_of, kept_client, visible

router = APIRouter(tags=["people"])
Number = Annotated[int, Path(ge=1, le=999_999_999, description="number of a kept client", examples=[1])]


@router.get("/people", response_model=PeopleOut)
def people(request: Request) -> PeopleOut:
    """The clients that whoever asks may see."""
    rows = []
    for c in visible(request):
        outcome = screening_of(c.client)
        days = [str(d.day) for d in c.client.days]
        answer = outcome.answer if outcome else "not answered"
        rows.append(PersonOut(number=c.number, name=c.client.name, days=days, screening=answer, gaps=gaps(c.client)))
    return PeopleOut(people=rows)


@router.get("/people/{number}/record", response_model=RecordOut)
def record(number: Number) -> RecordOut:
    """One client's record."""
    found = kept_client(number)
    return RecordOut(number=number, record=found.client.model_dump(mode="json"))


@router.put("/people/{number}/record", response_model=RecordOut)
def change(request: Request, number: Number, new: Client) -> RecordOut:
    """Keep a record in place of the one there is."""
    kept_client(number)
    checked = client_of(new.model_dump(mode="json"), "record")
    store.save_client(checked, number)
    accounts.note("record changed", account_of(request), number)
    return RecordOut(number=number, record=checked.model_dump(mode="json"))
