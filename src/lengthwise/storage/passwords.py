"""Password hashes by argon2id (RFC 9106), with the library's defaults: 64 MiB, three passes."""

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
_turns = BoundedSemaphore(AT_ONCE)


class Busy(Exception):
    """Too many passwords are being hashed."""


def share_turns(turns: BoundedSemaphore) -> None:
    """Let this process hash as many at once as `turns` says, its share of what several processes may."""
    global _turns
    _turns = turns


@contextmanager
def _turn() -> Iterator[None]:
    if not _turns.acquire(timeout=WAITED_S):
        raise Busy
    try:
        yield
    finally:
        _turns.release()


def hash_of(password: str) -> str:
    """A salted hash to keep.

    Raises:
        Busy: no turn came in time.
    """
    with _turn():
        return HASHER.hash(password)


def matches(password: str, password_hash: str | None) -> bool:
    """Whether the password made the hash; takes as long where there is no hash, so that time does not tell who exists.

    Raises:
        Busy: no turn came in time.
    """
    with _turn():
        return _matches(password, password_hash)


def _matches(password: str, password_hash: str | None) -> bool:
    try:
        return HASHER.verify(password_hash or _of_nobody(), password) and password_hash is not None
    except (VerificationError, InvalidHashError):
        return False


def is_dated(password_hash: str) -> bool:
    """Whether the hash was made with weaker settings than today's."""
    return HASHER.check_needs_rehash(password_hash)


@cache
def _of_nobody() -> str:
    return HASHER.hash("nobody has this password")
