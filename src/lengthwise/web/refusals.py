"""What somebody is answered who may not ask: to sign in first, or no."""

from typing import Literal
from urllib.parse import urlencode

from fastapi import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from lengthwise.records import accounts
from lengthwise.records.accounts import accounts_exist
from lengthwise.web.asker import asker_of
from lengthwise.web.fault_answers import Fault, answer
from lengthwise.web.noted import refusals
from lengthwise.web.routes import methods_at
from lengthwise.web.security import SAFE_METHODS, split_address

NO_ACCOUNTS = "there are no accounts yet, so only this machine is served; create one with `lengthwise account add`"
NOT_YOURS = "this account may not do that; a coach can"


def _asked_page(request: Request) -> str:
    """The page that was asked, or the one a part of it was asked for; of what is only sent, the page above it."""
    page = split_address(request.headers.get("hx-current-url", ""))
    path, query = (page.path, page.query) if page.path else (request.scope["path"], request.url.query)
    while (methods := methods_at(request.app.routes, path)) and "GET" not in methods:
        path, query = path.rpartition("/")[0] or "/", ""
    return path + (f"?{query}" if query else "")


def refused(request: Request) -> Response:
    """The answer to somebody who may not ask: sign in first, choose a password first, or no."""
    account = asker_of(request).account
    if asker_of(request).must_choose:
        return _sent_on(
            request, 403, Fault(error="choose_password", message="choose your own password first, at /account"), "/account"
        )
    if account is not None and refusals.may(account.number):
        accounts.note_refusal(account, f"{request.method} {request.scope['path']}")
    if asker_of(request).is_known:
        return answer(request, 403, Fault(error="not_allowed", message=NOT_YOURS))
    if not accounts_exist():
        return answer(request, 403, Fault(error="not_allowed", message=NO_ACCOUNTS))
    onward = f"/sign-in?{urlencode({'next': _asked_page(request)})}"
    return _sent_on(request, 401, Fault(error="sign_in", message="sign in first, at /sign-in"), onward)


def unconfirmed(request: Request, wanted: Literal["confirm", "factor"]) -> Response:
    """The answer to somebody who has to give the password again, or to set up a second factor, before what is delicate."""
    if wanted == "factor":
        fault = Fault(error="second_factor", message="from another machine this needs a second factor; set it up at /account")
        return _sent_on(request, 403, fault, "/account?wanted=factor")
    back = _asked_page(request) if request.method in SAFE_METHODS else _page_before(request)
    fault = Fault(error="confirm", message="give your password again, at /account/confirm")
    return _sent_on(request, 403, fault, f"/account/confirm?{urlencode({'next': back})}")


def _page_before(request: Request) -> str:
    """The page whose form was sent; the first page where the browser does not say."""
    page = split_address(request.headers.get("hx-current-url") or request.headers.get("referer", ""))
    return page.path or "/"


def _sent_on(request: Request, status: int, fault: Fault, onward: str) -> Response:
    """A fault for programs; for people the page to go to first."""
    headers = {"cache-control": "no-store"}
    if request.scope["path"].startswith("/api/"):
        return JSONResponse(fault.model_dump(), status, headers)
    if request.headers.get("hx-request") == "true":
        return Response(status_code=status, headers={**headers, "hx-redirect": onward})
    return RedirectResponse(onward, 303, headers)
