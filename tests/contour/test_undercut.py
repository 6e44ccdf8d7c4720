"""Undercuts, thread reliefs, threads and grooves as rows of a contour."""

import math

import pytest

from calc.contour import Arc, Chain, Line, Point
from calc.contour.errors import NotSquare, ShoulderOtherWay, UndercutTooLarge
from calc.contour.text import ContourGiven, contour_rewritten, read_rows, rows_of
from calc.contour.undercut import undercut_at
from calc.language.given import Given
from calc.language.problems import Impossible
from calc.language.quantities import View
from calc.shapes.chosen import unique
from calc.shapes.shoulder.geometry import ShoulderInputs, UndercutForm, UndercutInputs, solve_shoulder
from calc.threads.on_print import NAMES
from calc.threads.relief import relief_of
from calc.threads.thread import thread_of

STEM = "s_x24_z0*t_z-60*u{}*f_x31"


def _given(text: str) -> ContourGiven:
    given, faults = read_rows(rows_of(text), View(), NAMES)
    assert faults == ()
    return given


def _chain(text: str) -> Chain:
    return unique(_given(text))


def _ends(chain: Chain) -> list[tuple[float, float]]:
    return [(round(2 * element.end.r, 3), round(element.end.z, 3)) for element in chain]


@pytest.mark.parametrize("form", ["E", "F"])
@pytest.mark.parametrize("size", ["0.8x0.3", "0.6x0.3", "1.2x0.2"])
def test_an_undercut_in_a_contour_is_that_of_the_shoulder_s_own_page(form: UndercutForm, size: str) -> None:
    """DIN 509, through the page that its published sizes are held on."""
    chosen = UndercutInputs(size=size)
    shoulder = solve_shoulder(
        ShoulderInputs(diameter=24.0, shoulder_diameter=31.0, end_to_shoulder=60.0, undercut_form=form, undercut=chosen)
    )
    inside = _chain(STEM.format(f"{form} {size}")).elements[1:-1]
    assert len(inside) == len(shoulder.cut)
    for one, other in zip(inside, shoulder.cut, strict=True):
        assert one.end.distance_to(other.end) < 1e-9
        assert type(one) is type(other)


@pytest.mark.parametrize(("form", "text"), [("G", "G 0.4x0.2"), ("H", "DIN 509 - H 1.2 x 0.3"), ("H", "h0,8×0,3")])
def test_the_forms_g_and_h_are_called_by_name_too(form: UndercutForm, text: str) -> None:
    size = next(size for size in ("0.4x0.2", "1.2x0.3", "0.8x0.3") if size[:3] in text.replace(",", "."))
    alone = solve_shoulder(
        ShoulderInputs(diameter=24.0, end_to_shoulder=60.0, undercut_form=form, undercut=UndercutInputs(size=size))
    )
    inside = _chain(STEM.format(text)).elements[1:-1]
    for one, other in zip(inside, alone.cut, strict=True):
        assert one.end.distance_to(other.end) < 1e-9


@pytest.mark.parametrize("text", ["0.8x0.3", "F0.8x0.3", "f 0,8 x 0,3", "DIN 509 - F 0.8x0.3", "DIN509-F0.8×0.3"])
def test_an_undercut_is_read_as_prints_write_it(text: str) -> None:
    assert _chain(STEM.format(text)) == _chain(STEM.format("F 0.8x0.3"))


def test_an_undercut_keeps_its_shape_in_a_bore_and_the_other_way_round() -> None:
    outside = _chain(STEM.format("F 0.8x0.3"))
    there = _chain("s_x31_z-60*f_x24*uF 0.8x0.3*t_z0")
    bored = _chain("s_x24_z0*t_z-60*uF 0.8x0.3*f_x17")
    assert [e.end.distance_to(o.end) < 1e-9 for e, o in zip(there.reversed(), outside, strict=True)] == [True] * 6
    lengths = [[round(element.length, 9) for element in chain.elements[1:-1]] for chain in (outside, bored)]
    assert lengths[0] == lengths[1]
    assert max(element.bounds().r_max for element in bored) == pytest.approx(12.3), "it goes into the wall"
    assert not bored.self_intersections()


