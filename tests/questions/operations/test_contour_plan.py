"""The plan of a contour: its words are read back by an independent reader, and the part comes out."""

import math
from itertools import pairwise
from typing import Any

import pytest
import shapely

from calc.answer.feature import Answer
from calc.contour import Chain
from calc.language.fields import build
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.machining.words import Style
from calc.questions.operations.contour_plan.feature import FEATURE, solve
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.shapes.chosen import given_by
from server.query import read_query
from tests.questions.operations.reader import read_words
from tests.tool.nose_path.contours import polyline

SEAT = {"shape": "seat", "where": "face", "bar_diameter": "60", "face_stock": "1", "nose_radius": "6",
        "roughing": "contour", "pass_depth": "1", "allowance_z": "0.3", "feed": "0.2", "rough_feed": "0.25",
        "surface_speed": "220", "rough_surface_speed": "180", "max_rpm": "2000", "tool_point": "3"}  # fmt: skip
PAD = {**SEAT, "shape": "pad", "where": "outside", "bar_diameter": "57.15", "nose_radius": "0.8", "allowance_x": "0.2",
       "roughing": "along z", "pass_depth": "1.5"}  # fmt: skip


def asked(texts: dict[str, str]) -> ContourPlanInputs:
    query = read_query(list(texts.items()), FEATURE.inputs)
    if query.faults:
        raise OutOfRange(*query.faults)
    inputs: ContourPlanInputs = query.inputs(FEATURE.inputs)
    return inputs


def plan(texts: dict[str, str]) -> Answer[Any]:
    return solve(asked(texts))


def print_of(chain: Chain, back: float) -> shapely.Polygon:
    """The finished part in front of `back`, from the contour alone."""
    places = polyline(chain.elements, 0.002)
    first, last = places[0], places[-1]
    if first[1] < last[1]:
        first, last = last, first
        places = places[::-1]
    return shapely.Polygon([(back, first[1]), *places, (back, last[1])] if last[1] == 0.0 else places)


def turned(text: str, nose: float, bar: shapely.Geometry) -> tuple[shapely.Geometry, list[float]]:
    """The bar after the words: a disc about the nose centre of tool point 3, swept line by line; what rapids hit."""
    left, hits = bar, []
    for motion in read_words(text):
        centres = [place + complex(nose, nose) for place in motion.places]
        lines = [shapely.LineString([(a.real, a.imag), (b.real, b.imag)]) for a, b in pairwise(centres) if a != b]
        slot = shapely.union_all(shapely.buffer(lines, nose, quad_segs=180))
        slot = shapely.union_all([slot, shapely.transform(slot, lambda places: places * [1.0, -1.0])])
        if motion.rapid:
            hits.append(left.intersection(slot).area)
        left = left.difference(slot)
    return left, hits


@pytest.mark.parametrize(("texts", "nose"), [(SEAT, 6.0), (PAD, 0.8)])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_words_read_back_turn_the_part(texts: dict[str, str], nose: float, units: str) -> None:
    answer = plan(texts)
    text = answer.words(View(units))  # type: ignore[misc,arg-type]  # the plan has words; one of two words
    bounds = answer.contour.bounds  # type: ignore[union-attr]  # the plan has a contour
    bar = shapely.box(-60.0, 0.0, bounds.z_max + 1.0, float(texts["bar_diameter"]) / 2)
    left, hits = turned(text, nose, bar)
    part = print_of(answer.contour, -60.0)  # type: ignore[arg-type]  # as above
    front = shapely.box(bounds.z_min + nose, 0.0, 9.0, bounds.r_max - nose)
    rounding = 0.004 if units == "inch" else 0.002
    assert part.intersection(front).difference(left.buffer(rounding)).area < 1e-6
    assert left.intersection(front).difference(part.buffer(rounding)).area < 1e-6
    assert max(hits) < 1e-3


