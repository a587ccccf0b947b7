"""Serving the workbench: on this machine alone unless accounts exist."""

import contextlib
import os
import signal
import socket
import threading
import webbrowser
from collections.abc import Callable, Mapping
from typing import Any

import uvicorn
from fastapi import FastAPI
from threadpoolctl import threadpool_limits

from lengthwise.errors import InputError
from lengthwise.records.accounts import accounts_exist
from lengthwise.web import background, patience
from lengthwise.web.app import create_app
from lengthwise.web.assets import bundle
from lengthwise.web.listening import Door
from lengthwise.web.patience import ENDS_WITHIN_S, LONGEST_HEAD, STOPS_WITHIN_S, Impatient
from lengthwise.web.reached import ServedAt, check_encrypted
from lengthwise.web.security import LOOPBACK, is_this_machine
from lengthwise.web.workers import check_workers, serve_together

FIRST_PORT = 8610


def check_host(host: str) -> None:
    """Whether the workbench may be reached at this address.

    Raises:
        InputError: not an address of this machine alone, and nobody could sign in.
    """
    if is_this_machine(host) or accounts_exist():
        return
    raise InputError(
        f"host {host!r} can be reached from other machines, and there are no accounts to sign in with; "
        "create one with `lengthwise account add`; allowed without accounts 127.0.0.1, ::1, localhost",
        asked=host,
        allowed=["127.0.0.1", "::1", "localhost"],
    )


def bound(host: str, port: int | None) -> Door:
    """A socket that listens at `port` (0 for any), or at the first free one from FIRST_PORT on.

    Raises:
        InputError: the port is taken or not allowed.
    """
    ports = range(FIRST_PORT, FIRST_PORT + 50) if port is None else [port]
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    reason = ""
    for candidate in ports:
        found = Door(family, socket.SOCK_STREAM)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((host, candidate))
            found.listen(128)
            return found
        except OSError as error:
            reason = error.strerror or str(error)
            found.close()
    raise InputError(
        f"port {f'{FIRST_PORT} to {ports[-1]}' if port is None else port} on {host}: {reason}; give another --port", asked=port
    )


def serve(reached: ServedAt, browser: bool, say: Callable[[str], None], workers: int = 1) -> None:
    """Serve until stopped; the process ends then.

    Args:
        browser: open one, if there is one.
        say: told the address once it can be opened.
        workers: processes that answer.

    Raises:
        InputError: an address that may not be served, or a port that is taken. DataFileError: the bundle has not been built.
    """
    for host in (reached.host, *reached.public_hosts):
        check_host(host)
    check_encrypted(reached)
    check_workers(workers)
    options = reached.options
    bundle()
    with contextlib.closing(bound(reached.host, reached.port)) as listening:
        listening.counts = not reached.proxy
        name = f"[{reached.host}]" if ":" in reached.host else reached.host
        address = f"{reached.scheme}://{name}:{listening.getsockname()[1]}"
        served = {*LOOPBACK, name, *(host.lower() for host in reached.public_hosts)}
        app = create_app(served)

        def ready() -> None:
            say(address)
            if browser:
                open_browser(address)

        def serve_one(ready: Callable[[], None]) -> None:
            server = _Announcing(_configuration(app, options))
            server.announce = ready
            with contextlib.suppress(KeyboardInterrupt), threadpool_limits(1):
                server.run([listening])

        if workers > 1:
            serve_together(workers, serve_one, ready)
        else:
            signal.signal(signal.SIGTERM, signal.default_int_handler)  # ends as orderly as by Ctrl-C
            serve_one(ready)
    os._exit(0)  # nothing is left to be done, and taking down what was loaded takes seconds


def _configuration(app: FastAPI, options: Mapping[str, Any]) -> uvicorn.Config:
    """How requests are taken."""
    return uvicorn.Config(
        app,
        log_level="warning",
        server_header=False,
        loop="asyncio",  # whose accepting asks the door
        http=Impatient,
        ws="none",
        limit_concurrency=patience.MOST_AT_ONCE,
        h11_max_incomplete_event_size=LONGEST_HEAD,
        timeout_graceful_shutdown=STOPS_WITHIN_S,
        **options,
    )


class _Announcing(uvicorn.Server):
    """Says that it is ready, and ends what is being computed when it is stopped."""

    announce: Callable[[], object]

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self.announce()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        end = threading.Timer(ENDS_WITHIN_S, os._exit, (0,))  # a lift in the midst of being solved is not waited for
        end.daemon = True
        end.start()
        background.stop()
        await super().shutdown(sockets)


def open_browser(address: str) -> bool:
    """Open a browser where there is a screen for one."""
    if (
        os.name == "posix"
        and os.uname().sysname == "Linux"
        and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    ):
        return False
    try:
        return webbrowser.open(address)
    except webbrowser.Error:
        return False