@pytest.mark.parametrize(
    ("text", "field", "says"),
    [
        ("s_x24_z0*t_z-60*uF 0.9x0.3*f_x31", "rows.2.named", "Its sizes are"),
        ("s_x24_z0*t_z-60*uK 0.8x0.3*f_x31", "rows.2.named", "E, F, G and H are"),
        ("s_x24_z0*t_z-60*uG 0.8x0.3*f_x31", "rows.2.named", "Its sizes are 0.4x0.2"),
        ("s_x24_z0*t_z-60*unone*f_x31", "rows.2.named", "write form, radius and depth"),
        ("s_x24_z0*t_z-60*v*f_x31", "rows.2.named", ""),
        ("s_x24 _z0*t_z-60*vD M24x2-6g*f_x31", "rows.2.named", "A and B outside"),
        ("s_x24_z0*t_z-60*vA M24x0*f_x31", "rows.2.named", "A pitch of 0"),
        ("s_x0_z0*f_xM24x2-9z*t_z-5", "rows.1.x", "class"),
        ("s_x0_z0*f_xNPT 1/2*t_z-5", "rows.1.x", "taper thread"),
        ("s_x20_z0*t_z-5*g_w-2_dep1*t_z-9", "rows.2.w", "more than 0"),
        ("s_x20_z0*g_w2_dep1_br0.2*t_z-9", "rows.1.br", "begin with"),
    ],
)
def test_what_is_wrong_with_a_designation_is_said_at_its_field(text: str, field: str, says: str) -> None:
    given, faults = read_rows(rows_of(text), View(), NAMES)
    found = faults or given.unfinished
    assert [fault.field for fault in found] == [field]
    assert says in found[0].message.say()


def test_an_undercut_that_does_not_fit_says_what_it_takes() -> None:
    with pytest.raises(Impossible, match=r"takes 2\.500 mm of the cylinder, which has 2\.000 mm"):
        _chain("s_x24_z0*t_z-2*uF 0.8x0.3*f_x31")
    with pytest.raises(Impossible, match=r"of the face, which has 0\.500 mm"):
        _chain("s_x24_z0*t_z-20*uF 0.8x0.3*f_x25")


def test_an_undercut_needs_a_cylinder_and_a_face() -> None:
    side, cone = Line(Point(0.0, 12.0), Point(-60.0, 12.0)), Line(Point(-60.0, 12.0), Point(-62.0, 15.5))
    arc = Arc(Point(-60.0, 12.0), Point(-64.0, 16.0), Point(-60.0, 16.0), "cw")
    undercut = NAMES.undercut("F 0.8x0.3")
    for after in (cone, arc):
        with pytest.raises(NotSquare):
            undercut_at(side, after, undercut)
    face = Line(Point(-60.0, 12.0), Point(-60.0, 15.5))
    with pytest.raises(UndercutTooLarge):
        undercut_at(Line(Point(-58.5, 12.0), Point(-60.0, 12.0)), face, undercut)
    with pytest.raises(ShoulderOtherWay, match="an inside thread"):
        undercut_at(side, face, NAMES.relief("", "M24x2-6H"))


def test_a_thread_gives_the_limits_of_the_diameter_to_turn_and_to_bore() -> None:
    """ISO 965-2, M24x2: major diameter 6g 23.682 to 23.962, minor diameter 6H 21.835 to 22.210."""
    for text, lower, upper in (("M24x2-6g", 23.682, 23.962), ("M24x2-6H", 21.835, 22.210)):
        given = _given(f"s_x0_z0*f*t_x{text}_z-20")
        size = given.typed["rows.2.x"]
        assert isinstance(size, Given)
        assert (2.0 * (size.lower or 0.0), 2.0 * (size.upper or 0.0)) == pytest.approx((lower, upper))
        assert given.threads == {2: text}
        assert unique(given).end.r == pytest.approx((lower + upper) / 4.0)


