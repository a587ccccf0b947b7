"""Passwords that count once, tries that lock nobody else out, and whose client is whose."""

from contextlib import ExitStack
from datetime import UTC, datetime, timedelta
from threading import BoundedSemaphore

import pytest

from lengthwise.errors import InputError
from lengthwise.records import accounts, coaching, sign_ins
from lengthwise.records import store as store_actions
from lengthwise.records.sign_ins import SignInError, SignInVisit
from lengthwise.storage import passwords
from lengthwise.training.client import Client

SECRET = "correct horse battery"


def test_a_one_time_password_counts_once_and_for_a_day(store, monkeypatch):
    accounts.add_account("Lee", SECRET)
    made, once = accounts.add_with_one_time("Kim", None)
    assert sign_ins.sign_in("Kim", once).account.one_time_until
    with pytest.raises(SignInError, match="wrong name or password"):
        sign_ins.sign_in("Kim", once)
    later = accounts.give_one_time_password(made)
    monkeypatch.setattr(sign_ins.table, "now", lambda: datetime.now(UTC) + timedelta(hours=25))
    with pytest.raises(SignInError, match="this one-time password has expired"):
        sign_ins.sign_in("Kim", later)


def test_a_spent_one_time_password_is_replaced_by_no_word(store):
    """What stands for the hash of nobody is no word that somebody could know."""
    _, once = accounts.add_with_one_time("Kim", None)
    sign_ins.sign_in("Kim", once)
    for word in ("", "nobody has this password", once):
        with pytest.raises(SignInError, match="wrong name or password"):
            sign_ins.sign_in("Kim", word)
    assert not passwords.matches("", "") and not passwords.matches("nobody has this password", "")


def test_tries_at_once_are_counted_as_one_after_another(store, monkeypatch):
    accounts.add_account("Lee", SECRET)
    heard: list[int] = []

    def waits() -> int:
        with store_actions.store().reading() as db:
            return sign_ins._wait_s(db, "Lee", "10.0.0.1")

    monkeypatch.setattr(passwords, "matches", lambda *_: heard.append(waits()) or False)
    for _ in range(sign_ins.NAME_LIMIT):
        with pytest.raises(SignInError):
            sign_ins.sign_in("Lee", "wrong", visit=SignInVisit("10.0.0.1"))
    assert heard[-1] > 0  # the fifth try counts while it is still being hashed


def test_a_right_password_leaves_no_try_behind(store):
    made = accounts.add_account("Lee", SECRET)
    token = sign_ins.sign_in("Lee", SECRET).token
    for _ in range(2 * sign_ins.NAME_LIMIT):
        sign_ins.confirm(made, token, SECRET, "", SignInVisit())


def test_no_more_than_some_wait_for_a_hash(monkeypatch):
    monkeypatch.setattr(passwords, "_places", BoundedSemaphore(1))
    with passwords._turn(), pytest.raises(passwords.Busy):
        passwords.hash_of("another one")


def test_a_password_of_one_s_own_ends_it(store):
    _, once = accounts.add_with_one_time("Kim", None)
    token = sign_ins.sign_in("Kim", once).token
    accounts.change_password(accounts.find_account("Kim"), SECRET)
    assert sign_ins.signed_in(token) is None
    assert sign_ins.sign_in("Kim", SECRET).account.one_time_until is None


def test_one_time_passwords_are_long_and_differ():
    made = {accounts.one_time_password() for _ in range(50)}
    assert len(made) == 50
    assert {len(p) for p in made} == {19}
    assert len(accounts.LETTERS) ** 16 > 2**79


def test_nobody_locks_out_a_browser_that_has_signed_in_before(store):
    accounts.add_account("Lee", SECRET)
    known = sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1")).known
    for _ in range(sign_ins.NAME_LIMIT):
        with pytest.raises(SignInError):
            sign_ins.sign_in("Lee", "wrong", visit=SignInVisit("10.0.0.1"))
    with pytest.raises(SignInError, match="too many"):
        sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1"))
    assert sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1", known=known)).known == known
    for _ in range(sign_ins.NAME_LIMIT):
        with pytest.raises(SignInError, match="wrong"):
            sign_ins.sign_in("Lee", "wrong", visit=SignInVisit("10.0.0.1", known=known))
    with pytest.raises(SignInError, match="too many"):  # whoever holds the browser guesses no longer either
        sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1", known=known))


