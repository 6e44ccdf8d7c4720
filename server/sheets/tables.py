"""The tables of the store. A change here needs a migration beside it: see `migrations/`."""

from __future__ import annotations

from sqlalchemy import BigInteger, ForeignKey, Index, LargeBinary, MetaData, String, Text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

NAMES = {"pk": "pk_%(table_name)s", "fk": "fk_%(table_name)s_%(column_0_name)s"}


class Base(DeclarativeBase):
    """The base of the tables."""

    metadata = MetaData(naming_convention=NAMES)


class SheetRow(Base):
    """A sheet: who owns it, its newest revision, how much it holds. Times are milliseconds since 1970, UTC."""

    __tablename__ = "sheets"

    id: Mapped[str] = mapped_column(String(14), primary_key=True)
    secret_digest: Mapped[bytes] = mapped_column(LargeBinary(32))
    revision: Mapped[int]
    bytes: Mapped[int] = mapped_column(BigInteger)
    created_at: Mapped[int] = mapped_column(BigInteger)
    ended_at: Mapped[int | None] = mapped_column(BigInteger)


class RevisionRow(Base):
    """One save: the whole document as text, its digest, and the revision that it was based on (0 for the first)."""

    __tablename__ = "revisions"

    sheet_id: Mapped[str] = mapped_column(ForeignKey("sheets.id", ondelete="CASCADE"), primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    based_on: Mapped[int]
    document: Mapped[str] = mapped_column(Text)
    digest: Mapped[bytes] = mapped_column(LargeBinary(32))
    saved_at: Mapped[int] = mapped_column(BigInteger)


class CountRow(Base):
    """How often one client address (a digest of it; "" for all) did something within the window that ends then."""

    __tablename__ = "counts"
    __table_args__ = (Index("ix_counts_ends_at", "ends_at"),)

    what: Mapped[str] = mapped_column(String(12), primary_key=True)
    who: Mapped[str] = mapped_column(String(32), primary_key=True)
    ends_at: Mapped[int] = mapped_column(BigInteger, primary_key=True, autoincrement=False)
    count: Mapped[int]
