"""Every error turned into an answer."""

import logging
import secrets
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
from lengthwise.web.routes import methods_at
from lengthwise.web.security import HEADERS

LOG = logging.getLogger("lengthwise.web")


def add_to(app: FastAPI) -> None:
    """Turn every error into an answer."""

    @app.exception_handler(LengthwiseError)
    def ours(request: Request, error: LengthwiseError) -> Response:
        allowed = [a if isinstance(a, str | int | float) else str(a) for a in error.allowed]
        asked = error.asked if isinstance(error.asked, str | int | float | None) else str(error.asked)
        return answer(request, status_of(error), Fault(error=error.kind, message=str(error), asked=asked, allowed=allowed))

    @app.exception_handler(RefusedAsk)
    def not_yours(request: Request, error: RefusedAsk) -> Response:
        return refused(request)

    @app.exception_handler(Unconfirmed)
    def asked_again(request: Request, error: Unconfirmed) -> Response:
        return unconfirmed(request, error.wanted)

    @app.exception_handler(GivenUp)
    def stopped(request: Request, error: GivenUp) -> Response:
        return answer(
            request,
            503,
            Fault(error="stopped", message="this was stopped, or Lengthwise is shutting down; nothing was saved; ask again"),
        )

    @app.exception_handler(StillWorking)
    def how_far(request: Request, error: StillWorking) -> Response:
        found: Response = error.told
        return found

    @app.exception_handler(RequestValidationError)
    def unread(request: Request, error: RequestValidationError) -> Response:
        words = "; ".join(_words(fault) for fault in error.errors())
        return answer(request, 422, Fault(error="bad_input", message=words))

    @app.exception_handler(Exception)
    def unforeseen(request: Request, error: Exception) -> Response:
        """Nothing of the inside is told; the mark finds the traceback in what the server has written."""
        mark = secrets.token_hex(4)
        LOG.error("fault %s: %s %r", mark, request.method, request.scope["path"][:200])
        said = f"Something went wrong inside Lengthwise. Nothing from this request was saved. In the server's output it is marked {mark}."
        found = answer(request, 500, Fault(error="fault", message=said))
        for name, value in {**HEADERS, "cache-control": "no-store"}.items():
            found.headers[name] = value
        return found

    @app.exception_handler(HTTPException)
    def other(request: Request, error: HTTPException) -> Response:
        """Whoever is not known is not told either which addresses there are."""
        if error.status_code in (404, 405) and not asker_of(request).is_known and not request.scope["path"].startswith("/built/"):
            return refused(request)
        found = answer(request, error.status_code, Fault(error="http", message=str(error.detail)))
        for name, value in (error.headers or {}).items():
            found.headers[name] = value
        if error.status_code == 405:
            found.headers["allow"] = ", ".join(sorted(methods_at(request.app.routes, request.scope["path"])))
        return found


def _words(fault: Any) -> str:
    where = ".".join(str(p) for p in fault["loc"][1:]) or str(fault["loc"][0])
    return f"{where}: found {str(fault.get('input'))[:80]!r}; {fault['msg']}"
