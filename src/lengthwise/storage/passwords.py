"""Password hashes by argon2id (RFC 9106), with the library's defaults: 64 MiB, three passes."""

from functools import cache

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

HASHER = PasswordHasher()


def hash_of(password: str) -> str:
    """A salted hash to keep."""
    return HASHER.hash(password)


def matches(password: str, password_hash: str | None) -> bool:
    """Whether the password made the hash; takes as long where there is no hash, so that time does not tell who exists."""
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
