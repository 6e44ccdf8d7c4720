"""How much of what is drawn by chance the check tries: a part that is the same each time; a long run tries all of it.

The long run is `python -m tests.bench.bench_tries`, which sets `HYPOTHESIS_PROFILE=thorough`.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")

PROFILE = os.environ.get("HYPOTHESIS_PROFILE") or "usual"
THOROUGH = PROFILE == "thorough"

SHARE = 5
"""The check tries one of so many examples of a property..."""

FEWEST = 20
"""...but not fewer than these, where a property has them."""


def tries(whole: int) -> int:
    """How many of the examples of a property are tried."""
    return whole if THOROUGH else min(whole, max(FEWEST, whole // SHARE))


def some(cases: Sequence[T], share: int, first: int = 0) -> Sequence[T]:
    """One of so many cases of a list, counted from one of the first; all of them in a long run."""
    return cases if THOROUGH else cases[first % share :: share]
