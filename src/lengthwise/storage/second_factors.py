"""Secrets of second factors; with each, the last step of time whose code was taken, so that a code counts once."""

from datetime import datetime

from sqlalchemy import Connection, delete, insert, select, update

from lengthwise.storage.tables import second_factors as table


def keep_factor(db: Connection, account: int, secret: str, step: int, at: datetime) -> None:
    """Keep an account's secret in place of another; `step` is the one whose code showed that it works."""
    drop_factor(db, account)
    db.execute(insert(table).values(account_id=account, secret=secret, last_step=step, made_at=at))


def drop_factor(db: Connection, account: int) -> bool:
    """Forget an account's secret; gives whether there was one."""
    return db.execute(delete(table).where(table.c.account_id == account)).rowcount > 0


def secret_of(db: Connection, account: int) -> str | None:
    """An account's secret, where it has one."""
    found: str | None = db.execute(select(table.c.secret).where(table.c.account_id == account)).scalar()
    return found


def spend_step(db: Connection, account: int, step: int) -> bool:
    """Let codes up to a step be of no further use; gives whether that step's still was of any."""
    fresh = (table.c.account_id == account, table.c.last_step < step)
    return db.execute(update(table).where(*fresh).values(last_step=step)).rowcount == 1
