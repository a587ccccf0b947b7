"""Signing in and out, who may, and the audit of what was done."""

from typing import Annotated
from urllib.parse import urlencode

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.actions import accounts as actions
from lengthwise.errors import InputError, LengthwiseError
from lengthwise.web.accounts import accounts_exist
from lengthwise.web.cookies import drop_cookie, keep_cookie, read_cookie
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.kept_clients import drop_pick, keep_pick, store_exists, visible
from lengthwise.web.pages.settings import local
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes, open_to

router = Routes()
Text = Annotated[str, Form(max_length=400)]
SHOWN = 200


@router.get("/sign-in")
@open_to(Role.ANYBODY)
def form(request: Request, next: Annotated[str, Query(max_length=2000)] = "/") -> Response:
    """Name and password; on to the first page where nobody has to sign in."""
    if not accounts_exist():
        return RedirectResponse("/", 303)
    return _form(request, next)


def _form(request: Request, onward: str, fault: str = "", status: int = 200) -> HTMLResponse:
    return page(request, "sign_in.html", {"here": "sign-in", "next": local(onward), "fault": fault}, status)


@router.post("/sign-in")
@open_to(Role.ANYBODY)
def sign_in(request: Request, name: Text, password: Text, next: Annotated[str, Form(max_length=2000)] = "/") -> Response:
    """Sign in; refused for a while where too many tries failed."""
    address = request.client.host if request.client else ""
    try:
        found = actions.sign_in(name, password, address, request.headers.get("user-agent", ""))
    except actions.SignInError as error:
        answer = _form(request, next, str(error), 429 if error.wait_s else 401)
        if error.wait_s:
            answer.headers["retry-after"] = str(error.wait_s)
        return answer
    onward = RedirectResponse(local(next), 303)
    if found.account.client is not None:
        keep_pick(request, onward, found.account.client)
    lasts = int(actions.SIGN_IN_LASTS.total_seconds())
    keep_cookie(request, onward, SIGN_IN_COOKIE, found.token, lasts)
    return onward


@router.post("/sign-out")
@open_to(Role.SIGNED_IN)
def sign_out(request: Request) -> RedirectResponse:
    """End this browser's sign-in."""
    actions.sign_out(read_cookie(request, SIGN_IN_COOKIE))
    gone = RedirectResponse("/sign-in?next=/", 303)
    drop_cookie(request, gone, SIGN_IN_COOKIE)
    drop_pick(request, gone)
    return gone


@router.get("/accounts")
@open_to(Role.COACH)
def accounts(request: Request, changed: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """Who may sign in, and a form for one more."""
    return _accounts(request, changed=changed)


def _accounts(request: Request, fault: str = "", status: int = 200, changed: str = "") -> HTMLResponse:
    people = {c.number: c.client.name for c in visible(request)}
    values = {"here": "people", "accounts": actions.list_accounts() if store_exists() else (), "people": people, "fault": fault}
    return page(request, "accounts.html", {**values, "shortest": actions.SHORTEST, "changed": changed}, status)


@router.post("/accounts")
@open_to(Role.COACH)
def add(request: Request, name: Text, password: Text, of: Text = "") -> Response:
    """Make an account: a coach's, or that of the client named; the first is a coach's, so that nobody is shut out."""
    try:
        if of and not accounts_exist():
            raise InputError("the first account has to be a coach's; allowed: sees everybody", asked=of)
        actions.add_account(name, password, "client" if of else "coach", of or None)
    except LengthwiseError as error:
        return _accounts(request, str(error), 422)
    return RedirectResponse("/accounts", 303)


@router.post("/accounts/password")
@open_to(Role.COACH)
def password(request: Request, name: Text, password: Text, again: Text) -> Response:
    """Give an account another password; its sign-ins end at once, that of whoever changes its own too."""
    try:
        if password != again:
            raise InputError("the two passwords differ; nothing was changed")
        actions.change_password(actions.find_account(name), password)
    except LengthwiseError as error:
        return _accounts(request, str(error), 422)
    return RedirectResponse(f"/accounts?{urlencode({'changed': name})}", 303)


@router.post("/accounts/remove")
@open_to(Role.COACH)
def remove(request: Request, name: Text) -> Response:
    """Remove an account; its sign-ins end at once. The last coach stays while others exist."""
    found = actions.find_account(name)
    others = [a for a in actions.list_accounts() if a.number != found.number]
    if others and not any(a.role == "coach" for a in others):
        return _accounts(request, f"{found.name} is the last coach; remove the other accounts first", 422)
    actions.remove_account(name)
    return RedirectResponse("/accounts", 303)


@router.get("/audit")
@open_to(Role.COACH)
def audit(request: Request) -> HTMLResponse:
    """What was done, newest first."""
    names = {a.number: a.name for a in actions.list_accounts()} if store_exists() else {}
    people = {c.number: c.client.name for c in visible(request)}
    lines = actions.read_audit(SHOWN) if store_exists() else ()
    actions_seen = {"here": "people", "lines": lines, "names": names, "people": people, "shown": SHOWN}
    return page(request, "audit.html", actions_seen)
