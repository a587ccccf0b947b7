"""Signing in and out, and how long that lasts.

Tries are limited for each account alone, so that nobody locks others out: in fifteen minutes five of one name from one place (common
practice, no source), and a hundred an hour of one name from browsers that are not known (OWASP ASVS 4.0.3, 2.2.1, from memory). A place
is an address, or a browser that has signed in to that account before, which nobody else can lock out from wherever it asks. A one-time
password is never refused for other people's tries: its 79 bits cannot be guessed, so a coach can always let somebody in.
"""

import hashlib
import ipaddress
import secrets
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from lengthwise.errors import InputError
from lengthwise.records.accounts import LONGEST, ONE_TIME_LASTS, TOLD, change_password
from lengthwise.records.second_factor import takes_code
from lengthwise.records.store import store
from lengthwise.storage import account_rows as table
from lengthwise.storage import passwords, sign_in_tries
from lengthwise.storage.account_rows import Account, OpenSignIn, Role, Signed, target

NAME_LIMIT, HOURLY_LIMIT = 5, 100
WINDOW, HOUR = timedelta(minutes=15), timedelta(hours=1)
BUSY_WAIT_S = 5
IDLE: Mapping[Role, timedelta] = {"coach": timedelta(minutes=30), "client": timedelta(hours=12)}
"""A sign-in that was not used so long has ended: a coach's sees others, a client's lies beside the bar (OWASP ASVS 3.3.2 for the first)."""
SEEN_EVERY = timedelta(minutes=1)
"""That a sign-in is used is kept so often at most."""
LASTS = timedelta(hours=12)
CONFIRMED_FOR = timedelta(minutes=10)
"""So long a password that was given counts for what is delicate."""
AHEAD = timedelta(minutes=5)
"""So far clocks differ; what was kept at a later time than that was kept before the clock was set back, and has ended."""


class SignInError(InputError):
    """Signing in was refused; `wait_s` [s] is how long tries are refused, 0 where another may be made at once."""

    def __init__(self, message: str, wait_s: int = 0) -> None:
        super().__init__(message)
        self.wait_s = wait_s


@dataclass(frozen=True)
class SignInVisit:
    """Where a try comes from: its address, what its browser says it is, and the token of a browser that has signed in before."""

    address: str = ""
    browser: str = ""
    known: str = ""


@dataclass(frozen=True)
class SignIn:
    """A sign-in; tokens are for the browser alone, the store keeps their digests.

    Attributes:
        known: what the browser is known by from now on. news: whether something was done to the account since it signed in last.
    """

    token: str
    account: Account
    ends_at: datetime
    known: str
    news: bool


def sign_in(name: str, password: str, code: str = "", visit: SignInVisit = SignInVisit()) -> SignIn:
    """Sign in.

    Raises:
        SignInError: name, password or code is wrong (which of the first two is not said), or too many tries failed.
    """
    found = checked(name, password, code, visit)
    return _begin(found, visit)


def checked(name: str, password: str, code: str, visit: SignInVisit) -> Account:
    """The account of a name, where the password is its own and the code that of its second factor, if it has one.

    Raises:
        SignInError: as `sign_in`.
    """
    with store().reading() as db:
        found = table.account_named(db, name)
    with _trying(name, visit, found, code) as (place, has_code):
        known = passwords.matches(password[: 2 * LONGEST], found.password_hash if found else None, place)
        if found is None or not known:
            raise SignInError("wrong name or password")
        if found.one_time_until is not None and not timedelta(0) <= found.one_time_until - table.now() <= ONE_TIME_LASTS + AHEAD:
            raise SignInError("this one-time password has expired; ask your coach for another")
        if found.has_factor and not has_code and not takes_code(found, code):
            raise SignInError("this account also needs a code, one that has not been used before")
    return found


@contextmanager
def _trying(name: str, visit: SignInVisit, found: Account | None, code: str = "") -> Iterator[tuple[str, bool]]:
    """Around one try: counted before it is made, as a failure unless it ends well; gives the place it comes from and whether a right code of
    the second factor was spent to be let try at all.

    Raises:
        SignInError: too many tries failed; what the try itself raises.
    """
    place = place_of(name, visit)
    with store().reading() as db:
        wait_s = _wait_s(db, name, place)
    has_code = bool(wait_s and found and found.has_factor and takes_code(found, code))
    let_in = has_code or (found is not None and found.one_time_until is not None)
    with store().writing() as db:
        sign_in_tries.one_after_another(db)
        sign_in_tries.forget_failures(db, None, table.now() - HOUR)
        wait_s = 0 if let_in else _wait_s(db, name, place)
        number = 0 if wait_s else sign_in_tries.begin_try(db, name, place, table.now())
    if wait_s:
        _note("sign-in refused", found)
        raise SignInError(
            f"too many failed attempts; try again in {wait_s // 60} minutes, or now with the code from your phone, if you set one up",
            wait_s,
        )
    try:
        yield place, has_code
    except passwords.Busy as error:
        _forget_try(number)
        raise SignInError("too many people are signing in; try again in a moment", BUSY_WAIT_S) from error
    except InputError:
        _note("sign-in failed", found)
        raise
    _forget_try(number)


def _forget_try(number: int) -> None:
    with store().writing() as db:
        sign_in_tries.forget_try(db, number)


