"""Who asks, and the one way to a client: nobody is seen unless it is said here that they may be."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Path, Request
from starlette.requests import HTTPConnection

from lengthwise.actions import accounts, store
from lengthwise.storage.accounts import Account
from lengthwise.storage.clients import StoredClient

LARGEST_NUMBER = 999_999_999


class Refused(Exception):
    """Something was asked that whoever asks may not ask."""


@dataclass(frozen=True)
class Asker:
    """Whoever sent a request.

    Attributes:
        account: who is signed in, where somebody is.
        at_home: whether it comes from this machine while no account exists; then it may do everything.
    """

    account: Account | None = None
    at_home: bool = False

    @property
    def is_known(self) -> bool:
        """Whether it may ask anything but to sign in."""
        return self.at_home or self.account is not None

    @property
    def is_coach(self) -> bool:
        """Whether it may do what a coach may."""
        return self.at_home or (self.account is not None and self.account.role == "coach")

    def may_see(self, number: int) -> bool:
        """Whether it may see and change the client of a number, whether there is one or not."""
        return self.at_home or (self.account is not None and accounts.may_see(self.account, number))

    def client(self, number: int) -> StoredClient:
        """The client of a number.

        Raises:
            Refused: it may not be seen, whether there is one or not. UnknownNameError: there is none.
        """
        if not self.may_see(number):
            raise Refused
        return store.numbered_client(number)

    def clients(self) -> tuple[StoredClient, ...]:
        """Every client that it may see, by name."""
        kept = store.stored_clients() if self.is_known and store.exists() else ()
        return tuple(c for c in kept if self.may_see(c.number))


STRANGER = Asker()


def asker_of(request: HTTPConnection) -> Asker:
    """Who sent a request; a stranger where nothing says who."""
    found: Asker = request.scope.get("state", {}).get("asker", STRANGER)
    return found


def _seen(
    request: Request,
    number: Annotated[int, Path(ge=1, le=LARGEST_NUMBER, description="number of a kept client", examples=[1])],
) -> StoredClient:
    return asker_of(request).client(number)


Seen = Annotated[StoredClient, Depends(_seen)]
"""The client of a route's address, which whoever asks may see."""
