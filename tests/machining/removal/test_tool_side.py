"""On which side of a contour the tool stands: in a groove, and in a bore so small that only its middle is free."""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point, Side
from calc.machining.removal.region import on_the_wrong_side, tool_side


def through(*corners: tuple[float, float]) -> Chain:
    return Chain(tuple(Line(a, b) for a, b in pairwise([Point(*corner) for corner in corners])))


CUT = {
    "outside": through((0.0, 20.0), (0.0, 15.0), (-3.0, 15.0), (-3.0, 20.0)),
    "face": through((0.0, 10.0), (-3.0, 10.0), (-3.0, 15.0), (0.0, 15.0)),
    "bore": through((0.0, 0.4), (-6.0, 0.4), (-6.0, 0.0)),
}
"""A groove in the outside, one in the face, and a bore of 0.8 mm: narrow, so that beside them there is the part."""

INSIDE = {"outside": "right", "face": "right", "bore": "left"}


@pytest.mark.parametrize("where", CUT)
@pytest.mark.parametrize("z", [0.0, -50.0, 300.0])
def test_the_tool_stands_in_what_is_cut_out_wherever_along_the_bar_that_is(where: str, z: float) -> None:
    """And on the other side of the same contour in the part."""
    chain = CUT[where].shifted(z, 0.0)
    sides: tuple[Side, ...] = ("left", "right")
    for side in sides:
        assert on_the_wrong_side(chain, side, where) == (side != INSIDE[where])


@pytest.mark.parametrize("places", [(0.0, 1.0), (-4.0, 12.0)])
def test_a_contour_of_an_arc_is_led_on_by_its_tangents_at_its_ends(places: tuple[float, float]) -> None:
    """An arc of R4 that leaves Z0 square to the axis, and one that ends at Z-4 so: straight on there, at 3 or 4 mm."""
    z, r = places
    start, end = Point(0.0, 5.0), Point(-4.0, 9.0)
    arc = Arc(start, end, Point(-4.0, 5.0), "ccw") if z == 0.0 else Arc(start, end, Point(0.0, 9.0), "cw")
    area = tool_side(Chain((arc,)), "right", 20.0)
    assert area.contains(shapely.Point(z + 0.01, r))
    assert not area.contains(shapely.Point(z - 0.01, r))
