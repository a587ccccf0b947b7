"""Sums over many clients at once: one question whatever the number of clients."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import ColumnElement, Connection, Integer, and_, case, func, or_, select, type_coerce

from lengthwise.storage.tables import sessions, sets
from lengthwise.training.log import WeekOfLift

MOST_RESERVE = 4
"""Repetitions in reserve up to which a set counts as hard; common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class SetColumns:
    """Sets of many clients as read-only columns (n_set,), by client, lift and day; warm-ups left out.

    Attributes:
        client: number. day: ordinal (date.fromordinal). lift: index into `lifts`. load_kg [kg]. repetitions. reserve: NaN where not judged.
        full_range: whether the whole range was done.
    """

    lifts: tuple[str, ...]
    client: NDArray[np.int64]
    day: NDArray[np.int64]
    lift: NDArray[np.int64]
    load_kg: NDArray[np.float64]
    repetitions: NDArray[np.int64]
    reserve: NDArray[np.float64]
    full_range: NDArray[np.bool_]


@dataclass(frozen=True)
class Attendance:
    """Whether a client trains: sessions and minutes between two days, and the last day with a session."""

    client: int
    sessions: int
    minutes: float
    last_day: date | None


def weeks_of_lifts(db: Connection, clients: Sequence[int], first: date, last: date) -> tuple[WeekOfLift, ...]:
    """What each client did of each lift and range in each week between two days (weeks begin on Monday)."""
    s = sets.c
    week = (type_coerce(s.day, Integer) - 1) // 7
    hard = func.sum(case((or_(s.reserve.is_(None), s.reserve <= MOST_RESERVE), 1), else_=0))
    totals = (func.count(), hard, func.count(s.day.distinct()), func.sum(s.repetitions), func.sum(s.load_kg * s.repetitions))
    key = (s.client_id, week.label("week"), s.lift, s.range)
    rows = select(*key, *totals, func.max(s.load_kg)).where(_working(clients, first, last))
    ordered = rows.group_by(s.client_id, week, s.lift, s.range).order_by(s.client_id, week, s.lift, s.range)
    return tuple(WeekOfLift(r[0], date.fromordinal(7 * r[1] + 1), *r[2:]) for r in db.execute(ordered))


def set_columns(db: Connection, clients: Sequence[int], first: date, last: date) -> SetColumns:
    """The working sets of some clients between two days, as columns: for trends of many lifts at once."""
    s = sets.c
    day = type_coerce(s.day, Integer)
    wanted = select(s.client_id, s.lift, day, s.load_kg, s.repetitions, s.reserve, s.range).where(_working(clients, first, last))
    rows = db.execute(wanted.order_by(s.client_id, s.lift, s.day, s.id)).all()
    client, lift, days, load, repetitions, reserve, part = zip(*rows, strict=True) if rows else ((),) * 7
    lifts, index = np.unique(np.array(lift, dtype=str), return_inverse=True)
    return SetColumns(
        lifts=tuple(lifts.tolist()),
        client=_column(client, np.int64),
        day=_column(days, np.int64),
        lift=_column(index, np.int64),
        load_kg=_column(load, np.float64),
        repetitions=_column(repetitions, np.int64),
        reserve=_column([np.nan if r is None else r for r in reserve], np.float64),
        full_range=_column([p == "full" for p in part], np.bool_),
    )


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


def _working(clients: Sequence[int], first: date, last: date) -> ColumnElement[bool]:
    s = sets.c
    return and_(s.client_id.in_(list(clients)), s.day >= first, s.day <= last, s.warm_up.is_(False))


def _column(values: Any, kind: type[np.generic]) -> NDArray[Any]:
    column = np.asarray(values, dtype=kind)
    column.setflags(write=False)
    return column
