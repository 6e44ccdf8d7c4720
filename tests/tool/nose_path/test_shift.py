"""Points to key in without compensation, and what comes out when nobody shifts them."""

import math
from itertools import pairwise

import pytest

from calc.contour import Arc, Chain, Line, Point
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.language.working import recording
from calc.questions.tools.nose_contour import NoseInputs, answer_of, solve
from calc.questions.tools.nose_contour_drawing import left_profile
from calc.questions.tools.nosed_contour import Question
from calc.shapes.chosen import given_by, shape_chain
from calc.tool.compensation import compensation_cautions, compensation_results, lead_to
from calc.tool.nose_measures import measure_rows
from calc.tool.nose_path import nose_path
from calc.tool.nose_shift import key_rows, keyed_steps, taper_shift_x, taper_shift_z
from tests.tool.nose_path.contours import along, distance, random_contour

# Factors of the nose radius, computed from dZ = r (1 - tan(theta/2)) and dX = r (1 - tan((90 - theta)/2)) with 30
# digits; handbook tables print them to three or four decimals.
FACTORS = {
    5: (0.956339057, 0.083668826), 10: (0.912511337, 0.160900369), 15: (0.868347502, 0.232673012),
    20: (0.823673019, 0.299792462), 30: (0.732050808, 0.422649731), 45: (0.585786438, 0.585786438),
    60: (0.422649731, 0.732050808), 75: (0.232673012, 0.868347502),
}  # fmt: skip


def lines(*corners: tuple[float, float]) -> Chain:
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))


def chamfered(degrees: float) -> Chain:
    """A face, a chamfer of so many degrees to the axis, an outside: from the axis out."""
    length = 3.0
    rise = length * math.tan(math.radians(degrees))
    return lines((0.0, 5.0), (0.0, 12.0 - rise), (-length, 12.0), (-20.0, 12.0))


@pytest.mark.parametrize("degrees", FACTORS)
def test_the_rules_give_the_tabled_factors(degrees: int) -> None:
    along_z, along_x = FACTORS[degrees]
    assert taper_shift_z(1.0, math.radians(degrees)) == pytest.approx(along_z, abs=1e-9)
    assert taper_shift_x(1.0, math.radians(degrees)) == pytest.approx(along_x, abs=1e-9)


@pytest.mark.parametrize("degrees", [30.0, 45.0])
def test_the_points_of_a_chamfer_are_shifted_by_the_handbook_rule(degrees: float) -> None:
    """For tool point 3: on the face by dX toward the axis, on the outside by dZ toward the chuck."""
    rows = key_rows(nose_path(chamfered(degrees), 0.8, "right"), 3)
    on_face, on_outside = rows[1], rows[2]
    along_z, along_x = FACTORS[round(degrees)]
    assert on_face.shift_x == pytest.approx(-0.8 * along_x, abs=1e-9)
    assert on_face.shift_z == pytest.approx(0.0, abs=1e-12)
    assert on_outside.shift_z == pytest.approx(-0.8 * along_z, abs=1e-9)
    assert on_outside.shift_x == pytest.approx(0.0, abs=1e-12)


# A printed carbide catalogue of 2019-2020, p. 175, tip position by nose radius (mm), for noses of 1/64 to 6/64 in: a
# triangle with an edge at 90 degrees, where the point stands r (1 - tan 15 degrees) off, and a square held at 45
# degrees, where it stands r (sqrt 2 - 1) off.
PRINTED = {1: (0.291, 0.164), 2: (0.581, 0.329), 3: (0.872, 0.493), 4: (1.162, 0.658), 6: (1.743, 0.986)}


@pytest.mark.parametrize("sixty_fourths", PRINTED)
def test_shift_and_error_agree_with_printed_tip_positions(sixty_fourths: int) -> None:
    nose = sixty_fourths / 64 * 25.4
    triangle, square = PRINTED[sixty_fourths]
    assert taper_shift_z(nose, math.radians(30.0)) == pytest.approx(triangle, abs=6e-4)
    row = measure_rows(chamfered(45.0), nose, "right", 3)[1]
    assert row.left == pytest.approx(square, abs=6e-4)


