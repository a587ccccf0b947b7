"""Requests that compute: worked out beside the others, few of one account at once, and ended when whoever asked hangs up."""

import asyncio
import math
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from contextvars import copy_context
from functools import partial, update_wrapper
from inspect import Parameter, signature
from typing import Any, TypeVar
from weakref import WeakValueDictionary

from fastapi import Request
from starlette.requests import ClientDisconnect

from lengthwise.storage.account_rows import asked_by
from lengthwise.web.background import Job, step, under_way

F = TypeVar("F", bound=Callable[..., Any])
AT_ONCE = 8
"""So many requests compute at once."""
OF_ONE_ACCOUNT = 2
"""So many of these are of one account, so that others come in between; further ones wait for their turn."""
IN_TURN = "computed_in_turn"

_pool = ThreadPoolExecutor(AT_ONCE, thread_name_prefix="turn")
_turns = WeakValueDictionary[int | None, asyncio.Semaphore]()


def in_turn(endpoint: F) -> F:
    """Let a route compute. Its request is answered when that is done, and no other waits for it meanwhile."""
    told = signature(endpoint)
    has_request = "request" in told.parameters

    async def computed(request: Request, **values: Any) -> Any:
        return await _computed(request, partial(endpoint, **({"request": request} if has_request else {}), **values))

    update_wrapper(computed, endpoint)
    del computed.__wrapped__  # type: ignore[attr-defined]
    asked = [] if has_request else [Parameter("request", Parameter.KEYWORD_ONLY, annotation=Request)]
    computed.__signature__ = told.replace(  # type: ignore[attr-defined]
        parameters=[p.replace(kind=Parameter.KEYWORD_ONLY) for p in [*told.parameters.values(), *asked]]
    )
    setattr(computed, IN_TURN, True)
    return computed  # type: ignore[return-value]


async def _computed(request: Request, work: Callable[[], Any]) -> Any:
    """What the work gives, once it is its turn.

    Raises:
        GivenUp: whoever asked hung up.
    """
    gone = asyncio.ensure_future(_hung_up(request))
    job = Job[Any](left_s=math.inf)
    try:
        async with _turns.setdefault(asked_by.get(), asyncio.Semaphore(OF_ONE_ACCOUNT)):
            job.given_up = gone.done()
            here = copy_context()
            running = asyncio.wrap_future(_pool.submit(lambda: here.run(_run, job, work)))
            await asyncio.wait({running, gone}, return_when=asyncio.FIRST_COMPLETED)
            job.given_up = not running.done()
            return await running  # a turn is over when its work has ended
    finally:
        job.given_up = True
        gone.cancel()


def _run(job: Job[Any], work: Callable[[], Any]) -> Any:
    under_way.set(job)
    step()
    return work()


async def _hung_up(request: Request) -> None:
    """Ends when whoever asked does not wait any more."""
    with suppress(ClientDisconnect):
        while (await request.receive())["type"] != "http.disconnect":
            pass