def test_a_thread_without_a_class_is_its_nominal_diameter_in_inches_too() -> None:
    given, _ = read_rows(rows_of("s_x0_z0*f_xM10*t_z-1"), View("inch"), NAMES)
    assert given.elements[0].r == pytest.approx(5.0)


@pytest.mark.parametrize("thread", ["M24x2-6g", "M30x1.5-6g", "1/2-13 UNC-2A", "Tr 20x4-7e"])
def test_a_relief_takes_the_thread_beside_it_and_keeps_its_bottom_and_its_shoulder(thread: str) -> None:
    """DIN 76-1: the bottom is measured from the thread's nominal diameter, whatever the blank is turned to."""
    relief = relief_of(thread_of(thread))
    chain = _chain(f"s_x0_z0*f*t_x{thread}_z-30*v*f_x60")
    assert 2.0 * min(element.end.r for element in chain.elements[2:-1]) == pytest.approx(relief.bottom)
    arc = next(element for element in chain if isinstance(element, Arc))
    assert (arc.radius, arc.end.z) == pytest.approx((relief.radius, -30.0))
    slope = chain.elements[2]
    steep = abs(math.atan((slope.end.r - slope.start.r) / (slope.end.z - slope.start.z)))
    assert steep == pytest.approx(math.radians(30.0))
    assert slope.start.z + 30.0 <= relief.length + 1e-9, "g2: the whole at most so long"


def test_a_short_relief_of_a_bore_goes_outward() -> None:
    chain = _chain("s_xM24x2-6H_z0*t_z-30*vD M24x2-6H*f_x15")
    relief = relief_of(thread_of("M24x2-6H"), "short")
    assert max(2.0 * element.bounds().r_max for element in chain) == pytest.approx(relief.bottom)


def test_a_groove_goes_down_along_and_back() -> None:
    assert _ends(_chain("s_x20_z0*t_z-5*g_w2_dep1.5*t_z-12"))[1:] == [
        (17.0, -5.0),
        (17.0, -7.0),
        (20.0, -7.0),
        (20.0, -12.0),
    ]
    assert _ends(_chain("s_x20_z0*t_z-5*g_w2_x17*t_z-12"))[1:4] == [(17.0, -5.0), (17.0, -7.0), (20.0, -7.0)]
    assert _ends(_chain("s_x20_z0*t_z-5*g_w2_dep1.5_outward*t_z-12"))[1] == (23.0, -5.0)


def test_a_groove_has_its_edges_broken_and_radii_in_its_bottom() -> None:
    """Edges 0.2 x 45°, R0.3 in the bottom, by hand."""
    chain = _chain("s_x20_z0*t_z-5*g_w3_dep1.5_r0.3_br0.2x45°*t_z-12")
    assert _ends(chain)[:3] == [(20.0, -4.8), (19.6, -5.0), (17.6, -5.0)]
    assert sum(isinstance(element, Arc) for element in chain) == 2
    assert len(chain) == 9
    rounded = _chain("s_x20_z0*t_z-5*g_w3_dep1.5_brR0.2*t_z-12")
    assert [element.radius for element in rounded if isinstance(element, Arc)] == pytest.approx([0.2, 0.2])


def test_a_groove_of_a_retaining_ring_carries_its_limits() -> None:
    """DIN 471, shaft 20: groove 19 h11 (-0.13), width 1.3 H13 (+0.14)."""
    given = _given("s_x20_z0*t_z-5*g_w1.3 H13_x19 h11*t_z-12")
    width, bottom = given.typed["rows.2.w"], given.typed["rows.2.x"]
    assert isinstance(width, Given)
    assert isinstance(bottom, Given)
    assert (width.lower, width.upper) == pytest.approx((1.3, 1.44))
    assert (2 * (bottom.lower or 0), 2 * (bottom.upper or 0)) == pytest.approx((18.87, 19.0))


