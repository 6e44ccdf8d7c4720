"""The tables of the store. A change here needs a migration beside it: see `migrations/`.

Plain tables: the store writes its own statements, and the mapper of objects would cost each process some 6 MB.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Column, ForeignKey, Index, Integer, LargeBinary, MetaData, String, Table, Text

METADATA = MetaData(naming_convention={"pk": "pk_%(table_name)s", "fk": "fk_%(table_name)s_%(column_0_name)s"})

SHEETS = Table(
    "sheets",
    METADATA,
    Column("id", String(14), primary_key=True),
    Column("secret_digest", LargeBinary(32), nullable=False),
    Column("revision", Integer, nullable=False),
    Column("bytes", BigInteger, nullable=False),
    Column("created_at", BigInteger, nullable=False),
    Column("ended_at", BigInteger),
)
"""A sheet: who owns it, its newest revision, how much it holds. Times are milliseconds since 1970, UTC."""

REVISIONS = Table(
    "revisions",
    METADATA,
    Column("sheet_id", String(14), ForeignKey("sheets.id", ondelete="CASCADE"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("based_on", Integer, nullable=False),
    Column("document", Text, nullable=False),
    Column("digest", LargeBinary(32), nullable=False),
    Column("saved_at", BigInteger, nullable=False),
)
"""One save: the whole document as text, its digest, and the revision that it was based on (0 for the first)."""

COUNTS = Table(
    "counts",
    METADATA,
    Column("what", String(12), primary_key=True),
    Column("who", String(32), primary_key=True),
    Column("ends_at", BigInteger, primary_key=True, autoincrement=False),
    Column("count", Integer, nullable=False),
    Index("ix_counts_ends_at", "ends_at"),
)
"""How often one client address (a digest of it; "" for all) did something within the window that ends then."""

SHOP = Table(
    "shop",
    METADATA,
    Column("id", Integer, primary_key=True, autoincrement=False),
    Column("secret_digest", LargeBinary(32), nullable=False),
    Column("change", Integer, nullable=False),
    Column("bytes", BigInteger, nullable=False),
    Column("created_at", BigInteger, nullable=False),
)
"""The shop's lists as a whole, one row: who owns them, how often they were changed, how much they hold."""

SHOP_ENTRIES = Table(
    "shop_entries",
    METADATA,
    Column("key", String(12), primary_key=True),
    Column("list", String(8), nullable=False),
    Column("revision", Integer, nullable=False),
    Column("created_at", BigInteger, nullable=False),
    Column("removed_at", BigInteger),
)
"""A tool or a proven cut: its newest revision, and since when it is removed."""

SHOP_REVISIONS = Table(
    "shop_revisions",
    METADATA,
    Column("entry_key", String(12), ForeignKey("shop_entries.key", ondelete="CASCADE"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("based_on", Integer, nullable=False),
    Column("document", Text, nullable=False),
    Column("digest", LargeBinary(32), nullable=False),
    Column("saved_at", BigInteger, nullable=False),
)
"""One save of an entry: its document as text, its digest, and the revision that it was based on (0 for the first)."""
