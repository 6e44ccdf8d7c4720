"""What is rare and must be right all the same: tips, pockets in pockets, closed contours, a nose as large as an arc."""

import math
from itertools import pairwise

import mpmath
import pytest

from calc.contour import Arc, Chain, Element, Line, Point, Side
from calc.tool.nose_path import nose_path
from tests.tool.nose_path.contours import random_contour


def lines(*corners: tuple[float, float]) -> Chain:
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))


@pytest.mark.parametrize("side", ["left", "right"])
def test_round_the_tip_of_a_fin_the_nose_swings_half_a_turn_on_either_side(side: Side) -> None:
    """Out along a line and back on it: their lengths and half a circle, whichever way the joint is seen."""
    fin = Chain((Line(Point(10.0, 20.0), Point(0.0, 20.0)), Line(Point(0.0, 20.0), Point(8.0, 20.0))))
    path = nose_path(fin, 1.5, side)
    assert [step.of for step in path.steps] == [0, 0, 1]
    assert path.centre_chains[0].length == pytest.approx(18.0 + math.pi * 1.5, abs=1e-9)
    assert path.steps[1].contact == Point(0.0, 20.0)
    farthest = min(step.element.bounds().z_min for step in path.steps)
    assert farthest == pytest.approx(-1.5, abs=1e-9)


def nested() -> Chain:
    """A pocket behind a mouth 1 wide, and behind a mouth 0.8 wide in its floor another pocket."""
    return lines(
        (12.0, 30.0), (0.5, 30.0), (0.5, 28.0), (4.0, 28.0), (4.0, 22.0), (0.4, 22.0), (0.4, 20.0), (3.0, 20.0),
        (3.0, 14.0), (-3.0, 14.0), (-3.0, 20.0), (-0.4, 20.0), (-0.4, 22.0), (-4.0, 22.0), (-4.0, 28.0), (-0.5, 28.0),
        (-0.5, 30.0), (-12.0, 30.0),
    )  # fmt: skip


def test_a_pocket_in_a_pocket_is_none_of_the_path() -> None:
    path = nose_path(nested(), 1.0, "right")
    assert len(path.runs) == 1
    assert sorted(step.of for step in path.steps) == [0, 0, 15, 16]
    depths = sorted(min(step.element.bounds().r_min for step in pocket) for pocket in path.pockets)
    assert depths == pytest.approx([15.0, 22.0 + math.sqrt(0.84)], abs=1e-9)
    (gap,) = path.unreached
    assert (gap.reason, gap.elements[0], gap.elements[-1]) == ("narrow", 1, 15)
    assert nose_path(nested(), 0.39, "right").pockets == ()


def ring() -> list[Element]:
    """A closed contour with a pocket behind a narrow mouth in its top."""
    corners = [
        (0.0, 40.0), (-9.0, 40.0), (-9.0, 38.0), (-7.0, 38.0), (-7.0, 33.0), (-13.0, 33.0), (-13.0, 38.0),
        (-10.0, 38.0), (-10.0, 40.0), (-20.0, 40.0), (-20.0, 20.0), (0.0, 20.0), (0.0, 40.0),
    ]  # fmt: skip
    return list(lines(*corners).elements)


@pytest.mark.parametrize("start", range(12))
def test_where_a_closed_contour_starts_changes_nothing(start: int) -> None:
    elements = ring()
    whole = nose_path(Chain(tuple(elements)), 1.0, "right")
    turned = nose_path(Chain((*elements[start:], *elements[:start])), 1.0, "right")
    for runs, others in ((whole.runs, turned.runs), (whole.pockets, turned.pockets)):
        assert len(runs) == len(others) == 1
        assert sum(step.element.length for step in runs[0]) == pytest.approx(
            sum(step.element.length for step in others[0]), abs=1e-9
        )
        assert sorted(step.of for step in runs[0]) == sorted((step.of + start) % 12 for step in others[0])
    gaps = [(gap.reason, round(gap.size, 9)) for gap in whole.unreached]
    assert sorted(gaps) == sorted((gap.reason, round(gap.size, 9)) for gap in turned.unreached)
    assert [gap.reason for gap in whole.unreached] == ["narrow"]


