"""The shop's own tools and proven cuts: who may change them, their entries, their revisions."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of the shop's lists."""
    _make_whole()
    _make_entries()


def _make_whole() -> None:
    op.create_table(
        "shop",
        sa.Column("id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("secret_digest", sa.LargeBinary(32), nullable=False),
        sa.Column("change", sa.Integer, nullable=False),
        sa.Column("bytes", sa.BigInteger, nullable=False),
        sa.Column("created_at", sa.BigInteger, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_shop"),
    )


def _make_entries() -> None:
    op.create_table(
        "shop_entries",
        sa.Column("key", sa.String(12), nullable=False),
        sa.Column("list", sa.String(8), nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("created_at", sa.BigInteger, nullable=False),
        sa.Column("removed_at", sa.BigInteger, nullable=True),
        sa.PrimaryKeyConstraint("key", name="pk_shop_entries"),
    )
    op.create_table(
        "shop_revisions",
        sa.Column("entry_key", sa.String(12), nullable=False),
        sa.Column("number", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("based_on", sa.Integer, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sa.Column("digest", sa.LargeBinary(32), nullable=False),
        sa.Column("saved_at", sa.BigInteger, nullable=False),
        sa.ForeignKeyConstraint(
            ["entry_key"], ["shop_entries.key"], name="fk_shop_revisions_entry_key", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("entry_key", "number", name="pk_shop_revisions"),
    )
