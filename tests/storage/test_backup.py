"""Backup, restore, export and erasing: everything comes back, on either database and between them; nothing of an erased client stays."""

import csv
import io
import json
import zipfile
from datetime import date

import pytest
from sqlalchemy import select

from lengthwise.errors import DataFileError, InputError
from lengthwise.files.folders import cache_folder
from lengthwise.planning.week import Week
from lengthwise.questions.answering.imports import import_log, look_into
from lengthwise.questions.answering.responses import learn_now
from lengthwise.questions.log_import import ImportWishes
from lengthwise.records import accounts, sign_ins
from lengthwise.records import log_entries as log_actions
from lengthwise.records import store as store_actions
from lengthwise.storage import backup, client_rows, tables, weeks
from lengthwise.storage.database import NEWEST, open_store
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Measurement, Session

DAY = date(2026, 3, 2)
RARE = "Zyxwolda"


@pytest.fixture
def full(store, mara):
    """Two clients with something in every table."""
    store_actions.save_client(Client(name=f"{RARE} Holt"))
    for name in (mara, RARE):
        sets = (
            LoggedSet(
                lift="back_squat",
                load_kg=61.23496995,
                repetitions=8,
                reserve=1.5,
                range="long",
                pain=("knee",),
                note=f"note {name}",
            ),
            LoggedSet(lift="bench_press", load_kg=40, repetitions=5, warm_up=True),
        )
        log_actions.add_session(name, Session(day=DAY, sets=sets, readiness=4, minutes=55.0, note=f"visit {name}"))
        log_actions.add_measurement(
            name, Measurement(day=DAY, kind="girth", site="upper_arm", side="right", values=(36.5, 36.7), note=f"girth {name}")
        )
    with store.writing() as db:
        weeks.save_week(db, 2, DAY, Week(days=(), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0), f"for {RARE}")
        weeks.save_answer(db, weeks.AnsweredProposal(client=2, key="a", proposal={"why": f"{RARE} is sore"}, answer="accepted"))
    accounts.add_account(f"{RARE}", "correct horse battery", "client", RARE)
    sign_ins.sign_in(RARE, "correct horse battery")
    return store


def everything(store) -> dict[str, list]:
    with store.reading() as db:
        return {t.name: [tuple(r) for r in db.execute(select(t).order_by(*t.primary_key.columns))] for t in backup.KEPT}


def quiet(step: str, share: float) -> None:
    """Nobody watches."""


def test_a_backup_restored_is_the_same_store_and_goes_on(full, tmp_path, database):
    before = everything(full)
    file = tmp_path / "all.zip"
    made = store_actions.write_backup(file, quiet)
    assert made.rows["sets"] == 4 and file.stat().st_mode & 0o777 == 0o600
    log_actions.add_sets("Mara", "back_squat", "8 @ 100", DAY)
    with pytest.raises(InputError, match="the store holds clients; allowed an empty store"):
        store_actions.restore(file, quiet)
    store_actions.restore(file, quiet, replace=True)
    after = everything(full)
    assert after.pop("audit")[:-1] == before.pop("audit") and after == before
    assert log_actions.add_sets("Mara", "back_squat", "8 @ 100", DAY)[1] > max(r[0] for r in before["entries"])
    assert store_actions.save_client(Client(name="New")) == 3


def test_a_backup_moves_a_store_to_the_other_kind(full, tmp_path, postgresql_server):
    file = tmp_path / "all.zip"
    store_actions.write_backup(file, quiet)
    if full.is_postgresql:
        other = open_store(f"sqlite:///{tmp_path / 'other.db'}")
    else:
        import psycopg

        with psycopg.connect(f"{postgresql_server}/postgres", autocommit=True) as db:
            db.execute("CREATE DATABASE other_kind")
        other = open_store(f"{postgresql_server}/other_kind")
    with file.open("rb") as source, other.writing() as db:
        backup.restore(db, "all.zip", source, quiet)
    assert everything(other) == everything(full)
    other.close()


def test_a_damaged_backup_is_refused_and_the_store_kept(full, tmp_path):
    file = tmp_path / "all.zip"
    store_actions.write_backup(file, quiet)
    before = everything(full)
    (tmp_path / "text.zip").write_text("no zip")
    (tmp_path / "half.zip").write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    with zipfile.ZipFile(file) as whole, zipfile.ZipFile(tmp_path / "less.zip", "w") as less:
        for name in whole.namelist():
            text = whole.read(name)
            less.writestr(name, text.splitlines(keepends=True)[0] if name == "sets.jsonl" else text)
    with zipfile.ZipFile(file) as whole, zipfile.ZipFile(tmp_path / "newer.zip", "w") as newer:
        for name in whole.namelist():
            newer.writestr(
                name, whole.read(name).replace(f'"{NEWEST}"'.encode(), b'"0009"') if name == "backup.json" else whole.read(name)
            )
    for name, words in (
        ("text.zip", "this is not a backup"),
        ("half.zip", "this is not a backup"),
        ("less.zip", "sets: 1 rows; its list says 4"),
        ("newer.zip", "tables of version 0009; allowed " + ", ".join(backup.READABLE)),
        ("none.zip", "No such file"),
    ):
        with pytest.raises(DataFileError, match=words):
            store_actions.restore(tmp_path / name, quiet, replace=True)
    assert everything(full) == before


