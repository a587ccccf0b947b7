"""Several processes that answer at one address: they share the store, and long questions by a board."""

import contextlib
import os
import signal
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from threading import BoundedSemaphore

from lengthwise.errors import InputError
from lengthwise.records import store
from lengthwise.storage import passwords
from lengthwise.web import background, board, patience

MOST = 32
ENDS_WITHIN_S = 2.5
"""So long processes have to end by themselves when serving is stopped."""
AGAIN_AFTER_S = 1.0
"""A process that ended unasked is begun anew, not more often than this."""


def check_workers(n: int) -> None:
    """Whether so many processes can serve.

    Raises:
        InputError: they cannot, here or at all.
    """
    if not 1 <= n <= MOST:
        raise InputError(f"{n} workers; allowed 1 to {MOST}", asked=n, allowed=[1, MOST])
    if n > 1 and not hasattr(os, "fork"):
        raise InputError("several workers need a system that can fork (Linux, macOS); allowed 1 here", asked=n, allowed=[1])


def serve_together(n: int, serve_one: Callable[[Callable[[], None]], None], ready: Callable[[], None]) -> None:
    """Serve in `n` processes until stopped.

    Args:
        serve_one: serves in a process and says when it can be asked. ready: called once the first can be.
    """
    with tempfile.TemporaryDirectory(prefix="lengthwise_board_") as folder:
        board.shares.append(board.Board(Path(folder)))
        store.release()  # a connection belongs to the process that opened it
        Together(n, serve_one).run(ready)


@dataclass
class Together:
    """Processes that serve at one address, and whoever looks after them."""

    n: int
    serve_one: Callable[[Callable[[], None]], None]
    children: set[int] = field(default_factory=set)
    stopping: bool = False

    def run(self, ready: Callable[[], None]) -> None:
        """Begin them, and begin one anew that ends unasked, until told to stop."""
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._stop)
        reading, writing = os.pipe()
        for _ in range(self.n):
            self._begin(writing)
        os.read(reading, 1)
        ready()
        while not self.stopping:
            gone = self._gone()
            if gone is None:
                time.sleep(0.1)
            elif not self.stopping:
                time.sleep(AGAIN_AFTER_S)
                self._begin(writing)
        self._end()

    def _begin(self, writing: int) -> None:
        child = os.fork()
        if child:
            self.children.add(child)
            return
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, signal.default_int_handler)
        _take_a_share(self.n)
        with contextlib.suppress(KeyboardInterrupt):
            self.serve_one(partial(_tell, writing))
        os._exit(0)

    def _gone(self) -> int | None:
        """A process that has ended, where one has."""
        found, _ = os.waitpid(-1, os.WNOHANG) if self.children else (0, 0)
        self.children.discard(found)
        return found or None

    def _stop(self, *_: object) -> None:
        self.stopping = True

    def _end(self) -> None:
        until = time.monotonic() + ENDS_WITHIN_S
        _send(self.children, signal.SIGTERM)
        while self.children and time.monotonic() < until:
            if self._gone() is None:
                time.sleep(0.02)
        _send(self.children, signal.SIGKILL)
        while self.children:
            self.children.discard(os.waitpid(-1, 0)[0])


def _tell(writing: int) -> None:
    os.write(writing, b"1")


def _send(children: set[int], number: signal.Signals) -> None:
    for child in children:
        with contextlib.suppress(ProcessLookupError):
            os.kill(child, number)


def _take_a_share(n: int) -> None:
    """What one process may do of what all may."""
    background.QUOTA = max(2, background.QUOTA // n)
    patience.MOST_AT_ONCE = max(50, patience.MOST_AT_ONCE // n)
    passwords.share_turns(BoundedSemaphore(max(1, passwords.AT_ONCE // n)))
