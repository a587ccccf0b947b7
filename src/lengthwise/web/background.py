"""Questions that take more than a moment: computed beside the pages, with how far they are."""

import itertools
import logging
import math
import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as NotYet
from contextvars import ContextVar
from dataclasses import dataclass, field
from hashlib import blake2b
from typing import Any, Generic, TypeVar

from joblib.externals.loky import reusable_executor

from lengthwise.errors import InputError
from lengthwise.storage.account_rows import asked_by, asked_from
from lengthwise.web.board import shared

T = TypeVar("T")
Told = Callable[[int, int], None]
AT_ONCE_S = 0.8
"""So long an answer is waited for before its progress is given instead."""
KEPT = 40
PATIENCE_S = 20.0
"""A question that waits for its turn is dropped when nobody asked for it so long; pages ask again every second or two."""
LEFT_S = 90.0
"""One that is being answered ends at its next step when nobody asked for it so long; pages that are not looked at ask once a minute."""
QUOTA = 6
"""So many questions of one account are waited for at once."""
STILL_ASKED_S = 3.0
"""One that was asked for so lately is still waited for; otherwise it makes room for another of the account."""

_numbers = itertools.count()
"""Tells kinds of questions apart, the same in every process that serves, since they are made when modules are loaded."""
_stopping = threading.Event()


class GivenUp(Exception):
    """Nobody waits for the answer any more, or somebody stopped it."""


class StillWorking(Exception):
    """A question that somebody asked is not answered within a moment; `told` is what says how far it is, as a response."""

    def __init__(self, told: Any) -> None:
        super().__init__("still being worked out")
        self.told = told


class TooMany(InputError):
    """An account waits for as many answers as it may."""


@dataclass(kw_only=True)
class Job(Generic[T]):
    """One question being answered.

    Attributes:
        future: its answer. done, total: how far it is. told: whether somebody was given its answer or its error.
        asked: when it was last asked for [s]. given_up: whether it was dropped because nobody did, or stopped. left_s: so long nobody has to
        ask before it ends [s]. account, address: whose it is, and from where. mark: what it is stopped by; empty where it may not be.
    """

    future: "Future[T]" = field(default_factory=Future)
    done: int = 0
    total: int = 0
    told: bool = False
    asked: float = field(default_factory=time.monotonic)
    given_up: bool = False
    left_s: float = LEFT_S
    account: int | None = field(default_factory=asked_by.get)
    address: str = field(default_factory=asked_from.get)
    mark: str = ""

    def tell(self, done: int, total: int) -> None:
        """How far it is.

        Raises:
            GivenUp: as `check`.
        """
        self.check()
        self.done, self.total = done, total

    def check(self) -> None:
        """Go on only while somebody waits.

        Raises:
            GivenUp: the server is being stopped, or so is this question, or nobody waits for it any more.
        """
        left = time.monotonic() - self.asked > self.left_s
        if left or shared().is_stopped(self.mark, self.account):
            self.given_up = True  # never unset here: others set it meanwhile
        if self.given_up or _stopping.is_set():
            raise GivenUp


under_way = ContextVar[Job[Any] | None]("under_way", default=None)
"""What is being worked out here; nothing in a request that is answered at once."""


def step(done: int = 0, total: int = 0) -> None:
    """Go on only while somebody waits for what is worked out here; called between its parts.

    Raises:
        GivenUp: nobody does any more.
    """
    job = under_way.get()
    if job is not None:
        job.check()