def test_a_file_that_exists_is_kept(full, tmp_path):
    file = tmp_path / "all.zip"
    file.write_text("mine")
    for ask in (lambda: store_actions.write_backup(file, quiet), lambda: store_actions.export_person("Mara", file)):
        with pytest.raises(InputError, match="already exists"):
            ask()
    assert file.read_text() == "mine" and list(tmp_path.glob("*.part")) == []


def test_an_export_holds_all_of_a_person_and_nothing_of_others(full, tmp_path):
    file = tmp_path / "her.zip"
    assert store_actions.export_person(RARE, file) == {"sessions": 1, "sets": 2, "measurements": 1}
    with zipfile.ZipFile(file) as archive:
        texts = {name: archive.read(name).decode() for name in archive.namelist()}
    assert json.loads(texts["person.json"])["name"] == f"{RARE} Holt"
    rows = list(csv.DictReader(io.StringIO(texts["log.csv"])))
    assert [(r["lift"], r["load_kg"], r["pain"], r["note"]) for r in rows] == [
        ("back_squat", "61.23496995", "knee", f"note {RARE}"),
        ("bench_press", "40.0", "", ""),
    ]
    assert json.loads(texts["log.json"])[0]["sets"][0]["reserve"] == 1.5
    assert [r["reading"] for r in csv.DictReader(io.StringIO(texts["measurements.csv"]))] == ["36.5", "36.7"]
    assert "is sore" in texts["plans.json"] and "for " + RARE in texts["plans.json"]
    assert json.loads(texts["account.json"])["accounts"][0]["name"] == RARE and "argon2" not in texts["account.json"]
    assert not any("Mara" in text for text in texts.values())


def test_an_exported_log_can_be_imported_again(full, tmp_path):
    before = log_actions.read_log(RARE)
    store_actions.export_person(RARE, tmp_path / "her.zip")
    store_actions.erase_person(RARE)
    store_actions.save_client(Client(name=f"{RARE} Holt"))
    with zipfile.ZipFile(tmp_path / "her.zip") as archive:
        archive.extract("log.csv", tmp_path)
    import_log(look_into(tmp_path / "log.csv", ImportWishes(person=RARE)))
    assert log_actions.read_log(RARE) == before


def test_words_that_a_spreadsheet_would_run_are_made_harmless(full, tmp_path):
    log_actions.add_sets("Mara", "back_squat", '8 @ 60 # =HYPERLINK("x")', DAY)
    store_actions.export_person("Mara", tmp_path / "m.zip")
    with zipfile.ZipFile(tmp_path / "m.zip") as archive:
        notes = [r["note"] for r in csv.DictReader(io.StringIO(archive.read("log.csv").decode()))]
    assert notes[-1].startswith("'=HYPERLINK")


def test_nothing_of_an_erased_client_stays(full, tmp_path):
    mara = log_actions.read_log("Mara")
    learn_now(DAY)
    assert list(cache_folder().glob("responses/*.json"))
    assert store_actions.erase_person(RARE) == f"{RARE} Holt"
    with full.reading() as db:
        for table in tables.metadata.sorted_tables:
            rows = [dict(r._mapping) for r in db.execute(select(table))]
            assert not any(RARE.casefold() in str(row).casefold() for row in rows), table.name
            if table.name != "audit" and "client_id" in table.c:
                assert not any(row["client_id"] == 2 for row in rows), table.name
        assert client_rows.client_names(db) == {1: "Mara Lindqvist"}
    assert log_actions.read_log("Mara") == mara and not list(cache_folder().glob("responses/*.json"))
    with pytest.raises(InputError, match="no client is called"):
        store_actions.erase_person(RARE)
    assert store_actions.save_client(Client(name="Other")) == 3  # a number is never given twice


@pytest.mark.parametrize("database", ["sqlite"], indirect=True)
def test_no_byte_of_an_erased_client_stays_in_the_files(full, tmp_path):
    """SQLite overwrites what is deleted and its write-ahead log is emptied."""
    store_actions.erase_person(RARE)
    files = list((tmp_path / "data").glob("lengthwise.db*"))
    assert files and not any(RARE.encode() in f.read_bytes() or RARE.lower().encode() in f.read_bytes() for f in files)


def test_sign_ins_are_not_restored(full, tmp_path):
    token = sign_ins.sign_in(RARE, "correct horse battery").token
    store_actions.write_backup(tmp_path / "all.zip", quiet)
    store_actions.restore(tmp_path / "all.zip", quiet, replace=True)
    assert sign_ins.signed_in(token) is None and sign_ins.sign_in(RARE, "correct horse battery")
