"""Who may sign in, their passwords, and the audit of what was done.

A password has twelve to 128 characters and is not one that many use (OWASP ASVS 4.0.3, 2.1.1, 2.1.2 and 2.1.7, from memory). The first
password of somebody else's account, and one in place of a forgotten one, is made here at random, counts once and for a day (2.3.1).
"""

import math
import secrets
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Any

from lengthwise.errors import InputError, unknown
from lengthwise.records.store import Asked, client_number, exists, store
from lengthwise.storage import account_rows as table
from lengthwise.storage import passwords, second_factors, sign_in_tries
from lengthwise.storage.account_rows import Account, AuditLine, Role
from lengthwise.storage.weak_passwords import estimate, weakness

SHORTEST, LONGEST = 12, 128
ONE_TIME_LASTS = timedelta(hours=24)
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""What one-time passwords are made of: nothing that is taken for something else."""
ROLES: tuple[Role, ...] = ("coach", "client")
TOLD = (
    "one-time password given",
    "password changed",
    "second factor set up",
    "second factor removed",
    "sign-in failed",
    "new browser",
)
"""What somebody is told that was done to the own account."""


def accounts_exist() -> bool:
    """Whether anybody can sign in; without accounts the page stays on this machine. Looking makes no store."""
    if not exists():
        return False
    with store().reading() as db:
        return table.count_accounts(db) > 0


def add_account(name: str, password: str, role: str = "coach", client: Asked | None = None, leads: bool = False) -> Account:
    """Make an account; a client's needs the client it shows (name or number). The first coach leads, another where it is said.

    Raises:
        InputError: name, password or role is not allowed, or the name is taken. UnknownNameError: no such client.
    """
    _check(name, role, client)
    _check_password(password, [name, str(client or "")])
    return _add(name, password, client, leads)


def add_with_one_time(name: str, client: Asked | None, leads: bool = False) -> tuple[Account, str]:
    """Make an account for somebody else, a coach's where no client is named; gives the one-time password to be handed over.

    Raises:
        InputError, UnknownNameError: as `add_account`.
    """
    _check(name, "coach" if client is None else "client", client)
    password = one_time_password()
    made = _add(name, password, client, leads)
    _give(made, made.password_hash)
    return made, password


def _add(name: str, password: str, client: Asked | None, leads: bool) -> Account:
    """Keep an account, a coach's where no client is named; its number, its client's and whether it leads are found here."""
    role: Role = "coach" if client is None else "client"
    hashed = passwords.hash_of(password)
    with store().writing() as db:
        shown = client_number(db, client) if client is not None else None
        leads = role == "coach" and (leads or not any(a.leads for a in table.list_accounts(db)))
        made = Account(number=0, name=name.strip(), role=role, client=shown, password_hash=hashed, made_at=table.now(), leads=leads)
        made = replace(made, number=table.add_account(db, made))
        table.write_done_to(db, "account added", made, f", {role}")
    return made


def give_one_time_password(account: Account) -> str:
    """Put a one-time password in place of an account's own, and give it to be handed over; sign-ins end at once.

    Raises:
        InputError: it was removed in the meantime.
    """
    password = one_time_password()
    _give(account, passwords.hash_of(password))
    return password


def _give(account: Account, password_hash: str) -> None:
    with store().writing() as db:
        if not table.set_one_time_hash(db, account.number, password_hash, table.now() + ONE_TIME_LASTS):
            raise InputError(f"account {account.name!r} was removed in the meantime", asked=account.name)
        table.write_done_to(db, "one-time password given", account)


def one_time_password() -> str:
    """Four groups of four characters, 79 bits."""
    return "-".join("".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(4))


@dataclass(frozen=True)
class Accounts:
    """Everybody who may sign in."""

    accounts: tuple[Account, ...]


def list_accounts() -> tuple[Account, ...]:
    """All accounts, by name; looking makes no store."""
    if not exists():
        return ()
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
    """Remove an account; its sign-ins end at once. The last coach who leads stays while others exist.

    Raises:
        UnknownNameError: no account is called so. InputError: the others would have nobody who leads.
    """
    found = find_account(name)
    with store().writing() as db:
        sign_in_tries.one_after_another(db)
        others = [a for a in table.list_accounts(db) if a.number != found.number]
        if others and not any(a.leads for a in others):
            raise InputError(f"{found.name} is the last lead coach; remove the other accounts first", asked=name)
        table.remove_account(db, found.number)
        table.write_done_to(db, "account removed", found)
    return found


def change_password(account: Account, password: str) -> None:
    """Give an account a password of its own; its sign-ins end at once.

    Raises:
        InputError: too short, too long, or soon guessed; changed by somebody else meanwhile.
    """
    _check_password(password, [account.name])
    new = passwords.hash_of(password)
    with store().writing() as db:
        _check_unchanged(db, account)
        table.set_password_hash(db, account.number, new)
        table.write_done_to(db, "password changed", account)


def remove_factor(account: Account) -> None:
    """Let an account sign in without a code, where its owner has lost what makes it; sign-ins stay."""
    with store().writing() as db:
        if second_factors.drop_factor(db, account.number):
            table.write_done_to(db, "second factor removed", account)


def strength_of(password: str, name: str) -> tuple[int, str]:
    """How soon a password is guessed, 0 (at once) to 4 (hardly ever), and why it would be refused; empty where it would not."""
    guesses, why = estimate(password, [name])
    short = f"at least {SHORTEST} characters" if len(password) < SHORTEST else ""
    return min(4, max(0, int(math.log10(guesses)) // 3)), short or why


def note(action: str, account: Account | None = None, client: int | None = None, detail: str = "") -> None:
    """Add a line to the audit; details name no client."""
    with store().writing() as db:
        table.write_audit(db, action, account.number if account else None, client, detail)


def note_refusal(account: Account, what: str) -> None:
    """Add to the audit that an account asked what it may not."""
    with store().writing() as db:
        table.write_audit(db, "asked", account.number, account.client, what[:120], "refused")


def done_to(account: Account) -> Sequence[AuditLine]:
    """What was last done to an account, newest first."""
    with store().reading() as db:
        return table.audit_of_account(db, account.number, TOLD, 20)


def read_audit(n: int = 100, client: int | None = None) -> Sequence[AuditLine]:
    """The last lines of the audit, newest first; about one client where given."""
    with store().reading() as db:
        return table.read_audit(db, n, client)


def _check_unchanged(db: Any, account: Account) -> None:
    """So that of two changes at once one holds, and nothing is done with a password that was replaced meanwhile.

    Raises:
        InputError: the account has another password than it was read with, or is there no longer.
    """
    if not table.still_has_hash(db, account):
        raise InputError("the password was changed in the meantime; nothing was changed; sign in again")


def _check(name: str, role: str, client: Asked | None) -> None:
    if not 1 <= len(name.strip()) <= 80:
        raise InputError(f"account name of {len(name.strip())} characters; allowed 1 to 80", asked=name)
    if role not in ROLES:
        raise InputError(f"role {role!r}; allowed coach, client", asked=role, allowed=ROLES)
    if (role == "client") != (client is not None):
        raise InputError("a client's account needs a client, a coach's has none; give --client NAME with --role client")


def _check_password(password: str, about: Sequence[str]) -> None:
    if not SHORTEST <= len(password) <= LONGEST:
        raise InputError(f"password of {len(password)} characters; allowed {SHORTEST} to {LONGEST}", allowed=[SHORTEST, LONGEST])
    why = weakness(password, about)
    if why:
        raise InputError(f"this password is easy to guess: {why}; choose one that no one else uses, such as four unrelated words")
