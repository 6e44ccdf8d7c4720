"""Where what an insert passes over along an arc is one ring, and that it is the union of the pieces."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise, product

import pytest
import shapely

from calc.contour import Arc, Point
from calc.machining.removal.arc_ring import ring_along, turned
from calc.machining.removal.sweep import Outline, _sector, _strips
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes

INSERTS = {letter: Outline(insert_core(shapes()[letter], 12.7, 0.4, math.radians(62.5)), 0.4) for letter in "DST"}


def pieces(outline: Outline, arc: Arc) -> shapely.Geometry:
    areas = [outline.at(end) for end in (arc.start, arc.end)]
    areas += [_sector(arc, corner, outline.nose) for corner in outline.corners]
    areas += list(_strips(outline.body, arc)) if outline.body is not None else []
    return shapely.union_all(shapely.make_valid(areas))


def leading(outline: Outline, out: complex) -> complex:
    """The corner of the core that is farthest in a direction."""
    return max(outline.corners, key=lambda corner: (corner * out.conjugate()).real)


@pytest.mark.parametrize("letter", INSERTS)
@pytest.mark.parametrize("sense", ["ccw", "cw"])
def test_a_ring_it_is_where_one_corner_leads_all_along_the_inner_side(letter: str, sense: str) -> None:
    sign, outline, rings = 1.0 if sense == "ccw" else -1.0, INSERTS[letter], 0
    for radius, angle, first in product((6.0, 24.0), (0.05, 0.7, 2.0, 2.7), (0.1, 1.3, 2.5, 3.7, 4.9, 6.1)):
        arc = Arc.from_angles(Point(0.0, 50.0), radius, first, first + sign * angle, sense)  # type: ignore[arg-type]
        ring = ring_along(outline.corners, outline.nose, outline.rim, arc)
        rays = [cmath.exp(1j * (first + sign * angle * share)) for share in (0.0, 1.0)]
        one_leads = leading(outline, -rays[0]) == leading(outline, -rays[1])
        assert (ring is not None) == one_leads
        rings += one_leads
        if ring is not None and first in (1.3, 4.9):
            whole = pieces(outline, arc)
            assert ring.symmetric_difference(whole).area < 3e-4 * whole.length
    assert 8 < rings < 40


@pytest.mark.parametrize(("radius", "angle", "is_ring"), [
    (6.0, 1.0, True), (6.0 - 1e-6, 1.0, False), (6.0 + 1e-6, 1.0, True), (9.0, 3.14, True), (9.0, 3.15, False),
])  # fmt: skip
def test_no_ring_it_is_on_a_path_tighter_than_the_nose_or_of_half_a_turn(
    radius: float, angle: float, is_ring: bool
) -> None:
    disc = Outline((Point(0.0, 0.0),), 6.0)
    arc = Arc.from_angles(Point(0.0, 50.0), radius, 0.3, 0.3 + angle, "ccw")
    ring = ring_along(disc.corners, disc.nose, disc.rim, arc)
    assert (ring is not None) == is_ring
    if ring is not None:
        wanted = 0.5 * angle * ((radius + 6.0) ** 2 - (radius - 6.0) ** 2) + math.pi * 36.0
        assert ring.area == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize(
    ("angle", "size"), [(-2.5, 1.0), (-0.4, 1.0), (0.4, 1.0), (2.5, 1.0), (5.0, 1e-4), (-6.0, 1e-4)]
)
def test_chords_for_an_arc_keep_its_area(angle: float, size: float) -> None:
    """The sector's area; of the first and the last chord, one end on the arc itself, the root of what it lacks."""
    ray = size * (3.0 + 4.0j)
    found = turned(ray, angle)
    assert found[0] == ray
    assert found[-1] == pytest.approx(ray * cmath.exp(1j * angle))
    area = 0.5 * sum((a.conjugate() * b).imag for a, b in pairwise(found))
    step = abs(angle) / (len(found) - 1)
    wanted = 12.5 * size**2 * (abs(angle) - 2.0 * step + 2.0 * math.sqrt(step * math.sin(step)))
    assert area == pytest.approx(math.copysign(wanted, angle), rel=1e-12)
    assert abs(abs(found[1:-1]) - 5.0 * size).max() < 2.5e-4
    assert abs(turned(5j, 1e-12)) == pytest.approx([5.0])
