"""Questions about choosing lifts."""

from typing import Annotated

from fastapi import Path, Query, Request
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field

from lengthwise.grading.criterion_weights import LARGEST
from lengthwise.questions.answering import grading as actions
from lengthwise.questions.answers import model_of
from lengthwise.web.api.waiting import sent
from lengthwise.web.fault_answers import each_as_described
from lengthwise.web.kept_clients import noted
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["choosing"])
WeightsAnswer = model_of(actions.WeightsTold)
Criterion = Annotated[str, Field(max_length=40)]
WeightValue = Annotated[float, Field(ge=0, le=LARGEST)]


class NewWeights(BaseModel):
    """A set of weights to be kept: another with some changed."""

    model_config = ConfigDict(extra="forbid")

    base: Annotated[str, Field(max_length=60, description="the set that it starts from")] = "default"
    changed: Annotated[
        dict[Criterion, WeightValue], Field(default_factory=dict, max_length=20, description="weights by criterion, 0 to 100")
    ]


NewName = Annotated[
    str,
    Path(
        max_length=actions.LONGEST_NAME,
        pattern="^[0-9A-Za-zÀ-ÖØ-öø-ÿ_-]+$",
        description="name of a set of weights, not `default`",
        examples=["own"],
    ),
]


@router.put("/weights/{name}", Role.COACH, response_model=WeightsAnswer)
def save_weights(request: Request, name: NewName, new: NewWeights) -> Response:
    """Keep another set with some weights changed under a name, in place of what had it."""
    with each_as_described():
        made = actions.save_weights(name, new.base, new.changed)
    noted(request, "weights saved", detail=made.name)
    return sent(WeightsAnswer, actions.WeightsTold(made))


@router.get("/weights", Role.SIGNED_IN, response_model=WeightsAnswer)
def some_weights(name: Annotated[str, Query(max_length=60, description="a saved set of weights")] = "default") -> Response:
    """The usual weights, or a saved set of them; what is saved stands in `saved`."""
    return sent(WeightsAnswer, actions.WeightsTold(actions.weights_named(name)))
