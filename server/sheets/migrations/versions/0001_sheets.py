"""Sheets, their revisions, and the counts that keep rates."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the first tables."""
    op.create_table(
        "sheets",
        sa.Column("id", sa.String(14), nullable=False),
        sa.Column("secret_digest", sa.LargeBinary(32), nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("bytes", sa.BigInteger, nullable=False),
        sa.Column("created_at", sa.BigInteger, nullable=False),
        sa.Column("ended_at", sa.BigInteger, nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_sheets"),
    )
    op.create_table(
        "revisions",
        sa.Column("sheet_id", sa.String(14), nullable=False),
        sa.Column("number", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("based_on", sa.Integer, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sa.Column("digest", sa.LargeBinary(32), nullable=False),
        sa.Column("saved_at", sa.BigInteger, nullable=False),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_revisions_sheet_id", ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("sheet_id", "number", name="pk_revisions"),
    )
    op.create_table(
        "counts",
        sa.Column("what", sa.String(12), nullable=False),
        sa.Column("who", sa.String(32), nullable=False),
        sa.Column("ends_at", sa.BigInteger, nullable=False, autoincrement=False),
        sa.Column("count", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("what", "who", "ends_at", name="pk_counts"),
    )
    op.create_index("ix_counts_ends_at", "counts", ["ends_at"])
