"""Plans that were wrong once, each with what is right."""

import math
from itertools import pairwise

import pytest

from calc.language.problems import Impossible, Problem
from calc.language.quantities import View
from calc.questions.operations.contour_plan.feature import FEATURE
from tests.questions.operations.contour_plans import ORDINARY, PAD, asked, motions_of, own, plan


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


@pytest.mark.parametrize(
    ("wide", "roughing", "words"),
    [
        ("10.59", "along z", "roughing leaves more there"),
        ("10.59", "contour", "nothing is roughed along it"),
        ("10.61", "along z", ""),
    ],
)
def test_a_groove_narrower_than_both_its_walls_allowances_is_named(wide: str, roughing: str, words: str) -> None:
    """0.3 on each wall of 0.59 leaves no contour to go along, of 0.61 it does."""
    groove = f"s_x0_z0*f_x40*t_z-10*f_x39*t_z-{wide}*f_x40*t_z-20"
    answer = own(groove, insert="", holder="", nose_radius="0.2", pass_depth="0.4", allowance_z="0.3",
                 allowance_x="0.1", roughing=roughing)  # fmt: skip
    said = " ".join(caution.message.say() for caution in answer.cautions)
    assert ("no room between two walls" in said) == bool(words)
    assert words in said
