"""A hundred phones that log two sets a second between them while lifts are ranked, against an address that does next to nothing.

    python bench/phones.py [--seconds 120] [--workers 2] [--databases sqlite postgresql]

One server of its own on 127.0.0.1, asked over HTTP by another process; a PostgreSQL server of its own too, which syncs each commit. What
is told is how long each waited by the clock, so it says as much about what else the machine does: hold a set against the empty address of
the same run. It ends with 1 where anything was refused, nothing was being ranked, or the slowest hundredth of sets or pages waited a second.
"""

import argparse
import contextlib
import http.client
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "storage"))
PHONES, SETS_A_SECOND = 100, 2.0
PASSWORD = "a long enough word"
WAITED_S = 1.0
"""What the slowest hundredth may wait."""
WARM_S, FIRST_ORDER_S = 10.0, 400.0
"""So long the server is asked before anything counts, since what it needs is loaded when it is first asked for; and so long a first order is
waited for before that, since studies are fitted and bodies built for it."""
COMMAND = [sys.executable, "-m", "lengthwise.cli", "serve", "--port", "0"]


def gym() -> list[tuple[int, str]]:
    """A hundred clients with an account each and a log of some months: number and token of each."""
    from lengthwise.records import accounts, sign_ins, store
    from lengthwise.records import log_entries as log
    from lengthwise.training.client import Client
    from lengthwise.training.log import LoggedSet, Session

    accounts.add_account("Coach", PASSWORD)
    out = [(0, sign_ins.sign_in("Coach", PASSWORD).token)]
    for n in range(PHONES):
        number = store.save_client(Client(name=f"Client {n:03}"))
        for week in range(4):
            sets = tuple(
                LoggedSet(lift=lift, load_kg=60.0, repetitions=8, reserve=2.0)
                for lift in ("back_squat", "bench_press")
                for _ in range(3)
            )
            log.add_session(number, Session(day=date.today() - timedelta(days=7 * week + 1), sets=sets))
        made = accounts.add_account(f"Client {n:03}", PASSWORD, "client", number)
        out.append((number, sign_ins._begin(made, sign_ins.SignInVisit()).token))
    return out


@contextlib.contextmanager
def served(workers: int) -> Iterator[str]:
    """A server of the gym; gives its address."""
    with subprocess.Popen([*COMMAND, "--workers", str(workers)], stdout=subprocess.PIPE, text=True) as server:
        try:
            yield urlsplit(server.stdout.readline().split(" at ")[1].split()[0]).netloc
        finally:
            server.send_signal(signal.SIGTERM)


class Phone:
    """Asks over one connection that it keeps."""

    def __init__(self, address: str, token: str) -> None:
        self.connection, self.cookie = http.client.HTTPConnection(address, timeout=60), f"signed_in={token}"

    def ask(self, path: str, body: object = None) -> tuple[float, int]:
        """Seconds until the whole answer was there, and its status.

        Raises:
            RuntimeError: it was refused.
        """
        headers = {"cookie": self.cookie, "sec-fetch-site": "same-origin", "accept-encoding": "gzip"}
        begun = time.perf_counter()
        if body is None:
            self.connection.request("GET", path, headers=headers)
        else:
            self.connection.request("POST", path, json.dumps(body), {**headers, "content-type": "application/json"})
        answer = self.connection.getresponse()
        said = answer.read()
        if answer.status >= 300:
            raise RuntimeError(f"{path}: {answer.status} {said[:200]!r}")
        return time.perf_counter() - begun, answer.status


@dataclass
class Waited:
    """How long each waited [s], by what it asked; orders of lifts that were asked for and that came; what was refused."""

    begun: float
    until: float
    took: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    ranked: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    broken: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def over(self) -> bool:
        """Whether the time is up."""
        return time.monotonic() >= self.until

    def note(self, kind: str, took: float) -> None:
        """One answer, unless the server was still warming up."""
        with self.lock:
            if time.monotonic() - took > self.begun:
                self.took[kind].append(took)

    def noting(self, work: Callable[[], None]) -> Callable[[], None]:
        """`work` that tells what it broke on."""

        def noted() -> None:
            try:
                work()
            except Exception as error:
                self.broken.append(f"{type(error).__name__}: {error}")

        return noted


def warm_up(coach: Phone) -> None:
    """Let one order be made before anything counts."""
    until = time.monotonic() + FIRST_ORDER_S
    while time.monotonic() < until and coach.ask("/api/rank/triceps?mass_kg=59")[1] != 200:
        time.sleep(0.5)
    coach.connection.close()


