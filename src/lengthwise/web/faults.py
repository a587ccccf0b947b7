"""Errors as answers: a page for people, one JSON object for programs."""

from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict
from starlette.exceptions import HTTPException
from starlette.routing import Route

from lengthwise.errors import DataFileError, InputError, LengthwiseError, NoSolutionError, UnknownNameError
from lengthwise.web.jobs import GivenUp
from lengthwise.web.rendering import page
from lengthwise.web.security import SAFE_METHODS

STATUS: dict[type[LengthwiseError], int] = {UnknownNameError: 404, InputError: 422, DataFileError: 422, NoSolutionError: 409}
TITLES = {
    404: "There is nothing called that",
    405: "That cannot be done here",
    409: "No solution",
    422: "That cannot be answered as asked",
    503: "The workbench is being stopped",
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
    409: {"model": Fault, "description": "the wishes contradict each other, or the body cannot hold the position"},
    422: {"model": Fault, "description": "a value that is not allowed"},
}
"""Answers that every question of the interface may get besides its own."""


def status_of(error: LengthwiseError) -> int:
    """The HTTP status of an error."""
    return next((STATUS[kind] for kind in type(error).__mro__ if kind in STATUS), 500)


def add_to(app: FastAPI) -> None:
    """Turn every error into an answer."""

    @app.exception_handler(LengthwiseError)
    def ours(request: Request, error: LengthwiseError) -> Response:
        allowed = [a if isinstance(a, str | int | float) else str(a) for a in error.allowed]
        asked = error.asked if isinstance(error.asked, str | int | float | None) else str(error.asked)
        return answer(request, status_of(error), Fault(error=error.kind, message=str(error), asked=asked, allowed=allowed))

    @app.exception_handler(GivenUp)
    def stopped(request: Request, error: GivenUp) -> Response:
        return answer(request, 503, Fault(error="stopped", message="the workbench is being stopped; start it and ask again"))

    @app.exception_handler(RequestValidationError)
    def unread(request: Request, error: RequestValidationError) -> Response:
        words = "; ".join(_words(fault) for fault in error.errors())
        return answer(request, 422, Fault(error="bad_input", message=words))

    @app.exception_handler(HTTPException)
    def other(request: Request, error: HTTPException) -> Response:
        found = answer(request, error.status_code, Fault(error="http", message=str(error.detail)))
        for name, value in (error.headers or {}).items():
            found.headers[name] = value
        if error.status_code == 405:
            found.headers["allow"] = ", ".join(sorted(_methods(request)))
        return found


def _methods(request: Request) -> set[str]:
    """Every method that some route at the address answers; the router itself names those of the first route alone."""
    out: set[str] = set()
    for route in request.app.routes:
        if isinstance(route, Route) and route.path_regex.match(request.url.path):
            out |= route.methods or set()
    return out


def _words(fault: Any) -> str:
    where = ".".join(str(p) for p in fault["loc"][1:]) or str(fault["loc"][0])
    return f"{where}: found {str(fault.get('input'))[:80]!r}; {fault['msg']}"


def answer(request: Request, status: int, fault: Fault) -> Response:
    """The fault as JSON under /api, as part of a page for htmx (beside what was sent, so that nothing entered is lost), else as a page."""
    if request.url.path.startswith("/api/"):
        return JSONResponse(fault.model_dump(), status)
    part = request.headers.get("hx-request") == "true"
    title = TITLES.get(status, "Something went wrong")
    found = page(request, "parts/fault.html" if part else "fault.html", {"fault": fault, "title": title, "here": ""}, status)
    if part and request.method not in SAFE_METHODS:
        found.headers["hx-reswap"] = "beforebegin"
    return found