@pytest.mark.parametrize("degrees", FACTORS)
def test_an_unshifted_chamfer_is_as_much_too_large_as_its_points_should_have_been_shifted(degrees: int) -> None:
    row = measure_rows(chamfered(float(degrees)), 0.8, "right", 3)[1]
    along_z, along_x = FACTORS[degrees]
    assert row.z_off == pytest.approx(0.8 * along_z, abs=1e-9)
    assert row.diameter_off == pytest.approx(2 * 0.8 * along_x, abs=1e-9)


@pytest.mark.parametrize("number", range(10))
@pytest.mark.parametrize("shape", ["seat", "pad", "stem"])
def test_the_tool_point_led_over_the_keyed_points_touches_the_print(shape: str, number: int) -> None:
    """First principles: shifted back, every keyed element is one nose radius from the print, or beyond a corner."""
    chain = shape_chain(shape, None)
    side = "left" if shape != "stem" else "right"
    path = nose_path(chain, 0.8, side)  # type: ignore[arg-type]  # one of two words
    back = nose_path(chain, 0.8, side).tool_point_chains(number)[0]  # type: ignore[arg-type]  # one of two words
    shift = back.start.to(path.centre_chains[0].start)
    for run in keyed_steps(path, number):
        for step in run:
            for place in range(9):
                point = step.element.point_at(step.element.length * place / 8).moved(shift)
                assert chain.distance_to(point) >= 0.8 - 1e-9


UNDERCUT = "s_x40_z0*t_z-10*l_x34_z-8.268*t_z-11.7*f_x50*t_z-30"


def test_the_nose_is_not_led_on_past_a_corner_into_the_wall_behind_it() -> None:
    """A corner of 150 degrees 1.7 before a wall: led on, the nose would stand 0.314 from the wall, 0.486 inside."""
    found = solve(NoseInputs(contour=given_by(UNDERCUT), nose_radius=0.8, tool_point="3", side="right"))
    rows = found.tables["key_points"]
    assert not any(row.key_z == pytest.approx(-12.186, abs=1e-3) for row in rows)
    assert [row.move for row in rows][1:3] == ["G1", "G3"]
    assert rows[2].radius == pytest.approx(0.8)
    said = [caution.message.say() for caution in found.cautions]
    assert said[0].startswith("At X40.000 Z-10.000 key in the arc R0.8 mm round the corner, as listed:")
    assert "would cut 0.486 mm into element 4" in said[0]


@pytest.mark.parametrize("batch", range(10))
def test_keyed_points_never_lead_the_nose_into_the_print(batch: int) -> None:
    """First principles: every place of every keyed element stands one nose radius or more from all of the print."""
    for seed in range(30 * batch, 30 * batch + 30):
        path = nose_path(random_contour(seed, 9), (0.4, 0.8, 1.6)[seed % 3], "left" if seed % 2 else "right")
        for run in keyed_steps(path, 9):
            for step in run:
                for point in along(step.element, 16):
                    assert distance(point, path.chain) >= path.nose_radius - 1e-8


def test_a_print_followed_by_the_nose_centre_is_cut_too_deep_by_the_nose() -> None:
    """Tool points 0 and 9 are the centre itself."""
    for number in (0, 9):
        assert all(row.deep == pytest.approx(0.8) for row in measure_rows(chamfered(45.0), 0.8, "right", number)[:3])


def test_the_pad_with_a_nose_of_04_keeps_a_sixth_of_a_millimetre_on_its_edge() -> None:
    """R 1/32 in with a nose of 0.4: at 45 degrees 0.4 (sqrt 2 - 1), and a radius of 0.794 - 0.4."""
    answer = solve(NoseInputs(shape="pad", nose_radius=0.4, tool_point="3"))
    edge = answer.tables["measured"][1]
    assert edge.left == pytest.approx(0.4 * (math.sqrt(2.0) - 1.0), abs=1e-9)
    assert edge.becomes == pytest.approx(25.4 / 32 - 0.4, abs=1e-9)
    assert answer.results.unshifted.worst_element == "2, convex arc"


