"""What is no store is not taken for one; what is written is whole; what was killed leaves nothing behind; what is damaged is told."""

import json
import os
import resource
import sqlite3
import subprocess
import sys
import zipfile
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from typer.testing import CliRunner

from lengthwise.cli import app
from lengthwise.errors import DataFileError, InputError
from lengthwise.files.whole_files import DRAFT, write_whole
from lengthwise.records import store as actions
from lengthwise.records.log_once import Sender, add_line_once, add_sets_once
from lengthwise.storage.backup import KEPT, KIND, read_backup
from lengthwise.storage.database import NEWEST, open_store
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session

DAY = date(2026, 3, 2)


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    return tmp_path


def url(file: Path) -> str:
    return f"sqlite:///{file}"


def test_an_empty_file_a_folder_and_a_foreign_file_are_no_stores(tmp_path: Path):
    (tmp_path / "empty.db").touch()
    (tmp_path / "folder.db").mkdir()
    (tmp_path / "text.db").write_text("my notes, which are longer than a hundred characters" * 4)
    with sqlite3.connect(tmp_path / "foreign.db") as db:
        db.execute("CREATE TABLE recipes (id INTEGER)")
    for name, told in (
        ("empty", "an empty file; allowed a store"),
        ("folder", "a folder; allowed a store"),
        ("text", "not a database"),
        ("foreign", r"tables of another program \(recipes\)"),
    ):
        before = (tmp_path / f"{name}.db").stat().st_size
        with pytest.raises(DataFileError, match=told):
            open_store(url(tmp_path / f"{name}.db"))
        assert (tmp_path / f"{name}.db").stat().st_size == before


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path):
    (tmp_path / "file").touch()
    with pytest.raises(DataFileError, match="allowed a file that you may write"):
        open_store(url(tmp_path / "file" / "lengthwise.db"))


