"""A client's course: strength, growth against measurement error, volume, pain; and proposals, each accepted or refused by hand."""

from datetime import date
from typing import Annotated, Any

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.actions.answered import answered_lately
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.review import review_client
from lengthwise.actions.review_answer import proposal_answer
from lengthwise.actions.sheets import progress_paper
from lengthwise.errors import LengthwiseError
from lengthwise.report.typeset import Paper, pdf
from lengthwise.storage.clients import StoredClient
from lengthwise.training.review import Review
from lengthwise.web.asking import Seen
from lengthwise.web.client_jobs import done_or_how_far, when_done
from lengthwise.web.faults import Fault
from lengthwise.web.kept_clients import account_of, is_coach
from lengthwise.web.pages.log import onward
from lengthwise.web.rendering import page
from lengthwise.web.reviews import Say, answer_job, figure_file, learned, review_figures, review_job
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.week_days import day_so_far

router = Routes()
On = Annotated[date | None, Query()]
READING = "Reading the log and the weeks…"
DECIDING = {
    "accept": "Accepting. The record is changed and the next week planned with it…",
    "refuse": "Refusing. The log is read once more…",
}


@router.get("/progress")
@open_to(Role.SIGNED_IN)
def whose(request: Request) -> Response:
    """On to the progress of whoever is picked."""
    return onward(request, "progress", "Progress")


@router.get("/progress/{number:client}")
@open_to(Role.OWN)
def progress(request: Request, found: Seen, on: On = None) -> HTMLResponse:
    """The frame; what was found comes when it has been computed."""
    day = day_so_far(on)
    values = {"here": "progress", "found": found, "today": date.today(), "day": day}
    return page(request, "progress.html", values)


@router.get("/progress/{number:client}/review")
@open_to(Role.OWN)
def review(request: Request, found: Seen, on: On = None) -> HTMLResponse:
    """What the log says, in figures and words, and what is proposed."""
    day = day_so_far(on)
    told = when_done(request, *review_job(found, day), READING)
    if isinstance(told, HTMLResponse):
        return told
    if isinstance(told, str):
        return page(request, "parts/no_review.html", {"why": told, "found": found})
    return page(request, "parts/review.html", _values(request, found, told, day))


def _values(request: Request, found: StoredClient, told: Review, day: date) -> dict[str, Any]:
    pictures = [(p.name, p.sentence) for p in review_figures(found, day).values()]
    return {
        "found": found,
        "review": told,
        "names": {i: lift.name for i, lift in all_lifts().lifts.items()},
        "proposals": [proposal_answer(p, n) for n, p in enumerate(told.proposals, 1)],
        "answered": answered_lately(found.number, told),
        "pictures": pictures,
        "day": day,
        "may_answer": day == date.today() and is_coach(request),
    }


@router.get("/progress/{number:client}/picture/{name}.png")
@open_to(Role.OWN)
def picture(found: Seen, name: str, on: On = None) -> Response:
    """One figure of the review, as things stand when it is asked for.

    Raises:
        InputError: nothing was logged by then. UnknownNameError: the review has no such figure.
    """
    made = figure_file(found, day_so_far(on), name)
    return Response(made, media_type="image/png", headers={"cache-control": "private, max-age=300"})


@router.post("/progress/{number:client}/answer")
@open_to(Role.COACH)
def answer(
    request: Request,
    found: Seen,
    key: Annotated[str, Form(max_length=300)],
    say: Annotated[Say, Form()],
) -> HTMLResponse:
    """Accept or refuse one proposal beside the page; the record and the next week change with an accepted one, and with nothing else."""
    job = answer_job(found, account_of(request), key, say)
    try:
        told = done_or_how_far(request, job, DECIDING[say], {"key": key, "say": say})
    except LengthwiseError as error:
        fault = Fault(error=error.kind, message=str(error))
        return page(request, "parts/fault.html", {"fault": fault, "title": "Nothing was changed"})
    if isinstance(told, HTMLResponse):
        return told
    return page(request, "parts/decided.html", {"found": found, "d": told, "say": say})


@router.get("/progress/{number:client}/report.pdf")
@open_to(Role.OWN)
def report(found: Seen, size: Annotated[Paper, Query()] = "a4", on: On = None) -> Response:
    """The report on paper."""
    name, day = found.client.name, day_so_far(on)
    headers = {"content-disposition": f'attachment; filename="progress_{day}.pdf"'}
    return Response(
        pdf(progress_paper(review_client(name, day, True, learned=learned)), size), media_type="application/pdf", headers=headers
    )
