"""One's own account: where it is signed in, and another password."""

from typing import Annotated, Any

from fastapi import Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.actions import accounts as actions
from lengthwise.errors import InputError, LengthwiseError
from lengthwise.storage.accounts import Account
from lengthwise.web.cookies import drop_cookie, read_cookie
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.kept_clients import account_of
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes, open_to

router = Routes()
Text = Annotated[str, Form(max_length=400)]


@router.get("/account")
@open_to(Role.SIGNED_IN)
def account(request: Request) -> HTMLResponse:
    """Where one is signed in, and a form for another password."""
    return _page(request, {})


@router.post("/account/password")
@open_to(Role.SIGNED_IN)
def password(request: Request, current: Text, password: Text, again: Text) -> Response:
    """Change one's own password, which has to be known; then sign in with the new one."""
    try:
        if password != again:
            raise InputError("the two passwords differ; nothing was changed")
        address = request.client.host if request.client else ""
        actions.change_own_password(_own(request), current, password, address)
    except LengthwiseError as error:
        return _page(request, {"fault": str(error)}, 422)
    gone = RedirectResponse("/sign-in?next=/account", 303)
    drop_cookie(request, gone, SIGN_IN_COOKIE)
    return gone


@router.post("/account/end-others")
@open_to(Role.SIGNED_IN)
def end_others(request: Request) -> RedirectResponse:
    """End every other sign-in of one's own."""
    actions.end_other_sign_ins(_own(request), read_cookie(request, SIGN_IN_COOKIE))
    return RedirectResponse("/account", 303)


def _own(request: Request) -> Account:
    found = account_of(request)
    if found is None:
        raise InputError("nobody is signed in, since no account exists; make one first, at /accounts")
    return found


def _page(request: Request, values: dict[str, Any], status: int = 200) -> HTMLResponse:
    own, token = account_of(request), read_cookie(request, SIGN_IN_COOKIE)
    found = [(s, actions.is_of(token, s)) for s in actions.open_sign_ins(own)] if own else []
    shown = {"here": "account", "sign_ins": found, "shortest": actions.SHORTEST, "fault": "", **values}
    return page(request, "account.html", shown, status)
