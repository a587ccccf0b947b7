"""Claims of one's own: written as a short text, kept, taken out."""

from typing import Annotated

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from lengthwise.errors import LengthwiseError
from lengthwise.known import own_claims
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_clients import noted
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()
Id = Annotated[str, Query(max_length=4000)]


def _page(
    request: Request, text: str = own_claims.TEMPLATE, faults: tuple[str, ...] = (), kept: str = "", gone: str = ""
) -> HTMLResponse:
    values = {"here": "evidence", "own": own_claims.own_claims(), "text": text, "faults": faults, "kept": kept, "gone": gone}
    return page(request, "own_claims.html", values, 422 if faults else 200)


@router.get("/evidence/own-claims", Role.COACH)
def claims(request: Request, kept: Id = "", gone: Id = "") -> HTMLResponse:
    """Claims of one's own, and a template to write one."""
    known = {c.id for c in own_claims.own_claims()}
    return _page(request, kept=", ".join(i for i in kept.split(",") if i in known), gone=gone[:60])


@router.post("/evidence/own-claims", Role.COACH, response_model=None)
def add(request: Request, text: Annotated[str, Form(max_length=20_000)] = "") -> HTMLResponse | RedirectResponse:
    """Keep what was written, or say everything that is wrong with it."""
    try:
        kept = ",".join(c.id for c in own_claims.add_text(text))
    except LengthwiseError as error:
        return _page(request, text, told(error))
    noted(request, "own claims saved", detail=kept)
    return RedirectResponse(f"/evidence/own-claims?kept={kept}", 303)


@router.post("/evidence/own-claims/remove", Role.COACH, response_model=None)
def remove(request: Request, claim: Annotated[str, Form(max_length=200)]) -> HTMLResponse | RedirectResponse:
    """Take a claim of one's own out."""
    try:
        gone = own_claims.remove(claim).id
    except LengthwiseError as error:
        return _page(request, faults=told(error))
    noted(request, "own claim removed", detail=gone)
    return RedirectResponse(f"/evidence/own-claims?gone={gone}", 303)
