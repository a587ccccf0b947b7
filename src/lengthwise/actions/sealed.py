"""Backups that only a passphrase opens: the age format (age-encryption.org/v1), its key made from the passphrase by scrypt."""

from pathlib import Path

from lengthwise.errors import InputError

MARK = b"age-encryption.org/v1"
SHORTEST = 12


def is_sealed(file: Path) -> bool:
    """Whether a file is one that a passphrase opens."""
    try:
        with file.open("rb") as source:
            return source.read(len(MARK)) == MARK
    except OSError:
        return False


def sealed(content: bytes, passphrase: str) -> bytes:
    """Content as only the passphrase opens it.

    Raises:
        InputError: the passphrase is short.
    """
    import pyrage

    if len(passphrase) < SHORTEST:
        raise InputError(f"passphrase of {len(passphrase)} characters; allowed {SHORTEST} or more", allowed=[SHORTEST])
    found: bytes = pyrage.passphrase.encrypt(content, passphrase)
    return found


def opened(file: Path, passphrase: str) -> bytes:
    """What a sealed file holds.

    Raises:
        InputError: another passphrase sealed it, or it is damaged.
    """
    import pyrage

    try:
        found: bytes = pyrage.passphrase.decrypt(file.read_bytes(), passphrase)
    except pyrage.DecryptError as error:
        raise InputError(f"{file.name} is not opened by this passphrase, or is damaged", asked=file.name) from error
    return found