def test_the_left_profile_is_as_far_from_the_print_as_the_table_says() -> None:
    chain = chamfered(30.0)
    profile = left_profile(Question(chain, 0.8, 3, "right"))[0]
    row = measure_rows(chain, 0.8, "right", 3)[1]
    slope = next(each for each in profile if 0.4 < abs(each.start_heading - math.pi) < 0.7)
    assert chain.elements[1].distance_to(slope.point_at(slope.length / 2)) == pytest.approx(row.left, abs=1e-9)


def test_on_the_seat_tool_point_3_ends_beyond_the_axis_by_the_nose_and_tool_point_2_does_not_cross_it() -> None:
    chain = shape_chain("seat", None)
    said = {
        number: " ".join(each.message.say() for each in answer_of(Question(chain, 6.0, number, "left")).cautions)
        for number in (2, 3)
    }
    assert "tool point 3 ends 6.000 mm beyond it" in said[3]
    assert "tool point" not in said[2]
    assert key_rows(nose_path(chain, 6.0, "left"), 2)[-1].key_x == pytest.approx(6.0)
    assert key_rows(nose_path(chain, 6.0, "left"), 3)[-1].key_x == pytest.approx(-6.0)


def test_arcs_are_keyed_with_their_radius_less_or_more_the_nose() -> None:
    rows = key_rows(nose_path(shape_chain("seat", None), 6.0, "left"), 3)
    assert [row.radius for row in rows if row.radius] == [pytest.approx(6.8), pytest.approx(69.0)]
    assert [row.move for row in rows] == ["", "G1", "G2", "G3"]


def test_the_working_holds_the_rule_for_each_slope_and_arc() -> None:
    with recording() as steps:
        answer_of(Question(shape_chain("stem", None), 0.8, 3, "right"))
    names = [step.formula.name.rsplit(".", 1)[1] for step in steps]
    assert names.count("taper_shift_z") == 3
    assert names.count("taper_shift_x") == 3
    assert names.count("concave_radius") == 1


def fillet(radius: float) -> Chain:
    return Chain((
        Line(Point(0.0, 20.0), Point(0.0, 10.0 + radius)),
        Arc(Point(0.0, 10.0 + radius), Point(radius, 10.0), Point(radius, 10.0 + radius), "ccw"),
        Line(Point(radius, 10.0), Point(9.0, 10.0)),
    ))  # fmt: skip


def words(chain: Chain, nose: float, lead: Line | None = None) -> str:
    path = nose_path(chain, nose, "left")
    return " ".join(caution.message.say() for caution in compensation_cautions(path, lead))


def test_a_lead_in_not_longer_than_the_nose_is_warned_of_with_its_length() -> None:
    chain = fillet(2.0)
    assert "0.700 mm is not longer than the nose R0.8 mm" in words(chain, 0.8, lead_to(chain.start, 0.7, math.pi))
    assert "1.600 mm on the diameter" in words(chain, 0.8, lead_to(chain.start, 0.7, math.pi))
    assert "lead-in" not in words(chain, 0.8, lead_to(chain.start, 1.0, math.pi))


def test_a_lead_in_from_the_wrong_side_is_warned_of() -> None:
    chain = fillet(2.0)
    assert "lead-in stands at" in words(chain, 0.8, lead_to(chain.start, 3.0, 0.0))


def test_a_concave_radius_below_the_nose_is_named_with_both() -> None:
    assert "concave R0.500 mm near element 2 is smaller than the nose R0.8 mm" in words(fillet(0.5), 0.8)
    assert words(fillet(0.8), 0.8) == ""


