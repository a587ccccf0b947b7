"""Every error turned into an answer."""

import logging
import secrets
from collections.abc import Callable
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from lengthwise.errors import LengthwiseError
from lengthwise.web.asker import RefusedAsk, Unconfirmed, asker_of
from lengthwise.web.background import GivenUp, StillWorking
from lengthwise.web.fault_answers import Fault, answer, status_of
from lengthwise.web.refusals import refused, unconfirmed
from lengthwise.web.routes import addresses_below, methods_at
from lengthwise.web.security import HEADERS

LOG = logging.getLogger("lengthwise.web")


def add_to(app: FastAPI) -> None:
    """Turn every error into an answer."""
    for kind, handler in HANDLERS.items():
        app.add_exception_handler(kind, handler)


def _ours(request: Request, error: LengthwiseError) -> Response:
    allowed = [a if isinstance(a, str | int | float) else str(a) for a in error.allowed]
    asked = error.asked if isinstance(error.asked, str | int | float | None) else str(error.asked)
    return answer(request, status_of(error), Fault(error=error.kind, message=str(error), asked=asked, allowed=allowed))


def _stopped(request: Request, error: GivenUp) -> Response:
    words = "this was stopped, or Lengthwise is shutting down; nothing was saved; ask again"
    return answer(request, 503, Fault(error="stopped", message=words))


def _unread(request: Request, error: RequestValidationError) -> Response:
    return answer(request, 422, Fault(error="bad_input", message="; ".join(_words(fault) for fault in error.errors())))


def _unforeseen(request: Request, error: Exception) -> Response:
    """Nothing of the inside is told; the mark finds the traceback in what the server has written."""
    mark = secrets.token_hex(4)
    LOG.error("fault %s: %s %r", mark, request.method, request.scope["path"][:200])
    said = (
        f"Something went wrong inside Lengthwise. Nothing from this request was saved. In the server's output it is marked {mark}."
    )
    found = answer(request, 500, Fault(error="fault", message=said))
    found.headers.update({**HEADERS, "cache-control": "no-store"})
    return found


def _other(request: Request, error: HTTPException) -> Response:
    """Whoever is not known is not told either which addresses there are."""
    if error.status_code in (404, 405) and not asker_of(request).is_known and not request.scope["path"].startswith("/built/"):
        return refused(request)
    longer = addresses_below(request.app.routes, request.scope["path"]) if error.status_code == 404 else []
    where = request.scope["path"][:80]
    said = {404: f"There is nothing at {where}", 405: f"{where} does not take {request.method}"}.get(
        error.status_code, str(error.detail)
    ) + ("; add what it is about" if longer else "")
    found = answer(request, error.status_code, Fault(error="http", message=said, allowed=longer))
    found.headers.update(error.headers or {})
    if error.status_code == 405:
        found.headers["allow"] = ", ".join(sorted(methods_at(request.app.routes, request.scope["path"])))
    return found


HANDLERS: dict[type[Exception], Callable[[Request, Any], Response]] = {
    LengthwiseError: _ours,
    RefusedAsk: lambda request, error: refused(request),
    Unconfirmed: lambda request, error: unconfirmed(request, error.wanted),
    GivenUp: _stopped,
    StillWorking: lambda request, error: error.told,
    RequestValidationError: _unread,
    Exception: _unforeseen,
    HTTPException: _other,
}


def _words(fault: Any) -> str:
    where = ".".join(str(p) for p in fault["loc"][1:]) or str(fault["loc"][0])
    return f"{where}: found {str(fault.get('input'))[:80]!r}; {fault['msg']}"
