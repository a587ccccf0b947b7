"""Who asks is found out here, once for a request; what may be asked is judged by the route that was found (routes.py)."""

import asyncio
from contextlib import AbstractAsyncContextManager, nullcontext
from weakref import WeakValueDictionary

from fastapi import Request
from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

from lengthwise.records import sign_ins
from lengthwise.records.accounts import accounts_exist
from lengthwise.records.store import exists as store_exists
from lengthwise.storage.account_rows import asked_by, asked_from
from lengthwise.web.asker import STRANGER, Asker
from lengthwise.web.cookies import read_cookie
from lengthwise.web.security import is_this_machine

SIGN_IN_COOKIE = "signed_in"
BUILT = "/built"
"""Where files are served that are the same for everybody."""
FORWARDED = ("forwarded", "x-forwarded-for", "x-real-ip")
"""Say that a request was passed on by another program, so that its sender is not the one it seems to come from."""


AT_ONCE = 8
"""So many requests of one account are answered at once, so that none takes every thread; further ones wait for their turn."""


class Gate:
    """Wraps the application: notes who asks; lets nothing but plain requests through, and nobody take every thread."""

    def __init__(self, app: ASGIApp) -> None:
        self._app, self._turns = app, WeakValueDictionary[int, asyncio.Semaphore]()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] == "http":
            asked_from.set(scope["client"][0] if scope.get("client") else "")
            asker = STRANGER if scope["path"].startswith(f"{BUILT}/") else await run_in_threadpool(_asker, Request(scope))
            asked_by.set(asker.account.number if asker.account else None)
            scope.setdefault("state", {})["asker"] = asker
            async with self._turn(asker):
                await self._app(scope, receive, send)
            return
        await self._app(scope, receive, send)

    def _turn(self, asker: Asker) -> AbstractAsyncContextManager[object]:
        """What an account's request waits for; whoever has none waits for nothing, since it could keep others of its address waiting."""
        return self._turns.setdefault(asker.account.number, asyncio.Semaphore(AT_ONCE)) if asker.account else nullcontext()


def _asker(request: Request) -> Asker:
    token, here = read_cookie(request, SIGN_IN_COOKIE), _from_here(request)
    signed = sign_ins.signed_in(token) if token and store_exists() else None
    if signed is not None:
        return Asker(signed.account, confirmed=sign_ins.is_confirmed(signed), from_here=here, own=signed.own)
    return Asker(at_home=here and not accounts_exist(), from_here=here)


def _from_here(request: Request) -> bool:
    """Whether a request was made on this machine and not passed on by a program here."""
    if any(name in request.headers for name in FORWARDED):
        return False
    return request.client is not None and is_this_machine(request.client.host)
