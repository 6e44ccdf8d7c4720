"""What a designation says of a holder or a boring bar."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from calc.tool.holder.tables import Style
from calc.tool.insert.model import Form, Position
from calc.tool.insert.tables import Clearance, Shape

Hand = Literal["R", "L", "N"]


@dataclass(frozen=True, kw_only=True)
class Holder:
    """A holder or bar (mm, rad); what its designation leaves open is None.

    `insert_code` is the insert's edge length code, or its inscribed circle in eighths of an inch.
    """

    form: Form
    is_bar: bool
    clamping: str
    shape: Shape
    style: Style
    clearance: Clearance
    hand: Hand
    shank_height: float | None = None
    shank_width: float | None = None
    bar_diameter: float | None = None
    length: float | None = None
    insert_code: str = ""
    insert_size: float | None = None
    positions: tuple[Position, ...] = ()
