"""Profiles of many lifts on one body, on all processors: threads of this process, as the compiled core works without its lock.

Nothing is started and nothing is copied between processes. An answer does not depend on the number of threads.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from typing import TypeVar

from lengthwise.body.model import Body
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile, Request, profile

Item = TypeVar("Item")
Told = TypeVar("Told")
Asked = tuple[str, Lift, Request]
FAILS = (NoSolutionError, InputError, RuntimeError)
"""What a lift may fail with: it cannot be taken or held, its set-up is out of bounds, or a solver stopped without an answer."""


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_threads(work: Callable[[Item], Told], items: Sequence[Item], threads: int | None = None) -> Iterator[tuple[int, Told]]:
    """Each item's place and what `work` makes of it, as they are done.

    Args:
        threads: as many as there are processors by default.

    Raises:
        InputError: less than one thread.
    """
    n = processors() if threads is None else threads
    if n < 1:
        raise InputError(f"threads = {n}; allowed: 1 or more", asked=n)
    if min(n, len(items)) <= 1:
        yield from ((place, work(item)) for place, item in enumerate(items))
        return
    with ThreadPoolExecutor(n) as pool:
        running = {pool.submit(work, item): place for place, item in enumerate(items)}
        try:
            for done in as_completed(running):
                yield running[done], done.result()
        finally:
            pool.shutdown(cancel_futures=True)


def each_profile(
    body: Body, asked: Sequence[Asked], tell: Callable[[LiftProfile], Told], threads: int | None = None
) -> list[Told | Exception]:
    """What `tell` makes of each lift's profile, or why there is none, in the order asked.

    Args:
        tell: keeps what is wanted of a profile, whose arrays are large; it runs in the thread that made it.
        threads: see `in_threads`.
    """

    def one(lift: Asked) -> Told | Exception:
        try:
            return tell(profile(body, *lift))
        except FAILS as error:
            return error

    return [told for _, told in sorted(in_threads(one, asked, threads), key=lambda at: at[0])]
