"""Passwords that are soon guessed are refused; few are hashed at once; nobody locks out somebody elsewhere."""

import threading

import pytest
from argon2 import PasswordHasher

from lengthwise.errors import InputError
from lengthwise.records import accounts, sign_ins
from lengthwise.storage import passwords
from lengthwise.storage.weak_passwords import weakness


@pytest.fixture(autouse=True)
def own_data(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)


@pytest.mark.parametrize(
    "password", ["password1234", "qwertyuiopas", "123456789012", "aaaaaaaaaaaa", "Mara Example", "lengthwise2026"]
)
def test_what_is_soon_guessed_is_refused(password: str):
    assert weakness(password, ["Mara Example"])


@pytest.mark.parametrize(
    "password", ["four words of mine", "correct horse battery staple", "hK3#v9pQz!wL", "ein langer Satz über Äpfel"]
)
def test_what_is_not_is_allowed(password: str):
    assert weakness(password, ["Mara Example"]) == ""


def test_an_account_is_not_made_with_a_weak_password():
    with pytest.raises(InputError, match="easy to guess: this is a very common password; choose one that no one else uses"):
        accounts.add_account("Coach", "password1234")
    with pytest.raises(InputError, match="allowed 12 to 128"):
        accounts.add_account("Coach", "hK3#v9pQz!w")


def test_failed_tries_elsewhere_do_not_lock_an_account_out():
    accounts.add_account("Coach", "a long enough word")
    for _ in range(6):
        with pytest.raises(sign_ins.SignInError):
            sign_ins.sign_in("Coach", "wrong", visit=sign_ins.SignInVisit("192.0.2.7"))
    with pytest.raises(sign_ins.SignInError, match="too many failed attempts"):
        sign_ins.sign_in("Coach", "a long enough word", visit=sign_ins.SignInVisit("192.0.2.7"))
    assert sign_ins.sign_in("Coach", "a long enough word", visit=sign_ins.SignInVisit("198.51.100.3")).account.name == "Coach"


def test_a_network_of_one_customer_counts_as_one_address():
    one, same, another = (
        sign_ins.place_of("Coach", sign_ins.SignInVisit(f"2001:db8:0:{end}")) for end in ("1::5", "1:ffff::9", "2::5")
    )
    assert one == same != another
    assert sign_ins.place_of("Coach", sign_ins.SignInVisit("192.0.2.7")) == "192.0.2.7"


def test_passwords_are_hashed_as_slowly_as_the_standard_asks(slow_hasher: PasswordHasher):
    """argon2id, three passes over 64 MiB in four lanes: RFC 9106, section 4, the second recommended option."""
    assert slow_hasher.hash("a long enough word").startswith("$argon2id$v=19$m=65536,t=3,p=4$")


def test_few_passwords_are_hashed_at_once(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(passwords, "WAITED_S", 0.01)
    monkeypatch.setattr(passwords, "_turns", threading.BoundedSemaphore(1))
    accounts.add_account("Coach", "a long enough word")
    with passwords._turn(), pytest.raises(sign_ins.SignInError, match="too many people are signing in"):
        sign_ins.sign_in("Coach", "a long enough word")