def test_compensation_results_tell_side_lead_in_and_spare_radius() -> None:
    found = compensation_results(nose_path(fillet(2.0), 0.8, "left"), None)
    assert found.side_word == "G41, tool on the left of travel"
    assert found.least_lead_in == 0.8
    assert found.least_lead_in_x == 0.8
    assert found.spare_hollow == pytest.approx(1.2)
    assert found.lead_angle is None


def test_elements_are_called_by_the_numbers_of_their_rows() -> None:
    """Rows: a face 1 with a chamfer after it, a cylinder 2, a shoulder 3; the chamfer has no number of its own."""
    found = solve(NoseInputs(contour=given_by("s_x0_z0*f_x20*c1*t_z-28*f_x40"), nose_radius=0.8, side="right"))
    assert [row.element for row in found.tables["measured"]] == ["1", "chamfer after 1", "2", "3"]
    assert [row.elements for row in found.tables["unreached"]] == ["2 to 3"]
    said = [caution.message.say() for caution in found.cautions]
    assert any(each.startswith("The nose leaves R0.8 mm in the inside corner at X20.000 Z-28.000:") for each in said)
    assert [row.at for row in found.tables["key_points"]][1:3] == [
        "element 1 to chamfer after 1",
        "the chamfer after 1 to 2",
    ]


@pytest.mark.parametrize(("nose", "left"), [(0.4, 0.117157), (0.8, 0.234315), (1.2, 0.351472), (6.0, 1.757359)])
def test_what_stays_in_a_square_corner_is_the_headline_where_the_print_comes_out_right(
    nose: float, left: float
) -> None:
    """Closed form: r (1 - 1 / sqrt 2) square to the nearest wall; r (sqrt 2 - 1) to the sharp corner."""
    found = solve(NoseInputs(contour=given_by("s_x20_z0*t_z-28*f_x60"), nose_radius=nose, side="right"))
    assert found.headline == "largest_left"
    assert found.results.way.largest_left == pytest.approx(left, abs=1e-6)
    assert found.results.way.largest_unreached == pytest.approx(nose * (math.sqrt(2.0) - 1.0), abs=1e-9)


def test_a_step_between_two_corners_needs_two_noses_at_right_angles() -> None:
    groove = lines((0.0, 20.0), (0.0, 16.0), (5.0, 16.0), (5.0, 20.0))
    found = compensation_results(nose_path(groove, 0.8, "left"), None)
    assert found.smallest_step == pytest.approx(5.0)
    assert found.step_needed == pytest.approx(1.6)


def test_without_a_contour_one_is_asked_for() -> None:
    with pytest.raises(Missing, match="Add the first element"):
        solve(NoseInputs(nose_radius=0.8))


def test_what_is_missing_of_an_own_contour_is_said_at_its_rows() -> None:
    with pytest.raises(Missing) as refused:
        solve(NoseInputs(contour=given_by("s_x20_z0*l*t_z-30"), nose_radius=0.8))
    assert any(fault.field.startswith("rows.1") for fault in refused.value.faults)


def test_an_own_contour_that_meets_itself_is_refused() -> None:
    crossing = given_by("s_x60_z0*l_x40_z-10*l_x60_z-10*l_x40_z0")
    with pytest.raises(Impossible, match="meet at"):
        solve(NoseInputs(contour=crossing, nose_radius=0.8))


@pytest.mark.parametrize("text", ["nonsense", "s_xfoo_z0*t_z-5"])
def test_a_text_that_is_no_contour_is_refused(text: str) -> None:
    with pytest.raises(OutOfRange):
        given_by(text)


def test_a_nose_that_touches_nothing_is_refused() -> None:
    tight = Chain((Arc(Point(0.0, 10.0), Point(-1.0, 11.0), Point(-1.0, 10.0), "ccw"),))
    with pytest.raises(Impossible, match="touches no place"):
        answer_of(Question(tight, 5.0, 3, "left"))
