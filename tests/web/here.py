"""Requests that come from this machine, as the test client's do not say."""

from starlette.types import ASGIApp, Receive, Scope, Send

HERE = ("127.0.0.1", 50000)


def at_home(app: ASGIApp) -> ASGIApp:
    """An application that takes every request to come from this machine."""

    async def asked(scope: Scope, receive: Receive, send: Send) -> None:
        await app({**scope, "client": HERE} if scope["type"] == "http" else scope, receive, send)

    return asked
