"""A contour with the nose that runs along it, as the questions about nose paths share it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.contour import Chain, Side


@dataclass(frozen=True, slots=True)
class Question:
    """The contour with its nose: radius (mm), tool point, the tool's side of travel, the lead-in (mm, rad)."""

    chain: Chain
    nose: float
    number: int
    side: Side
    lead_in: float = 0.0
    lead_heading: float = math.pi