class Jobs(Generic[T]):
    """Questions by what was asked; each is answered once, one after another.

    Args:
        most: how many are kept.
        to_the_end: whether they are answered though nobody asks again, since they change something.
        may_stop: whether one may be stopped on the way, since nothing half is left then.
    """

    def __init__(self, most: int = KEPT, to_the_end: bool = False, may_stop: bool = True) -> None:
        self._most, self._jobs, self._lock = most, OrderedDict[Hashable, Job[T]](), threading.Lock()
        self._to_the_end, self._may_stop = to_the_end, may_stop
        self._number, self._generation = next(_numbers), shared().generation
        self._workers = ThreadPoolExecutor(1, thread_name_prefix="ranking")

    def ask(self, key: Hashable, work: Callable[[Told], T]) -> Job[T]:
        """The job for `key`: the one under way, or a new one. One that failed is tried again once its error was told, a dropped one at once."""
        with self._lock:
            self._forget_of_before()
            found = self._jobs.get(key)
            if found is None or found.given_up or (found.told and found.future.exception() is not None):
                job = self._new(key)
                job.future = self._workers.submit(self._run, job, f"{self._number} {key!r}", work)
                self._jobs[key] = found = job
                while len(self._jobs) > self._most:
                    self._jobs.popitem(last=False)
            self._jobs.move_to_end(key)
            found.asked = time.monotonic()
            return found

    def known(self, key: Hashable) -> Job[T] | None:
        """The job for `key`, where it was asked and did not fail."""
        with self._lock:
            found = self._jobs.get(key)
            failed = found is None or found.given_up or (found.told and found.future.exception() is not None)
            return None if failed else found

    def is_busy(self) -> bool:
        """Whether any of its questions is not answered yet."""
        with self._lock:
            return any(not job.future.done() for job in self._jobs.values())

    def _new(self, key: Hashable) -> Job[T]:
        """A job of whoever asks.

        Raises:
            TooMany: there are as many as there may be.
        """
        mark = blake2b(f"{self._number} {key!r}".encode(), key=_SECRET, digest_size=16).hexdigest()
        job = Job[T](left_s=math.inf if self._to_the_end else LEFT_S, mark=mark if self._may_stop else "")
        with _all_lock:
            _all[:] = [j for j in _all if not j.future.done() and not j.given_up]
            own = [j for j in _all if j.account == job.account]
            if job.account is not None and len(own) >= QUOTA:
                _give_up_one(own)
            _all.append(job)
        return job

    def answer(self, key: Hashable, work: Callable[[Told], T]) -> T:
        """The answer, waited for as long as it takes, or until whoever asked does not wait any more."""
        while not finished(job := self.ask(key, work)):
            step()
        return job.future.result()

    def forget(self) -> None:
        """Forget what was answered, since what it rests on has changed; other processes do so too."""
        with self._lock:
            self._forget()
        shared().bump()

    def _forget(self) -> None:
        for key in [k for k, job in self._jobs.items() if job.future.done()]:
            del self._jobs[key]

    def _forget_of_before(self) -> None:
        """Forget what was answered before another process said that what it rests on has changed."""
        if self._generation != shared().generation:
            self._generation = shared().generation
            self._forget()

    def _run(self, job: Job[T], name: str, work: Callable[[Told], T]) -> T:
        """The answer, unless nobody waits for it any more."""
        with self._lock:
            left = not self._to_the_end and time.monotonic() - job.asked > PATIENCE_S
            job.given_up = job.given_up or left or _stopping.is_set()
        if job.given_up:
            raise GivenUp
        under_way.set(job)
        asked_from.set(job.address)
        try:
            return shared().once(name, job.mark, job.tell, work)
        except Exception:
            if _stopping.is_set():  # whatever ended processes made of it
                raise GivenUp from None
            raise


_SECRET = secrets.token_bytes(16)
"""Makes marks that nobody guesses, the same in every process that serves."""
_all: list[Job[Any]] = []
"""Every question that is not answered yet."""
_all_lock = threading.Lock()


def _give_up_one(own: list[Job[Any]]) -> None:
    """Make room for a question of an account by dropping the one that was asked longest ago.

    Raises:
        TooMany: each is still waited for.
    """
    left = min((j for j in own if j.left_s < math.inf), key=lambda j: j.asked, default=None)
    if left is None or time.monotonic() - left.asked < STILL_ASKED_S:
        raise TooMany(
            f"{len(own)} of your questions are being answered; wait for one, or stop one", asked=len(own), allowed=[QUOTA]
        )
    left.given_up = True


def stop_one(mark: str, account: int | None) -> bool:
    """End a question of an account at its next step; gives whether there was one of that mark."""
    with _all_lock:
        found = [j for j in _all if j.mark and j.mark == mark and j.account == account and not j.future.done()]
    for job in found:
        job.given_up = True
    return shared().stop(mark, account) or bool(found)


def stop() -> None:
    """End every question at its next step and the processes that compute for it, since the server is being stopped."""
    _stopping.set()
    logging.getLogger("concurrent.futures").disabled = True  # what it says of processes that are ended on purpose
    spread = reusable_executor._executor  # asking for it would begin processes where there are none
    if spread is not None:
        spread.shutdown(kill_workers=True)


def finished(job: Job[T], wait_s: float = AT_ONCE_S) -> bool:
    """Whether a job is answered, or is within a moment; its own error is left in it."""
    try:
        job.future.exception(wait_s)
    except NotYet:
        return False
    job.told = True
    return True
