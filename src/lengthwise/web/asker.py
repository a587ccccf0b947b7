"""Who asks, and the one way to a client: nobody is seen unless it is said here that they may be."""

from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import Depends, Path, Request
from starlette.concurrency import run_in_threadpool
from starlette.requests import HTTPConnection

from lengthwise.records import coaching, store
from lengthwise.storage.account_rows import Account
from lengthwise.storage.client_rows import KeptRecord
from lengthwise.training.client import StoredClient

LARGEST_NUMBER = 999_999_999


class RefusedAsk(Exception):
    """Something was asked that whoever asks may not ask."""


class Unconfirmed(Exception):
    """Something delicate was asked; `wanted` says what has to be done first: `confirm` the password, or set up a second `factor`."""

    def __init__(self, wanted: Literal["confirm", "factor"]) -> None:
        super().__init__(wanted)
        self.wanted = wanted


@dataclass(frozen=True)
class Asker:
    """Whoever sent a request.

    Attributes:
        account: who is signed in, where somebody is.
        at_home: whether it comes from this machine while no account exists; then it may do everything.
        confirmed: whether its password was given so lately that it may do what is delicate.
        from_here: whether it comes from this machine.
        own: the record that its account shows, where it is a client's; it was looked up with the account.
    """

    account: Account | None = None
    at_home: bool = False
    confirmed: bool = False
    from_here: bool = False
    own: KeptRecord | None = None

    @property
    def is_known(self) -> bool:
        """Whether it may ask anything but to sign in."""
        return self.at_home or self.account is not None

    @property
    def is_coach(self) -> bool:
        """Whether it may do what a coach may."""
        return self.at_home or (self.account is not None and self.account.role == "coach")

    @property
    def leads(self) -> bool:
        """Whether it sees everybody and keeps the store and the accounts."""
        return self.at_home or (self.account is not None and self.account.leads)

    @property
    def must_choose(self) -> bool:
        """Whether it signed in with a password that counts once, and has to choose its own before anything else."""
        return self.account is not None and self.account.one_time_until is not None

    @property
    def asks_store(self) -> bool:
        """Whether the store says whom it may see: a coach's clients are kept there, a client's own number in its account."""
        return self.is_coach and not self.leads

    def may_see(self, number: int) -> bool:
        """Whether it may see and change the client of a number, whether there is one or not."""
        return self.at_home or (self.account is not None and coaching.may_see(self.account, number))

    def client(self, number: int) -> StoredClient:
        """The client of a number.

        Raises:
            Refused: it may not be seen, whether there is one or not. UnknownNameError: there is none.
        """
        if not self.may_see(number):
            raise RefusedAsk
        return self.own.read() if self.own and self.own.number == number else store.numbered_client(number)

    def clients(self) -> tuple[StoredClient, ...]:
        """Every client that it may see, by name."""
        kept = store.stored_clients() if self.is_known and store.exists() else ()
        if self.account is None:
            return kept
        seen = coaching.seen_by(self.account, tuple(c.number for c in kept))
        return tuple(c for c in kept if c.number in seen)


STRANGER = Asker()


def asker_of(request: HTTPConnection) -> Asker:
    """Who sent a request; a stranger where nothing says who."""
    found: Asker = request.scope.get("state", {}).get("asker", STRANGER)
    return found


async def _seen(
    request: Request,
    number: Annotated[int, Path(ge=1, le=LARGEST_NUMBER, description="number of a kept client", examples=[1])],
) -> StoredClient:
    asker = asker_of(request)
    return asker.client(number) if asker.own else await run_in_threadpool(asker.client, number)


Seen = Annotated[StoredClient, Depends(_seen)]
"""The client of a route's address, which whoever asks may see."""
