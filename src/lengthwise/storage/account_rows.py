"""Accounts, sign-ins, and the audit of who did what; words in, numbers out, no password is ever kept."""

from collections.abc import Sequence
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from typing import Any, ClassVar, Literal

from sqlalchemy import Connection, Row, Select, Text, bindparam, cast, delete, func, insert, select, update

from lengthwise.errors import InputError
from lengthwise.storage.client_rows import KeptRecord, key_of
from lengthwise.storage.tables import Moment, accounts, audit, clients, one_time_passwords, second_factors, sign_ins

Role = Literal["coach", "client"]
Result = Literal["done", "refused"]


@dataclass(frozen=True, kw_only=True)
class Account:
    """Someone who may sign in.

    Attributes:
        client: the number of the one that a client's account shows. leads: whether a coach sees everybody and keeps the store and the
        accounts; another sees its own clients and those that are nobody's. one_time_until: until when a one-time password can be used,
        where the account has no password of its own yet. has_factor: whether signing in asks for a code too.
    """

    PUBLIC: ClassVar = "name role leads client made_at"

    number: int
    name: str
    role: Role
    client: int | None
    password_hash: str
    made_at: datetime
    leads: bool = False
    one_time_until: datetime | None = None
    has_factor: bool = False


@dataclass(frozen=True)
class Signed:
    """Who is signed in: when the sign-in was last used, when its password was last given, and the record that a client's account shows."""

    account: Account
    seen_at: datetime
    confirmed_at: datetime
    own: KeptRecord | None


NEW_LINE = insert(audit)
asked_from: ContextVar[str] = ContextVar("asked_from", default="")
"""The address that is being answered; empty at the command line."""
asked_by: ContextVar[int | None] = ContextVar("asked_by", default=None)
"""The number of the account that is being answered; none at the command line."""


@dataclass(frozen=True, kw_only=True)
class AuditLine:
    """Something done: when, by which account (none: the command line), what, about which client, from which address, what came of it."""

    at: datetime
    account: int | None
    action: str
    client: int | None
    detail: str
    address: str
    result: Result


@dataclass(frozen=True)
class OpenSignIn:
    """A sign-in that has not ended: the digest of its token, since when, when last used, from where, and with which browser."""

    token_digest: str
    made_at: datetime
    seen_at: datetime | None
    address: str
    browser: str


def add_account(db: Connection, account: Account) -> int:
    """Keep an account (its number is given by the store).

    Raises:
        InputError: the name is taken.
    """
    if account_named(db, account.name) is not None:
        raise InputError(f"account {account.name!r} already exists; choose another name", asked=account.name)
    row = {
        "name": account.name,
        "key": key_of(account.name),
        "role": account.role,
        "client_id": account.client,
        "password_hash": account.password_hash,
        "made_at": account.made_at,
        "leads": account.leads,
    }
    return int(db.execute(insert(accounts).values(row).returning(accounts.c.id)).scalar_one())


def account_named(db: Connection, name: str) -> Account | None:
    """The account of that name, where there is one."""
    row = db.execute(_accounts().where(accounts.c.key == key_of(name))).one_or_none()
    return None if row is None else _account(row)


def list_accounts(db: Connection) -> tuple[Account, ...]:
    """All accounts, by name."""
    return tuple(_account(r) for r in db.execute(_accounts().order_by(accounts.c.key)))


def _accounts() -> Select[Any]:
    """Every account with what hangs on it."""
    hanging = accounts.outerjoin(one_time_passwords).outerjoin(second_factors)
    more = (one_time_passwords.c.ends_at, second_factors.c.account_id.is_not(None).label("has_factor"))
    return select(accounts, *more).select_from(hanging)


def count_accounts(db: Connection) -> int:
    """How many there are."""
    return int(db.execute(select(func.count()).select_from(accounts)).scalar_one())


def remove_account(db: Connection, number: int) -> None:
    """Remove an account and end its sign-ins."""
    db.execute(delete(accounts).where(accounts.c.id == number))


def still_has_hash(db: Connection, account: Account) -> bool:
    """Whether an account is there and its password is the one it was read with; until the transaction ends nobody changes that."""
    same = (accounts.c.id == account.number, accounts.c.password_hash == account.password_hash)
    return db.execute(select(accounts.c.id).where(*same).with_for_update()).first() is not None


def set_password_hash(db: Connection, number: int, password_hash: str) -> bool:
    """Replace an account's password hash by that of its own password and end its sign-ins; gives whether it is there."""
    found = db.execute(update(accounts).where(accounts.c.id == number).values(password_hash=password_hash)).rowcount == 1
    db.execute(delete(one_time_passwords).where(one_time_passwords.c.account_id == number))
    db.execute(delete(sign_ins).where(sign_ins.c.account_id == number))
    return found


def set_one_time_hash(db: Connection, number: int, password_hash: str, ends_at: datetime) -> bool:
    """Replace an account's password hash by that of a one-time password and end its sign-ins; gives whether it is there."""
    found = set_password_hash(db, number, password_hash)
    if found:
        db.execute(insert(one_time_passwords).values(account_id=number, ends_at=ends_at))
    return found


def spend_one_time_hash(db: Connection, number: int) -> None:
    """Let a one-time password be of no further use."""
    db.execute(update(accounts).where(accounts.c.id == number).values(password_hash=""))


def begin_sign_in(db: Connection, account: int, sign_in: OpenSignIn, ends_at: datetime) -> None:
    """Keep a sign-in by the digest of its token; those that have ended are dropped."""
    db.execute(delete(sign_ins).where(sign_ins.c.ends_at <= sign_in.made_at))
    more = {"account_id": account, "ends_at": ends_at, "confirmed_at": sign_in.made_at}
    db.execute(insert(sign_ins).values({**vars(sign_in), **more}))


