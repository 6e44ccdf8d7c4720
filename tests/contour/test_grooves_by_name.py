"""Grooves that a contour's row calls as the print does: for retaining rings of DIN 471 and 472, for O-rings."""

import pytest

from calc.contour.text import ContourGiven, read_rows, rows_of
from calc.language.given import Given
from calc.language.quantities import View
from calc.questions.shapes.contour import FEATURE, ContourInputs
from calc.questions.shapes.o_ring_groove import ORingGrooveInputs
from calc.questions.shapes.o_ring_groove import solve as o_ring_groove
from calc.questions.shapes.ring_groove import RingGrooveInputs
from calc.questions.shapes.ring_groove import solve as ring_groove
from calc.shapes.chosen import unique
from calc.threads.on_print import NAMES

# DIN 471 for shafts, DIN 472 for bores, normal type, as the tables of mechanical trade handbooks print them: groove
# diameter with its class, groove width with H13. From memory, and equal to the data files of a fastener package.
RINGS = [
    ("s_x25_z0*t_z-20*g_namedDIN 471*t_z-40", 23.9, (23.69, 23.9), 1.3, (1.3, 1.44)),
    ("s_x20_z0*t_z-20*g_namedDIN 471 20*t_z-40", 19.0, (18.87, 19.0), 1.3, (1.3, 1.44)),
    ("s_x40_z0*t_z-20*g_namedDIN 472 - 40 x 1.75*t_z-40", 42.5, (42.5, 42.75), 1.85, (1.85, 1.99)),
    ("s_x62_z0*t_z-20*g_outward_namedring 62*t_z-40", 65.0, (65.0, 65.3), 2.15, (2.15, 2.29)),
]


def contour_of(text: str) -> ContourGiven:
    """What a contour text gives."""
    given, faults = read_rows(rows_of(text), View(), NAMES)
    assert not faults
    assert not given.unfinished
    return given


def groove_of(text: str) -> tuple[Given, Given]:
    """The bottom's radius and the width that the groove of a contour is read with."""
    given = contour_of(text)
    (row,) = given.grooves.values()
    bottom, width = given.typed[f"rows.{row}.x"], given.typed[f"rows.{row}.w"]
    assert isinstance(bottom, Given)
    assert isinstance(width, Given)
    return bottom, width


@pytest.mark.parametrize(("text", "bottom", "limits", "width", "wide"), RINGS)
def test_a_retaining_rings_groove_has_the_sizes_and_limits_of_its_standard(
    text: str, bottom: float, limits: tuple[float, float], width: float, wide: tuple[float, float]
) -> None:
    read_bottom, read_width = groove_of(text)
    assert read_bottom.nominal == pytest.approx(bottom / 2.0)
    assert read_width.nominal == pytest.approx(width)
    assert (read_bottom.lower, read_bottom.upper) == pytest.approx([limit / 2.0 for limit in limits])
    assert (read_width.lower, read_width.upper) == pytest.approx(wide)
    points = [(round(2.0 * each.end.r, 3), round(each.end.z, 3)) for each in unique(contour_of(text))]
    aimed, far = round(sum(limits) / 2.0, 3), round(-20.0 - sum(wide) / 2.0, 3)
    assert points[1:3] == [(aimed, -20.0), (aimed, far)]
    assert points[3] == (points[0][0], far)


def test_the_row_and_the_rings_own_page_have_one_number() -> None:
    own = ring_groove(RingGrooveInputs(diameter=25.0)).results
    bottom, width = groove_of(RINGS[0][0])
    assert 2.0 * bottom == pytest.approx(own.groove_diameter.aimed)
    assert width == pytest.approx(own.groove_width.aimed)


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("s_x42_z0*t_z-20*g_namedO-ring 2.65*t_z-40", ORingGrooveInputs(section=2.65, mating_diameter=42.0)),
        ("s_x42_z0*t_z-20*g_namedISO 3601-1 O-ring 36.5x2.65*t_z-40", None),
        (
            "s_x30_z0*t_z-9*g_outward_namedO ring 3.55 moving*t_z-40",
            ORingGrooveInputs(section=3.55, mating_diameter=30.0, where="inside", duty="moving"),
        ),
    ],
)
def test_an_o_rings_groove_is_that_of_its_own_page(text: str, asked: ORingGrooveInputs | None) -> None:
    own = o_ring_groove(asked or ORingGrooveInputs(section=2.65, mating_diameter=42.0)).results
    bottom, width = groove_of(text)
    assert own.groove_diameter is not None
    assert (2.0 * bottom.lower, 2.0 * bottom.upper) == pytest.approx(  # type: ignore[operator]  # it has limits
        (own.groove_diameter.lower, own.groove_diameter.upper)
    )
    assert (width.lower, width.upper) == pytest.approx((own.groove_width.lower, own.groove_width.upper))


def test_a_mating_diameter_with_limits_narrows_the_groove() -> None:
    bottom, _ = groove_of("s_x42_z0*t_z-20*g_namedO-ring 2.65 in 42 H8*t_z-40")
    mating = Given(42.0195, 0.0005, 42.0, (42.0, 42.039))  # ISO 286-2, H8 over 30 to 50 mm
    own = o_ring_groove(ORingGrooveInputs(section=2.65, mating_diameter=mating)).results.groove_diameter
    assert own is not None
    assert (bottom.lower, bottom.upper) == pytest.approx((own.lower / 2.0, own.upper / 2.0))


@pytest.mark.parametrize(
    ("text", "field", "said"),
    [
        ("s_x24_z0*t_z-20*g_namedDIN 471 25*t_z-40", "rows.2.named", "is for Ø25 mm, but the cylinder before it"),
        ("s_x25.5_z0*t_z-20*g_namedDIN 471*t_z-40", "rows.2.named", "lists no ring for Ø25.5 mm"),
        ("s_x25_z0*t_z-20*g_outward_namedDIN 471*t_z-40", "rows.2.named", "a ring in a bore is DIN 472"),
        ("s_x25_z0*t_z-20*g_namedDIN 471_w1.3*t_z-40", "rows.2.w", "gives this already"),
        ("s_x42_z0*t_z-20*g_namedO-ring 2.7*t_z-40", "rows.2.named", "the nearest is 2.65 mm"),
        ("s_x42_z0*t_z-20*g_namedkeyway*t_z-40", "rows.2.named", "is not a standard groove here"),
    ],
)
def test_a_name_that_is_none_says_what_to_write(text: str, field: str, said: str) -> None:
    _, faults = read_rows(rows_of(text), View(), NAMES)
    assert [fault.field for fault in faults] == [field]
    assert said in faults[0].message.say()


def test_the_table_of_the_answer_calls_the_groove_by_its_name_with_its_limits() -> None:
    found = FEATURE.solve(ContourInputs(contour=contour_of(RINGS[0][0])))
    (row,) = found.tables["callouts"]
    assert row.name == "DIN 471 - 25 x 1.2"
    assert (row.diameter.lower, row.diameter.upper) == pytest.approx((23.69, 23.9))


def test_where_the_cylinder_has_no_diameter_the_ring_gives_it_to_the_walls() -> None:
    elements = list(unique(contour_of("s_z0_x25*t_z-20*g_namedDIN 471 25*t_z-40")))
    assert elements[3].end.r == pytest.approx(12.5)
