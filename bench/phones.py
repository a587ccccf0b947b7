"""A hundred phones that log two sets a second between them while lifts are ranked, against an address that does next to nothing.

    python bench/phones.py [SECONDS [WORKERS [DATABASE]]]

One server of its own on 127.0.0.1, asked over HTTP by another process. What is told is how long each waited by the clock, so it says as
much about what else the machine does: hold a set against the empty address of the same run. DATABASE is `sqlite` or `postgresql`.
"""

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
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from urllib.parse import urlsplit

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "storage"))
PHONES, SETS_A_SECOND = 100, 2.0
PASSWORD = "a long enough word"
COMMAND = [sys.executable, "-m", "lengthwise.cli", "serve", "--port", "0"]


def gym() -> list[tuple[int, str]]:
    """A hundred clients with an account each and a log of some months: number and token of each."""
    from datetime import timedelta

    from lengthwise.actions import accounts, log, sign_ins, store
    from lengthwise.training.client import Client
    from lengthwise.training.log import LoggedSet, Session

    accounts.add_account("Coach", PASSWORD)
    out = [(0, sign_ins.sign_in("Coach", PASSWORD).token)]
    for n in range(PHONES):
        number = store.save_client(Client(name=f"Client {n:03}"))
        for week in range(4):
            sets = tuple(LoggedSet(lift, 60.0, 8, 2.0) for lift in ("back_squat", "bench_press") for _ in range(3))
            log.add_session(number, Session(date.today() - timedelta(days=7 * week + 1), sets))
        made = accounts.add_account(f"Client {n:03}", PASSWORD, "client", number)
        out.append((number, sign_ins._begin(made, sign_ins.Visit()).token))
    return out


@contextlib.contextmanager
def served(workers: int) -> Iterator[str]:
    """A server of the gym; gives its address."""
    with subprocess.Popen([*COMMAND, "--workers", str(workers)], stdout=subprocess.PIPE, text=True) as server:
        yield urlsplit(server.stdout.readline().split(" at ")[1].split()[0]).netloc
        server.send_signal(signal.SIGTERM)


class Phone:
    """Asks over one connection that it keeps."""

    def __init__(self, address: str, token: str) -> None:
        self.connection, self.cookie = http.client.HTTPConnection(address, timeout=60), f"signed_in={token}"

    def ask(self, path: str, body: object = None) -> float:
        """Seconds until the whole answer was there."""
        headers = {"cookie": self.cookie, "sec-fetch-site": "same-origin", "accept-encoding": "gzip"}
        begun = time.perf_counter()
        if body is None:
            self.connection.request("GET", path, headers=headers)
        else:
            self.connection.request("POST", path, json.dumps(body), {**headers, "content-type": "application/json"})
        answer = self.connection.getresponse()
        answer.read()
        assert answer.status < 300, (path, answer.status)
        return time.perf_counter() - begun


def ranked(address: str, token: str, until: float) -> int:
    """Rank for one body after another, so that something is computed all the time; gives how many were asked."""
    coach, n = Phone(address, token), 0
    while time.monotonic() < until:
        coach.ask(f"/api/rank/triceps?mass_kg={60 + n // 8 * 0.37:.2f}")
        n += 1
        time.sleep(0.5)
    return n


def run(address: str, people: list[tuple[int, str]], seconds: float) -> dict[str, list[float]]:
    """How long each waited, by what it asked."""
    until, waited, lock = time.monotonic() + seconds, defaultdict[str, list[float]](list), threading.Lock()

    def phone(number: int, token: str, seed: int) -> None:
        chance, own = random.Random(seed), Phone(address, token)
        time.sleep(chance.random() * min(PHONES / SETS_A_SECOND, seconds))
        while time.monotonic() < until:
            line = {"key": uuid.uuid4().hex, "day": str(date.today()), "lift": "back squat", "line": "1x8 @ 60 r2"}
            for kind, path, body in (
                ("empty", "/mark.svg", None),
                ("set", f"/api/log/{number}/line", line),
                ("page", f"/log/{number}", None),
            ):
                took = own.ask(path, body)
                with lock:
                    waited[kind].append(took)
            own.connection.close()  # as a phone's that is put away between sets
            time.sleep(chance.uniform(0.5, 1.5) * PHONES / SETS_A_SECOND)

    threads = [threading.Thread(target=phone, args=(*who, n)) for n, who in enumerate(people[1:])]
    threads.append(threading.Thread(target=ranked, args=(address, people[0][1], until)))
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return waited


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

    with throwaway_server() as server:
        name = f"b_{uuid.uuid4().hex}"
        with psycopg.connect(f"{server}/postgres", autocommit=True) as db:
            db.execute(f"CREATE DATABASE {name}")
        os.environ["LENGTHWISE_DATABASE"] = f"{server}/{name}"
        yield


def main(seconds: float, workers: int, kind: str) -> None:
    """Print how long phones waited."""
    with tempfile.TemporaryDirectory() as folder, store_of(kind, folder):
        people = gym()
        from lengthwise.actions import store

        store.release()
        with served(workers) as address:
            waited = run(address, people, seconds)
        print(f"{PHONES} phones, {seconds:.0f} s, {workers} workers, {kind}; load of the machine {os.getloadavg()[0]:.1f}")
        for kind_, took in waited.items():
            took.sort()
            at = {p: 1000 * took[min(len(took) - 1, len(took) * p // 100)] for p in (50, 95, 99)}
            print(f"{kind_}: {len(took)} asked, " + ", ".join(f"p{p} {v:.0f} ms" for p, v in at.items()))


if __name__ == "__main__":
    given = (*sys.argv[1:], *("60", "1", "sqlite")[len(sys.argv) - 1 :])
    main(float(given[0]), int(given[1]), given[2])
