"""The answer to one proposal of a review. It may take long and then answers 202; ask the same again."""

from typing import Annotated, Literal

from fastapi import Request
from fastapi.responses import Response
from pydantic import Field

from lengthwise.questions.answering.reviewing import Decision
from lengthwise.questions.answers import model_of
from lengthwise.web.api.client_models import In
from lengthwise.web.api.waiting import BEING_COMPUTED, gave, sent
from lengthwise.web.asker import Seen
from lengthwise.web.kept_clients import account_of
from lengthwise.web.reviews import answer_job
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["progress"])
DecisionOut = model_of(Decision)


class AnswerIn(In):
    """One proposal accepted or refused."""

    key: Annotated[str, Field(min_length=1, max_length=300, description="of the proposal, as the review gave it")]
    say: Literal["accept", "refuse"]


@router.post("/progress/{number:client}/answers", Role.COACH, response_model=DecisionOut, responses=BEING_COMPUTED)
def answer(request: Request, found: Seen, new: AnswerIn) -> Response:
    """Accept or refuse one proposal; what is sent again is not done again."""
    return sent(DecisionOut, gave(answer_job(found, account_of(request), new.key, new.say)))
