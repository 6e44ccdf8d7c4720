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