def test_round_a_closed_contour_beside_the_axis_the_nose_goes_as_far_as_the_axis_on_both_ends() -> None:
    """A block 10 long from r 0.5 to 10 and a nose of 1: two quarter circles above, two arcs of asin(0.5) below."""
    block = lines((10.0, 10.0), (10.0, 0.5), (0.0, 0.5), (0.0, 10.0), (10.0, 10.0))
    path = nose_path(block, 1.0, "left")
    assert path.pockets == ()
    ends = [(run[0].element.start, run[-1].element.end) for run in path.runs]
    assert sorted(round(end.r, 9) for pair in ends for end in pair)[:2] == [0.0, 0.0]
    assert sum(chain.length for chain in path.centre_chains) == pytest.approx(29.0 + math.pi + math.pi / 3.0, abs=1e-9)


def slot(radius: float) -> Chain:
    """A slot with a round floor."""
    return Chain((
        Line(Point(9.0, 20.0), Point(radius, 20.0)),
        Line(Point(radius, 20.0), Point(radius, 12.0)),
        Arc(Point(radius, 12.0), Point(-radius, 12.0), Point(0.0, 12.0), "cw"),
        Line(Point(-radius, 12.0), Point(-radius, 20.0)),
        Line(Point(-radius, 20.0), Point(-9.0, 20.0)),
    ))  # fmt: skip


@pytest.mark.parametrize("radius", [0.4, 0.8, 1.2, 3.0, 0.7937499999999999])
def test_a_nose_as_large_as_the_floor_of_a_slot_gets_to_it_and_back(radius: float) -> None:
    """The centre goes down to the centre of the floor and back up on the same line."""
    path = nose_path(slot(radius), radius, "right")
    assert path.is_whole
    lowest = min((step.element.bounds().r_min for step in path.steps), default=0.0)
    assert lowest == pytest.approx(12.0, abs=1e-9)
    assert max(abs(z) for step in path.steps if step.of in (1, 2, 3) and not isinstance(step.contact, Point)
               for z in (step.element.start.z, step.element.end.z)) < 1e-9  # fmt: skip


@pytest.mark.parametrize("share", [1.0 - 1e-6, 1.0 + 1e-6])
def test_a_nose_a_hair_smaller_reaches_the_floor_and_one_a_hair_larger_does_not(share: float) -> None:
    path = nose_path(slot(1.2), 1.2 * share, "right")
    assert path.is_whole == (share < 1.0)
    assert any(step.of == 2 for step in path.steps) == (share < 1.0)
    if share > 1.0:
        assert not any(step.of in (1, 2, 3) and not isinstance(step.contact, Point) for step in path.steps)


@pytest.mark.parametrize("seed", range(40))
def test_the_deepest_gouge_is_what_many_places_tried_come_up_to(seed: int) -> None:
    """Brute force: 401 places of each part that is not reached, the nose touching there, against every element."""
    path = nose_path(random_contour(seed, 9), (0.8, 1.6, 3.0)[seed % 3], "left" if seed % 2 else "right")
    to_left = path.nose_radius if path.side == "left" else -path.nose_radius
    deepest: dict[int, float] = {}
    for gap in path.unreached:
        for of in gap.elements if gap.reason != "corner" else ():
            element = path.chain.elements[of]
            begin = gap.first.s if of == gap.first.of else 0.0
            end = gap.last.s if of == gap.last.of else element.length
            for place in range(401):
                s = begin + (end - begin) * place / 400
                centre = element.point_at(s).moved(element.tangent_at(s).left(), to_left)
                deepest[of] = max(deepest.get(of, 0.0), path.nose_radius - path.chain.distance_to(centre))
    found: dict[int, float] = {}
    for gouge in path.gouges:
        found[gouge.of] = max(found.get(gouge.of, 0.0), gouge.depth)
        element = path.chain.elements[gouge.of]
        s = element.locate(gouge.contact)
        centre = gouge.contact.moved(element.tangent_at(s).left(), to_left)
        assert path.nose_radius - path.chain.distance_to(centre) == pytest.approx(gouge.depth, abs=1e-7)
    for of, depth in deepest.items():
        assert depth - 1e-6 <= found.get(of, 0.0) <= depth + 0.02