def _begin(account: Account, visit: SignInVisit) -> SignIn:
    token, now = secrets.token_urlsafe(32), table.now()
    begun = OpenSignIn(_digest(token), now, now, visit.address[:64], visit.browser[:120])
    with store().writing() as db:
        if not table.still_has_hash(db, account):  # it was changed while the one that was given was checked
            raise SignInError("wrong name or password")
        if account.one_time_until is not None:
            table.spend_one_time_hash(db, account.number)
        news = table.anything_done_since_last(db, account.number, TOLD)
        known = _known(db, account, visit, now)
        table.begin_sign_in(db, account.number, begun, now + LASTS)
        sign_in_tries.forget_failures(db, account.name, now - HOUR)
        table.write_audit(db, "signed in", account.number, account.client)
    return SignIn(token, account, now + LASTS, known, news)


def _known(db: Any, account: Account, visit: SignInVisit, now: datetime) -> str:
    """The token of a browser that is known; a new one where it is not."""
    if visit.known and sign_in_tries.knows_browser(db, _digest(visit.known), account.name):
        return visit.known
    token = secrets.token_urlsafe(32)
    sign_in_tries.keep_browser(db, _digest(token), account.number, now)
    table.write_audit(db, "new browser", account.number, account.client, target(account.number))
    return token


def signed_in(token: str) -> Signed | None:
    """Who has a browser's token; nothing where it never was, has ended or was not used for long."""
    now = table.now()
    with store().reading() as db:
        found = table.signed_in(db, _digest(token), now)
    if found is None or not _lately(found.seen_at, IDLE[found.account.role]):
        return None
    if now - found.seen_at > SEEN_EVERY:
        with store().writing() as db:
            table.see_sign_in(db, _digest(token), now)
    return found


def is_confirmed(signed: Signed) -> bool:
    """Whether the password was given so lately that what is delicate may be done."""
    return _lately(signed.confirmed_at, CONFIRMED_FOR)


def _lately(at: datetime, within: timedelta) -> bool:
    return -AHEAD <= table.now() - at <= within


def confirm(account: Account, token: str, password: str, code: str, visit: SignInVisit) -> None:
    """Give the password again, and the code of a second factor, for what is delicate.

    Raises:
        SignInError: as `sign_in`.
    """
    checked(account.name, password, code, visit)
    with store().writing() as db:
        table.confirm_sign_in(db, _digest(token), table.now())
        table.write_audit(db, "password given again", account.number, account.client)


def open_sign_ins(account: Account) -> tuple[OpenSignIn, ...]:
    """Where an account is signed in, newest first."""
    with store().reading() as db:
        return table.open_sign_ins(db, account.number, table.now())


def end_other_sign_ins(account: Account, token: str) -> int:
    """End every sign-in of an account but the one of a token; gives how many."""
    with store().writing() as db:
        ended = table.end_other_sign_ins(db, account.number, _digest(token))
        table.write_audit(db, "other sign-ins ended", account.number, account.client, str(ended))
    return ended


def is_of(token: str, sign_in: OpenSignIn) -> bool:
    """Whether a sign-in is the one of a token."""
    return sign_in.token_digest == _digest(token)


def change_own_password(account: Account, current: str, password: str, visit: SignInVisit = SignInVisit()) -> None:
    """Change the password of whoever is signed in, who has to know it; all its sign-ins end.

    Raises:
        InputError: the current one is wrong, or the new one is not allowed; SignInError: too many tries failed.
    """
    with _trying(account.name, visit, account) as (place, _):
        if not passwords.matches(current[: 2 * LONGEST], account.password_hash, place):
            raise InputError("the current password is wrong; nothing was changed")
    if password == current:
        raise InputError("the new password is the same as the old one; choose another")
    change_password(account, password)


def sign_out(token: str) -> None:
    """End a sign-in; a token that is not known is no fault."""
    with store().writing() as db:
        found = table.signed_in(db, _digest(token), table.now())
        table.end_sign_in(db, _digest(token))
        if found is not None:
            table.write_audit(db, "signed out", found.account.number, found.account.client)


def place_of(name: str, visit: SignInVisit) -> str:
    """What tries are counted by: a browser that has signed in to the account before, else the address or, of IPv6, the network of 64 bits."""
    if visit.known:
        with store().reading() as db:
            if sign_in_tries.knows_browser(db, _digest(visit.known), name):
                return f"browser {_digest(visit.known)[:40]}"
    return network_of(visit.address)


def network_of(address: str) -> str:
    """What belongs to one household: an address or, of IPv6, the network of 64 bits; the text itself where it is no address."""
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return address
    return str(found) if found.version == 4 else str(ipaddress.ip_network((found, 64), strict=False))


def _note(action: str, found: Account | None) -> None:
    """Nobody is signed in, so the account that was tried stands as what something was done to."""
    client, detail = (found.client, target(found.number)) if found else (None, "")
    with store().writing() as db:
        table.write_audit(db, action, None, client, detail, "refused")


def _wait_s(db: Any, name: str, place: str) -> int:
    if sign_in_tries.failures_since(db, name, place, table.now() - WINDOW) >= NAME_LIMIT:
        return int(WINDOW.total_seconds())
    hourly = 0 if place.startswith("browser ") else sign_in_tries.failures_of_name(db, name, table.now() - HOUR)
    return int(HOUR.total_seconds()) if hourly >= HOURLY_LIMIT else 0


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