@pytest.mark.parametrize("texts", [SEAT, PAD])
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_rounded_arcs_still_close(texts: dict[str, str], units: str) -> None:
    motions = read_words(plan(texts).words(View(units)))  # type: ignore[misc,arg-type]  # as above
    assert sum(len(motion.places) > 2 for motion in motions) > 0
    assert max(motion.gap for motion in motions) <= 1.001 * Style(View(units)).step  # type: ignore[arg-type]  # as above


def test_the_heading_says_that_it_is_no_program() -> None:
    first = plan(SEAT).words(View()).splitlines()[0]  # type: ignore[misc]  # the plan has words
    assert "not a program to run" in first


def test_x_as_radius_halves_every_x_and_leaves_i() -> None:
    answer = plan(SEAT)
    assert answer.words is not None
    diameter, radius = answer.words(View()), answer.words(View(x="radius"))
    a = [line for line in diameter.splitlines() if line.startswith("G3")][-1]
    b = [line for line in radius.splitlines() if line.startswith("G3")][-1]
    x = [float(line.split("X")[1].split()[0]) for line in (a, b)]
    i = [float(line.split("I")[1].split()[0]) for line in (a, b)]
    assert x[0] == pytest.approx(2 * x[1], abs=2e-3)
    assert i[0] == pytest.approx(i[1], abs=3e-3)


def test_the_seat_comes_out_with_a_round_insert_and_in_the_time_of_its_passes() -> None:
    answer = plan(SEAT)
    assert answer.results.left.proud_most == 0.0
    assert answer.results.left.gouged_most == 0.0
    assert answer.results.times.total_time == pytest.approx(sum(row.time for row in answer.tables["passes"]))
    assert len(answer.pictures()) == answer.results.removal.pass_count + 2  # type: ignore[misc]  # the plan has pictures


def test_an_80_degree_insert_held_to_face_is_refused_at_the_mouth_and_says_what_stays() -> None:
    answer = plan({**SEAT, "nose_radius": "", "insert": "CNMG 120408", "entering_angle": "95"})
    assert answer.results.left.out_of_reach == 1.0
    assert answer.results.left.gouged_most == 0.0
    assert any("another tool" in caution.message.text for caution in answer.cautions)


def test_what_was_turned_before_is_not_turned_again() -> None:
    whole = plan(PAD)
    before = plan({**PAD, "turned_before": "s_x0_z0.5*f_x52*t_z-17"})
    assert before.results.removal.volume < 0.6 * whole.results.removal.volume
    assert before.results.left.gouged_most == 0.0


def test_volume_is_that_between_bar_and_print() -> None:
    """Pappus for the seat: the face stock, the dish and its edge: 1 mm off Ø60 and the cap of R 75, 4.5 deep."""
    cap = math.pi * 4.5**2 * (75.0 - 1.5)
    assert plan(SEAT).results.removal.volume == pytest.approx(math.pi * 900.0 + cap, rel=5e-4)


@pytest.mark.parametrize(
    ("change", "error", "field"),
    [
        ({"shape": "own"}, Missing, "contour"),
        ({"nose_radius": ""}, Missing, "insert"),
        ({"bar_diameter": "40"}, Impossible, "bar_diameter"),
        ({"pass_depth": ""}, Missing, "pass_depth"),
        ({"insert": "CNMG 120408", "nose_radius": ""}, Missing, "holder"),
        ({"insert": "nonsense"}, OutOfRange, "insert"),
        ({"turned_before": "nonsense"}, OutOfRange, "turned_before"),
        ({"stock_bore": "70"}, Impossible, "stock_bore"),
        ({"pass_depth": "0.01"}, OutOfRange, "pass_depth"),
    ],
)
def test_what_is_missing_or_cannot_be_is_said_at_its_field(
    change: dict[str, str], error: type[Problem], field: str
) -> None:
    with pytest.raises(error) as refused:
        plan({**SEAT, **change})
    assert refused.value.faults[0].field == field


def test_an_own_contour_is_planned() -> None:
    inputs = build(ContourPlanInputs, {"contour": given_by("s_x0_z0*f_x30*e1*t_z-20*f_x40"), "bar_diameter": 42.0,
                                       "nose_radius": 0.8, "pass_depth": 1.5, "feed": 0.2})  # fmt: skip
    found = solve(inputs)
    assert found.results.left.gouged_most == 0.0
    assert found.results.times.total_time is None