def test_a_store_that_another_program_writes_is_told_and_used_again_afterwards(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("lengthwise.storage.database.WAIT_S", 0.01)
    store, other = open_store(url(tmp_path / "x.db")), sqlite3.connect(tmp_path / "x.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    for _ in range(2):
        with pytest.raises(InputError, match="another program has been writing"), store.writing():
            raise AssertionError("two write at once")
        with store.reading() as db:
            assert db.exec_driver_sql("SELECT COUNT(*) FROM clients").scalar() == 0
    other.execute("ROLLBACK")
    with store.writing() as db:
        db.exec_driver_sql("DELETE FROM clients")
    assert store.engine.pool.checkedout() == 0
    store.close()


def test_a_full_disk_is_told_and_nothing_is_lost(tmp_path: Path):
    """SQLite's own limit of pages stands for the disk: it answers the same (SQLITE_FULL)."""
    store = open_store(url(tmp_path / "x.db"))
    word = "INSERT INTO column_mappings (header, mapping, saved_at) VALUES (?, ?, '2026-01-01')"
    with store.writing() as db:
        db.exec_driver_sql(word, ("kept before", "{}"))
    with store.reading() as db:
        db.exec_driver_sql(f"PRAGMA max_page_count = {db.exec_driver_sql('PRAGMA page_count').scalar()}")
    with pytest.raises(DataFileError, match="the disk is full; nothing of this change was saved"), store.writing() as db:
        for n in range(1000):
            db.exec_driver_sql(word, (f"new {n}", "x" * 4000))
    with store.reading() as db:
        assert db.exec_driver_sql("SELECT header FROM column_mappings").scalars().all() == ["kept before"]
        db.exec_driver_sql("PRAGMA max_page_count = 1000000")
    with store.writing() as db:
        db.exec_driver_sql(word, ("kept after", "{}"))
    store.close()


def test_a_file_that_does_not_fit_leaves_the_one_before(tmp_path: Path):
    """The system's limit on the size of a file stands for the disk (setrlimit, POSIX)."""
    file = tmp_path / "weights.toml"
    write_whole(file, "before")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (4096, hard))
        with pytest.raises(InputError, match="cannot be written"):
            write_whole(file, "after" * 10_000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert [f.name for f in tmp_path.iterdir()] == ["weights.toml"]
    assert file.read_text() == "before"


def test_a_pipe_is_written_to_and_not_replaced(tmp_path: Path):
    """As /dev/null is, in whose place the administrator of a machine would otherwise have put a file."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with os.fdopen(os.open(pipe, os.O_RDONLY | os.O_NONBLOCK), "rb") as reading:
        write_whole(pipe, "told")
        assert reading.read() == b"told"
    assert pipe.is_fifo() and list(tmp_path.iterdir()) == [pipe]
    with pytest.raises(InputError, match="cannot be written: Is a directory"):
        write_whole(tmp_path, "told")


def test_a_new_store_is_whole_at_once_and_leaves_nothing_beside_it(tmp_path: Path):
    open_store(url(tmp_path / "a" / "new.db")).close()
    assert [f.name for f in (tmp_path / "a").iterdir()] == ["new.db"]
    assert (tmp_path / "a" / "new.db").stat().st_mode & 0o077 == 0


def test_missing_tables_and_unknown_versions_are_told(tmp_path: Path):
    for name, change, told in (
        ("gone", "DROP TABLE readiness", "missing tables readiness; restore a backup"),
        ("old", "UPDATE alembic_version SET version_num = '0000'", r"another Lengthwise \(tables 0000\)"),
    ):
        open_store(url(tmp_path / f"{name}.db")).close()
        with sqlite3.connect(tmp_path / f"{name}.db") as db:
            db.execute(change)
        with pytest.raises(DataFileError, match=told):
            open_store(url(tmp_path / f"{name}.db"))


def test_a_name_that_is_too_long_is_told(tmp_path: Path):
    actions.save_client(Client(name="Ada"))
    with pytest.raises(InputError, match="cannot be written: File name too long"):
        actions.export_person("Ada", tmp_path / ("x" * 300 + ".zip"))


def test_what_a_killed_program_left_goes_with_the_next_file_written(tmp_path: Path):
    done = subprocess.Popen([sys.executable, "-c", ""])
    done.wait()
    left, busy = tmp_path / f"{DRAFT}{done.pid}-x.part", tmp_path / f"{DRAFT}{os.getpid()}-x.part"
    left.touch()
    busy.touch()
    write_whole(tmp_path / "notes.txt", "hello")
    assert not left.exists()
    assert busy.exists()


def test_a_key_is_for_one_content(tmp_path: Path):
    sender = Sender(actions.save_client(Client(name="Ada")), "key-0001")
    one = Session(day=DAY, sets=(LoggedSet(lift="back_squat", load_kg=60.0, repetitions=8, reserve=2.0),))
    first = add_sets_once(sender, one)
    assert add_sets_once(sender, one).entry == first.entry
    with pytest.raises(InputError, match="was already used for other content; use a new key"):
        add_sets_once(sender, Session(day=DAY, sets=(LoggedSet(lift="back_squat", load_kg=61.0, repetitions=8, reserve=2.0),)))
    with pytest.raises(InputError, match="was already used for other content"):
        add_line_once(sender, "kg", "back squat", "3x8 @ 60", DAY)


def test_a_day_before_1900_is_not_logged():
    sender = Sender(actions.save_client(Client(name="Ada")), "key-0001")
    with pytest.raises(InputError, match="day 0987-06-05; allowed 1900-01-01"):
        add_line_once(sender, "kg", "back squat", "3x8 @ 60", date(987, 6, 5))


def a_backup(head: object, **tables: bytes) -> BytesIO:
    made = BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("backup.json", head if isinstance(head, str | bytes) else json.dumps(head))
        for table in KEPT:
            archive.writestr(f"{table.name}.jsonl", tables.get(table.name, b""))
    made.seek(0)
    return made


HEAD = {"kind": KIND, "version": NEWEST, "made_at": "2026-03-02", "rows": {t.name: 0 for t in KEPT}}


@pytest.mark.parametrize("head", [[], 3, {}, {**HEAD, "rows": {"clients": "many"}}, "[" * 5000, {**HEAD, "rows": []}, b"\xff" * 9])
def test_a_list_that_is_none_is_no_backup(head: object):
    with pytest.raises(DataFileError, match="this is no"):
        read_backup("b.zip", a_backup(head))


def test_a_backup_that_unpacks_to_far_more_than_rows_do_is_refused():
    with pytest.raises(DataFileError, match="that unpack to"):
        read_backup("b.zip", a_backup(HEAD, sets=b"0" * 120_000_000))


@pytest.mark.parametrize(
    "row", [b"[" * 5000, b"{}", b"[1]", b"9" * 5000, b'[1,"k","n",{},7]', b'[1,"k","n",{},"2026-03-02T10:00:00"]']
)
def test_rows_that_are_none_leave_the_store_as_it_was(tmp_path: Path, row: bytes):
    actions.save_client(Client(name="Ada"))
    file = tmp_path / "b.zip"
    file.write_bytes(a_backup({**HEAD, "rows": {**HEAD["rows"], "clients": 1}}, clients=row + b"\n").getvalue())
    with pytest.raises(DataFileError):
        actions.restore(file, lambda step, share: None, replace=True)
    assert [c.client.name for c in actions.stored_clients()] == ["Ada"]


def test_replacing_everything_is_asked_first(tmp_path: Path):
    actions.save_client(Client(name="Ada"))
    actions.write_backup(tmp_path / "b.zip", lambda step, share: None)
    told = CliRunner().invoke(app, ["store", "restore", str(tmp_path / "b.zip"), "--replace"])
    assert told.exit_code != 0
    assert CliRunner().invoke(app, ["store", "restore", str(tmp_path / "b.zip"), "--replace", "--yes"]).exit_code == 0