def test_the_path_agrees_with_a_calculation_in_thirty_digits() -> None:
    """Mpmath: a taper of 7 degrees into a concave R 6 about (-30, 26), a nose of 0.8: where its two parallels meet."""
    mp = mpmath.mp.clone()
    mp.dps = 30
    slope, nose = mp.radians(7), mp.mpf("0.8")
    start = (mp.mpf(0), mp.mpf(18))
    centre, radius = (mp.mpf(-30), mp.mpf(26)), mp.mpf(6)
    along, normal = (-mp.cos(slope), mp.sin(slope)), (mp.sin(slope), mp.cos(slope))

    def struck(line: tuple[mpmath.mpf, mpmath.mpf], reach: mpmath.mpf) -> tuple[mpmath.mpf, mpmath.mpf]:
        step = (centre[0] - line[0], centre[1] - line[1])
        foot = step[0] * along[0] + step[1] * along[1]
        aside = step[0] * along[1] - step[1] * along[0]
        at = foot - mp.sqrt(reach**2 - aside**2)
        return line[0] + at * along[0], line[1] + at * along[1]

    corner = struck(start, radius)
    meets = struck((start[0] + nose * normal[0], start[1] + nose * normal[1]), radius + nose)
    joint, end = Point(float(corner[0]), float(corner[1])), Point(-30.0, 32.0)
    chain = Chain((Line(Point(0.0, 18.0), joint), Arc(joint, end, Point(-30.0, 26.0), "ccw")))
    path = nose_path(chain, 0.8, "right")
    assert path.steps[0].element.end.distance_to(Point(float(meets[0]), float(meets[1]))) < 1e-9
    assert path.steps[1].element.start == path.steps[0].element.end


def bent(turn: float, nose: float) -> tuple[Chain, mpmath.mpf]:
    """Two lines of 20 that turn toward a nose on their right, and how much of each the nose does not come along."""
    corner, turn = Point(0.0, 30.0), mpmath.mpf(turn)
    end = Point(float(-20 * mpmath.cos(turn)), float(30 + 20 * mpmath.sin(turn)))
    return Chain((Line(Point(20.0, 30.0), corner), Line(corner, end))), nose * mpmath.tan(turn / 2)


@pytest.mark.parametrize("turn", [1e-9 * 1.5, 1e-8, 1e-7, 1e-6, 0.9e-5, 1.1e-5, 1e-4, 1e-3, 0.01, 0.049, 0.051])
def test_in_a_shallow_corner_the_path_goes_on_where_both_parallels_cross(turn: float) -> None:
    """Mpmath: r tan(turn / 2) before the corner of two lines; a joint that a print rounds is such a corner too."""
    nose = 2.0
    chain, kept = bent(turn, nose)
    path = nose_path(chain, nose, "right")
    assert [step.of for step in path.steps] == [0, 1]
    assert len(path.runs) == 1
    crossing = path.steps[0].element.end
    assert crossing == path.steps[1].element.start
    assert crossing.distance_to(Point(float(kept), 30.0 + nose)) < 1e-9
    assert path.steps[0].element.start == Point(20.0, 32.0)
    assert (
        path.steps[1].element.end.distance_to(
            chain.end.shifted(float(nose * mpmath.sin(turn)), float(nose * mpmath.cos(turn)))
        )
        < 1e-12
    )


