"""Password hashes by argon2id (RFC 9106), with the library's defaults: 64 MiB, three passes."""

import secrets
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from threading import BoundedSemaphore, Lock

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

HASHER = PasswordHasher()


AT_ONCE = 2
"""So many passwords are hashed at once, 64 MiB each."""
WAITED_S = 5.0
WAITING = 8
"""So many more wait for a turn; others are told at once that they have to come again, so that they take no thread meanwhile."""
OF_ONE_ADDRESS = 3
"""So many of them come from one address, so that whoever floods from there leaves turns to others."""
_turns = BoundedSemaphore(AT_ONCE)
_places = BoundedSemaphore(AT_ONCE + WAITING)
_from: Counter[str] = Counter()
_counting = Lock()


class Busy(Exception):
    """Too many passwords are being hashed."""


def share_turns(turns: BoundedSemaphore) -> None:
    """Let this process hash as many at once as `turns` says, its share of what several processes may."""
    global _turns
    _turns = turns


@contextmanager
def _one_of_few(address: str) -> Iterator[None]:
    """Around a hash that was asked for from an address; no address is not counted."""
    with _counting:
        if address and _from[address] >= OF_ONE_ADDRESS:
            raise Busy
        _from[address] += 1
    try:
        yield
    finally:
        with _counting:
            _from[address] -= 1
            if not _from[address]:
                del _from[address]


@contextmanager
def _turn() -> Iterator[None]:
    if not _places.acquire(blocking=False):
        raise Busy
    try:
        if not _turns.acquire(timeout=WAITED_S):
            raise Busy
        try:
            yield
        finally:
            _turns.release()
    finally:
        _places.release()


def hash_of(password: str) -> str:
    """A salted hash to keep.

    Raises:
        Busy: no turn came in time.
    """
    with _turn():
        return HASHER.hash(password)


def matches(password: str, password_hash: str | None, address: str = "") -> bool:
    """Whether the password made the hash; takes as long where there is none, or one that was spent, so that time does not tell who exists.

    Raises:
        Busy: no turn came in time, or too many are asked for from the address.
    """
    with _one_of_few(address), _turn():
        return _matches(password, password_hash)


def _matches(password: str, password_hash: str | None) -> bool:
    try:
        return HASHER.verify(password_hash or _of_nobody(), password) and bool(password_hash)
    except (VerificationError, InvalidHashError):
        return False


@cache
def _of_nobody() -> str:
    return HASHER.hash(secrets.token_urlsafe(32))
