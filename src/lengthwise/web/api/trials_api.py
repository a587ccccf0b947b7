"""Comparisons of one's own beside the estimate of growth; those of published trials are the question `trials`."""

from typing import Annotated

from fastapi import Query, Request
from fastapi.responses import Response

from lengthwise.grading.beside_trials import TrialsBeside
from lengthwise.grading.trial_file import TrialFile, check_heads
from lengthwise.questions.answers import encode, model_of
from lengthwise.questions.trials import QUESTION
from lengthwise.web.api.question_addresses import job_of, query_of
from lengthwise.web.api.waiting import BEING_COMPUTED, gave
from lengthwise.web.client_jobs import jobs
from lengthwise.web.kept_answers import answered
from lengthwise.web.routes import Role, Routes
from lengthwise.web.trial_files import check_size
from lengthwise.web.who import person_of

router = Routes(tags=["choosing"])
Sent = Annotated[query_of("trials"), Query()]  # type: ignore[valid-type]


@router.post("/trials", Role.COACH, response_model=model_of(TrialsBeside), responses=BEING_COMPUTED)
def own_trials(request: Request, asked: Sent, found: TrialFile) -> Response:  # type: ignore[valid-type]
    """Comparisons of one's own beside the estimate of growth, as a file of trials holds them."""
    check_size("comparisons", found)
    check_heads("comparisons", found)
    key, work = job_of("trials", QUESTION.asked(person=person_of(request, asked), own=found))
    done = gave(jobs.ask(key, work))
    return answered(request, key, model_of(TrialsBeside), lambda: encode(done))
