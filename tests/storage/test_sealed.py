"""Backups that only a passphrase opens."""

import re
from pathlib import Path

import pyrage
import pytest
from typer.testing import CliRunner

from lengthwise.cli import app
from lengthwise.errors import InputError
from lengthwise.records import sealed as sealing
from lengthwise.records import store
from lengthwise.records.sealed import LEAST_WORK, MARK, is_sealed, opened, sealed, work_of
from lengthwise.training.client import Client


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


WORDS = "four words of mine"


@pytest.fixture(scope="module")
def seal() -> bytes:
    """A letter sealed at full cost, which takes a second and more of work: once for all that only change or open it."""
    return sealed(b"x", WORDS)


def test_a_sealed_backup_is_opened_by_its_passphrase_alone(tmp_path: Path):
    store.save_client(Client(name="Zeno Secret"))
    file = tmp_path / "all.zip.age"
    run = CliRunner().invoke
    assert run(app, ["store", "backup", str(file), "--encrypt"], input="four words of mine\n").exit_code == 0
    assert file.read_bytes().startswith(MARK)
    assert b"Zeno" not in file.read_bytes()
    assert is_sealed(file)
    store.erase_person("Zeno Secret")
    assert run(app, ["store", "restore", str(file)], input="another passphrase\n").exit_code != 0
    assert run(app, ["store", "restore", str(file)], input="four words of mine\n").exit_code == 0
    assert [c.client.name for c in store.stored_clients()] == ["Zeno Secret"]
    assert not list((tmp_path / "data" / "cache").glob("tmp*"))


def test_what_is_damaged_or_short_is_told(tmp_path: Path):
    with pytest.raises(InputError, match="allowed 12 or more"):
        sealed(b"x", "short")
    (tmp_path / "b.age").write_bytes(MARK + b"\nnothing")
    with pytest.raises(InputError, match="does not open with this passphrase, or is damaged"):
        opened(tmp_path / "b.age", WORDS)


def test_a_busy_machine_neither_refuses_nor_weakens_a_seal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seal: bytes):
    """The library measures the machine for some milliseconds and bounds the work by that: a stall then made a good backup look damaged."""
    ended = pyrage.passphrase.decrypt
    weak = re.sub(rb"(-> scrypt \S+) \d+\n", rb"\1 12\n", seal)
    made, asked = iter([weak, seal]), []
    monkeypatch.setattr(pyrage.passphrase, "encrypt", lambda *words: next(made))
    assert work_of(weak) == 12 < LEAST_WORK <= work_of(seal)
    whole = sealed(b"x", WORDS)
    assert whole == seal

    def stalled_at_first(*words):
        asked.append(words)
        if len(asked) < 3:
            raise pyrage.DecryptError("Excessive work parameter for passphrase.")
        return ended(*words)

    monkeypatch.setattr(sealing, "WAIT_S", 0.0)
    monkeypatch.setattr(pyrage.passphrase, "decrypt", stalled_at_first)
    (tmp_path / "b.age").write_bytes(whole)
    assert opened(tmp_path / "b.age", WORDS) == b"x"
    assert len(asked) == 3


def test_what_asks_for_more_work_than_any_backup_is_refused_at_once(tmp_path: Path, seal: bytes):
    (tmp_path / "b.age").write_bytes(re.sub(rb"(-> scrypt \S+) \d+\n", rb"\1 40\n", seal))
    with pytest.raises(InputError, match="is damaged"):
        opened(tmp_path / "b.age", WORDS)
