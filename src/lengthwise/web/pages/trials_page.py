"""The estimate of growth against published trials, each left out of it; and against comparisons of one's own."""

from io import BytesIO
from typing import Annotated

from fastapi import File, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.errors import LengthwiseError
from lengthwise.grading.beside_trials import PREDICTORS
from lengthwise.grading.trial_file import TrialFile, read_trials
from lengthwise.questions.trials import QUESTION
from lengthwise.report.trials_chart import trials_chart
from lengthwise.web.api.question_addresses import job_of
from lengthwise.web.client_jobs import when_done
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_clients import is_coach
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.trial_files import check_size
from lengthwise.web.uploads import COMPARISONS, keep_upload, sent_text, shelf_of, upload_text
from lengthwise.web.who import person_shown

router = Routes()
Token = Annotated[str, Query(max_length=40)]
EXAMPLE = """[[comparison]]
trial = "Own 1"
head = "vastus_lateralis"
a = { lift = "leg_extension", range = "long" }
b = { lift = "leg_extension", range = "short" }
observed = 6.0
source = "where it is published"
"""


@router.get("/evidence/trials", Role.SIGNED_IN)
def trials(request: Request, file: Token = "") -> HTMLResponse:
    """The page; what has to be computed comes as its part."""
    try:
        name, _ = _comparisons(request, file)
    except LengthwiseError as error:
        return _page(request, "", "", told(error), 422)
    return _page(request, file, name)


@router.post("/evidence/trials", Role.COACH)
def send(request: Request, file: Annotated[UploadFile, File()]) -> Response:
    """Take a file of comparisons, or say everything that is wrong with it."""
    try:
        name, text = sent_text(file, COMPARISONS)
        _read(name, text)
        token = keep_upload(shelf_of(request, "trials"), name, BytesIO(text.encode()))
    except LengthwiseError as error:
        return _page(request, "", "", told(error), 422)
    return RedirectResponse(f"/evidence/trials?file={token}", 303)


@router.get("/evidence/trials/answer", Role.SIGNED_IN)
def answer(request: Request, file: Token = "") -> HTMLResponse:
    """Every comparison beside the model, or how far that is."""
    name, found = _comparisons(request, file)
    done = when_done(request, *job_of("trials", QUESTION.asked(person=person_shown(request), own=found)), QUESTION.waiting)
    return page(request, "parts/trials.html", {"t": done, "chart": trials_chart(done), "predictors": PREDICTORS, "own": name})


def _comparisons(request: Request, token: str) -> tuple[str, TrialFile | None]:
    """Name and comparisons of a file that was sent; none stand for the library's studies."""
    if not token:
        return "", None
    name, text = upload_text(shelf_of(request, "trials"), token)
    return name, _read(name, text)


def _read(name: str, text: str) -> TrialFile:
    found = read_trials(name, text)
    check_size(name, found)
    return found


def _page(request: Request, token: str, name: str, faults: tuple[str, ...] = (), status: int = 200) -> HTMLResponse:
    values = {"here": "evidence", "token": token, "name": name, "faults": faults, "may_send": is_coach(request), "example": EXAMPLE}
    return page(request, "trials.html", values, status)
