"""Profiles of many lifts on one body, on all processors: threads of this process, as the compiled core works without its lock.

Nothing is started and nothing is copied between processes. An answer does not depend on the number of threads.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from typing import TypeVar

from lengthwise.body.model import Body
from lengthwise.errors import InputError
from lengthwise.mechanics.profile import FAILS, Asked, LiftProfile, profiles

Item = TypeVar("Item")
Told = TypeVar("Told")
__all__ = ["FAILS", "Asked", "each_profile", "in_threads", "processors"]
AT_ONCE = 24
"""Lifts whose answers are held at once."""


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
    n = _checked(threads)
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


def _checked(threads: int | None) -> int:
    n = processors() if threads is None else threads
    if n < 1:
        raise InputError(f"threads = {n}; allowed: 1 or more", asked=n)
    return n


def each_profile(
    body: Body, asked: Sequence[Asked], tell: Callable[[Sequence[LiftProfile]], Sequence[Told]], threads: int | None = None
) -> list[Told | Exception]:
    """What `tell` makes of each lift's profile, or why there is none, in the order asked.

    Args:
        tell: keeps what is wanted of each of some profiles, whose arrays are large.
        threads: see `in_threads`.
    """
    n, out = _checked(threads), list[Told | Exception]()
    for first in range(0, len(asked), AT_ONCE):
        out += told_of_each(profiles(body, asked[first : first + AT_ONCE], n), tell)
    return out


def told_of_each(
    found: Sequence[LiftProfile | Exception], tell: Callable[[Sequence[LiftProfile]], Sequence[Told]]
) -> list[Told | Exception]:
    """What `tell` makes of the profiles among what was found, each in its place."""
    told = iter(tell([p for p in found if not isinstance(p, Exception)]))
    return [p if isinstance(p, Exception) else next(told) for p in found]
