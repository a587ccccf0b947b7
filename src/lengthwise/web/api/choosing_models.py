"""What goes in and out under /api where lifts are ordered."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.grading.criterion_weights import LARGEST

Criterion = Annotated[str, Field(max_length=40)]
WeightValue = Annotated[float, Field(ge=0, le=LARGEST)]


class NewWeights(BaseModel):
    """A set of weights to be kept: another with some changed."""

    model_config = ConfigDict(extra="forbid")

    base: Annotated[str, Field(max_length=60, description="the set that it starts from")] = "default"
    changed: Annotated[
        dict[Criterion, WeightValue], Field(default_factory=dict, max_length=20, description="weights by criterion, 0 to 100")
    ]
