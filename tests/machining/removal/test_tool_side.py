"""On which side of a contour the tool stands: in a groove, and in a bore so small that only its middle is free."""

from __future__ import annotations

from itertools import pairwise

import pytest

from calc.contour import Chain, Line, Point, Side
from calc.machining.removal.region import on_the_wrong_side


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
