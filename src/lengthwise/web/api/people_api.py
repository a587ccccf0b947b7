"""Kept clients and their records; what follows from one is the question `person_show`."""

from fastapi import Request

from lengthwise.practice.beginning import screening_of
from lengthwise.records import store
from lengthwise.records.people import client_of
from lengthwise.training.client import Client
from lengthwise.web.api.client_models import PeopleOut, PersonOut, RecordOut
from lengthwise.web.asker import Seen
from lengthwise.web.fault_answers import each_as_described
from lengthwise.web.kept_clients import noted, visible
from lengthwise.web.routes import Role, Routes
from lengthwise.weeks.clients import gaps

router = Routes(tags=["people"])


@router.get("/people", Role.SIGNED_IN, response_model=PeopleOut)
def people(request: Request) -> PeopleOut:
    """The clients that whoever asks may see."""
    rows = []
    for c in visible(request):
        outcome = screening_of(c.client)
        days = [str(d.day) for d in c.client.days]
        answer = outcome.answer if outcome else "not answered"
        rows.append(PersonOut(number=c.number, name=c.client.name, days=days, screening=answer, gaps=gaps(c.client)))
    return PeopleOut(people=rows)


@router.get("/people/{number:client}/record", Role.COACH, response_model=RecordOut)
def record(found: Seen) -> RecordOut:
    """One client's record."""
    return RecordOut(number=found.number, record=found.client.model_dump(mode="json"))


@router.put("/people/{number:client}/record", Role.COACH, response_model=RecordOut)
def change(request: Request, found: Seen, new: Client) -> RecordOut:
    """Keep a record in place of the one there is."""
    with each_as_described():
        checked = client_of(new.model_dump(mode="json"), "record")
    store.save_client(checked, found.number)
    noted(request, "record changed", found.number)
    return RecordOut(number=found.number, record=checked.model_dump(mode="json"))