def signed_in(db: Connection, token_digest: str, now: datetime) -> Signed | None:
    """Who has the sign-in of this digest, where it has not ended."""
    row = db.execute(_signed_in(), {"digest": token_digest, "now": now}).one_or_none()
    if row is None:
        return None
    own = None if row.record is None else KeptRecord(row.client_id, row.called, row.record)
    return Signed(_account(row), row.seen, row.confirmed, own)


@cache
def _signed_in() -> Select[Any]:
    """Asked with every request, so it is made once."""
    seen, confirmed = (
        func.coalesce(column, sign_ins.c.made_at, type_=Moment()).label(name)
        for column, name in ((sign_ins.c.seen_at, "seen"), (sign_ins.c.confirmed_at, "confirmed"))
    )
    own = (clients.c.name.label("called"), cast(clients.c.record, Text).label("record"))
    joined = (
        _accounts().join(sign_ins, sign_ins.c.account_id == accounts.c.id).outerjoin(clients, clients.c.id == accounts.c.client_id)
    )
    return joined.add_columns(seen, confirmed, *own).where(
        sign_ins.c.token_digest == bindparam("digest"), sign_ins.c.ends_at > bindparam("now")
    )


def see_sign_in(db: Connection, token_digest: str, now: datetime) -> None:
    """Keep that a sign-in was used."""
    db.execute(update(sign_ins).where(sign_ins.c.token_digest == token_digest).values(seen_at=now))


def confirm_sign_in(db: Connection, token_digest: str, now: datetime) -> None:
    """Keep that the password was given again."""
    db.execute(update(sign_ins).where(sign_ins.c.token_digest == token_digest).values(confirmed_at=now))


def open_sign_ins(db: Connection, account: int, now: datetime) -> tuple[OpenSignIn, ...]:
    """An account's sign-ins that have not ended, newest first."""
    s = sign_ins.c
    rows = select(s.token_digest, s.made_at, s.seen_at, s.address, s.browser).where(s.account_id == account, s.ends_at > now)
    return tuple(OpenSignIn(*r) for r in db.execute(rows.order_by(s.made_at.desc())))


def end_other_sign_ins(db: Connection, account: int, token_digest: str) -> int:
    """Forget an account's sign-ins but one; gives how many."""
    return db.execute(delete(sign_ins).where(sign_ins.c.account_id == account, sign_ins.c.token_digest != token_digest)).rowcount


def end_sign_in(db: Connection, token_digest: str) -> None:
    """Forget a sign-in."""
    db.execute(delete(sign_ins).where(sign_ins.c.token_digest == token_digest))


def write_audit(
    db: Connection, action: str, by: int | None, client: int | None = None, detail: str = "", result: Result = "done"
) -> None:
    """Add to the audit what an account did (none: the command line); details name no client, so that erasing one leaves nothing."""
    row = {"at": now(), "account_id": by, "action": action, "client_id": client, "detail": detail}
    db.execute(NEW_LINE, {**row, "address": asked_from.get()[:64], "result": result})


def write_done(db: Connection, action: str, client: int | None = None, detail: str = "") -> None:
    """Add to the audit that whoever is being answered did something."""
    write_audit(db, action, asked_by.get(), client, detail)


def write_done_to(db: Connection, action: str, account: Account, more: str = "") -> None:
    """Add to the audit that whoever is being answered did something to an account."""
    write_done(db, action, account.client, target(account.number) + more)


def read_audit(db: Connection, n: int = 100, client: int | None = None) -> Sequence[AuditLine]:
    """The last lines, newest first; about one client where given."""
    rows = select(audit).order_by(audit.c.id.desc()).limit(n)
    if client is not None:
        rows = rows.where(audit.c.client_id == client)
    return _lines(db, rows)


def audit_of_account(db: Connection, number: int, words: Sequence[str], n: int) -> Sequence[AuditLine]:
    """The last lines of some actions that were done to an account, newest first."""
    rows = select(audit).where(audit.c.action.in_(words), audit.c.detail == target(number))
    return _lines(db, rows.order_by(audit.c.id.desc()).limit(n))


def anything_done_since_last(db: Connection, number: int, words: Sequence[str]) -> bool:
    """Whether some actions were done to an account since it signed in last."""
    last = select(func.max(audit.c.id)).where(audit.c.account_id == number, audit.c.action == "signed in").scalar_subquery()
    rows = select(audit.c.id).where(audit.c.action.in_(words), audit.c.detail == target(number), audit.c.id > last)
    return db.execute(rows.limit(1)).first() is not None


def target(number: int) -> str:
    """How the audit names the account that something was done to."""
    return f"account {number}"


def now() -> datetime:
    """This moment."""
    return datetime.now(UTC)


def _lines(db: Connection, rows: Select[Any]) -> Sequence[AuditLine]:
    return tuple(
        AuditLine(
            at=r.at, account=r.account_id, action=r.action, client=r.client_id, detail=r.detail, address=r.address, result=r.result
        )
        for r in db.execute(rows)
    )


def _account(row: Row[Any]) -> Account:
    leads = row.role == "coach" and row.leads
    return Account(
        number=row.id,
        name=row.name,
        role=row.role,
        client=row.client_id,
        password_hash=row.password_hash,
        made_at=row.made_at,
        leads=leads,
        one_time_until=row.ends_at,
        has_factor=bool(row.has_factor),
    )
