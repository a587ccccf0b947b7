"""Serving to others: encrypted, by other names, behind a program that is believed; and what browsers are told then."""

from pathlib import Path

import pytest
from asking_plainly import Question, ask

from lengthwise.errors import InputError
from lengthwise.records import accounts
from lengthwise.web.app import create_app
from lengthwise.web.reached import ServedAt, check_encrypted
from lengthwise.web.serving import check_host

PASSWORD = "a long enough word"
FORM = (("content-type", "application/x-www-form-urlencoded"), ("sec-fetch-site", "same-origin"))
SENT = b"name=Coach&password=a+long+enough+word&next=/people"


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


def test_nobody_in_front_is_believed_unless_named():
    assert ServedAt().options == {"proxy_headers": False, "forwarded_allow_ips": None}
    assert ServedAt(proxy="127.0.0.1").options == {"proxy_headers": True, "forwarded_allow_ips": "127.0.0.1"}
    for everybody in ("*", "0.0.0.0/0", "proxy.example"):
        with pytest.raises(InputError, match="allowed its address"):
            _ = ServedAt(proxy=everybody).options


def test_an_encrypted_connection_needs_both_files(tmp_path: Path):
    with pytest.raises(InputError, match="needs both files"):
        _ = ServedAt(certificate=tmp_path / "a.pem").options
    with pytest.raises(InputError, match="no such file"):
        _ = ServedAt(certificate=tmp_path / "a.pem", key=tmp_path / "b.pem").options
    assert ServedAt(certificate=tmp_path, key=tmp_path).scheme == "https"


def test_others_are_served_encrypted_unless_the_opposite_is_said(tmp_path: Path):
    with pytest.raises(InputError, match="on the way; allowed --tls-cert"):
        check_encrypted(ServedAt(host="0.0.0.0"))
    for allowed in ({"certificate": tmp_path, "key": tmp_path}, {"proxy": "127.0.0.1"}, {"unencrypted": True}):
        check_encrypted(ServedAt(host="0.0.0.0", **allowed))
    check_encrypted(ServedAt(host="::1"))


def test_a_public_name_needs_accounts():
    with pytest.raises(InputError, match="no accounts to sign in with"):
        check_host("gym.example")


def test_over_an_encrypted_connection_cookies_are_this_host_s_alone():
    accounts.add_account("Coach", PASSWORD)
    app = create_app({"gym.example"})
    found = ask(app, Question("/sign-in", "POST", headers=FORM, body=SENT, host="gym.example", scheme="https"))
    cookie = found.headers["set-cookie"]
    assert cookie.startswith("__Host-signed_in=")
    for needed in ("secure", "httponly", "path=/", "samesite=lax"):
        assert needed in cookie.lower()
    assert "domain" not in cookie.lower()
    assert found.headers["strict-transport-security"] == "max-age=31536000"
    token = cookie.partition(";")[0].partition("=")[2]
    asked = Question("/people", host="gym.example", scheme="https", cookies={"__Host-signed_in": token})
    assert ask(app, asked).status == 200
    assert ask(app, Question("/people", host="gym.example", scheme="https", cookies={"signed_in": token})).status == 303


def test_over_a_plain_connection_nothing_is_said_of_encryption():
    accounts.add_account("Coach", PASSWORD)
    found = ask(create_app({"localhost"}), Question("/sign-in", "POST", headers=FORM, body=SENT))
    assert found.headers["set-cookie"].startswith("signed_in=")
    assert "strict-transport-security" not in found.headers
