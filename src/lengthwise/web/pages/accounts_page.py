"""Who may sign in, as far as whoever asks may say; and the audit of what was done."""

from typing import Annotated

from fastapi import Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.errors import InputError, LengthwiseError
from lengthwise.records import accounts as actions
from lengthwise.records import coaching
from lengthwise.records.accounts import accounts_exist
from lengthwise.records.store import exists as store_exists
from lengthwise.storage.account_rows import Account
from lengthwise.storage.client_rows import key_of
from lengthwise.web.asker import RefusedAsk, asker_of
from lengthwise.web.kept_clients import account_of, leads, visible
from lengthwise.web.rendering import page
from lengthwise.web.routes import Care, Role, Routes

router = Routes()
Text = Annotated[str, Form(max_length=400)]
SHOWN = 200


@router.get("/accounts", Role.COACH, care=Care.GUARDED)
def accounts(request: Request) -> HTMLResponse:
    """Who may sign in, and a form for one more."""
    return _page(request)


@router.post("/accounts", Role.COACH, care=Care.GUARDED)
def add(request: Request, name: Text, password: Text = "", of: Text = "", lead: Annotated[bool, Form()] = False) -> Response:
    """Make an account. The first is one's own, a coach's; others get a password that counts once and is shown here alone."""
    try:
        if not accounts_exist():
            if of:
                raise InputError("the first account has to be a coach's; allowed: sees everyone", asked=of)
            actions.add_account(name, password)
            return RedirectResponse("/accounts", 303)
        client = _client_called(request, of) if of else None
        if client is None and not leads(request):
            raise RefusedAsk
        made, once = actions.add_with_one_time(name, client, lead)
    except LengthwiseError as error:
        return _page(request, str(error), 422)
    return _page(request, once=(made, once))


@router.post("/accounts/one-time", Role.COACH, care=Care.GUARDED)
def one_time(request: Request, name: Text) -> HTMLResponse:
    """Put a password that counts once in place of an account's own, where that was forgotten; sign-ins end at once."""
    found = _managed(request, name)
    try:
        return _page(request, once=(found, actions.give_one_time_password(found)))
    except InputError as error:
        return _page(request, str(error), 422)


@router.post("/accounts/factor", Role.COACH, care=Care.GUARDED)
def factor(request: Request, name: Text) -> RedirectResponse:
    """Let an account sign in without a code, where its owner has lost what makes it."""
    actions.remove_factor(_managed(request, name))
    return RedirectResponse("/accounts", 303)


@router.post("/accounts/remove", Role.COACH, care=Care.GUARDED)
def remove(request: Request, name: Text) -> Response:
    """Remove an account; its sign-ins end at once."""
    _managed(request, name)
    try:
        actions.remove_account(name)
    except InputError as error:
        return _page(request, str(error), 422)
    return RedirectResponse("/accounts", 303)


@router.get("/audit", Role.LEAD, care=Care.GUARDED)
def audit(request: Request) -> HTMLResponse:
    """What was done, newest first."""
    names = {a.number: a.name for a in actions.list_accounts()}
    people = {c.number: c.client.name for c in visible(request)}
    lines = actions.read_audit(SHOWN) if store_exists() else ()
    return page(request, "audit.html", {"here": "people", "lines": lines, "names": names, "people": people, "shown": SHOWN})


def _client_called(request: Request, name: str) -> int:
    """The number of a client, among those that whoever asks may see.

    Raises:
        InputError: none is called so.
    """
    found = [c.number for c in visible(request) if c.client.name == name]
    if not found:
        raise InputError(f"client {name!r}; allowed one of yours", asked=name)
    return found[0]


def _managed(request: Request, name: str) -> Account:
    """The account of a name, where whoever asks may give it a password or remove it; others' are told apart from none by nobody.

    Raises:
        Refused: it may not, or there is none.
    """
    found = next((a for a in _listed(request) if key_of(a.name) == key_of(name)), None)
    if found is None:
        raise RefusedAsk
    return found


def _listed(request: Request) -> list[Account]:
    own = account_of(request)
    kept = actions.list_accounts()
    return [a for a in kept if asker_of(request).at_home or (own is not None and coaching.may_manage(own, a))]


def _page(request: Request, fault: str = "", status: int = 200, once: tuple[Account, str] | None = None) -> HTMLResponse:
    people = {c.number: c.client.name for c in visible(request)}
    values = {"here": "people", "accounts": _listed(request), "people": people, "fault": fault, "first": not accounts_exist()}
    lasts_h = int(actions.ONE_TIME_LASTS.total_seconds()) // 3600
    return page(request, "accounts.html", {**values, "shortest": actions.SHORTEST, "once": once, "lasts_h": lasts_h}, status)
