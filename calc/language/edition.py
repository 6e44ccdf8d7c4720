"""The edition of the data tables (materials, grades, limits): a shared link carries it, so that a change is noticed."""

TABLES = "2026-11"