# --- plans that were wrong once


ORDINARY = {"shape": "own", "bar_diameter": "42", "face_stock": "1", "insert": "DCMT 11T304", "holder": "SDJCR 2020K11",
            "pass_depth": "1.5", "lead_in": "2", "feed": "0.12", "rough_feed": "0.25", "surface_speed": "180",
            "max_rpm": "2500"}  # fmt: skip


def own(contour: str, **texts: str) -> Answer[Any]:
    return plan({**ORDINARY, "contour": contour, **texts})


def motions_of(answer: Answer[Any]) -> list[Any]:
    assert answer.words is not None
    return list(read_words(answer.words(View())))


def test_a_shaft_is_faced_first_and_inward_past_the_axis_by_the_nose() -> None:
    """Common practice, no source: tool point 3 of a nose of 0.4 ends at X-0.8, so that its centre is on the axis."""
    answer = own("s_x0_z0*f_x40*t_z-50", bar_diameter="55", allowance_z="0.1", allowance_x="0.3")
    assert answer.tables["passes"][0].name == "face 1"
    first = next(motion for motion in motions_of(answer) if not motion.rapid)
    assert first.places[0].imag > 55 / 2
    face = answer.tables["passes"][0]
    assert (face.start_z, face.end_z) == (pytest.approx(0.1), pytest.approx(0.1))
    assert 2 * face.end_x == pytest.approx(-0.8)


@pytest.mark.parametrize("allowance_x", ["0", "0.3", "0.40", "0.41", "0.9"])
def test_no_rapid_move_goes_through_the_face_stock_or_past_the_axis(allowance_x: str) -> None:
    answer = own("s_x0_z0*f_x30*t_z-20*f_x40*t_z-30", allowance_z="0.1", allowance_x=allowance_x)
    rapids = [motion for motion in motions_of(answer) if motion.rapid]
    assert min(place.imag for motion in rapids for place in motion.places) >= -0.4 - 1e-9
    assert answer.results.left.gouged_most == 0.0
    assert all(row.hit == "nothing" for row in answer.tables["removals"])


@pytest.mark.parametrize(("nose", "square", "corner"), [("0.4", 0.117, 0.166), ("0.8", 0.234, 0.331),
                                                        ("1.2", 0.351, 0.497), ("6", 1.757, 2.485)])  # fmt: skip
def test_a_nose_leaves_in_a_square_corner_what_its_circle_leaves(nose: str, square: float, corner: float) -> None:
    """R (1 - 1/sqrt 2) square to the walls, r (sqrt 2 - 1) to the corner."""
    r = float(nose)
    answer = own("s_x20_z0*t_z-28*f_x50*t_z-40", nose_radius=nose, insert="", holder="", pass_depth="0.7",
                 bar_diameter="52", face_stock="0")  # fmt: skip
    assert round(r * (1 - 0.5**0.5), 3) == square
    assert round(r * (2**0.5 - 1), 3) == corner
    assert answer.results.left.proud_most == pytest.approx(r * (1 - 0.5**0.5), abs=1e-6)
    assert answer.results.left.left_in_corner == pytest.approx(r * (2**0.5 - 1), abs=1e-6)
    said = answer.cautions[0].message.say()
    assert f"leaves R{nose} mm in the inside corner at X20.000 Z-28.000" in said


def test_the_largest_distance_of_what_is_left_is_found_within_an_edge() -> None:
    """Where the edge's line at 34 degrees is as far from the cone as from the cylinder behind it."""
    answer = own("s_x30_z0*t_z-10*l_x26_z-12*t_z-27*f_x34*t_z-42", bar_diameter="40", face_stock="0")
    assert answer.results.left.proud_most == pytest.approx(0.682, abs=5e-4)
    worst = max(answer.tables["places"], key=lambda row: row.depth)
    assert (2 * worst.x, worst.z) == (pytest.approx(27.364, abs=2e-3), pytest.approx(-12.2825, abs=2e-3))


