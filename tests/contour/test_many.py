"""Lines and arcs as arrays obey the rules of single ones; boxes that overlap are found without one too many."""

import math
from random import Random

import numpy as np
import pytest

from calc.contour import Arc, Element, Line, Point, Turn, meet
from calc.contour.boxes import overlapping
from calc.contour.many import many_of, meeting


def drawn(chance: Random) -> Element:
    at = Point(chance.uniform(-10.0, 10.0), chance.uniform(-10.0, 10.0))
    if chance.random() < 0.4:
        return Line(at, Point(chance.uniform(-10.0, 10.0), chance.choice([at.r, chance.uniform(-10.0, 10.0)])))
    start = chance.uniform(-math.pi, math.pi)
    sweep = chance.uniform(0.1, 6.0)
    turn: Turn = "cw" if chance.random() < 0.5 else "ccw"
    return Arc.from_angles(at, chance.uniform(0.5, 8.0), start, start + (sweep if turn == "ccw" else -sweep), turn)


def as_place(point: Point) -> complex:
    return complex(*point)


@pytest.mark.parametrize("seed", range(20))
def test_places_positions_distances_and_boxes_are_those_of_the_elements(seed: int) -> None:
    chance = Random(seed)
    elements = [drawn(chance) for _ in range(30)]
    points = [Point(chance.uniform(-12.0, 12.0), chance.uniform(-12.0, 12.0)) for _ in elements]
    shares = np.array([chance.uniform(0.0, 1.0) for _ in elements])
    found = many_of(elements)
    places = np.array([as_place(point) for point in points])
    pairs = list(zip(elements, points, strict=True))
    assert found.length == pytest.approx([element.length for element in elements], abs=1e-12)
    assert found.locate(places) == pytest.approx([element.locate(point) for element, point in pairs], abs=1e-11)
    assert found.distance(places) == pytest.approx([element.distance_to(point) for element, point in pairs], abs=1e-12)
    assert found.boxes() == pytest.approx(np.array([element.bounds() for element in elements]), abs=1e-12)
    along = found.at(shares * found.length)
    for element, share, place in zip(elements, shares, along.tolist(), strict=True):
        assert abs(as_place(element.point_at(float(share) * element.length)) - place) < 1e-12
    ends = [as_place(Point(*element.tangent_at(element.length))) for element in elements]
    assert np.abs(found.end_direction - np.array(ends)).max() < 1e-12
    assert [found.element(index) for index in range(len(elements))] == elements


@pytest.mark.parametrize("seed", range(20))
def test_pairs_meet_where_single_carriers_meet(seed: int) -> None:
    chance = Random(seed)
    some, others = [drawn(chance) for _ in range(60)], [drawn(chance) for _ in range(60)]
    places, there = meeting(many_of(some), many_of(others))
    for a, b, two, which in zip(some, others, places.tolist(), there.tolist(), strict=True):
        wanted = sorted((as_place(point) for point in meet(a.carrier, b.carrier)), key=lambda p: (p.real, p.imag))
        mine = sorted((place for place, is_there in zip(two, which, strict=True) if is_there),
                      key=lambda p: (p.real, p.imag))  # fmt: skip
        assert len(mine) == len(wanted)
        assert all(abs(p - q) < 1e-9 for p, q in zip(mine, wanted, strict=True))


TOUCHES = [
    (Line(Point(-5.0, 3.0), Point(5.0, 3.0)), Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw"), 1),
    (Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw"),
     Arc(Point(3.0, 0.0), Point(7.0, 0.0), Point(5.0, 0.0), "cw"), 1),
    (Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw"),
     Arc(Point(-1.0, 0.0), Point(3.0, 0.0), Point(1.0, 0.0), "cw"), 1),
    (Arc(Point(-3.0, 0.0), Point(3.0, 0.0), Point(0.0, 0.0), "cw"),
     Arc(Point(-1.0, 0.0), Point(1.0, 0.0), Point(0.0, 0.0), "cw"), 0),
    (Line(Point(-5.0, 3.0), Point(5.0, 3.0)), Line(Point(-5.0, 4.0), Point(5.0, 4.0)), 0),
]  # fmt: skip


@pytest.mark.parametrize(("a", "b", "count"), TOUCHES)
def test_a_touch_is_one_place_and_what_runs_beside_has_none(a: Element, b: Element, count: int) -> None:
    for one, other in ((a, b), (b, a)):
        places, there = meeting(many_of([one]), many_of([other]))
        assert there.sum() == count == len(meet(one.carrier, other.carrier))
        for point, place in zip(meet(one.carrier, other.carrier), places[there].tolist(), strict=True):
            assert abs(as_place(point) - place) < 1e-12


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("longest", [0.5, 5.0, 300.0])
def test_overlapping_boxes_are_those_that_every_pair_tried_gives(seed: int, longest: float) -> None:
    rng = np.random.default_rng(seed)
    low = rng.uniform(-100.0, 100.0, (2, 60, 2)).round(0)
    size = rng.uniform(0.0, longest, (2, 60, 2)).round(0)
    some, others = (np.stack([low[k, :, 0], low[k, :, 0] + size[k, :, 0], low[k, :, 1], low[k, :, 1] + size[k, :, 1]],
                             axis=1) for k in (0, 1))  # fmt: skip
    i, j = overlapping(some, others)
    wanted = [(a, b) for a, one in enumerate(some) for b, other in enumerate(others)
              if one[0] <= other[1] and other[0] <= one[1] and one[2] <= other[3] and other[2] <= one[3]]  # fmt: skip
    assert list(zip(i.tolist(), j.tolist(), strict=True)) == wanted


def test_no_boxes_overlap_none() -> None:
    none, one = np.zeros((0, 4)), np.zeros((1, 4))
    assert [len(each) for each in (*overlapping(none, one), *overlapping(one, none))] == [0, 0, 0, 0]
    assert [indices.tolist() for indices in overlapping(one, one)] == [[0], [0]]
