"""The clients that a request may see, and the one that its browser has picked."""

from fastapi import Request
from starlette.responses import Response

from lengthwise.errors import UnknownNameError
from lengthwise.records import accounts, picks
from lengthwise.records.store import exists as store_exists
from lengthwise.storage.account_rows import Account
from lengthwise.training.client import StoredClient
from lengthwise.web.asker import RefusedAsk, asker_of
from lengthwise.web.cookies import A_YEAR_S, drop_cookie, keep_cookie, read_cookie

PICK_COOKIE = "picked"
"""Holds a token that stands for a client in the store; it names nobody."""


def account_of(request: Request) -> Account | None:
    """Who is signed in; nobody where no accounts exist."""
    return asker_of(request).account


def noted(request: Request, action: str, client: int | None = None, detail: str = "") -> None:
    """Add to the audit what whoever asks has done; details name no client."""
    accounts.note(action, account_of(request), client, detail[:200])


def visible(request: Request) -> tuple[StoredClient, ...]:
    """The clients that whoever asks may see: everybody for who leads, its own for a coach, itself for a client."""
    return asker_of(request).clients()


def is_coach(request: Request) -> bool:
    """Whether whoever asks may do what a coach may: where no accounts exist, anybody at this machine."""
    return asker_of(request).is_coach


def leads(request: Request) -> bool:
    """Whether whoever asks sees everybody and keeps the store and the accounts."""
    return asker_of(request).leads


def picked_of(request: Request) -> StoredClient | None:
    """The client picked in this browser, where it is still kept and may be seen."""
    if not hasattr(request.state, "picked"):
        request.state.picked = _picked(request)
    found: StoredClient | None = request.state.picked
    return found


def _picked(request: Request) -> StoredClient | None:
    token = read_cookie(request, PICK_COOKIE)
    number = picks.picked(token) if token and asker_of(request).is_known and store_exists() else None
    if number is None:
        return None
    try:
        return asker_of(request).client(number)
    except (RefusedAsk, UnknownNameError):
        return None


def keep_pick(request: Request, response: Response, number: int) -> None:
    """Let this browser compute for a client from now on."""
    keep_cookie(request, response, PICK_COOKIE, picks.pick(number), A_YEAR_S)


def drop_pick(request: Request, response: Response) -> None:
    """Let this browser compute for nobody in particular."""
    drop_cookie(request, response, PICK_COOKIE)
