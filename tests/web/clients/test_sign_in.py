"""Who may see what, asked as a browser would: through HTTP with cookies."""

import http.client
import json
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest
from served_copy import serving

from kept_gym import copied, using
from lengthwise.records.accounts import add_account

COACH, PUPIL, PASSWORD = "Coach of the demo", "Pupil of the demo", "a long enough word"


class Browser:
    """Asks with the cookies it was given."""

    def __init__(self, address: str) -> None:
        self.host, self.cookies = urlsplit(address).netloc, dict[str, str]()

    def ask(self, method: str, path: str, **form: str) -> http.client.HTTPResponse:
        connection = http.client.HTTPConnection(self.host, timeout=60)
        headers = {"cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items()), "sec-fetch-site": "same-origin"}
        if form:
            headers["content-type"] = "application/x-www-form-urlencoded"
        connection.request(method, path, urlencode(form) if form else None, headers)
        answer = connection.getresponse()
        answer.text = answer.read().decode(errors="replace")
        for line in answer.headers.get_all("set-cookie") or []:
            name, _, value = line.partition(";")[0].partition("=")
            self.cookies[name] = value
            assert "httponly" in line.lower() or not value.strip('"')
        return answer

    @property
    def own(self) -> str:
        """The number of the one client that it sees."""
        (found,) = json.loads(self.ask("GET", "/api/people").text)["people"]
        return str(found["number"])


@pytest.fixture(scope="module")
def guarded(tmp_path_factory: pytest.TempPathFactory, demo_gym: Path) -> Iterator[str]:
    """A workbench with a coach's and a client's account."""
    folder = copied(demo_gym, tmp_path_factory.mktemp("guarded"))
    with using(folder):
        add_account(COACH, PASSWORD)
        add_account(PUPIL, PASSWORD, "client", "Mara")
    with serving(folder) as address:
        yield address


def signed_in(address: str, name: str) -> Browser:
    browser = Browser(address)
    assert browser.ask("POST", "/sign-in", name=name, password=PASSWORD, next="/people").headers["location"] == "/people"
    return browser


def test_nobody_gets_in_without_signing_in(guarded: str):
    browser = Browser(guarded)
    for path in ("/", "/people", "/log/1", "/lift", "/audit"):
        answer = browser.ask("GET", path)
        assert (answer.status, answer.headers["location"].startswith("/sign-in?next=")) == (303, True)
    assert browser.ask("GET", "/api/people").status == 401
    assert browser.ask("GET", "/sign-in").status == 200


def test_a_coach_sees_everybody_and_signs_out(guarded: str):
    browser = signed_in(guarded, COACH)
    people = browser.ask("GET", "/people").text
    assert "Mara" in people
    assert "Henrik" in people
    assert "signed in" in browser.ask("GET", "/audit").text
    assert browser.ask("POST", "/sign-out", x="1").status == 303
    assert browser.ask("GET", "/people").status == 303


def test_a_client_sees_only_itself(guarded: str):
    browser = signed_in(guarded, PUPIL)
    own = browser.own
    other = str(int(own) + 1)
    people = browser.ask("GET", "/people").text
    assert "Mara" in people
    assert "Henrik" not in people
    assert browser.ask("GET", f"/log/{own}").status == 200
    for path in (
        f"/log/{other}",
        f"/people/{other}",
        f"/api/log/{other}",
        f"/api/posture?client={other}.00000000",
        "/audit",
        "/accounts",
    ):
        assert browser.ask("GET", path).status == 403, path
    assert browser.ask("POST", "/people/new", name="x").status == 403
    assert browser.ask("POST", f"/people/{own}/record", name="x").status == 403
    assert browser.ask("POST", "/choose/weights", name="mine").status == 403
    assert browser.ask("PUT", "/api/weights/mine").status == 403
    assert "Save weights" not in browser.ask("GET", "/choose").text


def test_tries_are_bounded(guarded: str):
    browser = Browser(guarded)
    found = [browser.ask("POST", "/sign-in", name="Somebody else", password="wrong").status for _ in range(6)]
    assert found == [401] * 5 + [429]
    assert browser.ask("POST", "/sign-in", name=COACH, password=PASSWORD).status == 303


def test_a_one_time_password_ends_sign_ins_and_asks_for_one_s_own(guarded: str):
    coach, pupil = signed_in(guarded, COACH), signed_in(guarded, PUPIL)
    assert pupil.ask("GET", "/people").status == 200
    given = coach.ask("POST", "/accounts/one-time", name=PUPIL).text
    once = given.split('<code class="once">')[1].split("<")[0]
    assert pupil.ask("GET", "/people").status == 303
    assert Browser(guarded).ask("POST", "/sign-in", name=PUPIL, password=PASSWORD).status == 401
    assert pupil.ask("POST", "/sign-in", name=PUPIL, password=once).headers["location"] == "/account"
    assert Browser(guarded).ask("POST", "/sign-in", name=PUPIL, password=once).status == 401
    assert pupil.ask("GET", "/people").headers["location"] == "/account"
    assert pupil.ask("GET", "/api/people").status == 403
    assert "Choose your password" in pupil.ask("GET", "/account").text
    short = pupil.ask("POST", "/account/password", password="short", again="short")
    assert (short.status, "allowed 12 to 128" in short.text) == (422, True)
    assert pupil.ask("POST", "/account/password", password=PASSWORD, again=PASSWORD).status == 303
    again = signed_in(guarded, PUPIL)
    assert "one-time password given" in again.ask("GET", "/account").text
    assert "one-time password given" in coach.ask("GET", "/audit").text


def test_what_is_the_coach_s_alone_is_refused_to_a_client(guarded: str):
    pupil = signed_in(guarded, PUPIL)
    own = pupil.own
    for path in (
        "/records",
        "/records/backup/" + "0" * 32,
        "/api/store",
        "/api/accounts",
        "/own-lifts/write?name=Mine",
        "/log/0/import",
    ):
        assert pupil.ask("GET", path).status == 403, path
    for path in (
        "/records/backup",
        "/records/restore",
        "/people/demo",
        "/people/file",
        f"/people/{own}/export",
        f"/people/{own}/file",
        f"/people/{own}/remove",
        "/accounts/one-time",
        "/own-lifts/keep",
        "/own-lifts/remove",
        "/log/0/import",
        "/log/0/import-undo",
    ):
        assert pupil.ask("POST", path, x="1").status == 403, path
    home = pupil.ask("GET", f"/people/{own}").text
    for gone in ("/records", "/export", "Check and save", "Delete permanently"):
        assert gone not in home, gone
    assert "/own-lifts/write" not in pupil.ask("GET", "/lift/back_squat").text


def test_a_client_looks_at_and_takes_back_its_own_entries(guarded: str):
    pupil = signed_in(guarded, PUPIL)
    own = pupil.own
    assert pupil.ask("GET", f"/log/{own}/sessions").status == 200
    kept = pupil.ask("POST", f"/log/{own}/measurements", kind="mass", day="2026-03-02", values="64.5")
    entry = kept.headers["location"].split("kept=")[1]
    assert pupil.ask("POST", f"/log/{own}/take-back", entry=entry).headers["location"] == f"/log/{own}/sessions?gone={entry}&rows=1"
    other = str(int(own) + 1)
    assert pupil.ask("POST", f"/log/{other}/take-back", entry="1").status == 403
    assert "entry undone" in signed_in(guarded, COACH).ask("GET", "/audit").text