def test_of_several_joints_the_last_is_trimmed_by_its_own_turn() -> None:
    """Behind a square shoulder the last joint turns by a thousandth of a degree: both parallels cross there."""
    bend, kept = bent(1.7e-5, 2.0)
    before = Line(Point(20.0, 50.0), bend.start)
    path = nose_path(Chain((before, *bend.elements)), 2.0, "right")
    assert [step.of for step in path.steps] == [0, 1, 2]
    assert path.steps[1].element.end.distance_to(Point(float(kept), 32.0)) < 1e-9


def test_in_a_rounded_corner_the_most_stays_half_way_between_the_walls() -> None:
    """R0.3 in a square corner under a nose of 2: on the bisector its surface is 2 - 2 / sqrt(2) from both walls."""
    wall, floor = Line(Point(0.0, 30.0), Point(0.0, 10.3)), Line(Point(0.3, 10.0), Point(20.0, 10.0))
    corner = Arc(wall.end, floor.start, Point(0.3, 10.3), "ccw")
    chain = Chain((wall, corner, floor))
    for path in (nose_path(chain, 2.0, "left"), nose_path(chain.reversed(), 2.0, "right")):
        (gap,) = path.unreached
        assert gap.elements == (0, 1, 2)
        assert gap.left == pytest.approx(2.0 - math.sqrt(2.0), abs=1e-9)


def test_an_element_that_nothing_is_near_is_cut_into_by_nothing() -> None:
    chain, _ = bent(0.5, 2.0)
    assert nose_path(chain, 2.0, "right").cut_by(Line(Point(500.0, 300.0), Point(400.0, 300.0))) == (0.0, 0)


@pytest.mark.parametrize("turn", [1e-8, 1e-5 * 1.1, 1e-3, 0.04])
@pytest.mark.parametrize("first", ["line", "arc"])
def test_where_an_arc_leaves_a_line_in_a_shallow_corner_the_path_turns_on_both_parallels(
    first: str, turn: float
) -> None:
    """Mpmath: a concave R 10 about (10 sin, 30 + 10 cos), its parallel of 8 and the line's at r 32 cross."""
    away, nose = mpmath.mpf(turn), 2.0
    centre = (10 * mpmath.sin(away), 30 + 10 * mpmath.cos(away))
    crossing = Point(float(centre[0] - mpmath.sqrt(64 - (centre[1] - 32) ** 2)), 32.0)
    crossing = min(crossing, Point(float(2 * centre[0]) - crossing.z, 32.0), key=lambda at: abs(at.z))
    middle = Point(float(centre[0]), float(centre[1]))
    end = Point(middle.z - 10.0, middle.r)
    chain = Chain((Line(Point(20.0, 30.0), Point(0.0, 30.0)), Arc(Point(0.0, 30.0), end, middle, "cw")))
    path = nose_path(chain, nose, "right") if first == "line" else nose_path(chain.reversed(), nose, "left")
    assert len(path.runs) == 1
    assert path.steps[0].element.end.distance_to(crossing) < 1e-7
    assert path.steps[0].element.end == path.steps[1].element.start
    assert chain.distance_to(path.steps[0].element.end) == pytest.approx(nose, abs=1e-10)


def test_along_facets_that_turn_toward_it_the_nose_goes_by_each_or_where_they_are_too_short_over_several() -> None:
    """Sixty chords of a concave R 3: a nose of 2 goes along each but 2 r tan(turn / 2); one of 2.9 as well."""
    points = [(-3.0 * math.sin(0.03 * number), 33.0 - 3.0 * math.cos(0.03 * number)) for number in range(61)]
    chain = lines(*points)
    for nose in (2.0, 2.9):
        path = nose_path(chain, nose, "right")
        assert [step.of for step in path.steps] == list(range(60))
        chord, trim = 6.0 * math.sin(0.015), nose * math.tan(0.015)
        assert path.centre_chains[0].length == pytest.approx(60.0 * chord - 118.0 * trim, abs=1e-9)
    path = nose_path(chain, 3.2, "right")
    assert {step.of for step in path.steps} < set(range(60))
    for step in path.steps:
        for share in (0.0, 0.5, 1.0):
            assert chain.distance_to(step.element.point_at(share * step.element.length)) == pytest.approx(3.2, abs=1e-9)


