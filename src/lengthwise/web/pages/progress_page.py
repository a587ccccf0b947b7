"""A client's course: strength, growth against measurement error, volume, pain; and proposals, each accepted or refused by hand."""

from datetime import date
from typing import Annotated

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.days import day_so_far
from lengthwise.errors import LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.questions import named
from lengthwise.questions.answering.reviewing import review_client
from lengthwise.questions.answering.sheets import progress_paper
from lengthwise.questions.answers import encode
from lengthwise.questions.review import ReviewAsk
from lengthwise.records.answered import answered_lately
from lengthwise.report.typeset import Paper, pdf
from lengthwise.training.review import NothingLogged
from lengthwise.web.api.question_addresses import asks, job_of
from lengthwise.web.asker import Seen
from lengthwise.web.background import step
from lengthwise.web.client_jobs import gave, when_done
from lengthwise.web.fault_answers import Fault
from lengthwise.web.kept_clients import account_of, is_coach
from lengthwise.web.pages.log_page import onward
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page, page_of
from lengthwise.web.reviews import Say, answer_job, figure_file, first_review_job, learned, reading
from lengthwise.web.routes import Role, Routes

router = Routes()
On = Annotated[date | None, Query()]
READING = "Reading the log and the weeks…"
DECIDING = {
    "accept": "Accepting. The record is changed and the next week planned with it…",
    "refuse": "Refusing. The log is read once more…",
}


@router.get("/progress", Role.SIGNED_IN)
def whose(request: Request) -> Response:
    """On to the progress of whoever is picked."""
    return onward(request, "progress", "Progress")


@router.get("/progress/{number:client}", Role.OWN)
def progress(request: Request, found: Seen, on: On = None) -> HTMLResponse:
    """The frame; what was found comes when it has been computed."""
    day = day_so_far(on)
    values = {"here": "progress", "found": found, "today": date.today(), "day": day}
    return page_of(request, "progress.html", values)


@router.get("/progress/{number:client}/review", Role.OWN)
def review(request: Request, found: Seen, on: On = None) -> HTMLResponse:
    """What the log says, in figures and words; what is proposed follows, since lifts may have to be computed for it."""
    day = day_so_far(on)
    told = gave(request, reading.ask(*first_review_job(found, day)), READING)
    if isinstance(told, str):
        return page(request, "parts/no_review.html", {"why": told, "found": found})
    values = {
        "found": found,
        "review": told.review,
        "names": {i: lift.name for i, lift in all_lifts().lifts.items()},
        "pictures": told.figures,
        "day": day,
    }
    return page(request, "parts/review.html", values)


@router.get("/progress/{number:client}/proposals", Role.OWN)
def proposals(request: Request, asked: Annotated[ReviewAsk, asks("review")]) -> HTMLResponse:
    """What is proposed, with swaps out of the lifts graded for this body, and what was answered lately."""
    found = asked.client
    try:
        told = when_done(request, *job_of("review", asked), named("review").waiting)
    except NothingLogged as error:
        return page(request, "parts/no_review.html", {"why": str(error), "found": found})
    values = {
        "found": found,
        "proposals": encode(told.numbered),
        "answered": answered_lately(found.number, told),
        "may_answer": asked.day == date.today() and is_coach(request),
    }
    return page(request, "parts/proposals.html", values)


@router.get("/progress/{number:client}/picture/{name}.png", Role.OWN, in_turn=True)
def picture(found: Seen, name: str, on: On = None, narrow: bool = False) -> Response:
    """One figure of the review, as things stand when it is asked for; narrow for a phone.

    Raises:
        InputError: nothing was logged by then. UnknownNameError: the review has no such figure.
    """
    return Response(figure_file(found, day_so_far(on), name, narrow), media_type="image/png")


@router.post("/progress/{number:client}/answer", Role.COACH)
def answer(
    request: Request,
    found: Seen,
    key: Annotated[str, Form(max_length=300)],
    say: Annotated[Say, Form()],
) -> HTMLResponse:
    """Accept or refuse one proposal beside the page; the record and the next week change with an accepted one, and with nothing else."""
    job = answer_job(found, account_of(request), key, say)
    try:
        told = gave(request, job, DECIDING[say], {"key": key, "say": say})
    except LengthwiseError as error:
        fault = Fault(error=error.kind, message=str(error))
        return page(request, "parts/fault.html", {"fault": fault, "title": "Nothing was changed"})
    return page(request, "parts/decided.html", {"found": found, "d": told, "say": say})


@router.get("/progress/{number:client}/report.pdf", Role.OWN, in_turn=True)
def report(found: Seen, size: Annotated[Paper, Query()] = "a4", on: On = None) -> Response:
    """The report on paper."""
    name, day = found.client.name, day_so_far(on)
    made = progress_paper(review_client(name, day, True, step, learned))
    return saved_file(pdf(made, size), f"progress_{day}.pdf")
