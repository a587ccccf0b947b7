"""Sums over many clients at once: one question whatever the number of clients."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, func, select

from lengthwise.storage.tables import sessions


@dataclass(frozen=True)
class Attendance:
    """Whether a client trains: sessions and minutes between two days, and the last day with a session."""

    client: int
    sessions: int
    minutes: float
    last_day: date | None


def attendance(db: Connection, clients: Sequence[int], first: date, last: date) -> tuple[Attendance, ...]:
    """Sessions, minutes and last day of each client who trained between two days."""
    s = sessions.c
    rows = (
        select(s.client_id, func.count(), func.coalesce(func.sum(s.minutes), 0.0), func.max(s.day))
        .where(s.client_id.in_(list(clients)), s.day >= first, s.day <= last)
        .group_by(s.client_id)
        .order_by(s.client_id)
    )
    return tuple(Attendance(*r) for r in db.execute(rows))