def rank(coach: Phone, waited: Waited) -> None:
    """Rank for one body after another, so that something is computed all the time."""
    body = 0
    while not waited.over:
        _, status = coach.ask(f"/api/rank/triceps?mass_kg={60 + body * 0.37:.2f}")
        waited.ranked[status] += 1
        body += status == 200
        time.sleep(0.5)


def log(own: Phone, number: int, waited: Waited, seed: int) -> None:
    """Log a set now and then, and look at the log."""
    chance, pause = random.Random(seed), PHONES / SETS_A_SECOND
    time.sleep(chance.random() * pause)
    while not waited.over:
        line = {"key": uuid.uuid4().hex, "day": str(date.today()), "lift": "back squat", "line": "1x8 @ 60 r2"}
        for kind, path, body in (
            ("empty", "/mark.svg", None),
            ("set", f"/api/log/{number}/line", line),
            ("page", f"/log/{number}", None),
        ):
            waited.note(kind, own.ask(path, body)[0])
        own.connection.close()  # as a phone's that is put away between sets
        time.sleep(min(chance.uniform(0.5, 1.5) * pause, max(0.0, waited.until - time.monotonic())))


def run(address: str, people: list[tuple[int, str]], seconds: float) -> Waited:
    """Let everybody ask for some seconds after those that warm up."""
    warm_up(Phone(address, people[0][1]))
    begun = time.monotonic() + WARM_S
    waited, (coach, *clients) = Waited(begun, begun + seconds), people
    work = [lambda: rank(Phone(address, coach[1]), waited)]
    work += [partial(log, Phone(address, token), number, waited, n) for n, (number, token) in enumerate(clients)]
    threads = [threading.Thread(target=waited.noting(one)) for one in work]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return waited


def told(waited: Waited) -> bool:
    """Print how long each waited; gives whether all is as it should be."""
    good = not waited.broken and sum(waited.ranked.values()) > 0
    empty = _at(waited.took["empty"])
    for kind, took in waited.took.items():
        at = _at(took)
        good = good and (kind == "empty" or at[99] < WAITED_S)
        said = ", ".join(f"p{p} {1000 * v:.0f} ms ({v / empty[p]:.1f} × empty)" for p, v in at.items())
        print(f"  {kind}: {len(took)} asked, {said}")
    print(f"  orders of lifts: {waited.ranked[200]} made, asked after {waited.ranked[202]} times more while one was computed")
    print(*(f"  BROKEN {fault}" for fault in waited.broken[:10]), sep="\n")
    return good


def _at(took: list[float]) -> dict[int, float]:
    """Percentiles of what was waited [s]."""
    ordered = sorted(took)
    return {p: ordered[min(len(ordered) - 1, len(ordered) * p // 100)] for p in (50, 95, 99)}


@contextlib.contextmanager
def store_of(kind: str, folder: str) -> Iterator[None]:
    """An empty store of a kind in the environment."""
    os.environ["LENGTHWISE_DATA"] = folder
    os.environ.pop("LENGTHWISE_DATABASE", None)
    if kind == "sqlite":
        yield
        return
    import psycopg
    from throwaway_server import throwaway_server

    with throwaway_server("fsync=on", "max_connections=100") as server:
        name = f"b_{uuid.uuid4().hex}"
        with psycopg.connect(f"{server}/postgres", autocommit=True) as db:
            db.execute(f"CREATE DATABASE {name}")
        os.environ["LENGTHWISE_DATABASE"] = f"{server}/{name}"
        yield


def measured(kind: str, workers: int, seconds: float) -> bool:
    """Measure on one kind of database; gives whether all is as it should be."""
    with tempfile.TemporaryDirectory() as folder, store_of(kind, folder):
        people = gym()
        from lengthwise.records import store

        store.release()
        with served(workers) as address:
            waited = run(address, people, seconds)
        print(f"{kind}: {PHONES} phones, {seconds:.0f} s, {workers} workers; load of the machine {os.getloadavg()[0]:.1f}")
        return told(waited)


if __name__ == "__main__":
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--seconds", type=float, default=120)
    words.add_argument("--workers", type=int, default=2)
    words.add_argument("--databases", nargs="*", default=["sqlite", "postgresql"], choices=["sqlite", "postgresql"])
    asked = words.parse_args()
    sys.exit(not all([measured(kind, asked.workers, asked.seconds) for kind in asked.databases]))
