"""Who leads, which client is whose coach's, second factors, one-time passwords, browsers that are known, and when a password was last given; entries found by their digest."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

NEW = ("known_browsers", "coaching", "second_factors", "one_time_passwords")


def upgrade() -> None:
    """Make them; coaches there are saw everybody until now and lead from now on."""
    op.add_column("accounts", sa.Column("leads", sa.Boolean(), nullable=False, server_default=sa.true()))
    op.add_column("sign_ins", sa.Column("confirmed_at", sa.DateTime(timezone=True), nullable=True))
    op.create_table(
        "one_time_passwords",
        _of_account("one_time_passwords", "account_id")[0],
        sa.Column("ends_at", sa.DateTime(timezone=True), nullable=False),
        *_of_account("one_time_passwords", "account_id")[1:],
        sa.PrimaryKeyConstraint("account_id", name=op.f("pk_one_time_passwords")),
    )
    op.create_table(
        "second_factors",
        _of_account("second_factors", "account_id")[0],
        sa.Column("secret", sa.String(length=64), nullable=False),
        sa.Column("last_step", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        *_of_account("second_factors", "account_id")[1:],
        sa.PrimaryKeyConstraint("account_id", name=op.f("pk_second_factors")),
    )
    op.create_table(
        "coaching",
        sa.Column("client_id", sa.Integer(), nullable=False),
        *_of_account("coaching", "account_id"),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_coaching_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("client_id", name=op.f("pk_coaching")),
    )
    op.create_table(
        "known_browsers",
        sa.Column("token_digest", sa.String(length=64), nullable=False),
        *_of_account("known_browsers", "account_id"),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("token_digest", name=op.f("pk_known_browsers")),
    )
    op.create_index("ix_entries_client_digest", "entries", ["client_id", "digest"])
    for table in ("coaching", "known_browsers"):
        op.create_index(op.f(f"ix_{table}_account_id"), table, ["account_id"])


def _of_account(table: str, column: str) -> tuple[sa.Column[int], sa.ForeignKeyConstraint]:
    kept = sa.ForeignKeyConstraint([column], ["accounts.id"], name=op.f(f"fk_{table}_{column}"), ondelete="CASCADE")
    return sa.Column(column, sa.Integer(), nullable=False), kept


def downgrade() -> None:
    """Take them back."""
    op.drop_index("ix_entries_client_digest", "entries")
    for table in NEW:
        op.drop_table(table)
    for table, column in (("sign_ins", "confirmed_at"), ("accounts", "leads")):
        with op.batch_alter_table(table) as changed:
            changed.drop_column(column)
