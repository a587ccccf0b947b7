"""What every request must meet, and what every answer carries.

Requests from other sites are refused by where the browser says they come from (`Sec-Fetch-Site`, else `Origin`), so no token has to be
put into pages; requests to a host name that is not ours are refused, so that a foreign name cannot be pointed at this address.
"""

import asyncio
import ipaddress
import re
import time
from collections.abc import Iterable
from urllib.parse import SplitResult, urlsplit

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from lengthwise.web.uploads import BACKUP, TABLE

LONGEST_ADDRESS = 8000
"""Most characters of an address with its question."""
BODY_WITHIN_S = 30.0
"""So long the next piece of a body is waited for."""
WHOLE_BODY_WITHIN_S = 600.0
"""So long a body may take as a whole; a backup of the largest size comes in time at 0.9 Mbit/s."""
LATE = (
    f"the rest did not arrive in time; allowed {BODY_WITHIN_S:.0f} s for the next piece, {WHOLE_BODY_WITHIN_S:.0f} s for all of it"
)
LARGEST_BODY = 1_000_000
"""Most bytes of a request's body."""
UPLOADS = ((re.compile(r"/log/\d+/import"), TABLE), (re.compile(r"/records/restore"), BACKUP))
"""Where larger files may be sent."""
WRAPPING = 10_000
"""Most bytes of what wraps a file that is sent."""
LOOPBACK = frozenset({"127.0.0.1", "localhost", "[::1]"})
EVERYWHERE = frozenset({"0.0.0.0", "[::]"})
"""Stand for every address of the machine."""
HOST = re.compile(r"(?P<name>\[[0-9a-fA-F:.]{2,45}\]|[0-9A-Za-z]([0-9A-Za-z.-]{0,252}))(:(?P<port>[0-9]{1,5}))?", re.ASCII)
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS", "TRACE"})
POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self'",
        "font-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    ]
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "x-frame-options": "DENY",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=()",
}


CARRIED = tuple((name.encode(), value.encode()) for name, value in {**HEADERS, "cache-control": "no-store"}.items())
ENCRYPTED = (*CARRIED, (b"strict-transport-security", b"max-age=31536000"))
"""What every answer carries unless it says otherwise itself, as it is sent."""


class Guard:
    """Wraps the application: checks host, origin and size; adds the headers."""

    def __init__(self, app: ASGIApp, hosts: Iterable[str] = LOOPBACK) -> None:
        self._app = app
        self._hosts = frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        largest = largest_body(scope["path"])
        refusal = _misshapen(scope) or self._refusal(scope["method"], Headers(scope=scope), largest)
        if refusal is not None:
            await PlainTextResponse(refusal[1], refusal[0], {**HEADERS, "cache-control": "no-store"})(scope, receive, send)
            return
        await self._app(scope, _Bounded(receive, largest), _with_headers(send, scope["scheme"] == "https"))

    def _refusal(self, method: str, headers: Headers, largest: int) -> tuple[int, str] | None:
        named = headers.getlist("host")
        host = named[0] if len(named) == 1 else ""
        if not self._serves(host_name(host)):
            return 400, "this address does not serve that host name"
        if method not in SAFE_METHODS and not same_site(headers, host):
            return 403, "a form from another site cannot be sent here"
        if _declared_size(headers) > largest:
            return 413, too_large(largest)
        return None

    def _serves(self, name: str) -> bool:
        """Whether a name is ours; where every address of the machine is served, its numbers are, which no foreign name can take."""
        return (name in self._hosts and name not in EVERYWHERE) or (bool(self._hosts & EVERYWHERE) and is_address(name))


def _misshapen(scope: Scope) -> tuple[int, str] | None:
    """Why a request is refused whatever it asks: an address that is too long, or a body whose end is said in two ways."""
    if len(scope["path"]) + len(scope["query_string"]) > LONGEST_ADDRESS:
        return 414, f"an address of more than {LONGEST_ADDRESS} characters"
    headers = Headers(scope=scope)
    if "transfer-encoding" in headers and "content-length" in headers:
        return 400, "a body has a length or comes in pieces, not both"
    return None


def largest_body(path: str) -> int:
    """Most bytes of a body that is sent to an address."""
    return next((kind.largest + WRAPPING for where, kind in UPLOADS if where.fullmatch(path)), LARGEST_BODY)


def too_large(largest: int) -> str:
    """What somebody is told whose body is too large."""
    return f"too large; allowed {largest} bytes"


def is_address(name: str) -> bool:
    """Whether a host is named by its number."""
    try:
        ipaddress.ip_address(name.strip("[]"))
    except ValueError:
        return False
    return True


def is_this_machine(name: str) -> bool:
    """Whether only programs on this machine can reach an address, or ask from it."""
    if name == "localhost":
        return True
    try:
        return ipaddress.ip_address(name.strip("[]")).is_loopback
    except ValueError:
        return False


def same_site(headers: Headers, host: str) -> bool:
    """Whether a request that changes something comes from our own pages, or from a program rather than a browser."""
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    origin = headers.get("origin")
    return origin is None or split_address(origin).netloc == host


def split_address(address: str) -> SplitResult:
    """The parts of an address; empty ones where it is none."""
    try:
        return urlsplit(address)
    except ValueError:
        return urlsplit("")


def host_name(host: str) -> str:
    """The name of a Host header, small; empty where it is not a name, or a number, and perhaps a port, and nothing else."""
    found = HOST.fullmatch(host)
    return found["name"].lower() if found and 0 < int(found["port"] or 80) <= 65535 else ""


def _declared_size(headers: Headers) -> int:
    size = headers.get("content-length", "0")
    return int(size) if re.fullmatch("[0-9]{1,15}", size) else 0


class _Bounded:
    """A body that is cut off when it grows too large."""

    def __init__(self, receive: Receive, largest: int) -> None:
        self._receive, self._largest, self._seen, self._whole = receive, largest, 0, False
        self._until = time.monotonic() + WHOLE_BODY_WITHIN_S

    async def __call__(self) -> Message:
        within_s = min(BODY_WITHIN_S, self._until - time.monotonic())
        try:
            message = await asyncio.wait_for(self._receive(), None if self._whole else within_s)
        except TimeoutError:
            raise HTTPException(408, LATE) from None
        if message["type"] == "http.request":
            self._seen += len(message.get("body", b""))
            self._whole = not message.get("more_body", False)
            if self._seen > self._largest:
                raise HTTPException(413, too_large(self._largest))
        return message


def _with_headers(send: Send, encrypted: bool) -> Send:
    wanted = ENCRYPTED if encrypted else CARRIED

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            there = {name.lower() for name, _ in message.get("headers", ())}
            message = {**message, "headers": [*message.get("headers", ()), *(h for h in wanted if h[0] not in there)]}
        await send(message)

    return sending
