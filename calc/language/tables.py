"""The one reader of the project's data tables: TOML beside the code that uses it, its sources named at its head."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any


def read_table(path: Path) -> dict[str, Any]:
    """The table in a file; who asks for it often keeps it. Raises FileNotFoundError for a file that there is not.

    >>> sorted(read_table(Path(__file__).parent / "data" / "iso286.toml"))[:2]
    ['fine_steps', 'grades']
    """
    return tomllib.loads(path.read_text(encoding="utf-8"))
