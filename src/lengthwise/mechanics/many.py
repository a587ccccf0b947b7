"""Profiles of many lifts on one body, on all processors: threads of this process, as the compiled core works without its lock.

Nothing is started and nothing is copied between processes. An answer does not depend on the number of threads.
"""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from lengthwise.body.model import Body
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile, Request, profile

Told = TypeVar("Told")
Asked = tuple[str, Lift, Request]
FAILS = (NoSolutionError, InputError, RuntimeError)
"""What a lift may fail with: it cannot be taken or held, its set-up is out of bounds, or a solver stopped without an answer."""


def each_profile(
    body: Body, asked: Sequence[Asked], tell: Callable[[LiftProfile], Told], threads: int | None = None
) -> list[Told | Exception]:
    """What `tell` makes of each lift's profile, or why there is none, in the order asked.

    Args:
        tell: keeps what is wanted of a profile, whose arrays are large; it runs in the thread that made it.
        threads: as many as there are processors by default.

    Raises:
        InputError: less than one thread.
    """
    n = processors() if threads is None else threads
    if n < 1:
        raise InputError(f"threads = {n}; allowed: 1 or more", asked=n)

    def one(lift: Asked) -> Told | Exception:
        try:
            return tell(profile(body, *lift))
        except FAILS as error:
            return error

    if n == 1:
        return [one(lift) for lift in asked]
    with ThreadPoolExecutor(n) as pool:
        return list(pool.map(one, asked))


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
