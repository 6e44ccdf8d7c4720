"""What elements measure when the tool point walks the contour itself, and the print moved by the nose's rules."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.contour import Arc, Chain, Element, Side, Vector
from calc.language.fields import Declared, result, word
from calc.language.quantities import ANGLE, LENGTH, RADIUS, Z
from calc.tool.nose_shift import LEAST, is_concave, left_along_normal, slope_to_axis
from calc.tool.point import STEPS


class MeasureRow(Declared):
    """What an element would measure if its print points were keyed in (mm, rad).

    `left` is the most that stays along the normal, `deep` the most that is cut too deep, both 0 or more. `diameter_off`
    is the error of the diameter at one Z, `z_off` the error of Z on one diameter, for lines.
    """

    element: str = word("Element")
    is_: str = word("is")
    slope: float | None = result(ANGLE, "to the axis")
    left: float = result(LENGTH, "too much left, along the normal")
    deep: float = result(LENGTH, "cut too deep")
    diameter_off: float | None = result(LENGTH, "diameter off by", hint="on diameter, at the same Z")
    z_off: float | None = result(Z, "Z off by", hint="on the same diameter")
    radius: float | None = result(RADIUS, "print R")
    becomes: float | None = result(RADIUS, "R becomes")


def measure_rows(chain: Chain, nose: float, side: Side, number: int) -> list[MeasureRow]:
    """What each element would measure if the tool point of that number followed the print (nose in mm).

    >>> from calc.contour import Line, Point
    >>> chain = Chain((Line(Point(0.0, 9.0), Point(-1.0, 10.0)), Line(Point(-1.0, 10.0), Point(-9.0, 10.0))))
    >>> [round(row.left, 6) for row in measure_rows(chain, 0.8, "right", 3)]
    [0.331371, 0.0]
    """
    return [_measured(chain.name_of(index), element, nose, side, number) for index, element in enumerate(chain)]


def _measured(name: str, element: Element, nose: float, side: Side, number: int) -> MeasureRow:
    off = [left_along_normal.function(nose, normal.dot(STEPS[number])) for normal in _normals(element, side, number)]
    left, deep = max(0.0, *off), max(0.0, *(-each for each in off))
    if isinstance(element, Arc):
        hollow = is_concave(element, side)
        becomes = element.radius + nose if hollow else element.radius - nose
        return MeasureRow(
            element=name,
            is_="concave arc" if hollow else "convex arc",
            left=left,
            deep=deep,
            radius=element.radius,
            becomes=max(becomes, 0.0),
        )
    theta = slope_to_axis(element)
    normal = element.normal_at(0.0, side)
    return MeasureRow(
        element=name,
        is_="cylinder" if theta < LEAST else "face" if theta > math.pi / 2 - LEAST else "slope",
        slope=theta,
        left=left,
        deep=deep,
        diameter_off=2.0 * off[0] / normal.r if abs(normal.r) > LEAST else None,
        z_off=off[0] / normal.z if abs(normal.z) > LEAST else None,
    )


def _normals(element: Element, side: Side, number: int) -> Iterator[Vector]:
    """The normals toward the tool at both ends, and where one points along the step to the tool point, or against."""
    yield element.normal_at(0.0, side)
    yield element.normal_at(element.length, side)
    step = STEPS[number]
    if not isinstance(element, Arc) or not step.length:
        return
    for way in (step.unit(), step.unit().times(-1.0)):
        place = element.centre.moved(way, element.radius)
        if element.spans(place):
            outward = way if not is_concave(element, side) else way.times(-1.0)
            yield outward


def led_by_the_print(chain: Chain, nose: float, number: int) -> Chain:
    """The nose centre's path when the tool point follows the print.

    >>> from calc.contour import Line, Point
    >>> led_by_the_print(Chain((Line(Point(0.0, 9.0), Point(-5.0, 9.0)),)), 0.8, 3).start
    Point(z=0.8, r=9.8)
    """
    step = STEPS[number].times(-nose)
    return chain.shifted(step.z, step.r)
