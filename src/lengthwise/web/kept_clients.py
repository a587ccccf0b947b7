"""The clients that a request may see, and the one that its browser has picked."""

from hashlib import sha256

from fastapi import Request

from lengthwise.actions import accounts, store
from lengthwise.errors import UnknownNameError
from lengthwise.storage.accounts import Account
from lengthwise.storage.clients import StoredClient

CLIENT_COOKIE = "client"


def store_exists() -> bool:
    """Whether anything was ever kept; looking makes no store."""
    return store.exists()


def account_of(request: Request) -> Account | None:
    """Who is signed in; nobody where no accounts exist."""
    found: Account | None = getattr(request.state, "account", None)
    return found


def kept() -> tuple[StoredClient, ...]:
    """All clients, by name."""
    return store.stored_clients() if store_exists() else ()


def kept_client(number: int) -> StoredClient:
    """The client of a number.

    Raises:
        UnknownNameError: there is none.
    """
    for found in kept():
        if found.number == number:
            return found
    raise UnknownNameError(f"no client has the number {number}", asked=number)


def visible(request: Request) -> tuple[StoredClient, ...]:
    """The clients that whoever asks may see: all for a coach, itself for a client."""
    account = account_of(request)
    return kept() if account is None else tuple(c for c in kept() if accounts.may_see(account, c.number))


def picked_of(request: Request) -> StoredClient | None:
    """The client picked in this browser, where it is still kept and may be seen."""
    if not hasattr(request.state, "picked"):
        number = request.cookies.get(CLIENT_COOKIE, "")
        found = visible(request) if number.isdecimal() else ()
        request.state.picked = next((c for c in found if str(c.number) == number), None)
    picked: StoredClient | None = request.state.picked
    return picked


def mark_of(found: StoredClient) -> str:
    """A client's number with a mark that changes with its record, so that answers about an older record are not taken for new ones."""
    return f"{found.number}.{sha256(found.client.model_dump_json().encode()).hexdigest()[:8]}"


def is_coach(request: Request) -> bool:
    """Whether whoever asks may do what a coach may: where no accounts exist, anybody at this machine."""
    account = account_of(request)
    return account is None or account.role == "coach"