def test_designations_stay_when_a_page_changes_its_units() -> None:
    text = "s_x0mm_z0mm*f*t_xM24x2-6g_z-30mm*vA*f_x31mm*g_w2mm_dep1mm_br0.2mmx45°*t_z-60mm*uF 0.8x0.3*f_x40mm"
    plain = text.replace("mm", "")
    assert contour_rewritten(plain, View(), View("inch")) == text


@pytest.mark.parametrize(
    ("row", "rows"),
    [
        ("f*h_namedM24x2-6g_z-30_reliefA_br1.5x45°*f_x31", "f*c1.5x45°*t_xM24x2-6g_z-30*vA*f_x31"),
        ("f*h_namedM24x2-6g_dz-30_reliefB*f_x31", "f*t_xM24x2-6g_z-30*vB*f_x31"),
        ("f*h_named1/2-13 UNC-2A_z-20_relief1/2-13 UNC-2A*f_x31", "f*t_x1/2-13 UNC-2A_z-20*v1/2-13 UNC-2A*f_x31"),
        ("f_x50*h_namedM30x1.5-6H_z-20_reliefC_br1*f_x20", "f_x50*t_xM30x1.5-6H_z-20*vC*f_x20"),
    ],
)
def test_a_threads_row_is_its_chamfer_its_cylinder_and_its_relief(row: str, rows: str) -> None:
    start = "s_x60_z0*" if "6H" in row else "s_x0_z0*"
    if "br1*" in row:
        rows = rows.replace("f_x50*t", "f_x50*c1*t").replace("f_x50*", "f*")
        row = row.replace("f_x50*", "f*")
    found, by_hand = _given(start + row), _given(start + rows)
    assert unique(found) == unique(by_hand)
    assert list(found.threads.values()) == list(by_hand.threads.values())


def test_a_threads_row_without_a_class_takes_the_usual_one() -> None:
    """ISO 965-1: 6g above 1.4 mm; M10 6g major diameter 9.732 to 9.968 (ISO 965-2)."""
    size = _given("s_x0_z0*f*h_namedM10_z-20").typed["rows.2.x"]
    assert isinstance(size, Given)
    assert (2.0 * (size.lower or 0.0), 2.0 * (size.upper or 0.0)) == pytest.approx((9.732, 9.968))


@pytest.mark.parametrize(
    ("rows", "field", "said"),
    [
        ("f*h_z-30*f_x31", "rows.2.named", "Which thread is it"),
        ("f*h_namedfoo_z-30_reliefA*f_x31", "rows.2.named", "is not a thread that is known here"),
        ("f*h_namedM24x0_z-30*f_x31", "rows.2.named", "A pitch of 0 is not a thread"),
        ("f*h_namedNPT 1/2_z-30*f_x31", "rows.2.named", "is a taper thread"),
        ("f*h_namedM24x2-6g_z-30_reliefC*f_x31", "rows.2.relief", "on the other side of this thread"),
        ("f*h_namedM100x8-6g_z-60_reliefA*f_x131", "rows.2.relief", "no relief for a pitch of 8 mm"),
        ("f*c1*h_namedM24x2_z-30_br1*f_x31", "rows.3.br", "broken in the row before already"),
        ("f*h_namedM24x2_z-30_br0*f_x31", "rows.2.br", "must be more than 0"),
    ],
)
def test_what_a_threads_row_lacks_or_has_wrong_is_said_at_its_field(rows: str, field: str, said: str) -> None:
    given, faults = read_rows(rows_of("s_x0_z0*" + rows), View(), NAMES)
    found = {each.field: each.message.say() for each in (*faults, *given.unfinished)}
    assert list(found) == [field]
    assert said in found[field]
