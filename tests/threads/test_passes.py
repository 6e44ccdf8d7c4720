"""Infeed by the published rules, chips by geometry, and that the passes add up to the thread."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from calc.cutting.materials import material
from calc.threads.infeed import chip_thickness, depths, groove_section, infeed_angle
from calc.threads.insert import flank_clearance, nose_range, tip_diameter
from calc.threads.passes import cuts, moves, plan_of, usual_count
from calc.threads.thread import thread_of

SIXTY = math.radians(30.0)
METHODS = ("constant-area", "shallow-first", "equal-depth")


def test_the_shallow_first_pass_is_that_of_the_printed_handbook() -> None:
    """A printed threading handbook, p. 114 to 115: 0.94 mm and 0.037 in in 6 passes."""
    found = depths("shallow-first", 0.94, 6)
    assert [round(depth, 2) for depth in found] == [0.23, 0.42, 0.59, 0.73, 0.84, 0.94]
    assert found == pytest.approx((0.230252, 0.420381, 0.594508, 0.728121, 0.840762, 0.94), abs=1e-6)
    assert [round(depth, 3) for depth in depths("shallow-first", 0.037, 6)] == [
        0.009,
        0.017,
        0.023,
        0.029,
        0.033,
        0.037,
    ]


def test_constant_area_goes_by_the_root_of_the_pass() -> None:
    """Textbook rule a sqrt(i / n), computed with 30 digits."""
    expected = (0.383753, 0.542709, 0.664680, 0.767507, 0.858099, 0.94)
    assert depths("constant-area", 0.94, 6) == pytest.approx(expected, abs=1e-6)


def test_depths_are_near_the_printed_totals_of_external_metric_threads() -> None:
    """A printed catalogue of threading inserts, 2019-20, p. 404: 0.64, 0.92, 1.26, 1.87 mm for P 1, 1.5, 2, 3."""
    for pitch, total in ((1.0, 0.64), (1.5, 0.92), (2.0, 1.26), (3.0, 1.87)):
        depth = plan_of(thread_of(f"M30x{pitch:g}"), "constant-area", "straight", 6, 0, None).depth
        assert depth == pytest.approx(total, rel=0.05)


@given(st.sampled_from(METHODS), st.floats(0.05, 8.0), st.integers(1, 40))
def test_passes_go_deeper_each_time_and_end_at_the_depth(method: str, depth: float, count: int) -> None:
    found = depths(method, depth, count)
    assert len(found) == count
    assert found[-1] == depth
    assert all(before < after + 1e-12 for before, after in zip((0.0, *found), found, strict=False))


@given(st.floats(0.1, 5.0), st.integers(2, 30))
def test_equal_areas_are_equal(depth: float, count: int) -> None:
    areas = [groove_section(each, 0.0, 0.0, SIXTY) for each in depths("constant-area", depth, count)]
    steps = [after - before for before, after in zip((0.0, *areas), areas, strict=False)]
    assert steps == pytest.approx([steps[0]] * count, rel=1e-6)


@pytest.mark.parametrize(("depth", "radius"), [(0.05, 0.4), (0.15, 0.4), (0.5, 0.4), (1.8, 0.433), (1.0, 0.0)])
def test_the_area_of_a_groove_is_that_of_its_outline(depth: float, radius: float) -> None:
    """Width of the groove integrated over its depth (scipy), and the same outline as a polygon (shapely)."""
    rise = radius * (1.0 - math.sin(SIXTY))

    def width(height: float) -> float:
        if height < rise:
            return 2.0 * math.sqrt(radius**2 - (radius - height) ** 2)
        return 2.0 * (radius * math.cos(SIXTY) + (height - rise) * math.tan(SIXTY))

    inner = quad(width, 0.0, min(rise, depth), epsabs=1e-12)[0]
    outer = quad(width, rise, depth, epsabs=1e-12)[0] if depth > rise else 0.0
    assert groove_section(depth, 0.0, radius, SIXTY) == pytest.approx(inner + outer, rel=1e-6)
    if depth > rise and radius:
        tip = -radius * (1.0 / math.sin(SIXTY) - 1.0)
        wide = (depth - tip) * math.tan(SIXTY)
        wedge = Polygon([(0.0, tip), (wide, depth), (-wide, depth)])
        under = Polygon([(-9.0, -9.0), (9.0, -9.0), (9.0, rise), (-9.0, rise)])
        kept = (
            wedge.difference(under).area
            + wedge.intersection(under).intersection(Spot(0.0, radius).buffer(radius, quad_segs=2000)).area
        )
        assert groove_section(depth, 0.0, radius, SIXTY) == pytest.approx(kept, rel=1e-4)


def test_the_chip_along_the_flank_is_twice_that_straight_in() -> None:
    """Geometry: the same metal from one flank instead of two."""
    straight, flank = (chip_thickness(way, 0.2, SIXTY) for way in ("straight", "flank"))
    modified = chip_thickness("modified-flank", 0.2, SIXTY)
    assert flank == pytest.approx(2.0 * straight)
    assert straight < modified < flank
    assert infeed_angle("modified-flank", SIXTY) == pytest.approx(math.radians(27.0))


def test_the_last_pass_leaves_the_aimed_root_and_the_depth_is_that_of_the_profile() -> None:
    """M24-6g: depth 17/24 H = 1.8403 (ISO 68-1), root 20.271 to 19.955; inside 5/8 H."""
    plan = plan_of(thread_of("M24-6g"), "constant-area", "straight", 12, 2, None)
    found = cuts(plan, material("C45"))
    assert len(found) == 14
    assert sum(cut.infeed for cut in found) == pytest.approx(1.840304, abs=1e-6)
    assert found[-1].diameter == pytest.approx((20.271 + 19.955) / 2)
    assert found[0].diameter == pytest.approx(found[-1].diameter + 2.0 * (1.840304 - found[0].infeed), abs=1e-6)
    assert [cut.infeed for cut in found[12:]] == [0.0, 0.0]


@pytest.mark.parametrize("pair", [("M24-6g", "M24-6H"), ("Tr 40x7-7e", "Tr 40x7-7H"), ("1-8 UNC-2A", "1-8 UNC-2B")])
def test_inside_is_outside_mirrored(pair: tuple[str, str]) -> None:
    outside, inside = (
        cuts(plan_of(thread_of(text), "constant-area", "straight", 6, 0, None), material("C45")) for text in pair
    )
    assert [cut.diameter for cut in outside] == sorted((cut.diameter for cut in outside), reverse=True)
    assert [cut.diameter for cut in inside] == sorted(cut.diameter for cut in inside)
    share = [cut.infeed / inside[-1].depth for cut in inside]
    assert share == pytest.approx([cut.infeed / outside[-1].depth for cut in outside], abs=1e-9)


def test_a_nose_changes_the_root_but_not_the_pitch_diameter() -> None:
    """A nose r leaves its tip r (1/sin 30 - 1) = r above where the flanks meet (geometry)."""
    thread = thread_of("M24-6g")
    sharp, blunt = tip_diameter(thread, 0.2), tip_diameter(thread, 0.4)
    assert blunt - sharp == pytest.approx(2.0 * 0.2)
    allowed = nose_range(thread)
    assert allowed is not None
    assert tip_diameter(thread, allowed.least) == pytest.approx(19.955, abs=1e-6)
    assert tip_diameter(thread, allowed.most) == pytest.approx(20.271, abs=1e-6)
    assert allowed.least < 0.125 * 3.0 < allowed.most


@pytest.mark.parametrize(("clearance", "half", "flank"), [(10.0, 30.0, 5.8), (15.0, 30.0, 8.8), (10.0, 15.0, 2.7)])
def test_clearance_at_the_flanks(clearance: float, half: float, flank: float) -> None:
    """Printed threading handbooks: 5.8 and 8.8 degrees at a 60 degree thread; 2.7 at 30 degrees from memory."""
    found = flank_clearance(math.radians(clearance), math.radians(half))
    assert math.degrees(found) == pytest.approx(flank, abs=0.06)


def test_usual_counts_grow_with_pitch_and_with_tough_material() -> None:
    """Printed: P 1.5 in 6 passes (threading handbook), 5 to 16 passes for P 1 to 3 (catalogue of inserts)."""
    assert usual_count(1.5, "P") == 6
    counts = [usual_count(pitch, "P") for pitch in (0.5, 1.0, 2.0, 3.0, 6.0)]
    assert counts == sorted(counts)
    assert usual_count(2.0, "N") < usual_count(2.0, "P") < usual_count(2.0, "M") < usual_count(2.0, "S")


def test_alternating_stands_now_on_one_flank_now_on_the_other() -> None:
    found = cuts(plan_of(thread_of("M24-6g"), "constant-area", "alternating", 6, 0, None), material("C45"))
    assert [cut.shift > 0 for cut in found] == [True, False] * 3
    assert abs(found[-1].shift) == pytest.approx(found[-1].depth * math.tan(SIXTY))


def test_the_moves_go_in_along_out_and_back_for_each_start() -> None:
    plan = plan_of(thread_of("Tr 40x14 P7-7e"), "constant-area", "straight", 5, 0, None)
    steps = list(moves(plan, cuts(plan, material("C45")), 8.0, -60.0, 2.0))
    assert len(steps) == 2 * 5 * 4
    assert {step.kind for step in steps if step.why == "cut"} == {"thread"}
    assert all(step.end.r > plan.crest / 2 for step in steps if step.why in ("retract", "return"))
    assert steps[20].end.z - steps[0].end.z == pytest.approx(7.0)


def test_the_force_is_that_of_kienzle_on_the_area_between_two_passes() -> None:
    """F = K k_c1.1 h^-m_c A with the factor for threading; the areas of all passes are that of the whole groove."""
    work = material("C45")
    found = cuts(plan_of(thread_of("M24-6g"), "constant-area", "straight", 6, 0, None), work)
    radius = 3.0 * math.sqrt(3.0) / 12.0
    assert sum(cut.area for cut in found) == pytest.approx(groove_section(found[-1].depth, 0.0, radius, SIXTY))
    used = work.forces[0]
    for cut in found:
        expected = 1.3 * used.kc11 * cut.chip**-used.mc * cut.area
        assert cut.force == pytest.approx(expected)
