"""The plan of a contour: its words are read back by an independent reader, and the part comes out."""

import math
from itertools import pairwise

import pytest
import shapely

from calc.contour import Chain
from calc.language.fields import build
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.machining.words import Style
from calc.questions.operations.contour_plan.feature import solve
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.shapes.chosen import given_by
from tests.questions.operations.contour_plans import PAD, SEAT, plan
from tests.questions.operations.reader import read_words
from tests.tool.nose_path.contours import polyline


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
        ({"insert": "CNMG 120408", "entering_angle": "95", "nose_radius": "7"}, Impossible, "nose_radius"),
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
