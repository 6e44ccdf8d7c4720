"""What the server is told from outside: where its data lie, and the address that other devices reach it by."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Settings:
    """`data` is the folder for saved work, `address` the base address for shared links ("" is that of the request)."""

    data: Path
    address: str = ""
    templates: Path = ROOT / "templates"
    static: Path = ROOT / "static"


def settings_from(environment: Mapping[str, str] = os.environ) -> Settings:
    """The settings from environment variables; unset ones take defaults.

    >>> settings_from({"CHUCKSIDE_ADDRESS": "http://shop.example:8000/"}).address
    'http://shop.example:8000'
    """
    return Settings(
        data=Path(environment.get("CHUCKSIDE_DATA") or ROOT / ".data"),
        address=environment.get("CHUCKSIDE_ADDRESS", "").rstrip("/"),
    )
