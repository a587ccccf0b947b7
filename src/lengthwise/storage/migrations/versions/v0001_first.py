"""Clients, log, plans, accounts."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change; tables that others point to come first."""
    for tables in (_clients, _accounts, _entries, _measures, _visits, _sets):
        tables()


def _clients() -> None:
    """Clients, their weeks and answers."""
    op.create_table(
        "clients",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(length=120), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("record", sa.JSON(), nullable=False),
        sa.Column("saved_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_clients")),
        sa.UniqueConstraint("key", name=op.f("uq_clients_key")),
        sqlite_autoincrement=True,
    )

    op.create_table(
        "planned_weeks",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("monday", sa.Integer(), nullable=False),
        sa.Column("week", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_planned_weeks_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_planned_weeks")),
    )
    op.create_index("ix_planned_weeks_client_monday", "planned_weeks", ["client_id", "monday"], unique=False)

    op.create_table(
        "proposals",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(length=120), nullable=False),
        sa.Column("proposal", sa.JSON(), nullable=False),
        sa.Column("answer", sa.String(length=10), nullable=False),
        sa.Column("by", sa.String(length=80), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_proposals_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proposals")),
    )
    op.create_index("ix_proposals_client_at", "proposals", ["client_id", "at"], unique=False)


def _accounts() -> None:
    """Who may sign in, and what was done."""
    op.create_table(
        "audit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("account_id", sa.Integer(), nullable=True),
        sa.Column("action", sa.String(length=40), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=True),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_audit")),
    )
    op.create_index("ix_audit_at", "audit", ["at"], unique=False)

    op.create_table(
        "accounts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("key", sa.String(length=120), nullable=False),
        sa.Column("role", sa.String(length=10), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=True),
        sa.Column("password_hash", sa.String(length=255), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_accounts_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_accounts")),
        sa.UniqueConstraint("key", name=op.f("uq_accounts_key")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_accounts_client_id", "accounts", ["client_id"], unique=False)

    op.create_table(
        "sign_ins",
        sa.Column("token_digest", sa.String(length=64), nullable=False),
        sa.Column("account_id", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["account_id"], ["accounts.id"], name=op.f("fk_sign_ins_account_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("token_digest", name=op.f("pk_sign_ins")),
    )
    op.create_index("ix_sign_ins_account_id", "sign_ins", ["account_id"], unique=False)

    op.create_table(
        "sign_in_failures",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("key", sa.String(length=120), nullable=False),
        sa.Column("address", sa.String(length=64), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign_in_failures")),
    )
    op.create_index("ix_sign_in_failures_address_at", "sign_in_failures", ["address", "at"], unique=False)
    op.create_index("ix_sign_in_failures_key_at", "sign_in_failures", ["key", "at"], unique=False)


def _entries() -> None:
    """What was entered, and how tables are understood."""
    op.create_table(
        "column_mappings",
        sa.Column("header", sa.String(length=64), nullable=False),
        sa.Column("mapping", sa.JSON(), nullable=False),
        sa.Column("saved_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("header", name=op.f("pk_column_mappings")),
    )

    op.create_table(
        "lift_spellings",
        sa.Column("spelling", sa.String(length=200), nullable=False),
        sa.Column("lift", sa.String(length=80), nullable=False),
        sa.PrimaryKeyConstraint("spelling", name=op.f("pk_lift_spellings")),
    )

    op.create_table(
        "entries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=20), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=True),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("by", sa.String(length=80), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("undone_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_entries_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entries")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_entries_client_id", "entries", ["client_id"], unique=False)


def _measures() -> None:
    """What is measured on a body."""
    op.create_table(
        "measurements",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=30), nullable=False),
        sa.Column("site", sa.String(length=40), nullable=False),
        sa.Column("side", sa.String(length=5), nullable=False),
        sa.Column("readings", sa.JSON(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_measurements_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_measurements")),
    )
    op.create_index("ix_measurements_client_kind_day", "measurements", ["client_id", "kind", "day"], unique=False)


def _visits() -> None:
    """Visits and readiness."""
    op.create_table(
        "sessions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("minutes", sa.Float(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_sessions_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sessions")),
    )
    op.create_index("ix_sessions_client_day", "sessions", ["client_id", "day"], unique=False)
    op.create_index("ix_sessions_entry", "sessions", ["entry_id"], unique=False)

    op.create_table(
        "readiness",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("session_id", sa.Integer(), nullable=True),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("score", sa.Integer(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_readiness_client_id"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_readiness_session_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_readiness")),
    )
    op.create_index("ix_readiness_client_day", "readiness", ["client_id", "day"], unique=False)
    op.create_index("ix_readiness_session_id", "readiness", ["session_id"], unique=False)


def _sets() -> None:
    """Sets, and where it hurt."""
    op.create_table(
        "sets",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("session_id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("lift", sa.String(length=80), nullable=False),
        sa.Column("load_kg", sa.Float(), nullable=False),
        sa.Column("repetitions", sa.Integer(), nullable=False),
        sa.Column("reserve", sa.Float(), nullable=True),
        sa.Column("range", sa.String(length=5), nullable=False),
        sa.Column("warm_up", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("entry_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["session_id"], ["sessions.id"], name=op.f("fk_sets_session_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sets")),
    )
    op.create_index("ix_sets_client_day_lift", "sets", ["client_id", "day", "lift"], unique=False)
    op.create_index("ix_sets_session_place", "sets", ["session_id", "place"], unique=True)

    op.create_table(
        "pain_flags",
        sa.Column("set_id", sa.Integer(), nullable=False),
        sa.Column("joint", sa.String(length=20), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["set_id"], ["sets.id"], name=op.f("fk_pain_flags_set_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("set_id", "joint", name=op.f("pk_pain_flags")),
    )
    op.create_index("ix_pain_flags_client_day", "pain_flags", ["client_id", "day"], unique=False)


def downgrade() -> None:
    """Take it back."""
    for table in (
        "pain_flags",
        "sets",
        "readiness",
        "sign_ins",
        "sessions",
        "measurements",
        "proposals",
        "planned_weeks",
        "entries",
        "accounts",
        "sign_in_failures",
        "lift_spellings",
        "column_mappings",
        "clients",
        "audit",
    ):
        op.drop_table(table)