def test_elements_have_the_numbers_of_their_rows() -> None:
    """The chamfer is a row without a number of its own: the shoulder behind the second cylinder is row 4."""
    answer = own("s_x0_z0*f_x20*c1*t_z-15*f_x36*t_z-30", bar_diameter="42")
    assert {row.element for row in answer.tables["places"]} == {"2", "3"}


def test_no_feed_is_written_that_was_not_given() -> None:
    answer = own("s_x0_z0*f_x30*t_z-20", feed="", rough_feed="")
    assert answer.words is not None
    assert "F" not in [line.split()[-1][0] for line in answer.words(View()).splitlines() if line[0] == "G"]
    assert answer.results.removal.largest_section is None


def test_the_finishing_pass_has_its_depth() -> None:
    """The allowance of 0.3 on the cylinder; in front of the shoulder's corner the nose of roughing has left no more."""
    answer = own("s_x0_z0*f_x30*t_z-20", allowance_z="0.1", allowance_x="0.3")
    assert answer.tables["passes"][-1].depth == pytest.approx(0.3, abs=1e-3)


def test_an_allowance_along_x_is_kept_on_a_face_too() -> None:
    """A recess in a face: what roughing takes less is the allowance on its wall, 0.5 of the radius 20, 3 deep."""
    contour = {"shape": "own", "contour": "s_x50_z0*f_x40*t_z-3*f_x0", "where": "face", "side": "left",
               "bar_diameter": "50", "nose_radius": "0.8", "insert": "", "holder": "", "pass_depth": "1",
               "face_stock": "0"}  # fmt: skip
    volumes = []
    for allowance in ("0", "0.5"):
        rows = plan({**ORDINARY, **contour, "allowance_x": allowance}).tables["removals"]
        volumes.append(sum(row.volume for row in rows if row.name.startswith(("rough", "along"))))
    assert volumes[0] - volumes[1] == pytest.approx(math.pi * (20.0**2 - 19.5**2) * 3.0, rel=0.02)


def test_a_contour_whose_ends_run_into_each_other_is_refused() -> None:
    with pytest.raises(Impossible, match="run into each other"):
        own("s_x90_z0*l_x100_z-10*a_x88_z-4_cx100_cz-4_ccw", side="right", bar_diameter="116", nose_radius="0.8",
            insert="", holder="", pass_depth="1.5")  # fmt: skip


def test_an_entering_angle_without_an_insert_is_the_edge_that_it_describes() -> None:
    answer = own("s_x0_z0*f_x22*t_z-12*f_x44*t_z-30", bar_diameter="46", nose_radius="0.4", insert="", holder="",
                 entering_angle="95")  # fmt: skip
    assert answer.results.left.proud_most == pytest.approx(0.4 * (1 - 0.5**0.5), abs=1e-6)
    assert any("No insert is named" in caution.message.say() for caution in answer.cautions)


def test_the_wrong_side_suggests_the_other() -> None:
    with pytest.raises(Impossible, match="other side") as refused:
        own("s_x20_z0*t_z-10*f_x40", side="left")
    assert refused.value.faults[0].field == "side"


def test_a_depth_that_a_bare_nose_cannot_clear_is_refused() -> None:
    with pytest.raises(Impossible, match="clears at most"):
        own("s_x0_z0*f_x30*t_z-20", nose_radius="0.4", insert="", holder="")


def test_a_tool_that_is_too_wide_for_an_undercut_hits_nothing() -> None:
    plans = own("s_x0_z0*f_x30*t_z-20*l_x24_z-22*t_z-30*f_x40*t_z-40", insert="CNMG 120408", holder="PCLNR 2525M12")
    assert all(row.hit == "nothing" for row in plans.tables["removals"])


