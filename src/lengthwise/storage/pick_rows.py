"""Whom a browser computes for: the browser holds a token that says nothing, the store whom it stands for."""

from datetime import datetime, timedelta

from sqlalchemy import Connection, bindparam, delete, insert, select

from lengthwise.storage.tables import picks

KEPT_FOR = timedelta(days=365)
PICKED = select(picks.c.client_id).where(picks.c.token_digest == bindparam("digest"))
"""Asked with nearly every page, so it is made once."""


def keep_pick(db: Connection, token_digest: str, client: int, at: datetime) -> None:
    """Keep a pick; old ones are dropped."""
    db.execute(delete(picks).where(picks.c.at < at - KEPT_FOR))
    db.execute(insert(picks).values(token_digest=token_digest, client_id=client, at=at))


def picked(db: Connection, token_digest: str) -> int | None:
    """The number of the client that a token stands for, where there is one."""
    found: int | None = db.execute(PICKED, {"digest": token_digest}).scalar()
    return found
