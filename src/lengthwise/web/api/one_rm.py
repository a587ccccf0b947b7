"""Questions about strength in a single set."""

from typing import Annotated

from fastapi import Query
from pydantic import BaseModel, ConfigDict, Field

from lengthwise.actions.strength import one_rm_answer
from lengthwise.web.api.models import Out
from lengthwise.web.routes import Role, Routes, open_to

router = Routes(tags=["strength"])


class SetQuestion(BaseModel):
    """A set that was done."""

    model_config = ConfigDict(extra="forbid")

    load: Annotated[
        float, Field(gt=0, le=1000, description="load of the set, in any unit: answers are in the same", examples=[100])
    ]
    repetitions: Annotated[int, Field(ge=1, le=50, description="repetitions done", examples=[5])]
    reserve: Annotated[float, Field(ge=0, le=10, description="repetitions that were left")] = 0


class LoadRow(Out):
    """The load for a number of repetitions: by the chosen equation, and per cent of 1RM as printed in two tables."""

    repetitions: int
    percent: float
    load: float
    printed_percent: float | None
    other_percent: float | None


class OneRm(Out):
    """The 1RM of a set by every equation, with the spread and loads for other repetitions."""

    equation: str
    one_rm: float
    low: float
    high: float
    by: dict[str, float]
    sources: dict[str, str]
    notes: list[str]
    table: list[LoadRow]


@router.get("/one-rm", response_model=OneRm)
@open_to(Role.SIGNED_IN)
def one_rm(asked: Annotated[SetQuestion, Query()]) -> OneRm:
    """The one-repetition maximum (1RM) of a set by every published equation, with the spread and what to trust."""
    return OneRm.model_validate(one_rm_answer(asked.load, asked.repetitions, asked.reserve))
