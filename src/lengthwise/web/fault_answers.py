"""Errors as answers: a page for people, one JSON object for programs."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import reduce
from typing import Any

from fastapi import Request
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict

from lengthwise.errors import DataFileError, InputError, LengthwiseError, NoSolutionError, UnknownNameError
from lengthwise.web.background import TooMany
from lengthwise.web.rendering import page
from lengthwise.web.security import SAFE_METHODS


class NotTogether(InputError):
    """What was sent is as described part by part, but its parts do not go together."""

    kind = "not_together"


@contextmanager
def each_as_described() -> Iterator[None]:
    """Around a question whose parts are as the interface describes them: what is refused then is how they go together.

    Raises:
        NotTogether: in place of what was refused. UnknownNameError: as it is.
    """
    try:
        yield
    except UnknownNameError:
        raise
    except (InputError, DataFileError) as error:
        raise NotTogether(str(error), asked=error.asked, allowed=error.allowed) from error


FOR_THE_COMMAND = re.compile(r";? ?say --.*$")


def told(error: LengthwiseError, *inside: str) -> tuple[str, ...]:
    """Every fault of an error, without what only the command understands, and without words for what is inside here."""
    lines = error.faults if isinstance(error, DataFileError) else str(error).splitlines()
    return tuple(
        FOR_THE_COMMAND.sub("", reduce(lambda said, word: said.replace(word, ""), inside, line)) for line in lines if line.strip()
    )


TITLES = {
    404: "Not found",
    405: "This address cannot do that",
    409: "No solution",
    429: "Too many requests at once",
    422: "Something in this is not allowed",
    503: "Stopped",
}


class Fault(BaseModel):
    """What went wrong: what was asked, what was found, what is allowed."""

    model_config = ConfigDict(extra="forbid")

    error: str
    message: str
    asked: Any = None
    allowed: list[Any] = []


RESPONSES: dict[int | str, dict[str, Any]] = {
    400: {"model": Fault, "description": "a body that cannot be read"},
    404: {"model": Fault, "description": "a name that the body, the catalogue or a registry does not have"},
    409: {
        "model": Fault,
        "description": "the wishes, or the parts of what was sent, contradict each other, or the body cannot hold the position",
    },
    414: {"description": "an address that is too long", "content": {"text/plain": {}}},
    422: {"model": Fault, "description": "a value that is not allowed"},
}
"""Answers that every question of the interface may get besides its own."""


STATUS: dict[type[LengthwiseError], int] = {
    UnknownNameError: 404,
    NotTogether: 409,
    TooMany: 429,
    InputError: 422,
    DataFileError: 422,
    NoSolutionError: 409,
}


def status_of(error: LengthwiseError) -> int:
    """The HTTP status of an error."""
    return next((STATUS[kind] for kind in type(error).__mro__ if kind in STATUS), 500)


def answer(request: Request, status: int, fault: Fault) -> Response:
    """The fault as JSON under /api, as part of a page for htmx (beside what was sent, so that nothing entered is lost), else as a page."""
    if request.scope["path"].startswith("/api/"):
        return JSONResponse(fault.model_dump(), status)
    part = request.headers.get("hx-request") == "true"
    title = TITLES.get(status, "Something went wrong")
    found = page(request, "parts/fault.html" if part else "fault.html", {"fault": fault, "title": title, "here": ""}, status)
    if part and request.method not in SAFE_METHODS:
        found.headers["hx-reswap"] = "beforebegin"
    return found
