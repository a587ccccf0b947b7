"""Failed sign-ins, counted by name and by the place they come from; and browsers that have signed in before, which are a place of their own."""

from datetime import datetime, timedelta

from sqlalchemy import Connection, delete, func, insert, or_, select

from lengthwise.storage.client_rows import key_of
from lengthwise.storage.tables import accounts, known_browsers, sign_in_failures

KNOWN_FOR = timedelta(days=365)
OF_USE = timedelta(minutes=65)
"""Longer after the moment before which failures are dropped none can be, unless the clock was set back since."""

ONE_LOCK = 72_0117
"""Of PostgreSQL's locks by number, the one for this; SQLite has one writer anyway."""


def one_after_another(db: Connection) -> None:
    """Let tries be counted, and accounts removed, one after another until the transaction ends."""
    if db.dialect.name == "postgresql":
        db.execute(select(func.pg_advisory_xact_lock(ONE_LOCK)))


def begin_try(db: Connection, name: str, place: str, at: datetime) -> int:
    """Keep a try as a failure until it has proved none, so that tries at once are counted too; gives its number."""
    row = insert(sign_in_failures).values(key=key_of(name)[:120], address=place[:64], at=at)
    return int(db.execute(row.returning(sign_in_failures.c.id)).scalar_one())


def forget_try(db: Connection, number: int) -> None:
    """Drop a try that was no failure."""
    db.execute(delete(sign_in_failures).where(sign_in_failures.c.id == number))


def failures_since(db: Connection, name: str, place: str, since: datetime) -> int:
    """Failed sign-ins of a name from a place since a moment."""
    f = sign_in_failures.c
    asked = select(func.count()).where(f.key == key_of(name)[:120], f.at > since, f.address == place[:64])
    return int(db.execute(asked).scalar_one())


def failures_of_name(db: Connection, name: str, since: datetime) -> int:
    """Failed sign-ins of a name since a moment, from wherever; those of browsers that are known to it do not count."""
    f = sign_in_failures.c
    asked = select(func.count()).where(f.key == key_of(name)[:120], f.at > since, f.address.not_like("browser %"))
    return int(db.execute(asked).scalar_one())


def forget_failures(db: Connection, name: str | None, before: datetime) -> None:
    """Drop failures before a moment or of a time to come, and those of a name that has now signed in."""
    f = sign_in_failures.c
    old = or_(f.at <= before, f.at > before + OF_USE)
    db.execute(delete(sign_in_failures).where(old if name is None else or_(old, f.key == key_of(name)[:120])))


def keep_browser(db: Connection, token_digest: str, account: int, at: datetime) -> None:
    """Keep that a browser has signed in to an account; old ones are dropped."""
    db.execute(delete(known_browsers).where(known_browsers.c.at < at - KNOWN_FOR))
    db.execute(insert(known_browsers).values(token_digest=token_digest, account_id=account, at=at))


def knows_browser(db: Connection, token_digest: str, name: str) -> bool:
    """Whether a browser has signed in to the account of a name."""
    k = known_browsers.c
    joined = select(k.at).join(accounts, accounts.c.id == k.account_id)
    return db.execute(joined.where(k.token_digest == token_digest, accounts.c.key == key_of(name))).first() is not None
