"""Where several processes that serve the same workbench share long questions: one answers, the others tell how far it is and take its answer.

What lies here was written by ourselves, in a folder that only this user can read, and goes when serving ends.
"""

import contextlib
import fcntl
import json
import os
import pickle
import threading
import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import IO, Any, Protocol, TypeVar

T = TypeVar("T")
Told = Callable[[int, int], None]
WORD_HOLDS_S = 5.0
LOOK_S = 0.2
"""So often it is looked how far another process is."""


class BoardShares(Protocol):
    """What jobs and what is kept need to know of other processes."""

    @property
    def generation(self) -> int:
        """Changes when what answers rest on has changed, in whichever process."""

    def bump(self) -> None:
        """Let every process forget what was answered."""

    def once(self, name: str, mark: str, tell: Told, work: Callable[[Told], T]) -> T:
        """The answer to a question: worked out here, unless another process does or did."""

    def stop(self, mark: str, account: int | None) -> bool:
        """Ask whichever process answers the question of a mark to end it; gives whether any may."""

    def is_stopped(self, mark: str, account: int | None) -> bool:
        """Whether the question of a mark is to end."""


class Alone:
    """One process, which shares nothing."""

    generation = 0

    def bump(self) -> None:
        """Nobody else has to know."""

    def once(self, name: str, mark: str, tell: Told, work: Callable[[Told], T]) -> T:
        """The answer, worked out here."""
        return work(tell)

    def stop(self, mark: str, account: int | None) -> bool:
        """Nobody else could."""
        return False

    def is_stopped(self, mark: str, account: int | None) -> bool:
        """Jobs know by themselves."""
        return False


class Board:
    """A folder in which processes leave how far they are, and answers.

    Who answers holds a lock of the system on the question's file, which goes with the process, however that ends.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._changed = folder, folder / "changed"
        if not self._changed.exists():
            self._changed.touch(mode=0o600)

    @property
    def generation(self) -> int:
        """When what answers rest on was changed last [ns]."""
        return os.stat(self._changed).st_mtime_ns

    def bump(self) -> None:
        """Let every process forget what was answered."""
        os.utime(self._changed)

    def once(self, name: str, mark: str, tell: Told, work: Callable[[Told], T]) -> T:
        """The answer; waited for where another process works it out, worked out here where that one ended without."""
        place = self._folder / sha256(f"{self.generation} {name}".encode()).hexdigest()
        with place.open("a+b") as lock:
            while not _locked(lock):
                tell(*_how_far(place))
                time.sleep(LOOK_S)
            known = _answer(place)
            if known:
                return known[0]  # type: ignore[no-any-return]
            found = work(_noting(place, tell))
            _leave(place, ".answer", _packed(found))
            return found

    def stop(self, mark: str, account: int | None) -> bool:
        """Leave word that the question of a mark is to end."""
        _leave(self._folder / f"stop-{mark}", "", json.dumps(account).encode())
        return True

    def is_stopped(self, mark: str, account: int | None) -> bool:
        """Whether there is such word, by the account whose question it is; it counts once."""
        word = self._folder / f"stop-{mark}"
        if not mark or not word.exists() or json.loads(word.read_bytes()) != account:
            return False
        meant = time.time() - word.stat().st_mtime < WORD_HOLDS_S  # for the question then, not for one that is asked later
        word.unlink(missing_ok=True)
        return meant


def _locked(file: IO[bytes]) -> bool:
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _noting(place: Path, tell: Told) -> Told:
    """`tell` that also leaves how far it is, now and then."""
    last = 0.0

    def telling(done: int, total: int) -> None:
        nonlocal last
        tell(done, total)
        if time.monotonic() - last > LOOK_S:
            last = time.monotonic()
            _leave(place, ".far", json.dumps([done, total]).encode())

    return telling


def _how_far(place: Path) -> tuple[int, int]:
    try:
        done, total = json.loads(place.with_suffix(".far").read_bytes())
    except (OSError, ValueError):
        return 0, 0
    return int(done), int(total)


def _answer(place: Path) -> tuple[Any] | None:
    """The answer that was left, in a tuple of one; nothing where there is none."""
    file = place.with_suffix(".answer")
    return (pickle.loads(file.read_bytes()),) if file.exists() else None


def _packed(answer: object) -> bytes | None:
    """An answer as bytes; nothing for one that cannot be sent to another process, which then works it out anew."""
    with contextlib.suppress(pickle.PicklingError, TypeError, AttributeError):
        return pickle.dumps(answer)
    return None


def _leave(place: Path, suffix: str, content: bytes | None) -> None:
    if content is None:
        return
    file = place.with_suffix(suffix) if suffix else place
    draft = file.with_name(f"{file.name}.{os.getpid()}.{threading.get_ident()}")
    draft.write_bytes(content)
    draft.replace(file)


shares: list[BoardShares] = [Alone()]
"""What this process shares, at its end: a board once several processes serve."""


def shared() -> BoardShares:
    """What this process shares with others."""
    return shares[-1]
