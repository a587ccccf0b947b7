"""Questions about choosing lifts."""

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import JSONResponse, Response

from lengthwise.actions import grading as actions
from lengthwise.grading.criteria import target_named
from lengthwise.grading.filters import Wishes, spared_joints
from lengthwise.grading.ranking import Ranking as Found
from lengthwise.mechanics.profile import Request as ProfileRequest
from lengthwise.web.answers import answered
from lengthwise.web.api.choosing_models import Ranking, RankQuestion, WeightsAnswer
from lengthwise.web.api.models import Progress
from lengthwise.web.jobs import Jobs, Told, finished

router = APIRouter(tags=["choosing"])
jobs: Jobs[Found] = Jobs()


@router.get(
    "/rank/{muscle}",
    response_model=Ranking,
    responses={202: {"model": Progress, "description": "being computed: ask again in a moment"}},
)
def rank(
    request: Request,
    muscle: Annotated[
        str, Path(max_length=60, description="a muscle such as triceps, or a head such as triceps_long", examples=["tibialis"])
    ],
    asked: Annotated[RankQuestion, Query()],
) -> Response:
    """The lifts for a muscle in order, with reasons, how sure the order is, and what was left out."""
    work = work_of(muscle, asked)
    job = jobs.ask(work.key, work)
    if not finished(job):
        return JSONResponse({"done": job.done, "total": job.total}, 202, {"cache-control": "no-store"})
    found = job.future.result()
    return answered(request, work.key, Ranking, lambda: actions.rank_answer(found, asked.minutes))


def work_of(muscle: str, asked: RankQuestion) -> "Work":
    """The question as something to be run.

    Raises:
        UnknownNameError, InputError: a muscle, gear, joint or criterion that is not there, or a value that is not allowed.
    """
    wishes = Wishes(frozenset(asked.gear), spared_joints(asked.spare), asked.minutes, asked.steady)
    question = actions.Asked(
        target_named(muscle).name,
        asked.person,
        wishes,
        tuple(dict.fromkeys(asked.range)) or ("full",),
        asked.weights,
        actions.parse_weights(asked.weight),
        asked.draws,
        asked.seed,
        ProfileRequest(repetitions=asked.repetitions, reserve=asked.reserve),
    )
    return Work(question, f"{muscle} {asked.model_dump_json()} {actions.weights_of(question)}")


class Work:
    """A ranking that tells how far it is; `key` says what was asked, its weights included."""

    def __init__(self, asked: actions.Asked, key: str) -> None:
        self._asked, self.key = asked, key

    def __call__(self, tell: Told) -> Found:
        """The ranking."""
        return actions.rank_lifts(self._asked, tell)


@router.get("/weights", response_model=WeightsAnswer)
def weights(
    request: Request, name: Annotated[str, Query(max_length=60, description="a saved set of weights")] = "default"
) -> Response:
    """How much each criterion counts, its curve, and the claim behind it."""
    answer = actions.weights_answer(actions.weights_named(name))
    return answered(request, str(answer), WeightsAnswer, lambda: answer)
