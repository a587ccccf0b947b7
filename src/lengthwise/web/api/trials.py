"""Trials beside the model."""

from typing import Annotated, Any

from fastapi import Query, Request
from fastapi.responses import JSONResponse, Response

from lengthwise.actions.choosing import published_comparisons
from lengthwise.grading.trials import TrialFile, Unbuildable, check_heads
from lengthwise.web.answers import answered
from lengthwise.web.api.models import Out, Part, Progress
from lengthwise.web.client_jobs import jobs
from lengthwise.web.jobs import finished
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.trial_jobs import check_size, trials_job
from lengthwise.web.who import Who, person_of

router = Routes(tags=["choosing"])
LATER: dict[int | str, dict[str, Any]] = {202: {"model": Progress, "description": "being computed: ask again in a moment"}}


class ArmBesideModel(Out):
    """An arm as a lift of the library, and the measure in it."""

    lift: str
    range: Part
    setup: dict[str, float]
    value: float


class ComparisonBesideModel(Out):
    """What a trial found beside what the model says; `observed` holds only a sign where `direction_only`."""

    trial: str
    head: str
    a: ArmBesideModel
    b: ArmBesideModel
    predicted: float
    observed: float
    direction_only: bool
    agree: bool
    source: str
    note: str


class Concordance(Out):
    """How often they agree, with an exact 95 % interval."""

    agree: int
    of: int
    interval: list[float]


class NotSolved(Out):
    """A comparison that this body or the library does not allow."""

    trial: str
    head: str
    why: str


class Trials(Out):
    """Every comparison, misses included. Comparisons of one trial are not independent, so the intervals are too narrow."""

    measure: str
    band: float
    comparisons: list[ComparisonBesideModel]
    concordance: Concordance
    where_trials_differ: Concordance
    where_trials_find_none: Concordance
    not_solved: list[NotSolved]
    not_buildable: list[Unbuildable]


@router.get("/trials", response_model=Trials, responses=LATER)
@open_to(Role.SIGNED_IN)
def trials(request: Request, asked: Annotated[Who, Query()]) -> Response:
    """Published trials of two arms beside the model on a body, head by head."""
    return _beside(request, asked, published_comparisons())


@router.post("/trials", response_model=Trials, responses=LATER)
@open_to(Role.COACH)
def own_trials(request: Request, asked: Annotated[Who, Query()], found: TrialFile) -> Response:
    """Comparisons of one's own beside the model, as a file of trials holds them."""
    check_size("comparisons", found)
    check_heads("comparisons", found)
    return _beside(request, asked, found)


def _beside(request: Request, asked: Who, found: TrialFile) -> Response:
    key, work = trials_job(person_of(request, asked), found)
    job = jobs.ask(key, work)
    if not finished(job):
        return JSONResponse({"done": job.done, "total": job.total}, 202, {"cache-control": "no-store"})
    return answered(request, key, Trials, job.future.result)
