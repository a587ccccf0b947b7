"""Processes that are killed without warning (SIGKILL) at any moment while they log, import, back up, restore or serve; then it is looked
whether everything that was acknowledged is there, whole, and nothing half.

    python validation/torture.py [KILLS [SEED [sqlite | postgresql]]]

On PostgreSQL (a server of the run's own, which syncs each commit) it is the processes that talk to it which are killed. Each kind of work begins in a process that has everything loaded already (a fork), so that the moment of the kill falls into the work.
"""

import contextlib
import http.client
import json
import os
import random
import signal
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from sqlalchemy import text

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))
from lengthwise.questions.answering.imports import import_log, look_into
from lengthwise.questions.log_import import ImportWishes
from lengthwise.records import log_entries as log
from lengthwise.records import store
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session
from lengthwise.web.reached import ServedAt
from lengthwise.web.serving import serve
from phones import store_of

PER_SESSION = 5
RESTORED_EVERY = 17
LONGEST_S = 0.8
"""The kill comes within so long of the beginning."""
SETS = tuple(LoggedSet(lift="back_squat", load_kg=60.0, repetitions=8, reserve=2.0, pain=("knee",)) for _ in range(PER_SESSION))


class Torn:
    """A store that is written by processes which do not live long."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.folder, self.chance, self.day = folder, random.Random(seed), date(1950, 1, 1)
        self.half = Counter[str]()
        self.acknowledged = 0
        self.client = store.save_client(Client(name="Mara"))
        self.backup = folder / "good.zip"
        store.write_backup(self.backup, lambda step, share: None)

    def killed(self, work: Callable[[int], None]) -> bytes:
        """What a process said through the pipe it was given until it was killed."""
        store.release()
        reading, writing = os.pipe()
        child = os.fork()
        if not child:
            os.close(reading)
            try:
                self.sessions()  # opens the store
                os.write(writing, b"!")
                work(writing)
            finally:
                os._exit(0)
        os.close(writing)
        assert os.read(reading, 1) == b"!"
        time.sleep(self.chance.random() * LONGEST_S)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(reading, "rb") as said:
            return said.read()

    def log(self) -> None:
        """Visits, one after another."""
        begun = self.day

        def work(say: int) -> None:
            for n in range(10_000):
                log.add_session(self.client, Session(day=begun + timedelta(days=n), sets=SETS, readiness=3))
                os.write(say, b".")

        n = len(self.killed(work))
        self.day += timedelta(days=n + 1)
        self.acknowledged += n

    def importing(self) -> None:
        """A table of a few hundred sets; it is there whole or not at all."""
        file = self.folder / "table.csv"
        days = [self.day + timedelta(days=i) for i in range(60)]
        file.write_text("date,lift,kg,reps\n" + "".join(f"{d},back_squat,60,8\n" * PER_SESSION for d in days))

        def work(say: int) -> None:
            import_log(look_into(file, ImportWishes(person="Mara"), count=False))
            os.write(say, b".")

        before = self.sessions()
        said = self.killed(work)
        added = self.sessions() - before
        self.half["imports kept" if added else "imports undone"] += 1
        assert added in (0, 60), f"{added} sessions of an import of 60"
        assert added == 60 or not said, "an import that was acknowledged is not there"
        self.acknowledged += added
        self.day += timedelta(days=61)

    def backing(self) -> None:
        """A backup: readable, or not there; a file that is whole stays."""
        file = self.folder / "b.zip"
        file.unlink(missing_ok=True)
        self.killed(lambda say: store.write_backup(file, lambda step, share: None) and None)
        self.half["backups whole" if file.exists() else "backups not there"] += 1
        if file.exists():
            store.read_backup(file)

    def restoring(self) -> None:
        """A backup in place of everything: all of the old or all of the new."""
        before = self.sessions()
        self.killed(lambda say: store.restore(self.backup, lambda step, share: None, replace=True) and None)
        now = self.sessions()
        assert now in (0, before), f"{now} sessions; allowed 0 (the backup's) or {before}"
        self.half["restored" if now != before else "not restored"] += 1
        if now != before:
            self.acknowledged = 0

    def serving(self) -> None:
        """Sets sent over HTTP by a key each; what was answered 201 is kept once."""
        answered = Counter[int]()

        def work(say: int) -> None:
            serve(ServedAt(port=0), False, lambda address: os.write(say, f"{address}\n".encode()))

        store.release()
        reading, writing = os.pipe()
        child = os.fork()
        if not child:
            work(writing)
            os._exit(0)
        address = os.read(reading, 200).decode().split("//")[1].strip()
        connection, n = http.client.HTTPConnection(address, timeout=60), 1
        answered[self.send(connection, self.day)] += 1  # until then it loads what it needs
        threading.Timer(self.chance.random() * LONGEST_S, os.kill, (child, signal.SIGKILL)).start()
        with contextlib.suppress(OSError, http.client.HTTPException):
            while True:
                answered[self.send(connection, self.day + timedelta(days=n))] += 1
                n += 1
        os.waitpid(child, 0)
        for end in (reading, writing):
            os.close(end)
        assert set(answered) <= {201}, answered
        self.day += timedelta(days=n + 1)
        self.acknowledged += answered[201]

    def send(self, connection: http.client.HTTPConnection, day: date) -> int:
        """Send the sets of a day; gives the status of the answer."""
        sets = [{"lift": "back_squat", "load_kg": 60, "repetitions": 8, "pain": ["knee"]} for _ in range(PER_SESSION)]
        body = json.dumps({"key": f"{day}-torture", "day": str(day), "sets": sets})
        connection.request("POST", f"/api/log/{self.client}/sets", body, {"content-type": "application/json"})
        answer = connection.getresponse()
        answer.read()
        return answer.status

    def sessions(self) -> int:
        """How many there are."""
        with store.store().reading() as db:
            return int(db.execute(text("SELECT COUNT(*) FROM sessions")).scalar_one())

    def check(self) -> None:
        """Every session is whole, none that was acknowledged is lost, and SQLite finds its own file sound."""
        with store.store().reading() as db:
            whole = "SELECT s.id FROM sessions s LEFT JOIN sets k ON k.session_id = s.id GROUP BY s.id HAVING COUNT(k.id) <> :n"
            assert db.execute(text(whole), {"n": PER_SESSION}).all() == [], "a session is not whole"
            if db.dialect.name == "sqlite":
                assert db.execute(text("PRAGMA integrity_check")).scalar() == "ok"
        found = self.sessions()
        assert self.acknowledged <= found, f"{found} sessions; {self.acknowledged} were acknowledged"
        self.acknowledged = found  # the last may be kept and not yet told


def main(kills: int, seed: int, kind: str) -> int:
    """Kill so many, in turn at each kind of work; gives 1 where something was lost."""
    with tempfile.TemporaryDirectory() as folder, store_of(kind, folder):
        torn, done = Torn(Path(folder), seed), Counter[str]()
        kinds = (torn.log, torn.importing, torn.backing, torn.serving)
        for n in range(kills):
            work = torn.restoring if n % RESTORED_EVERY == RESTORED_EVERY - 1 else kinds[n % len(kinds)]
            work()
            torn.check()
            done[work.__name__] += 1
            if n % 100 == 99:
                print(f"{n + 1} kills, {torn.acknowledged} sessions there, {dict(done)}", flush=True)
        leftovers = [f.name for f in Path(folder).iterdir() if ".new" in f.name]
        print(
            f"{kind}: {kills} kills: {dict(done)}; nothing acknowledged was lost, nothing half remains; {dict(torn.half)}; "
            f"leftovers {leftovers}"
        )
        store.release()
    return 0


if __name__ == "__main__":
    given = (*sys.argv[1:], *("1000", "1", "sqlite")[len(sys.argv) - 1 :])
    sys.exit(main(int(given[0]), int(given[1]), given[2]))
