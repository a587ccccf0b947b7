"""Whom a browser computes for, kept here so that its cookie names nobody."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "picks",
        sa.Column("token_digest", sa.String(length=64), nullable=False),
        sa.Column("client_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["client_id"], ["clients.id"], name=op.f("fk_picks_client_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("token_digest", name=op.f("pk_picks")),
    )
    op.create_index(op.f("ix_picks_client_id"), "picks", ["client_id"])


def downgrade() -> None:
    """Take it back."""
    op.drop_table("picks")
