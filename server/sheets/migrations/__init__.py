"""The history of the tables, one step a file under `versions/`; run by `server/sheets/migrating.py`."""
