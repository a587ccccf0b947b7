"""A client's course as JSON, and the answer to one proposal. Both may take long and then answer 202; ask the same again."""

from datetime import date
from typing import Annotated

from fastapi import Query, Request
from fastapi.responses import Response

from lengthwise.actions.review import decision_answer
from lengthwise.actions.review_answer import review_answer
from lengthwise.errors import InputError
from lengthwise.web.api.progress_models import AnswerIn, DecisionOut, ReviewOut
from lengthwise.web.api.waiting import BEING_COMPUTED, not_yet, sent
from lengthwise.web.asking import Seen
from lengthwise.web.client_jobs import jobs
from lengthwise.web.kept_clients import account_of
from lengthwise.web.reviews import answer_job, review_job
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.week_days import day_so_far

router = Routes(tags=["progress"])


@router.get("/progress/{number:client}", response_model=ReviewOut, responses=BEING_COMPUTED)
@open_to(Role.OWN)
def review(
    found: Seen, on: Annotated[date | None, Query(description="as of this day; today where none is named")] = None
) -> Response:
    """The review of a day: strength, size, volume, pain, and what is proposed."""
    job = jobs.ask(*review_job(found, day_so_far(on)))
    told = not_yet(job)
    if told is not None:
        return told
    made = job.future.result()
    if isinstance(made, str):
        raise InputError(made, asked=found.number)
    return sent(ReviewOut, review_answer(made))


@router.post("/progress/{number:client}/answers", response_model=DecisionOut, responses=BEING_COMPUTED)
@open_to(Role.COACH)
def answer(request: Request, found: Seen, new: AnswerIn) -> Response:
    """Accept or refuse one proposal; what is sent again is not done again."""
    job = answer_job(found, account_of(request), new.key, new.say)
    return not_yet(job) or sent(DecisionOut, decision_answer(job.future.result()))
