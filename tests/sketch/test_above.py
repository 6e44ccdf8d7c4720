"""An insert seen from above, as SVG."""

from typing import Literal

import pytest

from calc.language.quantities import METRIC, View
from calc.questions.tools.reach import solve
from calc.questions.tools.reach_asked import HoldInputs, ReachInputs
from calc.tool.insert import read_insert
from calc.tool.insert.sketch import insert_drawing
from server.sketch import draw, draw_details, draw_legend
from tests.sketch.svg import NS, parsed, size_of, texts
from tests.sketch.test_layout import check_words
from tests.tool.insert.designations import INCH, Row
from tests.tool.insert.designations import METRIC as METRIC_ROWS

ROWS = METRIC_ROWS + INCH


def markup_of(row: Row, view: View = METRIC) -> str:
    insert = read_insert(row.text)
    drawing = insert_drawing(insert, insert.nose)
    assert drawing is not None
    assert draw_details(drawing, view) == []
    return draw(drawing, view)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.text)
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_every_dimension_is_there_inside_the_sketch_and_no_words_lie_on_words(row: Row, units: str) -> None:
    markup = markup_of(row, View("mm" if units == "mm" else "inch"))
    check_words(markup)
    fields = [g.attrib["data-field"] for g in parsed(markup).iter(f"{NS}g") if "data-field" in g.attrib]
    wanted = ["nose_radius", "size"] if row.shape == "R" else ["edge_length", "included_angle", "nose_radius", "size"]
    assert sorted(fields) == wanted


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.text)
def test_the_outline_is_drawn_with_an_arc_for_each_corner(row: Row) -> None:
    corners = {"R": 2, "T": 3, "S": 4, "C": 4, "D": 4, "V": 4, "W": 6}[row.shape]
    outline = next(p for p in parsed(markup_of(row)).iter(f"{NS}path") if p.attrib["class"] == "o")
    assert outline.attrib["d"].count("A") == corners


def test_the_view_has_a_name_and_keeps_to_its_size() -> None:
    markup = markup_of(METRIC_ROWS[0])
    width, height = size_of(parsed(markup))
    assert width == 480.0
    assert height <= 391.0
    assert "rhombus" in (parsed(markup).findtext(f"{NS}title") or "")
    assert any(text.text == "80°" for text in texts(parsed(markup)))


@pytest.mark.parametrize("mount", ["along", "across"])
@pytest.mark.parametrize(
    ("insert", "holder"),
    [("RCMT 1204M0", "SRDCN 2525M12"), ("CNMG 120408", "PCLNR 2525M12"), ("DCMT 11T304", "S16R-SDUCR11")],
)
def test_on_the_part_the_tool_stands_with_its_holder_and_the_words_stay_legible(
    insert: str, holder: str, mount: Literal["across", "along"]
) -> None:
    hold = HoldInputs(mount=mount)
    drawing = solve(ReachInputs(insert=insert, holder=holder, radius=75.0, depth=4.5, hold=hold)).drawn()
    assert drawing is not None
    markup = draw(drawing, METRIC)
    check_words(markup)
    classes = [path.attrib.get("class") for path in parsed(markup).iter(f"{NS}path")]
    assert classes.index("hd") < classes.index("in")
    assert ">" in draw_legend(drawing)
    assert all(role in draw_legend(drawing) for role in ("insert", "holder"))
