"""Two to four lifts on the same body."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from lengthwise.actions import lifts as lift_actions
from lengthwise.actions.choosing import compare_answer, compare_lifts
from lengthwise.errors import UnknownNameError
from lengthwise.mechanics.profile import Request as ProfileRequest
from lengthwise.web.answers import computing, texts
from lengthwise.web.rendering import page
from lengthwise.web.who import who_of

router = APIRouter()
Lifts = Annotated[list[str], Query(max_length=4)]
MOST = 4


@router.get("/side-by-side")
def side_by_side(request: Request, lift: Lifts = []) -> HTMLResponse:  # noqa: B006 - FastAPI copies it
    """The lifts of the address, with room for others."""
    found = lift_actions.all_lifts()
    ids, strange = [], []
    for name in filter(None, lift):
        try:
            ids.append(found.find(name))
        except UnknownNameError as error:
            strange.append(str(error))
    chosen = list(dict.fromkeys(ids))
    names = sorted((own.name, lift_id) for lift_id, own in found.lifts.items())
    values = {
        "here": "side",
        "chosen": [(i, found.lifts[i]) for i in chosen],
        "lifts": names,
        "strange": strange,
        "room": MOST - len(chosen),
    }
    return page(request, "side_by_side.html", values)


@router.get("/side-by-side/answer")
def answer(request: Request, lift: Annotated[list[str], Query(min_length=2, max_length=4)]) -> HTMLResponse:
    """What each head gains from which lift: the part of the page that has to be computed."""
    person = who_of(request).person

    def make() -> object:
        with computing:
            return compare_answer(compare_lifts(lift, person, ProfileRequest()))

    return page(request, "parts/compared.html", {"c": texts.get(("compared", person, tuple(lift)), make)})