def test_on_a_contour_that_runs_beyond_the_axis_the_nose_goes_on_there() -> None:
    path = nose_path(lines((0.0, 10.0), (0.0, -5.0)), 1.0, "left")
    assert [(step.element.start, step.element.end) for step in path.steps] == [(Point(1.0, 10.0), Point(1.0, -5.0))]
    assert path.is_whole


@pytest.mark.parametrize("short", [0.0, 1e-10, -1e-10])
def test_an_end_that_misses_the_axis_by_rounding_is_on_it(short: float) -> None:
    """A 90 degree hollow cone: the centre ends on the axis, r sqrt 2 before the cone's point."""
    path = nose_path(lines((0.0, 10.0), (-10.0, short)), 2.0, "left")
    assert path.steps[-1].element.end.distance_to(Point(-10.0 + 2.0 * math.sqrt(2.0), 0.0)) < 1e-8


@pytest.mark.parametrize("start", range(4))
def test_the_path_round_a_closed_ring_is_outside_though_its_pocket_lies_as_a_whole_higher_than_its_foot(
    start: int,
) -> None:
    """A ring of R15 to R20 with a slit of 1 mm: outside 21 about its centre, in the pocket 14."""
    outer, inner = math.sqrt(400.0 - 0.25), math.sqrt(225.0 - 0.25)
    elements: list[Element] = [
        Arc(Point(0.5, 40.0 - outer), Point(-0.5, 40.0 - outer), Point(0.0, 40.0), "ccw"),
        Line(Point(-0.5, 40.0 - outer), Point(-0.5, 40.0 - inner)),
        Arc(Point(-0.5, 40.0 - inner), Point(0.5, 40.0 - inner), Point(0.0, 40.0), "cw"),
        Line(Point(0.5, 40.0 - inner), Point(0.5, 40.0 - outer)),
    ]
    path = nose_path(Chain((*elements[start:], *elements[:start])), 1.0, "right")
    highest = [max(step.element.bounds().r_max for run in runs for step in run) for runs in (path.runs, path.pockets)]
    assert highest == pytest.approx([61.0, 54.0], abs=1e-9)
    assert (len(path.runs), len(path.pockets)) == (1, 1)
    assert not {step.of for step in path.runs[0]} & {(1 - start) % 4, (2 - start) % 4}


def test_fillets_as_large_as_the_nose_behind_a_narrow_mouth_are_not_what_keeps_it_out() -> None:
    fillets = lines((10.0, 20.0), (0.0, 20.0), (0.0, 18.0), (3.0, 18.0), (3.0, 13.0)).elements
    floor = lines((2.0, 12.0), (-3.0, 12.0)).elements
    back = lines((-4.0, 13.0), (-4.0, 18.0), (-1.0, 18.0), (-1.0, 20.0), (-12.0, 20.0)).elements
    first = Arc(Point(3.0, 13.0), Point(2.0, 12.0), Point(2.0, 13.0), "cw")
    last = Arc(Point(-3.0, 12.0), Point(-4.0, 13.0), Point(-3.0, 13.0), "cw")
    (gap,) = nose_path(Chain((*fillets, first, *floor, last, *back)), 1.0, "right").unreached
    assert (gap.reason, gap.elements) == ("narrow", tuple(range(1, 10)))


def test_a_pocket_whose_lips_touch_is_rolled_over_and_keeps_its_whole_area() -> None:
    """A triangle 6 wide and 5 deep below one place of a straight line."""
    chain = lines((10.0, 20.0), (0.0, 20.0), (3.0, 15.0), (-3.0, 15.0), (0.0, 20.0), (-10.0, 20.0))
    path = nose_path(chain, 1.0, "right")
    (gap,) = path.unreached
    assert gap.elements == (1, 2, 3)
    assert gap.area == pytest.approx(15.0, abs=1e-9)
    assert path.centre_chains[0].length == pytest.approx(20.0, abs=1e-9)
