"""The commands of the log, the store and accounts as a user runs them."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

import command_line
from lengthwise.cli import app
from lengthwise.errors import InputError, LengthwiseError
from lengthwise.records import store as store_actions

RUNNER = CliRunner()


def run(*words: str, given: str | None = None):
    done = RUNNER.invoke(app, list(words), input=given)
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.stdout


def answer(*words: str, given: str | None = None) -> dict:
    return json.loads(run(*words, "--json", given=given))


@pytest.fixture(params=["sqlite"])
def database(request, tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    yield
    store_actions.store().close()
    store_actions._opened.cache_clear()


def test_sets_are_entered_shown_and_taken_back(mara):
    added = answer("log", "add", "Mara", "Back squat", "3x8 @ 62,5 r2 pain knee", "--day", "2026-03-02")
    assert [(s["lift"], s["load_kg"], s["pain"]) for s in added["sets"]] == [("back_squat", 62.5, ["knee"])] * 3
    assert "62.5" in run("log", "show", "Mara") and "knee" in run("log", "show", "Mara")
    (session,) = answer("log", "show", "Mara", "--from", "2026-03-01", "--to", "2026-03-31")["sessions"]
    assert session["day"] == "2026-03-02" and len(session["sets"]) == 3
    assert answer("log", "undo", "--list")["entries"][0]["number"] == added["entry"]
    assert answer("log", "undo", "Mara")["removed"] == {"sets": 3, "sessions": 1, "measurements": 0}
    assert answer("log", "show", "Mara") == {"sessions": []}


def test_a_persons_file_is_kept_with_the_first_entry(store, tmp_path):
    file = tmp_path / "ida.toml"
    file.write_text('name = "Ida Falk"\nsex = "woman"\n')
    answer("log", "add", str(file), "bench_press", "5 @ 40", "--day", "2026-03-02")
    assert answer("store", "people")["clients"] == [{"number": 1, "name": "Ida Falk"}]
    assert len(answer("log", "show", str(file))["sessions"]) == 1


def test_a_table_is_imported_after_it_was_understood(mara, tmp_path):
    file = tmp_path / "log.csv"
    file.write_text("Datum;Lift;Kg;Reps\n02.03.2026;bench presss;42,5;10\n")
    with pytest.raises(LengthwiseError, match=r"use --yes to accept how it was read \(lift 'bench presss': bench_press"):
        run("log", "import", str(file), "--person", "Mara")
    assert answer("log", "show", "Mara") == {"sessions": []}
    done = answer("log", "import", str(file), "--person", "Mara", "--yes")
    assert done["imported"]["sets"] == 1 and done["understood"]["columns"]["load"] == "Kg"
    said = run("log", "import", str(file), "--person", "Mara", "--yes")
    assert "columns (remembered)" in said and "already in the log" in said and "nothing new" in said


def test_measurements_are_entered_in_the_clients_units(mara):
    answer("measure", "add", "Mara", "girth", "14.5in", "36.9", "--site", "upper_arm", "--side", "left", "--day", "2026-03-02")
    answer("measure", "add", "Mara", "photo", "album/1.jpg", "--day", "2026-03-02")
    girth, photo = answer("measure", "show", "Mara")["measurements"]
    assert girth["values"] == pytest.approx([36.83, 36.9]) and girth["unit"] == "cm" and photo["reference"] == "album/1.jpg"
    assert "36.9" in run("measure", "show", "Mara", "--kind", "girth")


def test_backup_restore_export_and_erase(mara, tmp_path):
    run("log", "add", "Mara", "bench_press", "5 @ 40", "--day", "2026-03-02")
    file, person = tmp_path / "all.zip", tmp_path / "mara.zip"
    assert answer("store", "backup", str(file))["rows"]["sets"] == 1
    assert answer("store", "export", "Mara", "--out", str(person))["sets"] == 1 and person.exists()
    with pytest.raises(LengthwiseError, match="cannot be undone; use --yes"):
        run("store", "erase", "Mara")
    assert answer("store", "erase", "Mara", "--yes") == {"erased": "Mara Lindqvist"}
    assert answer("store", "info")["rows"]["sets"] == 0
    assert answer("store", "restore", str(file))["rows"]["sets"] == 1
    assert len(answer("log", "show", "Mara")["sessions"]) == 1 and "sets" in run("store", "info")


def test_accounts_are_made_without_a_password_on_the_line(mara):
    assert answer("account", "add", "Lee", "--password-stdin", given="correct horse battery\n") == {
        "account": "Lee",
        "role": "coach",
        "leads": True,
    }
    assert "leads" not in run("account", "add", "Kim", "--password-stdin", given="yet another long secret\n")
    assert "client of Kim" in run("account", "give", "Mara", "Kim")
    assert answer("account", "factor", "Kim") == {"account": "Kim", "second_factor": False}
    run("account", "remove", "Kim")
    run("account", "add", "mara", "--role", "client", "--client", "Mara", "--password-stdin", given="another long secret\n")
    assert [(a["name"], a["role"], a["client"]) for a in answer("account", "list")["accounts"]] == [
        ("Lee", "coach", None),
        ("mara", "client", 1),
    ]
    assert "changed" in run("account", "password", "mara", "--password-stdin", given="a third long secret\n")
    with pytest.raises(InputError, match="Lee is the last lead coach"):
        run("account", "remove", "Lee")
    assert answer("account", "remove", "mara") == {"removed": "mara"}
    assert answer("account", "remove", "Lee") == {"removed": "Lee"}


@pytest.mark.parametrize(
    ("words", "code", "text"),
    [
        (("log", "add", "Mara", "bench_press", "3x8 60"), 2, "character 5: found '60'; allowed here: @ and a load"),
        (("log", "add", "Mara", "bench_press", "3x8 @ 60", "--day", "3.2.2026"), 2, "write it as 2026-03-01"),
        (("log", "import", "none.csv", "--person", "Mara"), 3, "No such file"),
        (("log", "import", "x.csv", "--map", "load"), 2, "write name=value"),
        (("measure", "add", "Mara", "weight", "80"), 2, "kind of measurement"),
        (("measure", "add", "Mara", "girth", "36", "--side", "both"), 2, "allowed right, left"),
    ],
)
def test_bad_input_gets_a_clear_error_and_exit_code(mara, words, code, text):
    store_actions.store().close()
    done = command_line.run(*words, "--json", cwd=Path("/"))
    error = json.loads(done.stderr)
    assert done.returncode == code and text in error["message"] and done.stdout == ""


def test_a_process_of_its_own_finds_a_kept_client_by_name(mara):
    """A command loads its own file alone: what finds clients must not depend on what else was loaded."""
    asked = "from lengthwise.records.whose import whole_client; print(whole_client('Mara').client.name)"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, timeout=300)
    assert done.stdout.strip() == mara, done.stderr
