"""Serving to other machines: refused without accounts, in words that say what to do; allowed with them, under the machine's own numbers."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from here import HERE
from starlette.testclient import TestClient

from lengthwise.errors import InputError
from lengthwise.records.accounts import add_account
from lengthwise.web import serving
from lengthwise.web.app import create_app

OTHERS = ("0.0.0.0", "192.168.1.4", "::", "gym.example")


@pytest.fixture
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    return tmp_path


def test_the_command_refuses_and_says_what_to_do(own_data: Path):
    command = [sys.executable, "-m", "lengthwise.cli", "serve", "--host", "0.0.0.0", "--port", "0"]
    done = subprocess.run(
        command, env={**os.environ, "LENGTHWISE_DATA": str(own_data)}, capture_output=True, text=True, timeout=300
    )
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
    client = TestClient(create_app({"0.0.0.0", "localhost"}), client=HERE)
    asked = {
        h: client.get("/api/heads", headers={"host": h}).status_code for h in ("192.168.1.4:8610", "localhost", "[fe80::1]:80")
    }
    assert set(asked.values()) == {200}
    assert client.get("/api/heads", headers={"host": "elsewhere.example"}).status_code == 400


def test_where_one_address_is_served_others_are_not_ours(own_data: Path):
    client = TestClient(create_app({"127.0.0.1"}), client=HERE)
    assert client.get("/api/heads", headers={"host": "192.168.1.4"}).status_code == 400


def test_with_accounts_everybody_else_is_sent_to_sign_in(own_data: Path):
    add_account("Coach", "a long enough word")
    client = TestClient(create_app({"0.0.0.0"}), client=HERE)
    answer = client.get("/people", headers={"host": "192.168.1.4"}, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/sign-in")


def test_without_accounts_another_machine_is_refused_even_where_it_can_reach_us(own_data: Path):
    """As after the last account was removed while serving on the network."""
    app = create_app({"0.0.0.0"})
    theirs = TestClient(app, client=("192.168.1.5", 50000)).get("/people", headers={"host": "192.168.1.4"})
    assert theirs.status_code == 403
    assert "only this machine is served" in theirs.text
    assert TestClient(app, client=("127.0.0.1", 50000)).get("/people", headers={"host": "127.0.0.1"}).status_code == 200


def test_whoever_signs_in_comes_back_to_the_page_not_to_a_part_of_it(own_data: Path):
    add_account("Coach", "a long enough word")
    client = TestClient(create_app({"localhost"}), client=HERE)
    headers = {"host": "localhost", "hx-request": "true", "hx-current-url": "http://localhost/progress/1?x=2"}
    answer = client.get("/progress/1/review", headers=headers)
    assert (answer.status_code, answer.headers["hx-redirect"]) == (401, "/sign-in?next=%2Fprogress%2F1%3Fx%3D2")


def test_whoever_signs_in_after_sending_something_comes_to_a_page_that_can_be_read(own_data: Path):
    """A store is restored while its page waits: the sign-in is gone, and the page's own address only takes what is sent."""
    add_account("Coach", "a long enough word")
    client = TestClient(create_app({"localhost"}), client=HERE)
    headers = {
        "host": "localhost",
        "origin": "http://localhost",
        "hx-request": "true",
        "hx-current-url": "http://localhost/records/restore",
    }
    answer = client.post("/records/restore/abc", headers=headers)
    assert (answer.status_code, answer.headers["hx-redirect"]) == (401, "/sign-in?next=%2Frecords")
