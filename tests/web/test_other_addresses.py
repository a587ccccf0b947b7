"""Serving to other machines: refused without accounts, in words that say what to do; allowed with them, under the machine's own numbers."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from lengthwise.actions.accounts import add_account
from lengthwise.errors import InputError
from lengthwise.web import serving
from lengthwise.web.app import create_app

OTHERS = ("0.0.0.0", "192.168.1.4", "::", "gym.example")


@pytest.fixture
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    return tmp_path


def test_the_command_refuses_and_says_what_to_do(own_data: Path):
    command = [sys.executable, "-m", "lengthwise.cli", "serve", "--host", "0.0.0.0", "--port", "0"]
    done = subprocess.run(command, env={**os.environ, "LENGTHWISE_DATA": str(own_data)}, capture_output=True, text=True, timeout=60)
    assert done.returncode == 2
    told = " ".join(done.stderr.split())
    assert "can be reached from other machines" in told
    assert "lengthwise account add" in told
    assert "127.0.0.1" in told
    assert done.stdout == ""


@pytest.mark.parametrize("host", OTHERS)
def test_another_address_is_allowed_once_somebody_can_sign_in(own_data: Path, host: str):
    with pytest.raises(InputError, match="no accounts to sign in with"):
        serving.check_host(host)
    add_account("Coach", "a long enough word")
    serving.check_host(host)


def test_where_every_address_is_served_numbers_are_ours_and_foreign_names_are_not(own_data: Path):
    client = TestClient(create_app({"0.0.0.0", "localhost"}))
    asked = {
        h: client.get("/api/heads", headers={"host": h}).status_code for h in ("192.168.1.4:8610", "localhost", "[fe80::1]:80")
    }
    assert set(asked.values()) == {200}
    assert client.get("/api/heads", headers={"host": "elsewhere.example"}).status_code == 400


def test_where_one_address_is_served_others_are_not_ours(own_data: Path):
    client = TestClient(create_app({"127.0.0.1"}))
    assert client.get("/api/heads", headers={"host": "192.168.1.4"}).status_code == 400


def test_with_accounts_everybody_else_is_sent_to_sign_in(own_data: Path):
    add_account("Coach", "a long enough word")
    client = TestClient(create_app({"0.0.0.0"}))
    answer = client.get("/people", headers={"host": "192.168.1.4"}, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/sign-in")
