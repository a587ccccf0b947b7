"""Signing in and out."""

from typing import Annotated

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.records import sign_ins as actions
from lengthwise.records.accounts import accounts_exist
from lengthwise.web.cookies import A_YEAR_S, NEWS_COOKIE, drop_cookie, keep_cookie, read_cookie
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.kept_clients import drop_pick, keep_pick
from lengthwise.web.pages.settings import local
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()
Text = Annotated[str, Form(max_length=400)]
KNOWN_COOKIE = "known"
"""What a browser that has signed in is known by, so that others' failed tries do not lock it out."""


@router.get("/sign-in", Role.ANYBODY)
def form(request: Request, next: Annotated[str, Query(max_length=2000)] = "/") -> Response:
    """Name and password; on to the first page where nobody has to sign in."""
    if not accounts_exist():
        return RedirectResponse("/", 303)
    return _form(request, next)


def _form(request: Request, onward: str, fault: str = "", status: int = 200) -> HTMLResponse:
    return page(request, "sign_in.html", {"here": "sign-in", "next": local(onward), "fault": fault}, status)


@router.post("/sign-in", Role.ANYBODY)
def sign_in(
    request: Request, name: Text, password: Text, code: Text = "", next: Annotated[str, Form(max_length=2000)] = "/"
) -> Response:
    """Sign in; refused for a while where too many tries failed."""
    try:
        found = actions.sign_in(name, password, code, visit_of(request))
    except actions.SignInError as error:
        answer = _form(request, next, str(error), 429 if error.wait_s else 401)
        if error.wait_s:
            answer.headers["retry-after"] = str(error.wait_s)
        return answer
    onward = RedirectResponse("/account" if found.account.one_time_until else local(next), 303)
    if found.account.client is not None:
        keep_pick(request, onward, found.account.client)
    lasts = int(actions.LASTS.total_seconds())
    keep_cookie(request, onward, KNOWN_COOKIE, found.known, A_YEAR_S)
    if found.news:
        keep_cookie(request, onward, NEWS_COOKIE, "yes", lasts)
    keep_cookie(request, onward, SIGN_IN_COOKIE, found.token, lasts)
    return onward


def visit_of(request: Request) -> actions.SignInVisit:
    """Where a try to sign in comes from."""
    address = request.client.host if request.client else ""
    return actions.SignInVisit(address, request.headers.get("user-agent", ""), read_cookie(request, KNOWN_COOKIE))


@router.post("/sign-out", Role.OWN_ACCOUNT)
def sign_out(request: Request) -> RedirectResponse:
    """End this browser's sign-in."""
    actions.sign_out(read_cookie(request, SIGN_IN_COOKIE))
    gone = RedirectResponse("/sign-in?next=/", 303)
    drop_cookie(request, gone, SIGN_IN_COOKIE)
    drop_pick(request, gone)
    return gone
