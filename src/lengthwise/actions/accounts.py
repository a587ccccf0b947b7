"""Who may sign in, signing in and out, and the audit of what was done.

Limits on tries: five of one name from one address and thirty from one address in fifteen minutes (common practice, no source), so that
nobody elsewhere can lock an account out. A password has at least twelve characters and is not one that many use (OWASP ASVS 4.0.3,
2.1.1 and 2.1.7, from memory).
"""

import hashlib
import ipaddress
import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from lengthwise.actions.store import store
from lengthwise.errors import InputError, unknown
from lengthwise.storage import accounts as table
from lengthwise.storage import clients, passwords
from lengthwise.storage.accounts import Account, AuditLine, OpenSignIn, Role
from lengthwise.storage.weak_passwords import weakness

SHORTEST = 12
LONGEST = 200
NAME_LIMIT, ADDRESS_LIMIT = 5, 30
WINDOW = timedelta(minutes=15)
BUSY_WAIT_S = 5
IDLE: Mapping[Role, timedelta] = {"coach": timedelta(minutes=30), "client": timedelta(hours=12)}
"""A sign-in that was not used so long has ended: a coach's sees everybody, a client's lies beside the bar (OWASP ASVS 3.3.2 for the first)."""
SEEN_EVERY = timedelta(minutes=1)
"""That a sign-in is used is kept so often at most."""
SIGN_IN_LASTS = timedelta(hours=12)
ROLES: tuple[Role, ...] = ("coach", "client")


class SignInError(InputError):
    """Signing in was refused; `wait_s` [s] is how long tries are refused, 0 where another may be made at once."""

    def __init__(self, message: str, wait_s: int = 0) -> None:
        super().__init__(message)
        self.wait_s = wait_s


@dataclass(frozen=True)
class SignIn:
    """A sign-in: the token is for the browser alone, the store keeps its digest."""

    token: str
    account: Account
    ends_at: datetime


def accounts_exist() -> bool:
    """Whether anybody can sign in; without accounts the page stays on this machine."""
    with store().reading() as db:
        return table.count_accounts(db) > 0


def add_account(name: str, password: str, role: str = "coach", client: str | None = None) -> Account:
    """Make an account; a client's needs the name of the client it shows.

    Raises:
        InputError: name, password or role is not allowed, or the name is taken. UnknownNameError: no such client.
    """
    _check(name, password, role, client)
    password_hash = passwords.hash_of(password)
    with store().writing() as db:
        shown = clients.find_number(db, client) if client else None
        made = Account(0, name.strip(), "coach" if role == "coach" else "client", shown, password_hash, _now())
        number = table.add_account(db, made)
        table.write_audit(db, AuditLine(_now(), None, "account added", shown, f"account {number}, {role}"))
    return replace(made, number=number)


def list_accounts() -> tuple[Account, ...]:
    """All accounts, by name."""
    with store().reading() as db:
        return table.list_accounts(db)


def find_account(name: str) -> Account:
    """The account of a name.

    Raises:
        UnknownNameError: no account is called so.
    """
    with store().reading() as db:
        found = table.account_named(db, name)
        if found is None:
            raise unknown("account", name, [a.name for a in table.list_accounts(db)])
        return found


def remove_account(name: str) -> Account:
    """Remove an account; its sign-ins end at once.

    Raises:
        UnknownNameError: no account is called so.
    """
    found = find_account(name)
    with store().writing() as db:
        table.remove_account(db, found.number)
        table.write_audit(db, AuditLine(_now(), None, "account removed", found.client, f"account {found.number}"))
    return found


def change_password(account: Account, password: str) -> None:
    """Give an account another password; its sign-ins end at once.

    Raises:
        InputError: too short or too long.
    """
    _check_password(password, [account.name])
    new = passwords.hash_of(password)
    with store().writing() as db:
        table.set_password_hash(db, account.number, new)
        table.write_audit(db, AuditLine(_now(), account.number, "password changed"))


def sign_in(name: str, password: str, address: str = "", browser: str = "") -> SignIn:
    """Sign in; `address` is where the request comes from, `browser` what it says it is.

    Raises:
        SignInError: name or password is wrong (which one is not said), or too many tries failed.
    """
    with store().reading() as db:
        wait_s = _wait_s(table.failures_since(db, name, place_of(address), _now() - WINDOW))
        found = table.account_named(db, name)
    if wait_s:
        note("sign-in refused", detail="too many failed tries")
        raise SignInError(f"too many failed tries; try again in {wait_s // 60} minutes", wait_s)
    try:
        known = passwords.matches(password[: LONGEST + 1], found.password_hash if found else None)
    except passwords.Busy as error:
        raise SignInError("too many people are signing in; try again in a moment", BUSY_WAIT_S) from error
    if found is None or not known:
        _note_failure(name, address, found)
        raise SignInError("name or password is wrong")
    return _begin(found, address, browser)


