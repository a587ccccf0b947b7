"""Accounts, sign-ins and their failures, and the audit of who did what; words in, numbers out, no password is ever kept."""

from collections.abc import Sequence
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal

from sqlalchemy import Connection, Row, delete, func, insert, or_, select, update

from lengthwise.errors import InputError
from lengthwise.storage.clients import key_of
from lengthwise.storage.tables import Moment, accounts, audit, sign_in_failures, sign_ins

Role = Literal["coach", "client"]


@dataclass(frozen=True)
class Account:
    """Someone who may sign in: a coach sees all clients, a client only itself (`client` is its number)."""

    number: int
    name: str
    role: Role
    client: int | None
    password_hash: str
    made_at: datetime


asked_from: ContextVar[str] = ContextVar("asked_from", default="")
"""The address that is being answered; empty at the command line."""


@dataclass(frozen=True)
class AuditLine:
    """Something done: when, by which account (none: the command line), what, about which client, from which address, what came of it."""

    at: datetime
    account: int | None
    action: str
    client: int | None = None
    detail: str = ""
    address: str = field(default_factory=asked_from.get)
    result: Literal["done", "refused"] = "done"


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
        raise InputError(f"account {account.name!r} exists already; allowed another name", asked=account.name)
    row = {
        "name": account.name,
        "key": key_of(account.name),
        "role": account.role,
        "client_id": account.client,
        "password_hash": account.password_hash,
        "made_at": account.made_at,
    }
    return int(db.execute(insert(accounts).values(row).returning(accounts.c.id)).scalar_one())


def account_named(db: Connection, name: str) -> Account | None:
    """The account of that name, where there is one."""
    row = db.execute(select(accounts).where(accounts.c.key == key_of(name))).one_or_none()
    return None if row is None else _account(row)


def list_accounts(db: Connection) -> tuple[Account, ...]:
    """All accounts, by name."""
    return tuple(_account(r) for r in db.execute(select(accounts).order_by(accounts.c.key)))


def count_accounts(db: Connection) -> int:
    """How many there are."""
    return int(db.execute(select(func.count()).select_from(accounts)).scalar_one())


def remove_account(db: Connection, number: int) -> None:
    """Remove an account and end its sign-ins."""
    db.execute(delete(accounts).where(accounts.c.id == number))


def set_password_hash(db: Connection, number: int, password_hash: str) -> None:
    """Replace an account's password hash and end its sign-ins."""
    db.execute(update(accounts).where(accounts.c.id == number).values(password_hash=password_hash))
    db.execute(delete(sign_ins).where(sign_ins.c.account_id == number))


def begin_sign_in(db: Connection, account: int, sign_in: OpenSignIn, ends_at: datetime) -> None:
    """Keep a sign-in by the digest of its token; those that have ended are dropped."""
    db.execute(delete(sign_ins).where(sign_ins.c.ends_at <= sign_in.made_at))
    db.execute(insert(sign_ins).values({**vars(sign_in), "account_id": account, "ends_at": ends_at}))


def signed_in(db: Connection, token_digest: str, now: datetime) -> tuple[Account, datetime] | None:
    """The account whose sign-in has this digest and has not ended, and when it was last seen."""
    last = func.coalesce(sign_ins.c.seen_at, sign_ins.c.made_at, type_=Moment()).label("last_seen")
    joined = select(accounts, last).join(sign_ins, sign_ins.c.account_id == accounts.c.id)
    row = db.execute(joined.where(sign_ins.c.token_digest == token_digest, sign_ins.c.ends_at > now)).one_or_none()
    return None if row is None else (_account(row), row.last_seen)


def see_sign_in(db: Connection, token_digest: str, now: datetime) -> None:
    """Keep that a sign-in was used."""
    db.execute(update(sign_ins).where(sign_ins.c.token_digest == token_digest).values(seen_at=now))


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


def note_failure(db: Connection, name: str, address: str, at: datetime) -> None:
    """Keep a failed sign-in."""
    db.execute(insert(sign_in_failures).values(key=key_of(name)[:120], address=address[:64], at=at))


def failures_since(db: Connection, name: str, address: str, since: datetime) -> tuple[int, int]:
    """Failed sign-ins since a moment: of that name from that address, and from that address; older ones are of no use to anybody."""
    f = sign_in_failures.c
    rows = select(func.count().filter(f.key == key_of(name)[:120]), func.count())
    row = db.execute(rows.where(f.at > since, f.address == address[:64])).one()
    return int(row[0]), int(row[1])


def forget_failures(db: Connection, name: str | None, before: datetime) -> None:
    """Drop failures before a moment, and those of a name that has now signed in."""
    f = sign_in_failures.c
    old = f.at <= before
    db.execute(delete(sign_in_failures).where(old if name is None else or_(old, f.key == key_of(name)[:120])))


def write_audit(db: Connection, line: AuditLine) -> None:
    """Add a line to the audit; details name no client, so that erasing one leaves nothing."""
    row = {"at": line.at, "account_id": line.account, "action": line.action, "client_id": line.client, "detail": line.detail}
    row |= {"address": line.address[:64], "result": line.result}
    db.execute(insert(audit).values(row))


def read_audit(db: Connection, n: int = 100, client: int | None = None) -> Sequence[AuditLine]:
    """The last lines, newest first; about one client where given."""
    rows = select(audit).order_by(audit.c.id.desc()).limit(n)
    if client is not None:
        rows = rows.where(audit.c.client_id == client)
    return tuple(AuditLine(r.at, r.account_id, r.action, r.client_id, r.detail, r.address, r.result) for r in db.execute(rows))


def _account(row: Row[Any]) -> Account:
    return Account(row.id, row.name, row.role, row.client_id, row.password_hash, row.made_at)
