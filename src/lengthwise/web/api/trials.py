"""Trials beside the model."""

from typing import Annotated, Any

from fastapi import Query, Request
from fastapi.responses import JSONResponse, Response

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
    """An arm: its name in the study, what was done (every lift), and the first of the lifts by itself."""

    arm: str
    done: str
    lift: str
    range: Part
    setup: dict[str, float]
    angle: tuple[str, float, float] | None


class Spread(Out):
    """A difference of growth, first arm less second, with its 90 % interval [percentage points]."""

    mean: float
    low: float
    high: float


class ComparisonBesideModel(Out):
    """What a trial saw beside what was expected of it; `observed` holds only a side where `direction_only`."""

    trial: str
    head: str
    a: ArmBesideModel
    b: ArmBesideModel
    predicted: Spread
    observed: Spread
    direction_only: bool
    clear: bool
    agree: bool
    left_out: bool
    source: str


class Concordance(Out):
    """How often they agree, with an exact 95 % interval."""

    agree: int
    of: int
    interval: list[float]


class NotSolved(Out):
    """An arm that this body or the library does not allow."""

    arm: str
    why: str


class Sides(Out):
    """Of the clear differences and sides, how many are on the right side."""

    right: int
    of: int


class PredictorScore(Out):
    """How well one predictor does, each trial left out of what it learned from."""

    rmse: float
    log_score: float
    sign: Sides
    coverage50: float
    coverage90: float


class Trials(Out):
    """Every comparison, misses included. Comparisons of one trial are not independent, so the intervals are too narrow."""

    comparisons: list[ComparisonBesideModel]
    concordance: Concordance
    where_trials_differ: Concordance
    where_trials_find_none: Concordance
    not_solved: list[NotSolved]
    not_buildable: list[Unbuildable]
    scores: dict[str, PredictorScore]
    gains: dict[str, Any]


@router.get("/trials", response_model=Trials, responses=LATER)
@open_to(Role.SIGNED_IN)
def trials(request: Request, asked: Annotated[Who, Query()]) -> Response:
    """Published trials of two arms beside the estimate of growth on a body, each left out of it."""
    return _beside(request, asked, None)


@router.post("/trials", response_model=Trials, responses=LATER)
@open_to(Role.COACH)
def own_trials(request: Request, asked: Annotated[Who, Query()], found: TrialFile) -> Response:
    """Comparisons of one's own beside the estimate of growth, as a file of trials holds them."""
    check_size("comparisons", found)
    check_heads("comparisons", found)
    return _beside(request, asked, found)


def _beside(request: Request, asked: Who, found: TrialFile | None) -> Response:
    key, work = trials_job(person_of(request, asked), found)
    job = jobs.ask(key, work)
    if not finished(job):
        return JSONResponse({"done": job.done, "total": job.total}, 202, {"cache-control": "no-store"})
    return answered(request, key, Trials, job.future.result)
