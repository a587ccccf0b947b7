"""Profiles of many lifts on one body, on all processors: threads of this process, as the compiled core works without its lock.

Nothing is started and nothing is copied between processes. An answer does not depend on the number of threads.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from typing import TypeVar

from lengthwise.body.model import Body
from lengthwise.errors import InputError
from lengthwise.mechanics.profile import FAILS, Asked, LiftProfile, Outline, outlines

Item = TypeVar("Item")
Told = TypeVar("Told")
__all__ = ["FAILS", "Asked", "each_outline", "in_threads", "processors"]


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


def each_outline(body: Body, asked: Sequence[Asked], threads: int | None = None) -> list[LiftProfile | Outline | Exception]:
    """Each lift in outline, or why there is none, in the order asked.

    Args:
        threads: see `in_threads`.
    """
    return outlines(body, asked, _checked(threads))
