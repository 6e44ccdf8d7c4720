"""The contour feature: blanks of whole parts against elementary geometry, results against quadrature and polygons."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad

from calc.answer.feature import Answer, Unfinished
from calc.contour import Chain
from calc.contour.solving import UnderGiven
from calc.contour.text import read_rows, rows_of
from calc.cutting.materials import material
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange
from calc.language.quantities import View
from calc.questions.shapes.contour import FEATURE, PAD, SEAT, STEM, Beside, ContourInputs, solve_contour
from calc.threads.on_print import NAMES

S_CURVE = "s_x30_z0*t*a_r5_smooth*a_r8_x50_z-25_smooth*t_z-30_smooth"
INCH = View("inch")


def solved(text: str, view: View | None = None, chosen: str = "", **beside: Any) -> Answer[Any]:
    given, faults = read_rows(rows_of(text), view or View(), NAMES)
    assert faults == ()
    return solve_contour(ContourInputs(contour=given, chosen=chosen, beside=Beside(**beside)))


def joints(answer: Answer[Any]) -> list[tuple[float, float]]:
    """Diameter and Z of every point, mm."""
    return [(2 * point.spot.r, point.spot.z) for point in answer.points]


def test_an_s_between_two_cylinders_starts_and_turns_where_two_circles_touch() -> None:
    """R5 on diameter 30 and R8 up to diameter 50 at Z -25, all tangent: centres at radius 20 and 17, 13 apart."""
    start_z = -25 + math.sqrt(13**2 - (20 - 17) ** 2)
    found = joints(solved(S_CURVE))
    assert found[1] == pytest.approx((30, start_z), abs=1e-9)
    assert found[2] == pytest.approx((2 * (20 - 3 * 5 / 13), start_z + 5 / 13 * (-25 - start_z)), abs=1e-9)
    assert found[1] == pytest.approx((30, -12.35089), abs=5e-6)
    assert found[2] == pytest.approx((37.69231, -17.21593), abs=5e-6)


def test_the_pad_has_the_height_of_its_circular_segment_and_its_edge_touches_both() -> None:
    """Crown R 2.9375 in on 2.000 in with an edge radius of 1/32: circular segment of any handbook, tangent circles."""
    radius, edge = 2.9375, 1 / 32
    answer = solved(PAD["contour"], INCH)
    found = [(x / 25.4, z / 25.4) for x, z in joints(answer)]
    reach = math.sqrt((radius - edge) ** 2 - (1 - edge) ** 2)  # along Z from the crown's centre to the edge's
    on_crown = radius / (radius - edge)
    assert found[1] == pytest.approx((2 * (1 - edge) * on_crown, reach * on_crown - radius), abs=1e-9)
    assert found[2] == pytest.approx((2.0, reach - radius), abs=1e-9)
    assert found[1] == pytest.approx((1.95833, -0.16800), abs=5e-6)
    assert found[2] == pytest.approx((2.00000, -0.19746), abs=5e-6)
    assert -answer.solved["rows.1.z"] / 25.4 == pytest.approx(radius - math.sqrt(radius**2 - 1), abs=1e-9)
    assert -answer.solved["rows.1.z"] / 25.4 == pytest.approx(0.17545, abs=5e-6)


def test_the_stem_comes_out_as_its_print_leaves_it_out() -> None:
    """Taper 1:10 over 22 from diameter 22; 24 g6 by ISO 286-1; R 8 in the corner of a cylinder and a 30 degree cone."""
    found = joints(solved(STEM["contour"]))
    corner = -90 + (20.5 - 15.5) / math.tan(math.radians(30))
    tangent = 8 * math.tan(math.radians(15))
    assert solved(STEM["contour"]).solved["rows.1.x"] * 2 == pytest.approx(22 - 22 / 10, abs=1e-9)
    assert found[4] == pytest.approx((23.9865, -22), abs=1e-9)
    assert found[7] == pytest.approx((31, corner + tangent), abs=1e-9)
    assert found[8] == pytest.approx((31 + 2 * tangent * 0.5, corner - tangent * math.sqrt(0.75)), abs=1e-9)


def test_the_seat_has_the_mouth_of_its_circular_segment() -> None:
    """Dish R 75, 4.5 deep: sharp mouth 2 sqrt(2 R h - h^2) = 51.176."""
    answer = solved(SEAT["contour"])
    assert 2 * answer.solved["rows.1.x"] == pytest.approx(2 * math.sqrt(2 * 75 * 4.5 - 4.5**2), abs=1e-9)


# --- results ----------------------------------------------------------------------------------------------------------


def polyline(chain: Chain, count: int = 4000) -> np.ndarray:
    """Points along a chain as an array of (z, r)."""
    spots = [element.point_at(element.length * k / count) for element in chain for k in range(count + 1)]
    return np.array([(spot.z, spot.r) for spot in spots])


@pytest.mark.parametrize("text", [S_CURVE, STEM["contour"], SEAT["contour"]])
def test_length_volume_and_surface_agree_with_a_fine_polyline(text: str) -> None:
    """Frustums: pi h (a^2 + ab + b^2) / 3 and pi (a + b) s, summed over 4,000 steps of each element."""
    answer = solved(text)
    assert answer.contour is not None
    line = polyline(answer.contour)
    (z0, r0), (z1, r1) = line[:-1].T, line[1:].T
    steps = np.hypot(z1 - z0, r1 - r0)
    volume = abs((math.pi * (z0 - z1) * (r0**2 + r0 * r1 + r1**2) / 3).sum())
    assert answer.results.length == pytest.approx(steps.sum(), rel=1e-6)
    assert answer.results.surface == pytest.approx((math.pi * (r0 + r1) * steps).sum(), rel=1e-6)
    assert answer.results.volume == pytest.approx(volume, rel=1e-6)


def test_the_volume_of_the_s_agrees_with_quadrature_along_z() -> None:
    start, joint = -25 + math.sqrt(160), -25 + math.sqrt(160) * 8 / 13

    def radius(z: float) -> float:
        if z > start:
            return 15.0
        if z > joint:
            return 20 - math.sqrt(max(25 - (z - start) ** 2, 0.0))
        return 17 + math.sqrt(max(64 - (z + 25) ** 2, 0.0)) if z > -25 else 25.0

    found, _ = quad(lambda z: math.pi * radius(z) ** 2, -30, 0, points=[start, joint, -25], epsabs=1e-7)
    assert solved(S_CURVE).results.volume == pytest.approx(found, rel=1e-9)


def test_the_mass_is_the_volume_by_the_density_of_the_material() -> None:
    """Steel is near 7.85 kg/dm3 (Machinery's Handbook; EN 10088-1 tables): 36 cm3 weigh 0.28 kg."""
    results = solved(S_CURVE, material="C45").results
    assert results.mass == pytest.approx(results.volume * material("C45").density)
    assert results.mass == pytest.approx(0.0359477 * 7.85, rel=0.01)
    assert solved(S_CURVE).results.mass is None


FALLING = [
    "s_x40_z0*l_x20_z-20*a_r30_x60_z-60_cw",  # steepest at the end of the line
    "s_x40_z0*a_r20_x20_cx0_cz0_ccw",  # steeper and steeper, up to 60 degrees
    "s_x40_z0*t_z-5*f_x30*t_z-9*f_x40*t_z-20",  # a groove: 90 degrees
    "s_x40_z0*t_z-5*l_x30_z-4*t_z-9*f_x40*t_z-20",  # a wall that hangs over
]


@pytest.mark.parametrize("side", ["right", "left"])
@pytest.mark.parametrize("text", [S_CURVE, STEM["contour"], SEAT["contour"], *FALLING])
def test_the_steepest_fall_is_that_of_the_steepest_chord_of_a_fine_polyline(text: str, side: str) -> None:
    answer = solved(text, side=side)
    assert answer.contour is not None
    line = polyline(answer.contour)
    dz, dr = (line[1:] - line[:-1]).T
    falling = dr if side == "left" else -dr
    angles = np.degrees(np.arctan2(falling, -dz))[falling > 1e-9]
    found = answer.results.steepest_fall
    assert (found is None) == (len(angles) == 0)
    assert found is None or math.degrees(found) == pytest.approx(angles.max(), abs=0.05)


@pytest.mark.parametrize(
    ("text", "degrees"), [*zip(FALLING[1:], (60, 90, 180 - math.degrees(math.atan(5))), strict=True)]
)
def test_falls_of_elementary_geometry(text: str, degrees: float) -> None:
    assert math.degrees(solved(text).results.steepest_fall) == pytest.approx(degrees, abs=1e-6)


def test_a_contour_that_only_rises_toward_the_chuck_has_no_fall() -> None:
    assert solved(STEM["contour"]).results.steepest_fall is None


@pytest.mark.parametrize(("side", "smallest"), [("right", 5.0), ("left", 8.0)])
def test_the_smallest_concave_radius_is_of_arcs_hollow_toward_the_tool(side: str, smallest: float) -> None:
    """On the S the R5 is hollow from outside, the R8 from within: their centres lie at radius 20 and 17."""
    assert solved(S_CURVE, side=side).results.smallest_concave_radius == pytest.approx(smallest)


def test_centres_are_told_absolute_and_from_the_start_of_the_arc() -> None:
    row = solved(S_CURVE).tables["arcs"][0]
    assert (row.centre_x, row.i) == pytest.approx((20.0, 5.0))
    assert (row.centre_z, row.k) == pytest.approx((-25 + math.sqrt(160), 0.0), abs=1e-9)
    assert row.swept == pytest.approx(math.atan2(math.sqrt(160), 3), abs=1e-9)


def test_steps_add_up_to_the_absolute_points() -> None:
    answer = solved(STEM["contour"])
    x = z = 0.0
    for row in answer.tables["dimensions"]:
        x, z = x + row.dx, z + row.dz
        assert (row.x, row.z) == pytest.approx((x, z), abs=1e-9)


def test_elements_are_numbered_as_on_the_print_and_corners_bear_the_number_they_end() -> None:
    numbers = [row.number for row in solved("s_x0_z0*f_x20*c1*t_z-9*e2*f_x40*t_z-12").tables["dimensions"]]
    assert numbers == ["1", "1, corner", "2", "2, corner", "3", "4"]


def test_the_headline_is_the_contour_itself_with_its_points() -> None:
    """Of the stem Ø41, of the S-curve Ø50; every element has an end, and there is a start."""
    for text, largest, words in ((STEM["contour"], 41.0, "10 points, 3 solved"), (S_CURVE, 50.0, "5 points, 2 solved")):
        answer = solved(text)
        assert answer.headline == "contour"
        assert answer.results.contour == words
        assert len(answer.points) == int(words.split()[0])
        assert answer.results.largest_diameter == pytest.approx(largest)
    assert solved(S_CURVE).results.solved_z == pytest.approx(-25.0 + math.sqrt(160.0))


def test_a_sharp_corner_that_is_broken_is_no_first_number() -> None:
    """The X19.8 of the stem's face is under its chamfer: the part has it nowhere."""
    results = solved("s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24*t_z-30").results
    assert results.solved_x is None
    assert results.solved_at is None


def test_an_angle_is_given_to_the_axis_and_to_the_face() -> None:
    """58° to the face is 32° to the axis."""
    cone = solved("s_x20_z0*l_ha32_z-10").tables["dimensions"][0]
    assert (math.degrees(cone.to_axis), math.degrees(cone.to_face)) == pytest.approx((32.0, 58.0))


# --- several solutions ------------------------------------------------------------------------------------------------

TWO = "s_x20_z0*l_z-10_x20*a_r10_x30_z-14"


def test_several_contours_are_numbered_told_apart_and_chosen_by_where_they_differ() -> None:
    first = solved(TWO)
    rows = first.tables["solutions"]
    assert len({row.label for row in rows}) == len({row.choice for row in rows}) == len(rows) >= 2
    for row in rows:
        chosen = solved(TWO, chosen=row.choice)
        assert f"number {row.number} is drawn" in chosen.cautions[-1].message.say()
    assert joints(first) == joints(solved(TWO, chosen=rows[0].choice))


def test_a_choice_survives_a_small_change_and_says_so_when_it_is_gone() -> None:
    choice = solved(TWO).tables["solutions"][1].choice
    name, x, z = choice.split()
    near = solved(TWO, chosen=f"{name} {float(x) + 0.02:.3f} {z}")
    assert near.contour == solved(TWO, chosen=choice).contour
    gone = solved(TWO, chosen="p1 999.000 0.000")
    assert "does not exist" in gone.notes[-1].say()
    assert solved(TWO, chosen="nonsense").contour == solved(TWO).contour


@pytest.mark.parametrize(("turns", "asked"), [(("", ""), ": give the turn of each arc."), (("_cw", "_ccw"), ".")])
def test_where_more_may_be_than_are_listed_the_turns_left_out_are_asked_for(turns: tuple[str, str], asked: str) -> None:
    """Waves of eight arcs R8 in steps of 4: each joint may rise or fall; without their turns there are more still."""
    rows = [f"a_r8_z-{4 * i}{'_smooth' if i > 1 else ''}{turns[i % 2]}" for i in range(1, 9)]
    answer = solved("*".join(["s_x40_z0", *rows[:-1], f"{rows[-1]}_x60"]))
    assert answer.notes[-1].say() == "There may be more contours with these dimensions than are listed" + asked


def test_one_contour_needs_no_choice() -> None:
    assert solved(S_CURVE).tables["solutions"] == ()


# --- no answer --------------------------------------------------------------------------------------------------------


def test_too_little_is_said_once_and_at_the_rows_of_what_can_move() -> None:
    with pytest.raises(Unfinished) as caught:
        solved("s_x0_z0*f_x20*c1*t_z-10*a_r5")
    assert [fault.field for fault in caught.value.faults] == ["contour", "rows.4"]
    assert caught.value.faults[0].message.say() == "2 more dimensions are needed: element 3 can still move."
    assert isinstance(caught.value.__cause__, UnderGiven)


def test_what_is_settled_is_drawn_and_told_while_the_rest_is_missing() -> None:
    with pytest.raises(Unfinished) as caught:
        solved("s_x0_z0*f_x20*c1*t_dz-10*a_r5")
    assert caught.value.drawing is not None
    assert caught.value.drawing.spots[-1][1].z == pytest.approx(-10)
    assert caught.value.solved["rows.3.z"] == pytest.approx(-10)


def test_a_corner_waits_for_its_size_and_for_the_element_after_it() -> None:
    with pytest.raises(Missing, match="How large"):
        solved("s_x0_z0*f_x20*c*t_z-10")
    with pytest.raises(Missing, match=r"rows\.2: Add the element"):
        solved("s_x0_z0*f_x20*c1")


def test_no_contour_at_all_asks_for_the_first_element() -> None:
    with pytest.raises(Missing):
        solve_contour(ContourInputs())
    with pytest.raises(Missing):
        solved("s_x0_z0")


def test_dimensions_that_disagree_are_named_by_the_fields_of_their_rows() -> None:
    with pytest.raises(Contradiction) as caught:
        solved("s_x0_z0*f_x20*c1*t_z-10*f_x30*t_z-20_dz-12")
    assert caught.value.fields
    assert all(name.startswith("rows.") for name in caught.value.fields)
    assert set(caught.value.otherwise) <= set(caught.value.fields)


def test_what_cannot_be_is_said_at_its_row_with_the_amount() -> None:
    with pytest.raises(Impossible) as caught:
        solved("s_x0_z0*f_x20*t_z-10*l_x30_z-20_len3")
    assert caught.value.faults[0].field.startswith("rows.3")
    assert "mm" in caught.value.faults[0].message.say()


def test_a_negative_radius_is_said_at_its_field() -> None:
    with pytest.raises(OutOfRange) as caught:
        solved("s_x0_z0*f_x20*a_r-5_x30_z-10")
    assert caught.value.faults[0].field == "rows.2.r"


def test_a_contour_beyond_the_axis_is_cautioned() -> None:
    assert "beyond the axis" in solved("s_x20_z0*l_x-4_z-10").cautions[0].message.say()


def test_every_example_has_one_answer_of_its_own() -> None:
    for texts in FEATURE.examples.values():
        view = View("inch") if texts.get("units") == "inch" else View()
        assert solved(texts["contour"], view).results.length > 0


@pytest.mark.parametrize(("side", "bored"), [("right", False), ("left", True)])
def test_the_sketch_shows_material_on_the_other_side_of_the_tool(side: str, bored: bool) -> None:
    drawing = solved(S_CURVE, side=side, bar_diameter=70.0).drawn()
    assert drawing is not None
    assert (drawing.part.end.r > 0) == bored
    assert drawing.part.start.r == pytest.approx(35.0 if bored else 25.0)


@pytest.mark.parametrize("text", ["s_x0_z0*t_z-5", "s_x0_z0*f_x-2", "s_x0_z0*t_z-5*l*f"])
def test_a_contour_that_stays_on_the_axis_or_beyond_has_no_sketch(text: str) -> None:
    try:
        drawn = solved(text).drawn()
    except Unfinished as unfinished:
        drawn = unfinished.drawing
    assert drawn is None


def test_a_solution_that_does_not_fit_the_bar_comes_last_and_says_so() -> None:
    """An R10 from Ø40 that ends 8 further on, up to Ø48 or Ø72 or down: of the four, those within Ø42 come first."""
    text = "s_x40_z0*t_z-20*a_r10_z-28_smooth*t_z-40"
    rows = solved(text, bar_diameter=42.0).tables["solutions"]
    each = [solved(text, bar_diameter=42.0, chosen=row.choice) for row in rows]
    fits = [answer.results.largest_diameter <= 42.0 for answer in each]
    assert fits == [True, True, False, False]
    said = [any("more than the bar" in caution.message.say() for caution in answer.cautions) for answer in each]
    assert said == [not fit for fit in fits]


@pytest.mark.parametrize("groove", ["g_w3_dep2", "g_w3_x26", "g_w3_dep2_br0.2", "g_namedDIN 471 30"])
def test_a_groove_of_which_all_is_given_counts_as_nothing_solved(groove: str) -> None:
    """Its row gives width and depth or bottom: its corners follow, but the print leaves none of them out."""
    found = solved(f"s_x0_z0*f_x30*t_z-20*{groove}*t_z-40*f_x40").results
    assert found.contour.endswith(" points")
    assert (found.solved_x, found.solved_z, found.solved_at) == (None, None, None)
