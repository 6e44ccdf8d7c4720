"""What the server is given from outside: where its data lie, and the address that other devices reach it by."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from server.sheets.limits import Limits, limits_from

ROOT = Path(__file__).resolve().parent.parent
TEMPLATES, STATIC = ROOT / "templates", ROOT / "static"


@dataclass(frozen=True, slots=True)
class Settings:
    """`data` is the folder for saved work, `address` the base address for shared links ("" is that of the request).

    `hosts` are the names that it goes by beside addresses and names of a private network; `database` is the address of
    a PostgreSQL database, "" for a file in `data`; `limits` bound what may be saved.
    """

    data: Path
    address: str = ""
    hosts: tuple[str, ...] = ()
    database: str = ""
    limits: Limits = field(default_factory=Limits)
    templates: Path = TEMPLATES
    static: Path = STATIC


def settings_from(environment: Mapping[str, str] = os.environ) -> Settings:
    """The settings from environment variables; unset ones take defaults.

    >>> settings_from({"CHUCKSIDE_ADDRESS": "http://shop.example:8000/"}).address
    'http://shop.example:8000'
    """
    address = environment.get("CHUCKSIDE_ADDRESS", "").rstrip("/")
    return Settings(
        data=Path(environment.get("CHUCKSIDE_DATA") or ROOT / ".data"),
        address=address,
        hosts=_hosts(environment.get("CHUCKSIDE_HOSTS", ""), address),
        database=environment.get("CHUCKSIDE_DATABASE", "").strip(),
        limits=limits_from(environment),
    )


def _hosts(given: str, address: str) -> tuple[str, ...]:
    """The names that were set, and that of the address for links."""
    named = [name.strip().rstrip(".").lower() for name in given.split(",")]
    return tuple(dict.fromkeys(name for name in (*named, urlsplit(address).hostname or "") if name))
