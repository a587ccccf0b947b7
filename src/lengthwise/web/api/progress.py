"""A client's course as JSON, and the answer to one proposal. Both may take long and then answer 202; ask the same again."""

from datetime import date
from typing import Annotated, Literal

from fastapi import Query, Request
from fastapi.responses import Response
from pydantic import Field

from lengthwise.actions.review import Decision
from lengthwise.errors import InputError
from lengthwise.questions.answers import model_of
from lengthwise.training.review import Review
from lengthwise.web.api.client_models import In
from lengthwise.web.api.waiting import BEING_COMPUTED, not_yet, sent
from lengthwise.web.asking import Seen
from lengthwise.web.client_jobs import jobs
from lengthwise.web.kept_clients import account_of
from lengthwise.web.reviews import answer_job, review_job
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.week_days import day_so_far

router = Routes(tags=["progress"])
ReviewOut, DecisionOut = model_of(Review), model_of(Decision)


class AnswerIn(In):
    """One proposal accepted or refused."""

    key: Annotated[str, Field(min_length=1, max_length=300, description="of the proposal, as the review gave it")]
    say: Literal["accept", "refuse"]


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
    return sent(ReviewOut, made)


@router.post("/progress/{number:client}/answers", response_model=DecisionOut, responses=BEING_COMPUTED)
@open_to(Role.COACH)
def answer(request: Request, found: Seen, new: AnswerIn) -> Response:
    """Accept or refuse one proposal; what is sent again is not done again."""
    job = answer_job(found, account_of(request), new.key, new.say)
    return not_yet(job) or sent(DecisionOut, job.future.result())
