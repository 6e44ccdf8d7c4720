"""What each check of a tool against a contour found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from calc.contour import Point
from calc.language.fields import Declared, result, word
from calc.language.messages import Message
from calc.language.quantities import ANGLE, LENGTH, X, Z

Verdict = Literal["passes", "tight", "stops"]
ORDER: tuple[Verdict, ...] = ("passes", "tight", "stops")


@dataclass(frozen=True, slots=True)
class Finding:
    """One check: its verdict, where it is worst, by how many degrees (rad) or millimetres, and what to do about it."""

    check: str
    verdict: Verdict
    element: str = ""
    at: Point | None = None
    angle: float | None = None
    length: float | None = None
    message: Message | None = None


class CheckRow(Declared):
    """A check as a row of a table (mm, rad)."""

    check: str = word("Check")
    verdict: str = word("Verdict")
    where: str | None = word("where it is worst")
    x: float | None = result(X, "X")
    z: float | None = result(Z, "Z")
    angle: float | None = result(ANGLE, "angle to spare")
    length: float | None = result(LENGTH, "room to spare")


def row_of(finding: Finding) -> CheckRow:
    """The finding as a row.

    >>> row_of(Finding("edge behind the nose", "stops", "the dish", Point(0.0, 25.0))).x
    25.0
    """
    return CheckRow(
        check=finding.check,
        verdict=finding.verdict,
        where=finding.element or None,
        x=None if finding.at is None else finding.at.r,
        z=None if finding.at is None else finding.at.z,
        angle=finding.angle,
        length=finding.length,
    )


def overall(findings: Sequence[Finding]) -> Verdict:
    """The gravest verdict.

    >>> overall([Finding("a", "passes"), Finding("b", "tight")])
    'tight'
    """
    return max((finding.verdict for finding in findings), key=ORDER.index, default="passes")
