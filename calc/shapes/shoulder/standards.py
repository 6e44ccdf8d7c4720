"""The undercuts of DIN 509, from `data/undercuts.toml`."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from calc.language.tables import read_table

TABLE = Path(__file__).parent.parent / "data" / "undercuts.toml"
Load = Literal["usual", "alternating"]


@dataclass(frozen=True, slots=True)
class Undercut:
    """A size of some `forms`, mm: radius r, depth t1, width f, face height g, face depth t2 (all but form E)."""

    size: str
    radius: float
    depth: float
    width: float
    face_height: float
    face_depth: float
    series: int
    usual: tuple[float, float] | None
    alternating: tuple[float, float] | None
    source: str
    forms: str = "EF"

    @property
    def code(self) -> str:
        """The size as it stands in a link: "0.8x0.3"."""
        return self.size.replace(" ", "")

    def fits(self, diameter: float, load: str) -> bool:
        """Whether the standard means it for this diameter (mm) and load; without diameters it is for any."""
        if self.usual is None and self.alternating is None:
            return True
        limits = self.usual if load == "usual" else self.alternating
        return limits is not None and limits[0] < diameter <= limits[1]


@cache
def undercuts() -> tuple[Undercut, ...]:
    """Every size of the table, preferred ones first where two fit; read on first use.

    >>> [each.code for each in undercuts() if "F" in each.forms and each.fits(24.0, "usual")]
    ['0.8x0.3', '0.6x0.3']
    """
    return tuple(_undercut(row) for row in read_table(TABLE)["undercut"])


def _undercut(row: dict[str, Any]) -> Undercut:
    limits = {name: tuple(row[name]) if name in row else None for name in ("usual", "alternating")}
    return Undercut(**(row | limits))


def sizes_of(form: str) -> tuple[Undercut, ...]:
    """The sizes of a form.

    >>> [each.code for each in sizes_of("G")]
    ['0.4x0.2']
    """
    return tuple(each for each in undercuts() if form in each.forms)
