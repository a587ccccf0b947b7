"""The tables: one list for SQLite and PostgreSQL.

Days are whole numbers (day 1 is Monday, 1 January of year 1), so that a week is a division on every server. Rows that a
person's data consist of hang on `clients` and go with it.
"""

from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import JSON, Boolean, Column, DateTime, Float, ForeignKey, Index, Integer, MetaData, String, Table, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(column_0_N_label)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class Day(TypeDecorator[date]):
    """A calendar day as its number in the proleptic Gregorian calendar (date.toordinal)."""

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: date | int | None, dialect: Dialect) -> int | None:
        """The number of a day."""
        return value.toordinal() if isinstance(value, date) else value

    def process_result_value(self, value: int | None, dialect: Dialect) -> date | None:
        """The day of a number."""
        return None if value is None else date.fromordinal(value)


class Moment(TypeDecorator[datetime]):
    """An instant in UTC, aware on both servers."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """SQLite forgets the zone; it was UTC."""
        return value.replace(tzinfo=UTC) if value is not None and value.tzinfo is None else value


def _of_client() -> Column[Any]:
    return Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), nullable=False)


def _of_entry() -> Column[Any]:
    """What it was entered with; no foreign key, since erasing a client would then search millions of sets."""
    return Column("entry_id", Integer)


def _number() -> Column[Any]:
    return Column("id", Integer, primary_key=True)


clients = Table(
    "clients",
    metadata,
    _number(),
    Column("key", String(120), nullable=False, unique=True),
    Column("name", String(80), nullable=False),
    Column("record", JSON, nullable=False),
    Column("saved_at", Moment, nullable=False),
    sqlite_autoincrement=True,
)

entries = Table(
    "entries",
    metadata,
    _number(),
    Column("kind", String(20), nullable=False),
    Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), index=True),
    Column("what", Text, nullable=False),
    Column("digest", String(64), nullable=False, default=""),
    Column("by", String(80), nullable=False, default=""),
    Column("at", Moment, nullable=False),
    Column("undone_at", Moment),
    sqlite_autoincrement=True,
)

sessions = Table(
    "sessions",
    metadata,
    _number(),
    _of_client(),
    Column("day", Day, nullable=False),
    Column("minutes", Float),
    Column("note", Text, nullable=False, default=""),
    _of_entry(),
    Index("ix_sessions_client_day", "client_id", "day"),
    Index("ix_sessions_entry", "entry_id"),
)

sets = Table(
    "sets",
    metadata,
    _number(),
    Column("session_id", Integer, ForeignKey("sessions.id", ondelete="CASCADE"), nullable=False),
    Column("client_id", Integer, nullable=False),
    Column("day", Day, nullable=False),
    Column("place", Integer, nullable=False),
    Column("lift", String(80), nullable=False),
    Column("load_kg", Float, nullable=False),
    Column("repetitions", Integer, nullable=False),
    Column("reserve", Float),
    Column("range", String(5), nullable=False),
    Column("warm_up", Boolean, nullable=False),
    Column("note", Text, nullable=False, default=""),
    _of_entry(),
    Index("ix_sets_session_place", "session_id", "place", unique=True),
    Index("ix_sets_client_day_lift", "client_id", "day", "lift"),
)

pain_flags = Table(
    "pain_flags",
    metadata,
    Column("set_id", Integer, ForeignKey("sets.id", ondelete="CASCADE"), primary_key=True),
    Column("joint", String(20), primary_key=True),
    Column("client_id", Integer, nullable=False),
    Column("day", Day, nullable=False),
    Index("ix_pain_flags_client_day", "client_id", "day"),
)

readiness = Table(
    "readiness",
    metadata,
    _number(),
    _of_client(),
    Column("session_id", Integer, ForeignKey("sessions.id", ondelete="CASCADE"), index=True),
    Column("day", Day, nullable=False),
    Column("score", Integer, nullable=False),
    Column("note", Text, nullable=False, default=""),
    _of_entry(),
    Index("ix_readiness_client_day", "client_id", "day"),
)

measurements = Table(
    "measurements",
    metadata,
    _number(),
    _of_client(),
    Column("day", Day, nullable=False),
    Column("kind", String(30), nullable=False),
    Column("site", String(40), nullable=False, default=""),
    Column("side", String(5), nullable=False, default=""),
    Column("readings", JSON, nullable=False),
    Column("reference", Text, nullable=False, default=""),
    Column("note", Text, nullable=False, default=""),
    _of_entry(),
    Index("ix_measurements_client_kind_day", "client_id", "kind", "day"),
)

column_mappings = Table(
    "column_mappings",
    metadata,
    Column("header", String(64), primary_key=True),
    Column("mapping", JSON, nullable=False),
    Column("saved_at", Moment, nullable=False),
)

lift_spellings = Table(
    "lift_spellings",
    metadata,
    Column("spelling", String(200), primary_key=True),
    Column("lift", String(80), nullable=False),
)

planned_weeks = Table(
    "planned_weeks",
    metadata,
    _number(),
    _of_client(),
    Column("monday", Day, nullable=False),
    Column("week", JSON, nullable=False),
    Column("reason", Text, nullable=False, default=""),
    Column("made_at", Moment, nullable=False),
    Index("ix_planned_weeks_client_monday", "client_id", "monday"),
)

proposals = Table(
    "proposals",
    metadata,
    _number(),
    _of_client(),
    Column("key", String(120), nullable=False),
    Column("proposal", JSON, nullable=False),
    Column("answer", String(10), nullable=False),
    Column("by", String(80), nullable=False, default=""),
    Column("at", Moment, nullable=False),
    Index("ix_proposals_client_at", "client_id", "at"),
)

accounts = Table(
    "accounts",
    metadata,
    _number(),
    Column("name", String(80), nullable=False),
    Column("key", String(120), nullable=False, unique=True),
    Column("role", String(10), nullable=False),
    Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), index=True),
    Column("password_hash", String(255), nullable=False),
    Column("made_at", Moment, nullable=False),
    sqlite_autoincrement=True,
)

sign_ins = Table(
    "sign_ins",
    metadata,
    Column("token_digest", String(64), primary_key=True),
    Column("account_id", Integer, ForeignKey("accounts.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("made_at", Moment, nullable=False),
    Column("ends_at", Moment, nullable=False),
)

sign_in_failures = Table(
    "sign_in_failures",
    metadata,
    _number(),
    Column("key", String(120), nullable=False),
    Column("address", String(64), nullable=False),
    Column("at", Moment, nullable=False),
    Index("ix_sign_in_failures_key_at", "key", "at"),
    Index("ix_sign_in_failures_address_at", "address", "at"),
)

audit = Table(
    "audit",
    metadata,
    _number(),
    Column("at", Moment, nullable=False, index=True),
    Column("account_id", Integer),
    Column("action", String(40), nullable=False),
    Column("client_id", Integer),
    Column("detail", Text, nullable=False, default=""),
)
