"""A print's numbers are rounded: what all of them can be within their last digit is never called a contradiction."""

import random

import pytest

from calc.contour.solving import GivenElement, Solutions, Start, solve
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible
from calc.shapes.chosen import given_by
from tests.contour.solving.made import Print, random_print
from tests.contour.solving.rounding import ENDS_AND_CENTRES, ENDS_AND_SIZES, EVERYTHING, over_given, rounded_print
from tests.contour.solving.shop import shop_print

E = GivenElement


def _prints(seeds: range) -> list[Print]:
    return [shop_print(seed, 2 + seed % 4) if seed % 2 else random_print(seed, 2 + seed % 7) for seed in seeds]


def _miss(found: Solutions, made: Print) -> float:
    """How far the nearest solution's joints are from the contour that was rounded, mm."""
    pairs = [zip(one.sharp, made.original, strict=True) for one in found.solutions]
    return min(max(a.end.distance_to(b.end) for a, b in pair) for pair in pairs)


@pytest.mark.parametrize("decimals", [3, 2])
@pytest.mark.parametrize("names", [ENDS_AND_SIZES, ENDS_AND_CENTRES, EVERYTHING])
def test_a_correctly_rounded_print_is_answered(names: tuple[str, ...], decimals: int) -> None:
    """Every end with radii, with centres, and every dimension at once; the long run stands in the benchmark."""
    for made in _prints(range(8)):
        tangent = [one.tangent for one in made.elements]
        found = solve(*rounded_print(made.original, tangent, names, decimals))
        assert _miss(found, made) <= 2.0 * 10.0**-decimals


def test_every_dimension_of_the_answer_lies_within_its_rounding() -> None:
    """Ends, radius and smooth joint of a fillet R8 between a cylinder and a cone of 30° (by hand, to 2 decimals)."""
    hundredth = 0.005
    rows = [
        E("line", z=Given(-20.0, hundredth), r=Given(15.5, hundredth / 2)),
        E("arc", z=Given(-24.0, hundredth), r=Given(16.57, hundredth / 2), radius=Given(8.0, 0.0005), tangent=True),
        E("line", z=Given(-40.0, hundredth), r=Given(25.81, hundredth / 2), tangent=True),
    ]
    (solution,) = solve(Start(0.0, 15.5), rows).solutions
    for joint, row in zip(solution.joints[1:], rows, strict=True):
        assert row.z is not None
        assert row.r is not None
        assert joint.z == pytest.approx(row.z, abs=hundredth * 1.001)
        assert joint.r == pytest.approx(row.r, abs=hundredth / 2 * 1.001)


def test_an_over_given_print_is_never_called_under_given() -> None:
    for seed, made in enumerate(_prints(range(60))):
        found = solve(*over_given(made, random.Random(seed), 1 + seed % 3))
        assert _miss(found, made) < 1e-3 * made.size


def test_a_step_that_repeats_what_a_quarter_turn_says_leaves_nothing_missing() -> None:
    given = given_by("s_x0_z0*f*a_r5_ccw_smooth_z-5_dx10*t_z-30*f_x80_dx20")
    (solution,) = solve(given.start, given.elements).solutions
    assert [joint.r for joint in solution.joints] == pytest.approx([0.0, 25.0, 30.0, 30.0, 40.0])


def test_a_length_that_is_wrong_by_2_mm_is_said_to_be_so_on_the_nearest_branch() -> None:
    """Radius, both ends and the centre's Z of an arc (3-4-5 triangle), its X 2 mm off: no more is said."""
    arc = E("arc", z=-8.0, r=24.0, radius=10.0, centre_z=0.0, centre_r=20.0)
    with pytest.raises(Contradiction) as error:
        solve(Start(0.0, 10.0), [arc])
    off = error.value.faults[0].message.values["off"]
    assert abs(off.value) <= 2.0  # type: ignore[union-attr]  # a quantity


def test_an_arc_that_never_comes_to_its_end_is_called_an_arc_with_its_dimensions() -> None:
    rows = [E("line", z=-10.0, r=10.0), E("arc", r=12.0, radius=5.0, centre_r=20.0, tangent=True)]
    with pytest.raises((Impossible, Contradiction)) as error:
        solve(Start(0.0, 10.0), rows)
    assert "arc of element 2" in str(error.value) or "of element 2" in str(error.value)
    assert "line of element 2" not in str(error.value)