def _begin(account: Account, address: str, browser: str) -> SignIn:
    token, now = secrets.token_urlsafe(32), _now()
    begun = OpenSignIn(_digest(token), now, now, address[:64], browser[:120])
    with store().writing() as db:
        table.begin_sign_in(db, account.number, begun, now + SIGN_IN_LASTS)
        table.forget_failures(db, account.name, now - WINDOW)
        table.write_audit(db, AuditLine(now, account.number, "signed in", account.client))
    return SignIn(token, account, now + SIGN_IN_LASTS)


def signed_in(token: str) -> Account | None:
    """The account of a browser's token; nothing where it never was, has ended or was not used for long."""
    now = _now()
    with store().reading() as db:
        found = table.signed_in(db, _digest(token), now)
    if found is None or now - found[1] > IDLE[found[0].role]:
        return None
    if now - found[1] > SEEN_EVERY:
        with store().writing() as db:
            table.see_sign_in(db, _digest(token), now)
    return found[0]


def open_sign_ins(account: Account) -> tuple[OpenSignIn, ...]:
    """Where an account is signed in, newest first."""
    with store().reading() as db:
        return table.open_sign_ins(db, account.number, _now())


def end_other_sign_ins(account: Account, token: str) -> int:
    """End every sign-in of an account but the one of a token; gives how many."""
    with store().writing() as db:
        ended = table.end_other_sign_ins(db, account.number, _digest(token))
        table.write_audit(db, AuditLine(_now(), account.number, "other sign-ins ended", account.client, str(ended)))
    return ended


def is_of(token: str, sign_in: OpenSignIn) -> bool:
    """Whether a sign-in is the one of a token."""
    return sign_in.token_digest == _digest(token)


def change_own_password(account: Account, current: str, password: str, address: str = "") -> None:
    """Change the password of whoever is signed in, who has to know it; all its sign-ins end.

    Raises:
        InputError: the current one is wrong, or the new one is not allowed; SignInError: too many tries failed.
    """
    sign_in(account.name, current, address)
    if password == current:
        raise InputError("the new password is the old one; allowed another")
    change_password(account, password)


def sign_out(token: str) -> None:
    """End a sign-in; a token that is not known is no fault."""
    with store().writing() as db:
        found = table.signed_in(db, _digest(token), _now())
        table.end_sign_in(db, _digest(token))
        if found is not None:
            table.write_audit(db, AuditLine(_now(), found[0].number, "signed out", found[0].client))


def may_see(account: Account, client: int) -> bool:
    """Whether an account may see and change a client's data."""
    return account.role == "coach" or account.client == client


def note(action: str, account: Account | None = None, client: int | None = None, detail: str = "") -> None:
    """Add a line to the audit; details name no client."""
    with store().writing() as db:
        table.write_audit(db, AuditLine(_now(), account.number if account else None, action, client, detail))


def note_refusal(account: Account, what: str) -> None:
    """Add to the audit that an account asked what it may not."""
    with store().writing() as db:
        table.write_audit(db, AuditLine(_now(), account.number, "asked", account.client, what[:120], result="refused"))


def read_audit(n: int = 100, client: int | None = None) -> Sequence[AuditLine]:
    """The last lines of the audit, newest first; about one client where given."""
    with store().reading() as db:
        return table.read_audit(db, n, client)


def place_of(address: str) -> str:
    """What tries from an address are counted by: itself, or the network that one customer has whole (IPv6, 64 bits)."""
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return address
    return str(found) if found.version == 4 else str(ipaddress.ip_network((found, 64), strict=False))


def _note_failure(name: str, address: str, found: Account | None) -> None:
    with store().writing() as db:
        table.forget_failures(db, None, _now() - WINDOW)
        table.note_failure(db, name, place_of(address), _now())
        table.write_audit(db, AuditLine(_now(), found.number if found else None, "sign-in failed"))


def _wait_s(failures: tuple[int, int]) -> int:
    of_name, of_address = failures
    return int(WINDOW.total_seconds()) if of_name >= NAME_LIMIT or of_address >= ADDRESS_LIMIT else 0


def _check(name: str, password: str, role: str, client: str | None) -> None:
    if not 1 <= len(name.strip()) <= 80:
        raise InputError(f"account name of {len(name.strip())} characters; allowed 1 to 80", asked=name)
    if role not in ROLES:
        raise InputError(f"role {role!r}; allowed coach, client", asked=role, allowed=ROLES)
    if (role == "client") != (client is not None):
        raise InputError("a client's account needs the client it shows, a coach's has none; give --client NAME with --role client")
    _check_password(password, [name, client or ""])


def _check_password(password: str, about: Sequence[str]) -> None:
    if not SHORTEST <= len(password) <= LONGEST:
        raise InputError(f"password of {len(password)} characters; allowed {SHORTEST} to {LONGEST}", allowed=[SHORTEST, LONGEST])
    why = weakness(password, about)
    if why:
        raise InputError(f"this password is soon guessed: {why}; allowed one that nobody else has, such as four words of your own")


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def _now() -> datetime:
    return datetime.now(UTC)
