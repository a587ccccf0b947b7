"""Who sees whom: a client itself, a coach its own clients and those that are nobody's, a coach who leads everybody."""

from lengthwise.errors import InputError
from lengthwise.records.store import Asked, client_number, store
from lengthwise.storage import account_rows as accounts_table
from lengthwise.storage import coach_rows
from lengthwise.storage.account_rows import Account, target
from lengthwise.storage.client_rows import client_exists


def may_see(account: Account, client: int) -> bool:
    """Whether an account may see and change a client's data."""
    if account.role == "client" or account.leads:
        return account.leads or account.client == client
    with store().reading() as db:
        return client_exists(db, client) and coach_rows.coach_of(db, client) in (None, account.number)


def seen_by(account: Account, numbers: tuple[int, ...]) -> frozenset[int]:
    """Those of some clients that an account may see."""
    if account.role == "client" or account.leads:
        return frozenset(n for n in numbers if account.leads or account.client == n)
    with store().reading() as db:
        whose = coach_rows.coaches(db)
    return frozenset(n for n in numbers if whose.get(n, account.number) == account.number)


def may_manage(account: Account, other: Account) -> bool:
    """Whether an account may give another a new password or remove it: one who leads anybody's, a coach those of its clients."""
    if account.leads or account.role == "client":
        return account.leads
    return other.role == "client" and other.client is not None and may_see(account, other.client)


def coach_of(client: int) -> int | None:
    """The account whose client it is; none where it is every coach's."""
    with store().reading() as db:
        return coach_rows.coach_of(db, client)


def give_client(client: Asked, coach: str) -> None:
    """Let a client be a coach's, found by the account's name; every coach's where that is empty.

    Raises:
        InputError: the account is no coach's. UnknownNameError: no such client or account.
    """
    with store().writing() as db:
        number = client_number(db, client)
        to = accounts_table.account_named(db, coach) if coach else None
        if coach and (to is None or to.role != "coach"):
            allowed = [a.name for a in accounts_table.list_accounts(db) if a.role == "coach"]
            raise InputError(f"coach {coach!r}; allowed {', '.join(allowed) or 'none yet'}", asked=coach, allowed=allowed)
        coach_rows.give(db, number, to.number if to else None)
        detail = target(to.number) if to else "every coach's"
        accounts_table.write_done(db, "client given", number, detail)
