"""Where a question is saved: the sheet, its revision and the step, as one text that the page carries along."""

from __future__ import annotations

import re
from dataclasses import dataclass

_PLACE = re.compile(r"(?P<sheet>[a-z0-9-]{12,20})\.(?P<revision>[0-9]{1,8})\.(?P<step>[a-z0-9]{1,12})")


@dataclass(frozen=True, slots=True)
class SavedPlace:
    """A step of a sheet, and the revision that was opened."""

    sheet: str
    revision: int
    step: str

    @property
    def text(self) -> str:
        """The place as one text.

        >>> SavedPlace("k7mp-3wxz-9dqr", 2, "a4").text
        'k7mp-3wxz-9dqr.2.a4'
        """
        return f"{self.sheet}.{self.revision}.{self.step}"


def place_in(text: str) -> SavedPlace | None:
    """The place that a text names; None for any other text.

    >>> place_in("k7mp-3wxz-9dqr.2.a4").revision, place_in("elsewhere")
    (2, None)
    """
    found = _PLACE.fullmatch(text)
    return SavedPlace(found["sheet"], int(found["revision"]), found["step"]) if found else None
