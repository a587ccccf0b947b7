"""Backups that only a passphrase opens."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from lengthwise.actions import store
from lengthwise.actions.sealed import MARK, is_sealed, opened, sealed
from lengthwise.cli import app
from lengthwise.errors import InputError
from lengthwise.training.client import Client


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


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
    with pytest.raises(InputError, match="not opened by this passphrase, or is damaged"):
        opened(tmp_path / "b.age", "four words of mine")
