"""Questions that take more than a moment: computed beside the pages, with how far they are."""

import logging
import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as NotYet
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from joblib.externals.loky import get_reusable_executor

T = TypeVar("T")
Told = Callable[[int, int], None]
AT_ONCE_S = 0.8
"""So long an answer is waited for before its progress is given instead."""
KEPT = 40
PATIENCE_S = 20.0
"""A question that waits for its turn is dropped when nobody asked for it so long; pages ask again every second or two."""


_stopping = threading.Event()


class GivenUp(Exception):
    """Nobody waits for the answer any more."""


@dataclass
class Job(Generic[T]):
    """One question being answered.

    Attributes:
        future: its answer. done, total: how far it is. told: whether somebody was given its answer or its error.
        asked: when it was last asked for [s]. given_up: whether it was dropped because nobody did.
    """

    future: "Future[T]" = field(default_factory=Future)
    done: int = 0
    total: int = 0
    told: bool = False
    asked: float = field(default_factory=time.monotonic)
    given_up: bool = False

    def tell(self, done: int, total: int) -> None:
        """How far it is.

        Raises:
            GivenUp: the server is being stopped.
        """
        if _stopping.is_set():
            raise GivenUp
        self.done, self.total = done, total


class Jobs(Generic[T]):
    """Questions by what was asked; each is answered once, one after another.

    Args:
        most: how many are kept.
        to_the_end: whether those that wait are answered though nobody asks again, since they change something.
    """

    def __init__(self, most: int = KEPT, to_the_end: bool = False) -> None:
        self._most, self._jobs, self._lock = most, OrderedDict[Hashable, Job[T]](), threading.Lock()
        self._to_the_end = to_the_end
        self._workers = ThreadPoolExecutor(1, thread_name_prefix="ranking")

    def ask(self, key: Hashable, work: Callable[[Told], T]) -> Job[T]:
        """The job for `key`: the one at hand, or a new one. One that failed is tried again once its error was told, a dropped one at once."""
        with self._lock:
            found = self._jobs.get(key)
            if found is None or found.given_up or (found.told and found.future.exception() is not None):
                job = Job[T]()
                job.future = self._workers.submit(self._run, job, work)
                self._jobs[key] = found = job
                while len(self._jobs) > self._most:
                    self._jobs.popitem(last=False)
            self._jobs.move_to_end(key)
            found.asked = time.monotonic()
            return found

    def answer(self, key: Hashable, work: Callable[[Told], T]) -> T:
        """The answer, waited for as long as it takes."""
        while not finished(job := self.ask(key, work)):
            pass
        return job.future.result()

    def forget(self) -> None:
        """Forget what was answered, since what it rests on has changed."""
        with self._lock:
            for key in [k for k, job in self._jobs.items() if job.future.done()]:
                del self._jobs[key]

    def _run(self, job: Job[T], work: Callable[[Told], T]) -> T:
        """The answer, unless nobody waits for it any more."""
        with self._lock:
            left = not self._to_the_end and time.monotonic() - job.asked > PATIENCE_S
            job.given_up = left or _stopping.is_set()
        if job.given_up:
            raise GivenUp
        try:
            return work(job.tell)
        except Exception:
            if _stopping.is_set():  # whatever ended processes made of it
                raise GivenUp from None
            raise


def stop() -> None:
    """End every question at its next step and the processes that compute for it, since the server is being stopped."""
    _stopping.set()
    logging.getLogger("concurrent.futures").disabled = True  # what it says of processes that are ended on purpose
    get_reusable_executor(reuse=True).shutdown(kill_workers=True)


def finished(job: Job[T], wait_s: float = AT_ONCE_S) -> bool:
    """Whether a job is answered, or is within a moment; its own error is left in it."""
    try:
        job.future.exception(wait_s)
    except NotYet:
        return False
    job.told = True
    return True