def test_whoever_fails_at_an_address_keeps_nobody_else_out_there(store):
    """A gym's phones share one address: one of them that fails with every name but Ann's does not keep Ann's new phone out."""
    accounts.add_account("Lee", SECRET)
    accounts.add_account("Ann", SECRET)
    for i in range(60):
        with pytest.raises(SignInError):
            sign_ins.sign_in("Lee" if i % 2 else f"guess {i}", "wrong", visit=SignInVisit("10.0.0.1"))
    assert sign_ins.sign_in("Ann", SECRET, visit=SignInVisit("10.0.0.1")).account.name == "Ann"


def test_a_coach_can_always_let_somebody_in(store, monkeypatch):
    """Tries by others, here and elsewhere, have used up what there is for the name; a one-time password counts all the same, once."""
    monkeypatch.setattr(sign_ins, "HOURLY_LIMIT", 8)
    made = accounts.add_account("Lee", SECRET)
    for i in range(12):
        with pytest.raises(SignInError):
            sign_ins.sign_in("Lee", "wrong", visit=SignInVisit(f"10.0.{i % 3}.1"))
    with pytest.raises(SignInError, match="too many"):
        sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1"))
    once = accounts.give_one_time_password(made)
    assert sign_ins.sign_in("Lee", once, visit=SignInVisit("10.0.0.1")).account.name == "Lee"
    with pytest.raises(SignInError, match="wrong"):
        sign_ins.sign_in("Lee", once, visit=SignInVisit("10.0.0.1"))


def test_one_address_takes_a_part_of_the_turns(store):
    """While an address has as many hashes waiting as one may, another address still gets its own."""
    with ExitStack() as waiting:
        for _ in range(passwords.OF_ONE_ADDRESS):
            waiting.enter_context(passwords._one_of_few("10.0.0.1"))
        with pytest.raises(passwords.Busy):
            passwords.matches(SECRET, None, "10.0.0.1")
        assert not passwords.matches(SECRET, None, "10.0.0.2")
    assert not passwords.matches(SECRET, None, "10.0.0.1") and not passwords._from


def test_tries_of_one_name_from_everywhere_are_a_hundred_an_hour(store, monkeypatch):
    monkeypatch.setattr(sign_ins, "HOURLY_LIMIT", 8)
    accounts.add_account("Lee", SECRET)
    known = sign_ins.sign_in("Lee", SECRET).known
    for i in range(8):
        with pytest.raises(SignInError, match="wrong"):
            sign_ins.sign_in("Lee", "wrong", visit=SignInVisit(f"10.0.{i}.1"))
    with pytest.raises(SignInError, match="try again in 60 minutes"):
        sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.9.9.9"))
    assert sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.9.9.9", known=known))


def test_what_was_done_to_an_account_is_news_at_the_next_sign_in(store):
    made = accounts.add_account("Lee", SECRET)
    first = sign_ins.sign_in("Lee", SECRET)
    visit = SignInVisit(known=first.known)
    assert sign_ins.sign_in("Lee", SECRET, visit=visit).news is False
    accounts.change_password(made, "another long secret")
    assert sign_ins.sign_in("Lee", "another long secret", visit=visit).news is True
    assert sign_ins.sign_in("Lee", "another long secret", visit=visit).news is False


def test_a_coach_sees_its_own_clients_and_who_leads_everybody(store):
    own, other, nobodys = (store_actions.save_client(Client(name=n)) for n in ("Own", "Other", "Nobodys"))
    lead, kim, lou = (accounts.add_account(n, SECRET) for n in ("Lead", "Kim", "Lou"))
    assert (lead.leads, kim.leads) == (True, False)
    coaching.give_client("Own", "Kim")
    coaching.give_client("Other", "Lou")
    everybody = (own, other, nobodys)
    assert coaching.seen_by(lead, everybody) == set(everybody)
    assert coaching.seen_by(kim, everybody) == {own, nobodys}
    assert [coaching.may_see(kim, n) for n in (*everybody, 999)] == [True, False, True, False]
    with pytest.raises(InputError, match="allowed Kim, Lead, Lou"):
        coaching.give_client("Own", "Nobody")
    accounts.remove_account("Kim")
    assert coaching.may_see(lou, own)


