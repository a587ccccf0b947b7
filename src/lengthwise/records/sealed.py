"""Backups that only a passphrase opens: the age format (age-encryption.org/v1), its key made from the passphrase by scrypt."""

import re
import time
from pathlib import Path

from lengthwise.errors import InputError

MARK = b"age-encryption.org/v1"
SHORTEST = 12
LEAST_WORK, MOST_WORK = 16, 20
"""Of scrypt's N as a power of two: 64 MiB and some 0.5 s a guess at least (own choice); more than the latter is no backup of ours."""
TRIES = 20
WAIT_S = 0.5
_WORK = re.compile(rb"-> scrypt \S+ (\d{1,2})\n")


def is_sealed(file: Path) -> bool:
    """Whether a file is one that a passphrase opens."""
    try:
        with file.open("rb") as source:
            return source.read(len(MARK)) == MARK
    except OSError:
        return False


def sealed(content: bytes, passphrase: str) -> bytes:
    """Content as only the passphrase opens it.

    The library sets the work of a guess by how quick the machine is just then, so a busy one is asked again until it is enough.

    Raises:
        InputError: the passphrase is short.
    """
    import pyrage

    if len(passphrase) < SHORTEST:
        raise InputError(f"passphrase of {len(passphrase)} characters; allowed {SHORTEST} or more", allowed=[SHORTEST])
    found: bytes = pyrage.passphrase.encrypt(content, passphrase)
    for _ in range(TRIES):
        if work_of(found) >= LEAST_WORK:
            break
        found = max(found, pyrage.passphrase.encrypt(content, passphrase), key=work_of)
    return found


def opened(file: Path, passphrase: str) -> bytes:
    """What a sealed file holds.

    The library refuses what would take long at the speed that the machine has just then; a busy one is asked again.

    Raises:
        InputError: another passphrase sealed it, it is damaged, or the machine is too busy.
    """
    import pyrage

    content = file.read_bytes()
    for _ in range(TRIES):
        try:
            found: bytes = pyrage.passphrase.decrypt(content, passphrase)
            return found
        except pyrage.DecryptError as error:
            if not str(error).startswith("Excessive work") or work_of(content) > MOST_WORK:
                raise InputError(f"{file.name} does not open with this passphrase, or is damaged", asked=file.name) from error
        time.sleep(WAIT_S)
    raise InputError(
        f"{file.name} was not opened because this machine is too busy; nothing was changed, try again later", asked=file.name
    )


def work_of(content: bytes) -> int:
    """How much work a guess at the passphrase takes: the logarithm to base 2 of scrypt's N (RFC 7914), as the head of the file says; 0 where it says none."""
    found = _WORK.search(content[:200])
    return int(found[1]) if found else 0
