"""One's own account: signed in where, another password; and what the audit says of who asked what."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from asking_plainly import Question, ask
from here import HERE

from lengthwise.errors import InputError
from lengthwise.records import accounts, sign_ins
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.web import noted
from lengthwise.web.app import create_app
from lengthwise.web.gate import SIGN_IN_COOKIE

PASSWORD, OTHER = "a long enough word", "another long word"
FORM = (("content-type", "application/x-www-form-urlencoded"), ("sec-fetch-site", "same-origin"))


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    monkeypatch.setattr(noted.readings, "_now", -1)
    monkeypatch.setattr(noted.refusals, "_now", -1)
    save_client(Client(name="Ada"))
    save_client(Client(name="Zeno"))
    accounts.add_account("Coach", PASSWORD)
    accounts.add_account("Ada", PASSWORD, "client", "Ada")


def test_one_s_own_password_is_changed_by_who_knows_it():
    ada = accounts.find_account("Ada")
    token = sign_ins.sign_in("Ada", PASSWORD).token
    with pytest.raises(InputError, match="the current password is wrong"):
        sign_ins.change_own_password(ada, "a wrong password", OTHER)
    with pytest.raises(InputError, match="the new password is the same as the old one"):
        sign_ins.change_own_password(ada, PASSWORD, PASSWORD)
    sign_ins.change_own_password(ada, PASSWORD, OTHER)
    assert sign_ins.signed_in(token) is None
    assert sign_ins.sign_in("Ada", OTHER).account.name == "Ada"


def test_the_page_lists_sign_ins_and_ends_the_others():
    app = create_app({"localhost"})
    first, second = (
        sign_ins.sign_in("Ada", PASSWORD, visit=sign_ins.SignInVisit("192.0.2.7", f"Browser {n}")).token for n in (1, 2)
    )
    page = ask(app, Question("/account", cookies={SIGN_IN_COOKIE: second})).body.decode()
    assert page.count("<strong>192.0.2.7") == 2
    assert page.count("this browser") == 1
    assert "Browser 1" in page
    assert ask(app, Question("/account/end-others", "POST", cookies={SIGN_IN_COOKIE: second}, headers=FORM)).status == 303
    assert sign_ins.signed_in(first) is None
    assert sign_ins.signed_in(second) is not None


def test_a_sign_in_that_is_not_used_ends(monkeypatch: pytest.MonkeyPatch):
    coach, pupil = (sign_ins.sign_in(n, PASSWORD).token for n in ("Coach", "Ada"))
    later = datetime.now(UTC)
    for minutes in (20, 40):
        monkeypatch.setattr(sign_ins.table, "now", lambda m=minutes: later + timedelta(minutes=m))
        assert sign_ins.signed_in(coach) is not None, minutes
    monkeypatch.setattr(sign_ins.table, "now", lambda: later + timedelta(minutes=71))
    assert sign_ins.signed_in(coach) is None
    assert sign_ins.signed_in(pupil) is not None
    monkeypatch.setattr(sign_ins.table, "now", lambda: later + sign_ins.LASTS + timedelta(seconds=1))
    assert sign_ins.signed_in(pupil) is None


def test_refusals_and_readings_are_noted_with_who_and_from_where():
    app, token = create_app({"localhost"}), sign_ins.sign_in("Ada", PASSWORD).token
    for path in ("/api/log/2", "/log/1/sessions", "/api/log/1"):
        ask(app, Question(path, cookies={SIGN_IN_COOKIE: token}))
    lines = accounts.read_audit(10)
    refused = next(line for line in lines if line.result == "refused")
    assert (refused.account, refused.detail, refused.address) == (2, "GET /api/log/2", HERE[0])
    assert [(line.account, line.client) for line in lines if line.action == "records opened"] == [(2, 1)]


def test_nobody_fills_the_audit():
    kept = noted.Noted(2, 3600.0)
    assert [kept.may("a") for _ in range(4)] == [True, True, False, False]
    assert kept.may("b")
