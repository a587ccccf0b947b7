"""Which client is whose coach's; one that is nobody's is seen by every coach."""

from sqlalchemy import Connection, delete, insert, select

from lengthwise.storage.tables import coaching as table


def give(db: Connection, client: int, coach: int | None) -> None:
    """Let a client be a coach's (an account's number), or nobody's."""
    db.execute(delete(table).where(table.c.client_id == client))
    if coach is not None:
        db.execute(insert(table).values(client_id=client, account_id=coach))


def coach_of(db: Connection, client: int) -> int | None:
    """The account whose client it is."""
    found: int | None = db.execute(select(table.c.account_id).where(table.c.client_id == client)).scalar()
    return found


def coaches(db: Connection) -> dict[int, int]:
    """The account of each client that is somebody's."""
    return {r.client_id: r.account_id for r in db.execute(select(table))}
