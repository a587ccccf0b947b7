"""Killed without warning (SIGKILL) during an import and during writes: what was committed stays, nothing half remains."""

import os
import signal
import subprocess
import sys
import time
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from lengthwise.records import log_entries as log_actions
from lengthwise.records import store as store_actions

WRITER = """
import sys
from datetime import date, timedelta
from lengthwise.records import log_entries
from lengthwise.training.log import LoggedSet, Session
for i in range(10_000):
    sets = tuple(LoggedSet(lift="back_squat", load_kg=60.0, repetitions=8, reserve=2.0, pain=("knee",)) for _ in range(7))
    log_entries.add_session("Mara", Session(day=date(2000, 1, 1) + timedelta(days=i), sets=sets, readiness=3))
    print(i, flush=True)
"""
IMPORTER = """
import sys, time
from pathlib import Path
from lengthwise.questions.answering.imports import import_log, look_into
from lengthwise.questions.log_import import ImportWishes
def heard(step, share):
    print(step, flush=True)
    if step == sys.argv[2]:
        time.sleep(60)
import_log(look_into(Path(sys.argv[1]), ImportWishes(person="Mara"), count=False), heard)
"""


def started(code: str, *words: str) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-c", code, *words], stdout=subprocess.PIPE, text=True, env=os.environ.copy())


def kill(process: subprocess.Popen[str]) -> str:
    os.kill(process.pid, signal.SIGKILL)
    said, _ = process.communicate()  # with a time limit it would leave out the lines that were read ahead
    assert process.returncode == -signal.SIGKILL
    return said


def lines_until(process: subprocess.Popen[str], wanted: str) -> None:
    for line in process.stdout:
        if line.strip() == wanted:
            return
    pytest.fail(f"the process ended before {wanted!r}")


def whole(store) -> None:
    """Every session has its seven sets, flags and readiness; SQLite finds its own file sound."""
    with store.reading() as db:
        odd = "SELECT s.id FROM sessions s LEFT JOIN sets k ON k.session_id = s.id GROUP BY s.id HAVING COUNT(k.id) <> 7"
        assert db.execute(text(odd)).all() == []
        n = db.execute(text("SELECT COUNT(*) FROM sessions")).scalar_one()
        for table, share in (("sets", 7), ("pain_flags", 7), ("readiness", 1), ("entries", 1)):
            assert db.execute(text(f"SELECT COUNT(*) FROM {table}")).scalar_one() == share * n
        if not store.is_postgresql:
            assert db.execute(text("PRAGMA integrity_check")).scalar() == "ok"


@pytest.mark.parametrize("after", [3, 8])
def test_a_writer_that_is_killed_loses_nothing_committed(store, mara, after):
    writer = started(WRITER)
    lines_until(writer, str(after))
    said = kill(writer)
    committed = max([after, *(int(line) for line in said.splitlines() if line.strip().isdigit())]) + 1
    found = log_actions.read_log(mara)
    assert committed <= len(found) <= committed + 1  # the last may be kept and not yet told
    whole(store)
    log_actions.add_sets(mara, "back_squat", "8 @ 60", date(2026, 3, 2))


@pytest.mark.parametrize("step", ["reading", "making sessions", "keeping sets"])
def test_an_import_that_is_killed_leaves_nothing_and_can_be_done_again(store, mara, tmp_path: Path, step):
    log_actions.add_sets(mara, "bench_press", "3x5 @ 40", date(1999, 3, 2))
    before = log_actions.read_log(mara)
    file = tmp_path / "log.csv"
    days = [date(2000, 1, 1) + timedelta(days=i) for i in range(1000)]
    file.write_text("date,lift,kg,reps\n" + "".join(f"{d},back_squat,60,8\n" * 5 for d in days))
    importer = started(IMPORTER, str(file), step)
    lines_until(importer, step)
    kill(importer)
    _settled(store)
    assert log_actions.read_log(mara) == before
    from lengthwise.questions.answering.imports import import_log, look_into
    from lengthwise.questions.log_import import ImportWishes

    assert import_log(look_into(file, ImportWishes(person="Mara"))).staged.sets == 5000
    assert len(log_actions.read_log(mara)) == 1001


def _settled(store) -> None:
    """A server notices the end of its client within moments; until then the client's row stays locked."""
    until = time.monotonic() + 20
    while store.is_postgresql and time.monotonic() < until:
        with store.reading() as db:
            others = (
                "SELECT COUNT(*) FROM pg_stat_activity WHERE datname = current_database() AND state LIKE 'idle in transaction%'"
            )
            if not db.execute(text(others)).scalar_one():
                return
        time.sleep(0.1)


def test_the_store_is_the_one_of_the_killed_process(store, mara):
    """So that the tests above cannot pass by looking elsewhere."""
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "from lengthwise.records import log_entries; print(log_entries.add_sets('Mara', 'back_squat', '8 @ 60')[1])",
        ],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    assert len(log_actions.read_log(mara)) == 1 and store_actions.store() is store
