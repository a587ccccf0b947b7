"""Codes of a second factor: those of the standard's own table, once each, near to their time."""

from base64 import b32encode
from datetime import UTC, datetime, timedelta

import pyotp
import pytest

from lengthwise.errors import InputError
from lengthwise.records import accounts, second_factor, sign_ins
from lengthwise.records.sign_ins import SignInError

SECRET = "correct horse battery"
SEED = b"12345678901234567890"
TABLE = ((59, "94287082"), (1111111109, "07081804"), (1111111111, "14050471"), (1234567890, "89005924"), (2000000000, "69279037"))
"""Seconds and codes of eight digits by SHA-1: RFC 6238, appendix B; ours are their last six (RFC 4226, 5.3)."""


@pytest.mark.parametrize(("seconds", "code"), TABLE)
def test_codes_are_those_of_the_standard(seconds: int, code: str):
    secret, now = b32encode(SEED).decode(), datetime.fromtimestamp(seconds, UTC)
    assert second_factor.step_of(secret, code[-6:], now) == seconds // 30
    assert second_factor.step_of(secret, code[-6:], now + timedelta(seconds=30)) == seconds // 30
    assert second_factor.step_of(secret, code[-6:], now + timedelta(seconds=90)) is None
    assert second_factor.step_of(secret, f"{code[-6:-3]} {code[-3:]}", now) == seconds // 30
    for other in ("", "000000", code[-5:], code[:6], "٩٤٢٨٧٠"):
        assert second_factor.step_of(secret, other, now) is None


@pytest.fixture
def with_factor(store):
    """An account with a second factor, and what its phone shows some steps of time from now."""
    made, secret = accounts.add_account("Lee", SECRET), second_factor.new_secret()
    phone, now = pyotp.TOTP(secret), datetime.now(UTC)
    second_factor.set_up(made, secret, phone.at(now))
    return lambda steps: phone.at(now + timedelta(seconds=30 * steps))


def test_signing_in_asks_for_a_code_that_counts_once(with_factor, monkeypatch):
    for code in ("", "000000", with_factor(0)):  # that of now was spent when it was set up
        with pytest.raises(SignInError, match="also needs a code"):
            sign_ins.sign_in("Lee", SECRET, code)
    assert sign_ins.sign_in("Lee", SECRET, with_factor(1)).account.has_factor
    with pytest.raises(SignInError, match="also needs a code"):
        sign_ins.sign_in("Lee", SECRET, with_factor(1))
    with pytest.raises(SignInError, match="wrong name or password"):
        sign_ins.sign_in("Lee", "another long secret", with_factor(2))


def test_a_right_code_is_let_try_whatever_others_tried(with_factor):
    visit = sign_ins.SignInVisit("192.0.2.7")
    for _ in range(sign_ins.NAME_LIMIT):
        with pytest.raises(SignInError, match="wrong name or password"):
            sign_ins.sign_in("Lee", "a guess of another", "", visit)
    for code in ("", "000000", with_factor(0)):  # none, a wrong one and a spent one
        with pytest.raises(SignInError, match="too many failed attempts"):
            sign_ins.sign_in("Lee", SECRET, code, visit)
    with pytest.raises(SignInError, match="wrong name or password"):
        sign_ins.sign_in("Lee", "a guess of another", with_factor(1), visit)
    with pytest.raises(SignInError, match="too many failed attempts"):  # a right code buys one try
        sign_ins.sign_in("Lee", SECRET, with_factor(1), visit)
    second_factor.set_up(
        accounts.find_account("Lee"), secret := second_factor.new_secret(), pyotp.TOTP(secret).at(datetime.now(UTC))
    )
    after = pyotp.TOTP(secret).at(datetime.now(UTC) + timedelta(seconds=30))
    assert sign_ins.sign_in("Lee", SECRET, after, visit).account.name == "Lee"


def test_a_code_that_does_not_fit_sets_nothing_up(store):
    made = accounts.add_account("Lee", SECRET)
    with pytest.raises(InputError, match="wrong code"):
        second_factor.set_up(made, second_factor.new_secret(), "123456")
    assert not accounts.find_account("Lee").has_factor


def test_who_has_lost_the_phone_signs_in_without(with_factor):
    accounts.remove_factor(accounts.find_account("Lee"))
    assert not sign_ins.sign_in("Lee", SECRET).account.has_factor
    assert [line.action for line in accounts.done_to(accounts.find_account("Lee"))][:3] == [
        "new browser",
        "second factor removed",
        "second factor set up",
    ]


def test_the_picture_says_what_the_phone_needs(store):
    address = second_factor.address_of("ABCDEFGH" * 4, accounts.add_account("Coach Lee", SECRET))
    assert address == "otpauth://totp/Lengthwise:Coach%20Lee?secret=ABCDEFGHABCDEFGHABCDEFGHABCDEFGH&issuer=Lengthwise"
