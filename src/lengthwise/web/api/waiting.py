"""Answers about kept clients that may take longer than a moment: they answer 202 with how far they are; ask the same again."""

from typing import Annotated, Any, TypeVar

from fastapi import Path
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict

from lengthwise.questions.answers import encode
from lengthwise.web.background import Job, StillWorking, finished

T = TypeVar("T")


class Out(BaseModel):
    """An answer: nothing in it that is not described."""

    model_config = ConfigDict(extra="forbid")


class Progress(Out):
    """A question that is being computed: ask again, within 20 s; one that nobody asks for longer is dropped while it waits for its turn."""

    done: int
    total: int


Number = Annotated[int, Path(ge=1, le=999_999_999, description="number of a kept client", examples=[1])]
BEING_COMPUTED: dict[int | str, dict[str, Any]] = {
    202: {"model": Progress, "description": "being computed: ask the same again in a moment"}
}


def gave(job: Job[T]) -> T:
    """What a job gave.

    Raises:
        StillWorking: it is not done within a moment; with how far it is.
    """
    if finished(job):
        return job.future.result()
    raise StillWorking(JSONResponse({"done": job.done, "total": job.total}, 202, {"cache-control": "no-store"}))


def sent(model: type[BaseModel], answer: Any, status: int = 200) -> Response:
    """An answer, checked against its model."""
    return Response(model.model_validate(encode(answer)).model_dump_json(), status, media_type="application/json")
