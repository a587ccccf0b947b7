"""Password hashes by argon2id (RFC 9106), with the library's defaults: 64 MiB, three passes."""

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

HASHER = PasswordHasher()


AT_ONCE = 2
"""So many passwords are hashed at once, 64 MiB each."""
WAITED_S = 5.0
WAITING = 8
"""So many more wait for a turn; others are told at once that they have to come again, so that they take no thread meanwhile."""
_turns = BoundedSemaphore(AT_ONCE)
_places = BoundedSemaphore(AT_ONCE + WAITING)


class Busy(Exception):
    """Too many passwords are being hashed."""


def share_turns(turns: BoundedSemaphore) -> None:
    """Let this process hash as many at once as `turns` says, its share of what several processes may."""
    global _turns
    _turns = turns


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


def matches(password: str, password_hash: str | None) -> bool:
    """Whether the password made the hash; takes as long where there is none, or one that was spent, so that time does not tell who exists.

    Raises:
        Busy: no turn came in time.
    """
    with _turn():
        return _matches(password, password_hash)


def _matches(password: str, password_hash: str | None) -> bool:
    try:
        return HASHER.verify(password_hash or _of_nobody(), password) and bool(password_hash)
    except (VerificationError, InvalidHashError):
        return False


@cache
def _of_nobody() -> str:
    return HASHER.hash(secrets.token_urlsafe(32))
