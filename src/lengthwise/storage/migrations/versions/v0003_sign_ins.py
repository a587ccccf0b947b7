"""Sign-ins that can be told apart and end when nobody uses them; where what was done came from, and what came of it."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the columns."""
    op.add_column("sign_ins", sa.Column("seen_at", sa.DateTime(timezone=True), nullable=True))
    op.add_column("sign_ins", sa.Column("address", sa.String(length=64), nullable=False, server_default=""))
    op.add_column("sign_ins", sa.Column("browser", sa.String(length=120), nullable=False, server_default=""))
    op.add_column("audit", sa.Column("address", sa.String(length=64), nullable=False, server_default=""))
    op.add_column("audit", sa.Column("result", sa.String(length=10), nullable=False, server_default="done"))


def downgrade() -> None:
    """Take them back."""
    for table, columns in (("audit", ("result", "address")), ("sign_ins", ("browser", "address", "seen_at"))):
        with op.batch_alter_table(table) as changed:
            for column in columns:
                changed.drop_column(column)
