"""One's own account: where it is signed in, another password, a second factor, and what was done to it."""

from typing import Annotated, Any

from fastapi import Form, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.errors import InputError, LengthwiseError
from lengthwise.records import accounts as actions
from lengthwise.records import second_factor, sign_ins
from lengthwise.report.qr_code import qr_png
from lengthwise.storage.account_rows import Account
from lengthwise.web.asker import asker_of
from lengthwise.web.cookies import NEWS_COOKIE, drop_cookie, read_cookie
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.kept_clients import account_of
from lengthwise.web.pages.settings import local
from lengthwise.web.pages.sign_in import visit_of
from lengthwise.web.rendering import page
from lengthwise.web.routes import Care, Role, Routes

router = Routes()
Text = Annotated[str, Form(max_length=400)]
STRENGTHS = ("at once", "soon", "in days", "in years", "hardly ever")


@router.get("/account", Role.OWN_ACCOUNT)
def account(request: Request, wanted: Annotated[str, Query(pattern="^(factor)?$")] = "") -> HTMLResponse:
    """Where one is signed in, what was done to the account, and forms for another password and a second factor."""
    shown = _page(request, {"wanted": wanted})
    drop_cookie(request, shown, NEWS_COOKIE)
    return shown


@router.post("/account/password", Role.OWN_ACCOUNT)
def password(request: Request, password: Text, again: Text, current: Text = "") -> Response:
    """Change one's own password, which has to be known unless it counted once; then sign in with the new one."""
    try:
        if password != again:
            raise InputError("the two passwords differ; nothing was changed")
        if asker_of(request).must_choose:
            actions.change_password(_own(request), password)
        else:
            sign_ins.change_own_password(_own(request), current, password, visit_of(request))
    except LengthwiseError as error:
        return _page(request, {"fault": str(error)}, 422)
    gone = RedirectResponse("/sign-in?next=/account", 303)
    drop_cookie(request, gone, SIGN_IN_COOKIE)
    return gone


@router.post("/account/strength", Role.OWN_ACCOUNT)
def strength(request: Request, password: Text = "") -> HTMLResponse:
    """How soon a password would be guessed, as it is typed."""
    own = account_of(request)
    score, why = actions.strength_of(password, own.name if own else "")
    return page(request, "parts/strength.html", {"score": score, "why": why, "words": STRENGTHS[score]})


@router.post("/account/factor", Role.SIGNED_IN, care=Care.CONFIRMED)
def begin_factor(request: Request) -> HTMLResponse:
    """A secret for the phone, as a picture and in letters; nothing is kept until a code shows that the phone has it."""
    return _factor(request, second_factor.new_secret())


@router.post("/account/factor/keep", Role.SIGNED_IN, care=Care.CONFIRMED)
def keep_factor(request: Request, secret: Annotated[str, Form(pattern="^[A-Z2-7]{32}$")], code: Text) -> Response:
    """Ask for codes from now on."""
    try:
        second_factor.set_up(_own(request), secret, code)
    except LengthwiseError as error:
        return _factor(request, secret, str(error), 422)
    return RedirectResponse("/account", 303)


@router.post("/account/factor/remove", Role.SIGNED_IN, care=Care.CONFIRMED)
def remove_factor(request: Request) -> RedirectResponse:
    """Ask for no code any more."""
    actions.remove_factor(_own(request))
    return RedirectResponse("/account", 303)


@router.post("/account/end-others", Role.SIGNED_IN)
def end_others(request: Request) -> RedirectResponse:
    """Sign out everywhere else of one's own."""
    sign_ins.end_other_sign_ins(_own(request), read_cookie(request, SIGN_IN_COOKIE))
    return RedirectResponse("/account", 303)


@router.get("/account/confirm", Role.SIGNED_IN)
def confirm_form(request: Request, next: Annotated[str, Query(max_length=2000)] = "/") -> HTMLResponse:
    """The password once more, before what is delicate."""
    return _confirm(request, next)


@router.post("/account/confirm", Role.SIGNED_IN)
def confirm(request: Request, password: Text, code: Text = "", next: Annotated[str, Form(max_length=2000)] = "/") -> Response:
    """Take the password given again, and go on."""
    try:
        sign_ins.confirm(_own(request), read_cookie(request, SIGN_IN_COOKIE), password, code, visit_of(request))
    except LengthwiseError as error:
        return _confirm(request, next, str(error), 401)
    return RedirectResponse(local(next), 303)


def _own(request: Request) -> Account:
    found = account_of(request)
    if found is None:
        raise InputError("there are no accounts yet; create one first, at /accounts")
    return found


def _confirm(request: Request, onward: str, fault: str = "", status: int = 200) -> HTMLResponse:
    return page(request, "confirm.html", {"here": "account", "next": local(onward), "fault": fault}, status)


def _factor(request: Request, secret: str, fault: str = "", status: int = 200) -> HTMLResponse:
    picture = qr_png(second_factor.address_of(secret, _own(request)))
    shown = {"here": "account", "secret": secret, "picture": picture, "fault": fault}
    return page(request, "second_factor.html", shown, status)


def _page(request: Request, values: dict[str, Any], status: int = 200) -> HTMLResponse:
    own, token = account_of(request), read_cookie(request, SIGN_IN_COOKIE)
    found = [(s, sign_ins.is_of(token, s)) for s in sign_ins.open_sign_ins(own)] if own else []
    done = actions.done_to(own) if own else ()
    shown = {"here": "account", "sign_ins": found, "shortest": actions.SHORTEST, "fault": "", "done": done, "own": own}
    return page(request, "account.html", {**shown, "wanted": "", "must_choose": asker_of(request).must_choose, **values}, status)
