"""Who may ask what: nobody signs in where no accounts exist (this machine alone); else a coach asks anything, a client about itself."""

import re
from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode, urlsplit

from fastapi import Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from lengthwise.actions import accounts
from lengthwise.storage.accounts import Account
from lengthwise.web.accounts import accounts_exist
from lengthwise.web.faults import Fault, answer
from lengthwise.web.security import SAFE_METHODS, is_address, is_this_machine

SIGN_IN_COOKIE = "signed_in"
OPEN = re.compile(r"/(sign-in|built/.*|mark\.svg|favicon\.ico)")
ABOUT = re.compile(r"/(?:api/)?(?:people|week|log|progress)/(\d+)(?:/.*)?")
COACH_ONLY = re.compile(
    r"/(accounts|audit|records|people/(new|file|demo)|api/(store|accounts))(/.*)?"
    r"|/(api/)?people/\d+/(record|file|export|remove)"
    r"|/evidence/(add-study|import|pool|studies(/.*)?)"
    r"|/api/studies(/.*)?|/own-lifts/.+"
)
CLIENT_CHANGES = re.compile(
    r"/(settings|sign-in|sign-out|people/\d+/pick|(api/)?log/\d+(/.*)?|api/week/\d+/check|week/\d+/(edit|paper))"
)
"""What a client's account may send besides asking: its own log, and how pages are shown."""

NO_ACCOUNTS = "no account exists, so only this machine is served; make one with `lengthwise account add`"


class Gate:
    """Wraps the application: knows who asks, and refuses what may not be asked."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        scope.setdefault("state", {})
        request = Request(scope)
        refusal = await run_in_threadpool(_judged, request, scope["state"])
        await (refusal or self._app)(scope, receive, send)


def _judged(request: Request, state: dict[str, Any]) -> Response | None:
    """Note who asks; what to answer instead, where it may not be asked."""
    path = request.url.path
    if re.fullmatch(r"/(built/.*|mark\.svg|favicon\.ico)", path):
        return None
    if not accounts_exist():
        return None if _from_here(request) else answer(request, 403, Fault(error="not_allowed", message=NO_ACCOUNTS))
    account = state["account"] = accounts.signed_in(request.cookies.get(SIGN_IN_COOKIE, ""))
    if OPEN.fullmatch(path):
        return None
    if account is None:
        return _to_sign_in(request)
    if not _may(account, request.method, path, request.query_params.getlist("client")):
        fault = Fault(error="not_allowed", message="this account may not do that; a coach can")
        return answer(request, 403, fault)
    return None


def _may(account: Account, method: str, path: str, bodies: list[str]) -> bool:
    about = ABOUT.fullmatch(path)
    numbers = [about[1]] if about else []
    numbers += [n for n in (b.partition(".")[0] for b in bodies) if n]
    if not all(n.isdecimal() and accounts.may_see(account, int(n)) for n in numbers):
        return False
    if account.role == "coach":
        return True
    return not COACH_ONLY.fullmatch(path) and (method in SAFE_METHODS or bool(CLIENT_CHANGES.fullmatch(path)))


def _from_here(request: Request) -> bool:
    """Whether a request comes from this machine, which needs no account; what is called by no number is a test's."""
    name = request.client.host if request.client else ""
    return not is_address(name) or is_this_machine(name)


def _to_sign_in(request: Request) -> Response:
    page = request.headers.get("hx-current-url")  # a part of a page was asked for: back to the page then
    where = urlsplit(page or str(request.url))
    asked = where.path + (f"?{where.query}" if where.query else "")
    to = f"/sign-in?{urlencode({'next': asked})}"
    if request.url.path.startswith("/api/"):
        return JSONResponse(Fault(error="sign_in", message="sign in first, at /sign-in").model_dump(), 401)
    headers: Mapping[str, str] = {"cache-control": "no-store"}
    if request.headers.get("hx-request") == "true":
        return Response(status_code=401, headers={**headers, "hx-redirect": to})
    return RedirectResponse(to, 303, dict(headers))