def test_a_coach_manages_the_accounts_of_its_clients_alone(store):
    for name in ("Own", "Other"):
        store_actions.save_client(Client(name=name))
    lead, kim, lou = (accounts.add_account(n, SECRET) for n in ("Lead", "Kim", "Lou"))
    coaching.give_client("Own", "Kim")
    coaching.give_client("Other", "Lou")
    own, other = (accounts.add_account(f"{n} account", SECRET, "client", n) for n in ("Own", "Other"))
    assert [coaching.may_manage(kim, a) for a in (own, other, lou, lead, kim)] == [True, False, False, False, False]
    assert all(coaching.may_manage(lead, a) for a in (own, other, lou, kim))
    assert not coaching.may_manage(own, own)


def test_a_clock_that_is_set_back_lets_nobody_stay_longer(store, monkeypatch):
    """What was kept while the clock was a year ahead would otherwise hold for that year: sign-ins, the password given again, locks."""
    real = sign_ins.table.now
    monkeypatch.setattr(sign_ins.table, "now", lambda: real() + timedelta(days=365))
    accounts.add_account("Lee", SECRET)
    token = sign_ins.sign_in("Lee", SECRET).token
    for _ in range(sign_ins.NAME_LIMIT):
        with pytest.raises(SignInError):
            sign_ins.sign_in("Lee", "wrong", visit=SignInVisit("10.0.0.1"))
    signed = sign_ins.signed_in(token)
    assert signed is not None and sign_ins.is_confirmed(signed)
    monkeypatch.setattr(sign_ins.table, "now", real)
    assert sign_ins.signed_in(token) is None
    assert not sign_ins.is_confirmed(signed)
    assert sign_ins.sign_in("Lee", SECRET, visit=SignInVisit("10.0.0.1")).account.name == "Lee"


def test_a_one_time_password_of_a_time_to_come_has_ended(store, monkeypatch):
    with monkeypatch.context() as ahead:
        ahead.setattr(accounts.table, "now", lambda: datetime.now(UTC) + timedelta(days=2))
        _, once = accounts.add_with_one_time("Kim", None)
    with pytest.raises(SignInError, match="this one-time password has expired"):
        sign_ins.sign_in("Kim", once)


def test_of_two_new_passwords_at_once_one_holds(store):
    """Both were asked for while the old one held; whoever was second is told that nothing was changed."""
    made = accounts.add_account("Lee", SECRET)
    sign_ins.change_own_password(made, SECRET, "the first of two words")
    with pytest.raises(InputError, match="the current password is wrong"):
        sign_ins.change_own_password(accounts.find_account("Lee"), SECRET, "the second of two words")
    with pytest.raises(InputError, match="changed in the meantime; nothing was changed"):
        sign_ins.change_own_password(made, SECRET, "the second of two words")
    assert sign_ins.sign_in("Lee", "the first of two words")


CHANGES = {
    "a one-time password instead": accounts.give_one_time_password,
    "another of its own": lambda account: accounts.change_password(account, "another long secret"),
    "the account is gone": lambda account: accounts.remove_account(account.name),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES.keys())
def test_a_password_that_is_changed_while_it_is_checked_begins_no_sign_in(store, monkeypatch, change):
    """Whoever is signing in with the old one would otherwise stay, since that ends only the sign-ins that there are."""
    made, real = accounts.add_account("Lee", SECRET), passwords.matches

    def checked_slowly(word: str, kept: str | None, place: str) -> bool:
        right = real(word, kept, place)
        change(made)
        return right

    monkeypatch.setattr(passwords, "matches", checked_slowly)
    with pytest.raises(SignInError, match="wrong name or password"):
        sign_ins.sign_in("Lee", SECRET)
    assert sign_ins.open_sign_ins(made) == ()


def test_somebody_leads_while_others_may_sign_in(store):
    """Removed on two pages at once, each other's coach who leads would leave nobody who does."""
    for name in ("Lead", "Kim"):
        accounts.add_account(name, SECRET)
    accounts.add_account("Lou", SECRET, leads=True)
    accounts.remove_account("Lou")
    with pytest.raises(InputError, match="Lead is the last lead coach; remove the other accounts first"):
        accounts.remove_account("Lead")
    accounts.remove_account("Kim")
    assert accounts.remove_account("Lead").leads


def test_a_new_client_is_its_coach_s_from_the_beginning(store):
    """In one change, so that no other coach sees it in between, nor after a power cut there."""
    accounts.add_account("Lead", SECRET)
    kim, lou = (accounts.add_account(n, SECRET) for n in ("Kim", "Lou"))
    new = store_actions.add_client(Client(name="New"), kim.number)
    assert (coaching.may_see(kim, new), coaching.may_see(lou, new)) == (True, False)
