"""The tables: one list for SQLite and PostgreSQL.

Days are whole numbers (day 1 is Monday, 1 January of year 1), so that a week is a division on every server. Rows that a
person's data consist of hang on `clients` and go with it. `info` says since which version a table or column is there, and what stood
in its place before, for backups of older versions.
"""

from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import JSON, Boolean, Column, DateTime, Float, ForeignKey, Index, Integer, MetaData, String, Table, Text, true
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


def _storable(value: str | None) -> str | None:
    """Words without what one of the servers cannot keep: zero characters and halves of surrogate pairs."""
    return None if value is None else value.replace("\x00", "").encode("utf-8", "replace").decode()


class Words(TypeDecorator[str]):
    """Free text, made storable."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """The text as it is kept."""
        return _storable(value)


class Word(TypeDecorator[str]):
    """A short text, made storable."""

    impl = String
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """The text as it is kept."""
        return _storable(value)


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
    Column("key", Word(120), nullable=False, unique=True),
    Column("name", Word(80), nullable=False),
    Column("record", JSON, nullable=False),
    Column("saved_at", Moment, nullable=False),
    sqlite_autoincrement=True,
)

entries = Table(
    "entries",
    metadata,
    _number(),
    Column("kind", Word(20), nullable=False),
    Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), index=True),
    Column("what", Words, nullable=False),
    Column("digest", Word(64), nullable=False, default=""),
    Column("by", Word(80), nullable=False, default=""),
    Column("at", Moment, nullable=False),
    Column("undone_at", Moment),
    Index("ix_entries_client_digest", "client_id", "digest"),
    sqlite_autoincrement=True,
)

sessions = Table(
    "sessions",
    metadata,
    _number(),
    _of_client(),
    Column("day", Day, nullable=False),
    Column("minutes", Float),
    Column("note", Words, nullable=False, default=""),
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
    Column("lift", Word(80), nullable=False),
    Column("load_kg", Float, nullable=False),
    Column("repetitions", Integer, nullable=False),
    Column("reserve", Float),
    Column("range", Word(5), nullable=False),
    Column("warm_up", Boolean, nullable=False),
    Column("note", Words, nullable=False, default=""),
    _of_entry(),
    Index("ix_sets_session_place", "session_id", "place", unique=True),
    Index("ix_sets_client_day_lift", "client_id", "day", "lift"),
)

pain_flags = Table(
    "pain_flags",
    metadata,
    Column("set_id", Integer, ForeignKey("sets.id", ondelete="CASCADE"), primary_key=True),
    Column("joint", Word(20), primary_key=True),
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
    Column("note", Words, nullable=False, default=""),
    _of_entry(),
    Index("ix_readiness_client_day", "client_id", "day"),
)

measurements = Table(
    "measurements",
    metadata,
    _number(),
    _of_client(),
    Column("day", Day, nullable=False),
    Column("kind", Word(30), nullable=False),
    Column("site", Word(40), nullable=False, default=""),
    Column("side", Word(5), nullable=False, default=""),
    Column("readings", JSON, nullable=False),
    Column("reference", Words, nullable=False, default=""),
    Column("note", Words, nullable=False, default=""),
    _of_entry(),
    Index("ix_measurements_client_kind_day", "client_id", "kind", "day"),
)

column_mappings = Table(
    "column_mappings",
    metadata,
    Column("header", Word(64), primary_key=True),
    Column("mapping", JSON, nullable=False),
    Column("saved_at", Moment, nullable=False),
)

lift_spellings = Table(
    "lift_spellings",
    metadata,
    Column("spelling", Word(200), primary_key=True),
    Column("lift", Word(80), nullable=False),
)

planned_weeks = Table(
    "planned_weeks",
    metadata,
    _number(),
    _of_client(),
    Column("monday", Day, nullable=False),
    Column("week", JSON, nullable=False),
    Column("reason", Words, nullable=False, default=""),
    Column("made_at", Moment, nullable=False),
    Index("ix_planned_weeks_client_monday", "client_id", "monday"),
)

proposals = Table(
    "proposals",
    metadata,
    _number(),
    _of_client(),
    Column("key", Word(120), nullable=False),
    Column("proposal", JSON, nullable=False),
    Column("answer", Word(10), nullable=False),
    Column("by", Word(80), nullable=False, default=""),
    Column("at", Moment, nullable=False),
    Index("ix_proposals_client_at", "client_id", "at"),
)

accounts = Table(
    "accounts",
    metadata,
    _number(),
    Column("name", Word(80), nullable=False),
    Column("key", Word(120), nullable=False, unique=True),
    Column("role", Word(10), nullable=False),
    Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), index=True),
    Column("password_hash", Word(255), nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("leads", Boolean, nullable=False, server_default=true(), info={"since": "0004", "before": True}),
    sqlite_autoincrement=True,
)

one_time_passwords = Table(
    "one_time_passwords",
    metadata,
    Column("account_id", Integer, ForeignKey("accounts.id", ondelete="CASCADE"), primary_key=True),
    Column("ends_at", Moment, nullable=False),
    info={"since": "0004"},
)

second_factors = Table(
    "second_factors",
    metadata,
    Column("account_id", Integer, ForeignKey("accounts.id", ondelete="CASCADE"), primary_key=True),
    Column("secret", Word(64), nullable=False),
    Column("last_step", Integer, nullable=False),
    Column("made_at", Moment, nullable=False),
    info={"since": "0004"},
)

coaching = Table(
    "coaching",
    metadata,
    Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), primary_key=True),
    Column("account_id", Integer, ForeignKey("accounts.id", ondelete="CASCADE"), nullable=False, index=True),
    info={"since": "0004"},
)

known_browsers = Table(
    "known_browsers",
    metadata,
    Column("token_digest", Word(64), primary_key=True),
    Column("account_id", Integer, ForeignKey("accounts.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("at", Moment, nullable=False),
)

sign_ins = Table(
    "sign_ins",
    metadata,
    Column("token_digest", Word(64), primary_key=True),
    Column("account_id", Integer, ForeignKey("accounts.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("made_at", Moment, nullable=False),
    Column("ends_at", Moment, nullable=False),
    Column("seen_at", Moment),
    Column("address", Word(64), nullable=False, default="", server_default=""),
    Column("browser", Word(120), nullable=False, default="", server_default=""),
    Column("confirmed_at", Moment),
)

sign_in_failures = Table(
    "sign_in_failures",
    metadata,
    _number(),
    Column("key", Word(120), nullable=False),
    Column("address", Word(64), nullable=False),
    Column("at", Moment, nullable=False),
    Index("ix_sign_in_failures_key_at", "key", "at"),
    Index("ix_sign_in_failures_address_at", "address", "at"),
)

picks = Table(
    "picks",
    metadata,
    Column("token_digest", Word(64), primary_key=True),
    Column("client_id", Integer, ForeignKey("clients.id", ondelete="CASCADE"), nullable=False, index=True),
    Column("at", Moment, nullable=False),
)

audit = Table(
    "audit",
    metadata,
    _number(),
    Column("at", Moment, nullable=False, index=True),
    Column("account_id", Integer),
    Column("action", Word(40), nullable=False),
    Column("client_id", Integer),
    Column("detail", Words, nullable=False, default=""),
    Column("address", Word(64), nullable=False, default="", server_default="", info={"since": "0003", "before": ""}),
    Column("result", Word(10), nullable=False, default="done", server_default="done", info={"since": "0003", "before": "done"}),
)
