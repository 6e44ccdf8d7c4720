"""A groove's width stands in the sketch of its contour and of its part, with its depth or the diameter of its bottom.

The simplified indication "width × depth" or "width × diameter" is common practice on prints that follow ISO 129-1.
"""

from __future__ import annotations

import pytest

from calc.language.quantities import View
from server.catalogue import PAGES
from server.query import read_query
from server.sketch import draw
from tests.sketch.ink import collisions
from tests.sketch.svg import parsed, texts


def sketch(page: str, **asked: str) -> str:
    feature = PAGES[page]
    answer, _ = feature.answer(read_query(list(asked.items()), feature.inputs).inputs(feature.inputs))
    drawing = answer.drawn()
    assert drawing is not None
    return draw(drawing, View())


@pytest.mark.parametrize(
    ("groove", "said"),
    [
        ("g_w3_dep2", "3 × 2"),
        ("g_w3_x26", "3 × Ø26"),
        ("g_namedDIN 471", "1.6 × Ø28.6"),  # DIN 471, shaft of 30: groove of 28.6, 1.6 wide
    ],
)
def test_a_groove_of_a_contour_has_its_width_and_depth(groove: str, said: str) -> None:
    markup = sketch("/contour", contour=f"s_x0_z0*f_x30*t_z-25*{groove}*t_z-50*f_x40*t_z-60")
    assert said in [each.text for each in texts(parsed(markup))]
    assert 'data-field="rows.3.w"' in markup
    assert collisions(markup) == []


def test_the_grooves_of_a_part_stand_in_its_sketch() -> None:
    example = dict(PAGES["/part"].example)
    example["outside"] = "s_x0_z0*f*c1*t_x42_z-12*g_w3_dep2*t_z-28*f_x36*t_z-40"
    example["operations"] = example["operations"].partition("*")[0]
    markup = sketch("/part", **example)
    assert "3 × 2" in [each.text for each in texts(parsed(markup))]
    assert collisions(markup) == []
