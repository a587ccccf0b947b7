"""Who sends nothing, too much or in two ways is not waited for; the server goes on."""

import asyncio
import contextlib
import http.client
import socket
import threading
import time
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
import uvicorn
from asking_plainly import Question, alone, ask
from fastapi import Request
from starlette.types import Receive, Scope, Send

from lengthwise.storage.account_rows import Account
from lengthwise.web import gate, patience, security, serving
from lengthwise.web.app import create_app
from lengthwise.web.asker import Asker
from lengthwise.web.listening import Door
from lengthwise.web.reached import ServedAt


@pytest.fixture
def door(tmp_path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Door]:
    """A server within this process that is even less patient."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.setattr(patience, "HEAD_WITHIN_S", 1.0)
    monkeypatch.setattr(security, "BODY_WITHIN_S", 1.0)
    server = uvicorn.Server(serving._configuration(create_app(), ServedAt().options))
    with serving.bound("127.0.0.1", 0) as listening:
        thread = threading.Thread(target=lambda: asyncio.run(server.serve([listening])))
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield listening
        server.should_exit = True
        thread.join(120)
        assert not thread.is_alive()


@pytest.fixture
def port(door: Door) -> int:
    return int(door.getsockname()[1])


def test_a_head_that_does_not_come_is_not_waited_for(port: int):
    with socket.create_connection(("127.0.0.1", port), timeout=120) as slow:
        slow.sendall(b"GET /mark.svg HTTP/1.1\r\nHost: 127.0.0.1\r\n")
        assert slow.recv(100) == b""
    with socket.create_connection(("127.0.0.1", port), timeout=120) as kept:
        kept.sendall(b"GET /mark.svg HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        assert kept.recv(20).startswith(b"HTTP/1.1 200")
        kept.sendall(b"GET /mark.svg")
        while kept.recv(4096):
            pass


def test_a_body_that_does_not_come_is_not_waited_for(port: int):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
    connection.putrequest("POST", "/settings")
    connection.putheader("content-type", "application/x-www-form-urlencoded")
    connection.putheader("content-length", "100")
    connection.endheaders(b"sex=")
    assert connection.getresponse().status == 408


def test_a_body_that_comes_drop_by_drop_has_an_end(port: int, monkeypatch: pytest.MonkeyPatch):
    """Each piece is in time; the whole is not."""
    monkeypatch.setattr(security, "BODY_WITHIN_S", 120.0)
    monkeypatch.setattr(security, "WHOLE_BODY_WITHIN_S", 1.0)
    form = b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 900000\r\n\r\n"
    with socket.create_connection(("127.0.0.1", port), timeout=120) as slow:
        slow.sendall(b"POST /settings HTTP/1.1\r\nHost: 127.0.0.1\r\n" + form)
        slow.settimeout(0.05)
        said, until = b"", time.monotonic() + 120
        while not said and time.monotonic() < until:
            slow.sendall(b"x")
            with contextlib.suppress(TimeoutError):
                said = slow.recv(100)
        assert said.startswith(b"HTTP/1.1 408")


def test_an_answer_that_nobody_takes_is_not_waited_for(port: int, monkeypatch: pytest.MonkeyPatch):
    """Whoever asks over and over and reads nothing holds a connection for no longer; a small window fills soon."""
    monkeypatch.setattr(patience, "UNREAD_S", 1.0)
    with socket.socket() as deaf:
        deaf.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        deaf.settimeout(120)
        deaf.connect(("127.0.0.1", port))
        with pytest.raises((ConnectionResetError, BrokenPipeError)):
            while True:
                deaf.sendall(b"GET /mark.svg HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n" * 1000)
    assert asked_from("127.0.0.1", port).startswith(b"HTTP/1.1 200")


def test_no_address_takes_every_connection(door: Door, port: int, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(patience, "MOST_AT_ONCE", 4)
    monkeypatch.setattr(patience, "HEAD_WITHIN_S", 120.0)
    with contextlib.ExitStack() as many:
        for _ in range(2):
            held = many.enter_context(socket.create_connection(("127.0.0.1", port), timeout=120))
            held.sendall(b"GET /mark.svg")
        until = time.monotonic() + 120
        while door.inside["127.0.0.1"] < 2 and time.monotonic() < until:
            time.sleep(0.01)
        assert asked_from("127.0.0.1", port) == b""
        assert asked_from("127.0.0.2", port).startswith(b"HTTP/1.1 200")
    until = time.monotonic() + 120
    while door.inside["127.0.0.1"] and time.monotonic() < until:
        time.sleep(0.01)
    assert asked_from("127.0.0.1", port).startswith(b"HTTP/1.1 200")


def asked_from(address: str, port: int) -> bytes:
    """What somebody at an address of this machine is answered at first; nothing where the connection is ended."""
    with socket.create_connection(("127.0.0.1", port), 120, (address, 0)) as asking:
        try:
            asking.sendall(b"GET /mark.svg HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n")
            return asking.recv(100)
        except ConnectionError:
            return b""


def test_long_heads_and_addresses_and_two_ends_are_refused(port: int):
    with socket.create_connection(("127.0.0.1", port), timeout=120) as long:
        long.sendall(b"GET /mark.svg HTTP/1.1\r\nHost: 127.0.0.1\r\nX: " + b"x" * 40_000)
        assert long.recv(20).startswith(b"HTTP/1.1 400")
    app = create_app({"localhost"})
    assert ask(app, Question("/" + "x" * 9000)).status == 414
    both = (("content-length", "5"), ("transfer-encoding", "chunked"))
    assert ask(app, Question("/settings", "POST", headers=both)).status == 400


def test_pages_are_kept_by_no_cache(port: int):
    app = create_app({"localhost"})
    assert ask(app, Question("/people")).headers["cache-control"] == "no-store"
    assert ask(app, Question("/people", host="elsewhere.example")).headers["cache-control"] == "no-store"


def test_an_account_takes_some_threads_and_the_others_find_theirs(monkeypatch: pytest.MonkeyPatch):
    under_way, most = Counter[int](), Counter[int]()

    async def slow(scope: Scope, receive: Receive, send: Send) -> None:
        whose = scope["state"]["asker"].account.number
        under_way[whose] += 1
        most[whose] = max(most[whose], under_way[whose])
        if under_way[0] >= gate.AT_ONCE and under_way[1] >= gate.AT_ONCE:
            both_full.set()
        await asyncio.wait_for(both_full.wait(), 120)
        await asyncio.sleep(0.05)  # one too many would come in now
        under_way[whose] -= 1

    def asker(request: Request) -> Asker:
        number = int(request.query_params["account"])
        return Asker(Account(number=number, name="", role="client", client=1, password_hash="", made_at=datetime.now(UTC)))

    async def all_at_once() -> None:
        at = [{"type": "http", "path": "/", "headers": [], "query_string": f"account={n % 2}".encode()} for n in range(60)]
        await asyncio.gather(*(wrapped(s, None, None) for s in at))

    wrapped, both_full = gate.Gate(slow), asyncio.Event()
    monkeypatch.setattr(gate, "_asker", asker)
    alone(all_at_once())
    assert most == {0: gate.AT_ONCE, 1: gate.AT_ONCE}