def test_what_was_turned_before_is_read_in_the_units_of_the_page() -> None:
    """The same part in inch and in mm."""
    same = {
        **PAD,
        "face_stock": "0",
        "allowance_x": "0",
        "allowance_z": "0",
        "nose_radius": "0.8mm",
        "pass_depth": "1.5mm",
    }
    inch = plan({**same, "units": "inch", "bar_diameter": "2.25", "turned_before": "s_x1.2_z0*t_z-1"})
    metric = plan({**same, "bar_diameter": "57.15", "turned_before": "s_x30.48_z0*t_z-25.4"})
    assert inch.results.removal.volume == pytest.approx(metric.results.removal.volume)


@pytest.mark.parametrize("z", ["-100000", "-99999999"])
def test_a_contour_that_no_machine_holds_is_refused_before_it_is_planned(z: str) -> None:
    with pytest.raises(Problem, match=r"at most|too large|limit"):
        own(f"s_x20_z0*t_z{z}")


def test_a_shaft_of_three_metres_is_planned() -> None:
    answer = own("s_x0_z0*f_x40*t_z-3000", bar_diameter="50")
    assert [row.name for row in answer.tables["removals"]] == ["face 1", *(f"rough {n}" for n in range(1, 5)), "finish"]


def working(texts: dict[str, str]) -> dict[tuple[str, str], float]:
    _, steps = FEATURE.answer(asked(texts))
    return {(step.formula.means, step.where): step.value for step in steps}


@pytest.mark.parametrize("roughing", ["along z", "along x", "contour"])
def test_the_working_shows_what_decides_levels_and_run_in_and_the_passes_follow_it(roughing: str) -> None:
    """Bar 42, nose 0.4, lead-in 2: the first level is its depth below the bar, the others as deep each."""
    texts = {**FEATURE.example, "roughing": roughing}
    found, passes = working(texts), plan(texts).tables["passes"]
    rough = [each for each in passes if each.name.startswith("rough")]
    depth = found["depth of each pass", "for roughing"]
    assert depth <= 1.5
    assert found["passes needed", "for facing"] == sum(each.name.startswith("face") for each in passes)
    if roughing == "along z":
        assert found["radius of the nose centre on the first level", ""] == pytest.approx(21.0 - depth + 0.4)
        assert rough[0].start_x == pytest.approx(21.0 - depth, abs=2e-6)
        assert rough[1].start_x == pytest.approx(21.0 - 2.0 * depth, abs=2e-6)
        assert found["where the nose centre begins a level that is open toward it", "along Z"] == pytest.approx(2.5)
        assert rough[0].start_z == pytest.approx(2.5 - 0.4)
    if roughing == "along x":
        assert rough[0].start_z == pytest.approx(0.1 - depth, abs=2e-6)
        assert found["where the nose centre begins a level that is open toward it", "along X"] == pytest.approx(23.4)
    if roughing == "contour":
        assert found["passes needed", "for roughing"] >= len(rough)


def test_depths_ease_to_half_toward_the_end_on_request() -> None:
    """11.8 to take, at most 1.5: 11 passes that fall evenly, as an average of three quarters of the first."""
    found = plan({**FEATURE.example, "pass_split": "easing"}).tables["passes"]
    starts = [row.start_x for row in found if row.name.startswith("rough")]
    taken = [before - after for before, after in pairwise([21.0, *starts])]
    assert len(taken) == math.ceil(11.8 / (0.75 * 1.5))
    assert max(taken) <= 1.5
    assert taken[-1] == pytest.approx(taken[0] / 2.0, abs=1e-5)
    assert all(later < earlier for earlier, later in pairwise(taken))


def test_spring_passes_follow_the_finish_on_its_path_take_nothing_and_take_their_time() -> None:
    once, again = plan({**FEATURE.example}), plan({**FEATURE.example, "spring_passes": "2"})
    rows, taken = again.tables["passes"][-2:], again.tables["removals"][-2:]
    last = once.tables["passes"][-1]
    assert [row.name for row in rows] == ["finish, spring 1", "finish, spring 2"]
    assert [row.volume for row in taken] == pytest.approx([0.0, 0.0], abs=1e-3)
    assert all(row.hit == "nothing" for row in taken)
    assert again.results.times.finish_time == pytest.approx(once.results.times.finish_time + 2.0 * last.time)
    assert again.results.left == once.results.left
