"""Asks an application without a server or a browser between, so that any spelling of an address reaches it as it is."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any, TypeVar

from here import HERE
from starlette.types import ASGIApp, Message

T = TypeVar("T")


@dataclass
class Answer:
    """What came back."""

    status: int = 0
    headers: dict[str, str] = field(default_factory=dict)
    body: bytes = b""


@dataclass(frozen=True)
class Question:
    """A request: its path as it is once decoded, cookies by name, further headers."""

    path: str
    method: str = "GET"
    query: str = ""
    cookies: dict[str, str] = field(default_factory=dict)
    headers: tuple[tuple[str, str], ...] = ()
    body: bytes = b""
    host: str = "localhost"
    scheme: str = "http"


def ask(app: ASGIApp, asked: Question) -> Answer:
    """The answer to one request."""
    return alone(_ask(app, asked))


def ask_all(app: ASGIApp, questions: list[Question]) -> list[Answer]:
    """The answers to many, one after another."""

    async def each() -> list[Answer]:
        return [await _ask(app, asked) for asked in questions]

    return alone(each())


def alone(work: Coroutine[Any, Any, T]) -> T:
    """What some work gives, in a thread of its own, since a browser under test keeps this one's loop."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, work).result()


async def _ask(app: ASGIApp, asked: Question) -> Answer:
    cookies = "; ".join(f"{k}={v}" for k, v in asked.cookies.items())
    headers = [("host", asked.host), *asked.headers, *([("cookie", cookies)] if cookies else [])]
    scope: dict[str, Any] = {
        "type": "http",
        "asgi": {"version": "3.0", "spec_version": "2.3"},
        "http_version": "1.1",
        "method": asked.method,
        "scheme": asked.scheme,
        "path": asked.path,
        "raw_path": asked.path.encode("utf-8", "surrogatepass"),
        "query_string": asked.query.encode(),
        "root_path": "",
        "headers": [(k.lower().encode(), v.encode("latin-1", "replace")) for k, v in headers],
        "client": HERE,
        "server": ("127.0.0.1", 8610),
    }
    found, sent = Answer(), [{"type": "http.request", "body": asked.body, "more_body": False}]

    async def receive() -> Message:
        if not sent:
            await asyncio.Event().wait()  # whoever asks stays until the answer is there
        return sent.pop(0)

    async def send(message: Message) -> None:
        if message["type"] == "http.response.start":
            found.status = message["status"]
            found.headers = {k.decode().lower(): v.decode("latin-1") for k, v in message["headers"]}
        elif message["type"] == "http.response.body":
            found.body += message.get("body", b"")

    await app(scope, receive, send)
    return found
