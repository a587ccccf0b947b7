"""The library looked over: lifts profiled on the chosen body, and what an anatomist would question about each."""

from typing import Annotated, Any

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.body import anatomy
from lengthwise.errors import InputError
from lengthwise.known.lift_audits import AuditRow, agreement, audit_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.known.shipped_lifts import shipped
from lengthwise.web.client_jobs import gave
from lengthwise.web.own_lift_jobs import audits, sheet_job
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.uploads import sent_away, shelf_of
from lengthwise.web.who import person_shown

router = Routes()
Which = Annotated[str, Query(max_length=60)]
EVERY, OWN = "every", "own"
MOST_DRAWN = 60
"""So many lifts are drawn from the page: a minute or two."""


@router.get("/lift-audit", Role.SIGNED_IN)
def lift_audit(request: Request, which: Which = "") -> HTMLResponse:
    """The choice of lifts, and the frame for what is found."""
    counts = {name: len(ids) for name, ids in _choices().items() if ids}
    if which and which not in counts:
        raise InputError(f"no lifts are for {which!r}; allowed {', '.join(counts)}", asked=which, allowed=list(counts))
    return page(request, "lift_audit.html", {"here": "lift", "counts": counts, "which": which})


@router.get("/lift-audit/rows", Role.SIGNED_IN)
def rows(request: Request, which: Which) -> HTMLResponse:
    """What was found, odd ones first; computed beside the page.

    Raises:
        InputError: no lifts are for that muscle.
    """
    found = _looked_over(request, which)
    agree, of = agreement(found)
    values: dict[str, Any] = {
        "rows": sorted(found, key=lambda r: (not r.findings, r.name)),
        "agree": agree,
        "of": of,
        "which": which,
    }
    values["drawn"] = len(found) <= MOST_DRAWN
    return page(request, "parts/lift_audit_rows.html", values)


@router.post("/lift-audit/sheet", Role.COACH)
def make_sheet(request: Request, which: Annotated[str, Form(max_length=60)]) -> HTMLResponse:
    """Draw the lifts that were looked over on sheets of paper, beside the page.

    Raises:
        InputError: no lifts are for that muscle, or they are too many to be drawn here.
    """
    found = _looked_over(request, which)
    if len(found) > MOST_DRAWN:
        raise InputError(
            f"{len(found)} lifts; allowed {MOST_DRAWN} here, more by: lengthwise lifts audit --sheet FILE", asked=which
        )
    job = sheet_job(found, person_shown(request), shelf_of(request, "sheets"))
    return page(request, "parts/lift_sheet_made.html", {"token": gave(request, job, "Drawing lifts.", {"which": which})})


@router.get("/lift-audit/sheet/{token}", Role.SIGNED_IN)
def sheet(request: Request, token: str) -> Response:
    """The sheets that were drawn; they are removed here as they are sent."""
    shelf = shelf_of(request, "sheets")
    return sent_away(shelf, token)


def _looked_over(request: Request, which: str) -> list[AuditRow]:
    ids = _choices().get(which)
    if not ids:
        raise InputError(f"no lifts are for {which!r}", asked=which, allowed=list(_choices()))
    sent = {"which": which} if request.method == "POST" else None
    chosen, person = tuple(ids), person_shown(request)
    job = audits.ask((chosen, person), lambda tell: audit_lifts(chosen, person, progress=tell))
    return gave(request, job, "Profiling lifts.", sent)


def _choices() -> dict[str, list[str]]:
    """Ids of lifts by the muscle that they are for; all of them, and those of one's own."""
    lifts = all_lifts().lifts
    muscles = anatomy.muscles()
    by_muscle = {m: [i for i, lift in lifts.items() if lift.targets[0] in heads] for m, heads in muscles.items()}
    return {OWN: [i for i in lifts if i not in shipped().lifts], **by_muscle, EVERY: list(lifts)}
