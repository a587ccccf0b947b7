"""Planned weeks and answered proposals; every version is kept, so that what was planned can be held against what was done."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache, lru_cache
from typing import Any, Literal

from pydantic import TypeAdapter, ValidationError
from sqlalchemy import Connection, Row, Select, Text, bindparam, cast, func, insert, select

from lengthwise.body.anatomy import describe_faults
from lengthwise.days import monday_of
from lengthwise.errors import DataFileError
from lengthwise.planning.week import Week
from lengthwise.storage.tables import planned_weeks, proposals, sets

WEEK = TypeAdapter(Week)
LogState = tuple[int, int, int]
"""Newest plan kept, sets done and the sum of their entries' numbers: what was logged, kept or taken back since changes it."""


@dataclass(frozen=True, kw_only=True)
class PlannedWeek:
    """A week as it was planned: its Monday, why it was made or changed, and when."""

    number: int
    client: int
    monday: date
    week: Week
    reason: str
    made_at: datetime


@dataclass(frozen=True, kw_only=True)
class AnsweredProposal:
    """A proposal of a review that was accepted or refused.

    Attributes:
        key: by which a review knows the same proposal again. proposal: as the review gave it.
    """

    client: int
    key: str
    proposal: Mapping[str, Any]
    answer: Literal["accepted", "refused"]
    by: str = ""
    at: datetime | None = None
    number: int | None = None


def save_week(db: Connection, client: int, day: date, week: Week, reason: str = "") -> int:
    """Keep a week that begins on the Monday of `day`'s week and give its number; earlier versions stay."""
    plain = WEEK.dump_python(week, mode="json")
    row = {"client_id": client, "monday": monday_of(day), "week": plain, "reason": reason, "made_at": datetime.now(UTC)}
    return int(db.execute(insert(planned_weeks).values(row).returning(planned_weeks.c.id)).scalar_one())


def planned_week(db: Connection, client: int, day: date) -> PlannedWeek | None:
    """The newest version of the week that holds `day`; nothing where none was planned."""
    found = planned_weeks_between(db, client, day, day)
    return found[-1] if found else None


def planned_weeks_between(db: Connection, client: int, first: date, last: date) -> tuple[PlannedWeek, ...]:
    """The newest version of each week that touches the days from first to last, in order."""
    p = planned_weeks.c
    wanted = (p.client_id == client) & (p.monday >= monday_of(first)) & (p.monday <= last)
    newest = select(func.max(p.id)).where(wanted).group_by(p.monday)
    rows = _weeks().where(p.id.in_(newest)).order_by(p.monday)
    return tuple(_planned(r) for r in db.execute(rows))


def last_planned_week(db: Connection, client: int, first: date, last: date) -> PlannedWeek | None:
    """The newest version of the last week that touches the days from first to last; nothing where none was planned."""
    row = db.execute(_last_week(), {"client": client, "first": monday_of(first), "last": last}).one_or_none()
    return None if row is None else _planned(row)


@cache
def _last_week() -> Select[Any]:
    """Asked with every page of the log, so it is made once."""
    p = planned_weeks.c
    wanted = (p.client_id == bindparam("client"), p.monday >= bindparam("first"), p.monday <= bindparam("last"))
    return _weeks().where(*wanted).order_by(p.monday.desc(), p.id.desc()).limit(1)


def last_week_and_log(db: Connection, client: int, first: date, last: date, until: date) -> tuple[PlannedWeek, LogState] | None:
    """`last_planned_week` with the state of the log from `first` until a day, in the same question."""
    asked = {"client": client, "first": monday_of(first), "last": last, "logged_from": first, "logged_until": until}
    row = db.execute(_last_week_and_log(), asked).one_or_none()
    return None if row is None else (_planned(row), (row.kept, row.done, row.entered))


@cache
def _last_week_and_log() -> Select[Any]:
    """Asked with every page of the log, so it is made once."""
    s, p = sets.c, planned_weeks.c
    between = (s.client_id == bindparam("client"), s.day >= bindparam("logged_from"), s.day <= bindparam("logged_until"))
    kept = select(func.max(p.id)).where(p.client_id == bindparam("client"))
    entered = select(func.coalesce(func.sum(s.entry_id), 0)).where(*between)
    state = {"kept": kept, "done": select(func.count(s.id)).where(*between), "entered": entered}
    return _last_week().add_columns(*(one.scalar_subquery().label(name) for name, one in state.items()))


def save_answer(db: Connection, answered: AnsweredProposal) -> int:
    """Keep the answer to a proposal and give its number."""
    row = {
        "client_id": answered.client,
        "key": answered.key,
        "proposal": dict(answered.proposal),
        "answer": answered.answer,
        "by": answered.by,
        "at": answered.at or datetime.now(UTC),
    }
    return int(db.execute(insert(proposals).values(row).returning(proposals.c.id)).scalar_one())


def last_answer(db: Connection, client: int) -> int:
    """The number of the last proposal of a client that was answered; 0 where none was."""
    return int(db.execute(select(func.coalesce(func.max(proposals.c.id), 0)).where(proposals.c.client_id == client)).scalar_one())


def answers_since(db: Connection, client: int, since: date | None = None) -> tuple[AnsweredProposal, ...]:
    """A client's answered proposals, oldest first."""
    rows = select(proposals).where(proposals.c.client_id == client).order_by(proposals.c.id)
    if since is not None:
        rows = rows.where(proposals.c.at >= datetime(since.year, since.month, since.day, tzinfo=UTC))
    return tuple(
        AnsweredProposal(client=r.client_id, key=r.key, proposal=r.proposal, answer=r.answer, by=r.by, at=r.at, number=r.id)
        for r in db.execute(rows)
    )


def _weeks() -> Select[Any]:
    p = planned_weeks.c
    return select(p.id, p.client_id, p.monday, cast(p.week, Text).label("week"), p.reason, p.made_at)


def _planned(row: Row[Any]) -> PlannedWeek:
    try:
        week = _week_of_text(row.week)
    except ValidationError as error:
        raise DataFileError(describe_faults(f"week of {row.monday}", error), asked=row.id) from error
    return PlannedWeek(number=row.id, client=row.client_id, monday=row.monday, week=week, reason=row.reason, made_at=row.made_at)


@lru_cache(maxsize=256)
def _week_of_text(week: str) -> Week:
    """A week as it is kept; read once, since nothing changes a week in place."""
    return WEEK.validate_json(week)
