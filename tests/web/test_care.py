"""What is delicate asks for the password again, and from other machines for a second factor; what a coach may manage is its own."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.parse import urlencode

import pyotp
import pytest
from asking_plainly import Answer, Question, ask
from starlette.types import ASGIApp, Receive, Scope, Send

from lengthwise.records import accounts, coaching, second_factor, sign_ins
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.web.app import create_app
from lengthwise.web.gate import SIGN_IN_COOKIE
from lengthwise.web.routes import Care, JudgedRoute, every_route

PASSWORD = "a long enough word"
FORM = (("content-type", "application/x-www-form-urlencoded"), ("sec-fetch-site", "same-origin"))


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    for name in ("Ada", "Zeno"):
        save_client(Client(name=name))
    for name in ("Lead", "Kim", "Lou"):
        accounts.add_account(name, PASSWORD)
    coaching.give_client("Ada", "Kim")
    coaching.give_client("Zeno", "Lou")


@pytest.fixture
def app() -> ASGIApp:
    return create_app({"localhost"})


def elsewhere(app: ASGIApp) -> ASGIApp:
    """The same, asked from another machine."""

    async def asked(scope: Scope, receive: Receive, send: Send) -> None:
        await app({**scope, "client": ("192.0.2.9", 50000)}, receive, send)

    return asked


def get(app: ASGIApp, path: str, token: str) -> Answer:
    return ask(app, Question(path, cookies={SIGN_IN_COOKIE: token}))


def post(app: ASGIApp, path: str, token: str, **form: str) -> Answer:
    return ask(app, Question(path, "POST", cookies={SIGN_IN_COOKIE: token}, headers=FORM, body=urlencode(form).encode()))


def with_factor(name: str) -> str:
    secret = second_factor.new_secret()
    second_factor.set_up(accounts.find_account(name), secret, pyotp.TOTP(secret).now())
    return sign_ins.sign_in(name, PASSWORD, pyotp.TOTP(secret).at(datetime.now(UTC) + timedelta(seconds=30))).token


def test_what_is_delicate_asks_for_the_password_again(app: ASGIApp, monkeypatch: pytest.MonkeyPatch):
    token = sign_ins.sign_in("Lead", PASSWORD).token
    assert get(app, "/accounts", token).status == 200
    later = datetime.now(UTC) + timedelta(minutes=11)
    monkeypatch.setattr(sign_ins.table, "now", lambda: later)
    for path in ("/accounts", "/records", "/audit"):
        assert get(app, path, token).headers["location"] == f"/account/confirm?next=%2F{path[1:]}"
    for path in ("/people/1/export", "/people/1/remove", "/accounts/remove", "/records/backup", "/account/factor"):
        assert post(app, path, token, name="Ada").headers["location"].startswith("/account/confirm?"), path
    wrong = post(app, "/account/confirm", token, password="another word", next="/records")
    assert (wrong.status, b"wrong name or password" in wrong.body.lower()) == (401, True)
    assert post(app, "/account/confirm", token, password=PASSWORD, next="/records").headers["location"] == "/records"
    assert get(app, "/records", token).status == 200


def test_what_is_delicate_is_marked(app: ASGIApp):
    """Every address that says so by its name, so that a new one is not forgotten."""
    delicate = re.compile(r"/(accounts|records|audit)\b|/(export|remove|coach)$")
    plain = ("/own-lifts/remove", "/evidence/studies/remove", "/evidence/own-claims/remove")
    found = {p: r.care for p, r in every_route(app.routes) if isinstance(r, JudgedRoute) and delicate.search(p)}
    without = [p for p, care in found.items() if care is Care.NONE and p not in plain]
    assert (len(found) > 15, without) == (True, [])


def test_from_another_machine_administration_needs_a_second_factor(app: ASGIApp):
    there, token = elsewhere(app), sign_ins.sign_in("Lead", PASSWORD).token
    for path in ("/accounts", "/records", "/audit"):
        assert get(there, path, token).headers["location"] == "/account?wanted=factor"
    for path in ("/api/accounts", "/api/store"):
        assert (get(there, path, token).status, b"needs a second factor" in get(there, path, token).body) == (403, True)
    assert get(there, "/accounts", with_factor("Lead")).status == 200


def test_a_second_factor_is_set_up_on_the_page(app: ASGIApp):
    token = sign_ins.sign_in("Kim", PASSWORD).token
    shown = post(app, "/account/factor", token).body.decode()
    secret = re.search(r'name="secret" value="([A-Z2-7]{32})"', shown)[1]
    assert "data:image/png;base64," in shown
    refused = post(app, "/account/factor/keep", token, secret=secret, code="123456")
    assert (refused.status, secret in refused.body.decode()) == (422, True)
    assert post(app, "/account/factor/keep", token, secret=secret, code=pyotp.TOTP(secret).now()).status == 303
    assert accounts.find_account("Kim").has_factor
    asked = Question("/sign-in", "POST", headers=FORM, body=urlencode({"name": "Kim", "password": PASSWORD}).encode())
    assert (ask(app, asked).status, b"also needs a code" in ask(app, asked).body) == (401, True)
    assert post(app, "/account/factor/remove", token).status == 303
    assert ask(app, asked).status == 303


def test_a_coach_manages_the_accounts_of_its_own_clients_alone(app: ASGIApp):
    accounts.add_account("Zeno's", PASSWORD, "client", "Zeno")
    token = sign_ins.sign_in("Kim", PASSWORD).token
    page = get(app, "/accounts", token).body.decode()
    assert "only Ada" in page
    assert not any(words in page for words in ("Zeno", "Lou", "Lead", "/records"))
    for path in ("/accounts/one-time", "/accounts/remove", "/accounts/factor"):
        for name in ("Lead", "Lou", "Zeno's", "nobody", "Kim"):
            assert post(app, path, token, name=name).status == 403, (path, name)
    assert post(app, "/accounts", token, name="Spy").status == 403
    assert post(app, "/accounts", token, name="Spy", of="Zeno").status == 422
    made = post(app, "/accounts", token, name="Ada's", of="Ada")
    assert (made.status, b'class="once"' in made.body) == (200, True)
    for path in ("/records", "/audit", "/api/store", "/api/accounts", "/log/0/import", "/people/2", "/people/2/coach"):
        assert get(app, path, token).status in (403, 405), path
    assert post(app, "/people/1/coach", token, coach="Lou").status == 403


def test_a_new_client_is_its_coach_s(app: ASGIApp):
    kim, lou = (sign_ins.sign_in(n, PASSWORD).token for n in ("Kim", "Lou"))
    form = {"name": "New", "sex": "woman", "stature": "170", "mass": "65", "age": "30", "training": "untrained"}
    made = post(app, "/people/new", kim, **form)
    assert made.status == 303, made.body.decode()[:2000]
    number = re.match(r"/people/(\d+)", made.headers["location"])[1]
    assert get(app, f"/people/{number}", kim).status == 200
    assert get(app, f"/people/{number}", lou).status == 403
    lead = sign_ins.sign_in("Lead", PASSWORD).token
    assert post(app, f"/people/{number}/coach", lead, coach="Lou").status == 303
    assert [get(app, f"/people/{number}", t).status for t in (kim, lou)] == [403, 200]


def test_how_soon_a_password_is_guessed_is_told_as_it_is_typed(app: ASGIApp):
    token = sign_ins.sign_in("Kim", PASSWORD).token
    weak = post(app, "/account/strength", token, password="password1234").body.decode()
    strong = post(app, "/account/strength", token, password="seven odd green kettles").body.decode()
    assert "not allowed: this is a very common password" in weak
    assert ('value="4"' in strong, "not allowed" in strong) == (True, False)
