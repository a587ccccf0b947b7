"""What somebody is answered who may not ask: to sign in first, or no."""

from urllib.parse import urlencode, urlsplit

from fastapi import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from lengthwise.actions import accounts
from lengthwise.web.accounts import accounts_exist
from lengthwise.web.asking import asker_of
from lengthwise.web.faults import Fault, answer
from lengthwise.web.noted import refusals

NO_ACCOUNTS = "no account exists, so only this machine is served; make one with `lengthwise account add`"
NOT_YOURS = "this account may not do that; a coach can"


def _onward(request: Request) -> str:
    """Where to sign in, and to go on then to the page that was asked, or the one a part of it was asked for."""
    page = urlsplit(request.headers.get("hx-current-url", ""))
    path, query = (page.path, page.query) if page.path else (request.scope["path"], request.url.query)
    return f"/sign-in?{urlencode({'next': path + (f'?{query}' if query else '')})}"


def refused(request: Request) -> Response:
    """The answer to somebody who may not ask: sign in first, or no."""
    account = asker_of(request).account
    if account is not None and refusals.may(account.number):
        accounts.note_refusal(account, f"{request.method} {request.scope['path']}")
    if asker_of(request).is_known:
        return answer(request, 403, Fault(error="not_allowed", message=NOT_YOURS))
    if not accounts_exist():
        return answer(request, 403, Fault(error="not_allowed", message=NO_ACCOUNTS))
    return _to_sign_in(request)


def _to_sign_in(request: Request) -> Response:
    headers = {"cache-control": "no-store"}
    if request.scope["path"].startswith("/api/"):
        return JSONResponse(Fault(error="sign_in", message="sign in first, at /sign-in").model_dump(), 401, headers)
    if request.headers.get("hx-request") == "true":
        return Response(status_code=401, headers={**headers, "hx-redirect": _onward(request)})
    return RedirectResponse(_onward(request), 303, headers)
