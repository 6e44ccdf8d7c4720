"""Contours whose points are known beforehand, and parts of the levelling foot."""

import math

import pytest

from calc.contour import Arc
from calc.contour.solving import GivenCorner, GivenElement, Solution, Start, solve
from calc.language.fits import aimed_at, read_class, scaled
from tests.contour.solving.cases import CASES, deg

E = GivenElement


def _only(start: Start, *elements: GivenElement) -> Solution:
    (solution,) = solve(start, elements).solutions
    return solution


def test_an_s_of_two_arcs_starts_and_joins_where_it_must() -> None:
    # worked by hand: R5 first on diameter 30, R8 up to diameter 50, ending at Z -25, all tangent
    case = CASES["S of two arcs"]
    joints = _only(case.start, *case.elements).joints
    assert joints[1].z == pytest.approx(-12.35089, abs=5e-6)
    assert (2 * joints[2].r, joints[2].z) == pytest.approx((37.69231, -17.21593), abs=5e-6)
    # in closed form: centres 13 apart, 3 below the sum of the radii in X
    assert joints[1].z == pytest.approx(-25.0 + math.sqrt(13.0**2 - 3.0**2), abs=1e-12)


def test_the_stem_blends_into_its_cone() -> None:
    # 30 degrees of half angle: the tangent is 8 tan 15 degrees long
    joints = (
        solve(
            Start(-75.0, 15.5),
            [
                E("line", r=15.5),
                E("arc", radius=8.0, tangent=True),
                E("line", angle=deg(150), z=-90.0, r=20.5, tangent=True),
            ],
        )
        .solutions[0]
        .joints
    )
    corner = -90.0 + 5.0 / math.tan(math.radians(30.0))
    reach = 8.0 * math.tan(math.radians(15.0))
    assert joints[1].z == pytest.approx(corner + reach, abs=1e-9)
    assert joints[2].z == pytest.approx(corner - reach * math.cos(math.radians(30.0)), abs=1e-9)
    assert joints[2].r == pytest.approx(15.5 + reach * math.sin(math.radians(30.0)), abs=1e-9)


def test_the_whole_stem_comes_out_in_one_go() -> None:
    aim = scaled(aimed_at(24.0, read_class("g6")), 0.5)
    solutions = solve(
        Start(0.0, 0.0),
        [
            E("line", z=0.0, angle=math.pi / 2, corner=GivenCorner("chamfer", 1.0)),
            E("line", z=-22.0, r=11.0, angle=math.pi - math.atan(0.05)),
            E("line", z=-22.0, r=aim),
            E("line", z=-60.0, r=aim),
            E("line", z=-60.0, r=15.5),
            E("line", r=15.5),
            E("arc", radius=8.0, tangent=True),
            E("line", angle=deg(150), z=-90.0, r=20.5, tangent=True),
        ],
    )
    solution = solutions.solutions[0]
    assert solution.joints[1].r == pytest.approx(9.9, abs=1e-12)
    assert solution.joints[3].r == pytest.approx(11.99325)
    assert [one.of for one in solution.elements] == [0, 0, 1, 2, 3, 4, 5, 6, 7]
    assert [note.say() for note in solutions.notes] == [
        "The end's X of element 3 is aimed at the middle of its limits, X23.986 mm (nominal X24 mm, "
        "from X23.98 mm to X23.993 mm).",
        "The end's X of element 4 is aimed at the middle of its limits, X23.986 mm (nominal X24 mm, "
        "from X23.98 mm to X23.993 mm).",
    ]


def test_the_pad_has_its_crown_and_edge() -> None:
    # inch: crown R 2.9375 on diameter 2.000, edge radius 1/32: height .17545, edge from diameter 1.95833, .16800
    # below the apex, to .19746
    inch = 25.4
    solution = _only(
        Start(0.0, 0.0),
        E("arc", radius=2.9375 * inch, centre_r=0.0, centre_z=-2.9375 * inch, turn="ccw"),
        E("arc", radius=inch / 32.0, turn="ccw", tangent=True),
        E("line", r=inch, angle=math.pi, z=-0.5 * inch, tangent=True),
    )
    _, tangent, cylinder, _ = solution.joints
    assert (2 * tangent.r / inch, -tangent.z / inch) == pytest.approx((1.95833, 0.16800), abs=5e-6)
    assert -cylinder.z / inch == pytest.approx(0.19746, abs=5e-6)
    sharp = _only(
        Start(0.0, 0.0),
        E("arc", r=inch, centre_r=0.0, centre_z=-2.9375 * inch, turn="ccw"),
        E("line", r=inch, z=-0.5 * inch, angle=math.pi),
    )
    assert -sharp.joints[1].z / inch == pytest.approx(0.17545, abs=5e-6)


@pytest.mark.parametrize("name", CASES)
def test_a_print_of_the_catalogue_means_so_many_contours(name: str) -> None:
    case = CASES[name]
    solutions = solve(case.start, case.elements)
    assert len(solutions.solutions) == case.meanings
    assert solutions.complete
    assert not solutions.more


@pytest.mark.parametrize("name", CASES)
def test_labels_tell_the_solutions_apart(name: str) -> None:
    labels = [solution.label.say() for solution in solve(CASES[name].start, CASES[name].elements).solutions]
    assert len(set(labels)) == len(labels)


def test_a_part_of_two_metres_is_as_exact_as_a_small_one() -> None:
    case = CASES["S of two arcs"]
    far = [
        E("line", r=1015.0),
        E("arc", radius=5.0, tangent=True),
        E("arc", radius=8.0, tangent=True, z=-2025.0, r=1025.0),
        E("line", r=1025.0, z=-2040.0, tangent=True),
    ]
    near, moved = _only(case.start, *case.elements), _only(Start(-2000.0, 1015.0), *far)
    for a, b in zip(near.joints, moved.joints, strict=True):
        assert b.distance_to(a.shifted(-2000.0, 1000.0)) < 1e-9


def test_arcs_of_one_radius_are_told_by_their_centre_and_their_length() -> None:
    solutions = solve(Start(0.0, 40.0), [E("arc", z=-10.0, r=50.0, radius=12.0)]).solutions
    assert [solution.label.say() for solution in solutions] == [
        "The shorter arc 1, centre of arc 1 inside the part",
        "The shorter arc 1, centre of arc 1 outside the part",
        "The longer arc 1, centre of arc 1 inside the part",
        "The longer arc 1, centre of arc 1 outside the part",
    ]
    assert all(isinstance(solution.sharp[0], Arc) for solution in solutions)
