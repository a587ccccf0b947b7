"""Accounts: hashes alone are kept, tries are limited, sign-ins end, and the audit tells what was done."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import select

from lengthwise.errors import InputError
from lengthwise.records import accounts, coaching, sign_ins
from lengthwise.records import store as store_actions
from lengthwise.records.sign_ins import SignInError, SignInVisit
from lengthwise.storage import tables
from lengthwise.training.client import Client

SECRET = "correct horse battery"


def test_no_account_exists_until_one_is_made(store):
    assert not accounts.accounts_exist()
    accounts.add_account("Coach Lee", SECRET)
    assert accounts.accounts_exist()


def test_signing_in_and_out(store):
    made = accounts.add_account("Coach Lee", SECRET)
    signed = sign_ins.sign_in("coach  LEE", SECRET)
    assert sign_ins.signed_in(signed.token).account.number == made.number and sign_ins.signed_in("other") is None
    sign_ins.sign_out(signed.token)
    assert sign_ins.signed_in(signed.token) is None
    assert [line.action for line in accounts.read_audit()] == ["signed out", "signed in", "new browser", "account added"]


def test_neither_password_nor_token_is_kept(store):
    accounts.add_account("Lee", SECRET)
    token = sign_ins.sign_in("Lee", SECRET).token
    with store.reading() as db:
        kept = [str(list(row)) for table in tables.metadata.sorted_tables for row in db.execute(select(table))]
    assert not any(SECRET in row or token in row for row in kept)
    assert any("$argon2id$" in row for row in kept)


def test_a_sign_in_ends(store, monkeypatch):
    accounts.add_account("Lee", SECRET)
    token = sign_ins.sign_in("Lee", SECRET).token
    monkeypatch.setattr(sign_ins.table, "now", lambda: datetime.now(UTC) + sign_ins.LASTS + timedelta(seconds=1))
    assert sign_ins.signed_in(token) is None


def test_tries_are_limited_by_name_and_address_and_the_limit_ends(store, monkeypatch):
    accounts.add_account("Lee", SECRET)
    for _ in range(sign_ins.NAME_LIMIT):
        with pytest.raises(SignInError, match="wrong name or password"):
            sign_ins.sign_in("Lee", "wrong password", visit=SignInVisit("10.0.0.1"))
    with pytest.raises(SignInError, match="try again in 15 minutes") as caught:
        sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1"))
    assert caught.value.wait_s == 900
    monkeypatch.setattr(sign_ins.table, "now", lambda: datetime.now(UTC) + sign_ins.WINDOW + timedelta(seconds=1))
    assert sign_ins.sign_in("Lee", SECRET).account.name == "Lee"


def test_a_right_password_forgets_earlier_slips(store):
    accounts.add_account("Lee", SECRET)
    for _ in range(2):
        for _ in range(sign_ins.NAME_LIMIT - 1):
            with pytest.raises(SignInError):
                sign_ins.sign_in("Lee", "wrong password")
        sign_ins.sign_in("Lee", SECRET)


def test_a_client_sees_only_itself(store):
    mara, anna = (store_actions.save_client(Client(name=n)) for n in ("Mara", "Anna"))
    account = accounts.add_account("mara", SECRET, "client", "Mara")
    coach = accounts.add_account("lee", SECRET)
    assert coaching.may_see(account, mara) and not coaching.may_see(account, anna)
    assert coaching.may_see(coach, mara) and coaching.may_see(coach, anna)


def test_a_new_password_ends_sign_ins(store):
    made = accounts.add_account("Lee", SECRET)
    token = sign_ins.sign_in("Lee", SECRET).token
    accounts.change_password(made, "another long secret")
    assert sign_ins.signed_in(token) is None and sign_ins.sign_in("Lee", "another long secret")
    assert accounts.remove_account("lee").name == "Lee" and not accounts.accounts_exist()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("Lee", "short"), "password of 5 characters; allowed 12 to 128"),
        (("", SECRET), "account name of 0 characters"),
        (("Lee", SECRET, "owner"), "role 'owner'; allowed coach, client"),
        (("Lee", SECRET, "client"), "needs a client"),
        (("Lee", SECRET, "coach", "Mara"), "needs a client"),
        (("Lee", SECRET, "client", "Nobody"), "no client is called 'Nobody'"),
        (("held", SECRET), "'held' already exists"),
    ],
)
def test_an_account_that_cannot_be_is_refused(store, words, said):
    accounts.add_account("Held", SECRET)
    with pytest.raises(InputError, match=said):
        accounts.add_account(*words)
    assert len(accounts.list_accounts()) == 1
