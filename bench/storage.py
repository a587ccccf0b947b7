"""How long importing and asking the store take, on SQLite and on a PostgreSQL server of the run's own.

Invented logs: 300 clients, sets spread over four years. The plain loop reads rows with `csv.DictReader`, parses each cell and inserts row by row
in one transaction, looking for no repeats or faults; it runs on a sample and is scaled up. Seconds by the clock, and of the processor for this
process alone (on SQLite that is all there is; a PostgreSQL server's own are not in it).

    python bench/storage.py [--sets 200000] [--databases sqlite postgresql]
"""

import argparse
import csv
import os
import resource
import sqlite3
import sys
import tempfile
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import psycopg
from rich.console import Console
from rich.progress import Progress

from lengthwise.questions.answering.imports import import_log, look_into
from lengthwise.questions.log_import import ImportWishes
from lengthwise.records import log_entries as log_actions
from lengthwise.records import store as store_actions
from lengthwise.storage import sums
from lengthwise.training.client import Client

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "storage"))
from throwaway_server import throwaway_server

N_CLIENTS = 300
LIFTS = ("back_squat", "bench_press", "lat_pulldown", "romanian_deadlift", "overhead_press")
PER_SESSION = 20
LAST = date(2026, 3, 1)
SAMPLE = 20_000


def write_table(file: Path, n_sets: int) -> None:
    """A table of invented sets, by client and day."""
    n_sessions = max(n_sets // (N_CLIENTS * PER_SESSION), 1)
    step = 4 * 365 / n_sessions
    with file.open("w", encoding="utf-8") as out:
        out.write("client,date,exercise,weight_kg,reps,rir,notes\n")
        for who in range(N_CLIENTS):
            for visit in range(n_sessions):
                day = (LAST - timedelta(days=int((n_sessions - 1 - visit) * step))).isoformat()
                for i in range(PER_SESSION):
                    lift = LIFTS[i * len(LIFTS) // PER_SESSION]
                    out.write(
                        f"Client {who:03},{day},{lift},{40 + (who + visit + i) % 60 * 1.25:g},{6 + (i + visit) % 7},{i % 4},\n"
                    )


def timed(what: str, ask: Callable[[], Any]) -> Any:
    """Ask, say how long it took by the clock and in this process's own processor time."""
    start, busy = time.perf_counter(), time.process_time()
    found = ask()
    print(f"  {what}: {time.perf_counter() - start:.2f} s ({time.process_time() - busy:.2f} s busy)", flush=True)
    return found


def plain_seconds(file: Path, folder: Path, n_sets: int) -> float:
    """Seconds of the plain loop for all rows, from a sample."""
    db = sqlite3.connect(folder / "plain.db")
    db.execute("CREATE TABLE sets (client TEXT, day TEXT, lift TEXT, load REAL, repetitions INTEGER, reserve REAL, note TEXT)")
    db.execute("CREATE INDEX i ON sets (client, day, lift)")
    start = time.perf_counter()
    with file.open(encoding="utf-8") as lines:
        for i, row in enumerate(csv.DictReader(lines)):
            if i == SAMPLE:
                break
            day = date.fromisoformat(row["date"])
            cells = (
                row["client"],
                day.isoformat(),
                row["exercise"],
                float(row["weight_kg"]),
                int(row["reps"]),
                float(row["rir"]),
                row["notes"],
            )
            same = db.execute("SELECT COUNT(*) FROM sets WHERE client = ? AND day = ? AND lift = ?", cells[:3]).fetchone()
            assert same is not None
            db.execute("INSERT INTO sets VALUES (?, ?, ?, ?, ?, ?, ?)", cells)
    db.commit()
    return (time.perf_counter() - start) * n_sets / min(SAMPLE, n_sets)


@contextmanager
def database(kind: str, folder: Path) -> Iterator[None]:
    """An empty store of a kind, in use by the actions."""
    os.environ["LENGTHWISE_DATA"] = str(folder / kind)
    os.environ.pop("LENGTHWISE_DATABASE", None)
    if kind == "sqlite":
        yield
    else:
        with throwaway_server() as server:
            name = f"b_{uuid.uuid4().hex}"
            with psycopg.connect(f"{server}/postgres", autocommit=True) as db:
                db.execute(f"CREATE DATABASE {name}")
            os.environ["LENGTHWISE_DATABASE"] = f"{server}/{name}"
            yield
            store_actions.store().close()


def measure(kind: str, file: Path, n_sets: int) -> float:
    """Import and ask; gives the seconds of the import as a whole."""
    for who in range(N_CLIENTS):
        store_actions.save_client(Client(name=f"Client {who:03}"))
    start = time.perf_counter()
    with Progress(console=Console(stderr=True), transient=True, disable=not sys.stderr.isatty()) as bar:
        task = bar.add_task("", total=1.0)

        def heard(step: str, share: float | None) -> None:
            bar.update(task, description=step, total=None if share is None else 1.0, completed=share or 0.0)

        seen = timed("look into the file", lambda: look_into(file, ImportWishes(), heard, count=False))
        done = timed("keep it", lambda: import_log(seen, heard))
    whole = time.perf_counter() - start
    print(
        f"  import: {whole:.1f} s, {n_sets / whole:,.0f} sets a second, {done.sessions_made:,} sessions; peak memory of the process "
        f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB"
    )
    ask()
    timed("take the import back", lambda: log_actions.undo(number=done.entry))
    return whole


def ask() -> None:
    """The questions that pages ask."""
    year = LAST - timedelta(days=365)
    everybody = list(range(1, N_CLIENTS + 1))
    sessions = timed("a year's log of one client", lambda: log_actions.read_log("Client 150", year, LAST))
    print(f"    {len(sessions)} sessions, {sum(len(s.sets) for s in sessions)} sets")
    with store_actions.store().reading() as db:
        timed("overview: attendance of 300 clients", lambda: sums.attendance(db, everybody, LAST - timedelta(weeks=8), LAST))


def main() -> None:
    """Measure on each kind of database."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--sets", type=int, default=200_000)
    words.add_argument("--databases", nargs="*", default=["sqlite", "postgresql"], choices=["sqlite", "postgresql"])
    asked = words.parse_args()
    with tempfile.TemporaryDirectory(prefix="lengthwise_bench_") as name:
        folder = Path(name)
        file = folder / "log.csv"
        write_table(file, asked.sets)
        n_sets = sum(1 for _ in file.open("rb")) - 1
        plain = plain_seconds(file, folder, n_sets)
        print(f"{n_sets:,} sets in a table of {file.stat().st_size / 1e6:.0f} MB; plain loop {plain:.1f} s (scaled)")
        for kind in asked.databases:
            print(kind)
            with database(kind, folder):
                whole = measure(kind, file, n_sets)
            print(f"  plain loop / import: {plain / whole:.1f}")


if __name__ == "__main__":
    main()
