"""A nose and an entering angle describe an edge: it stands as that of the insert held so."""

import math

import pytest

from calc.language.problems import Impossible
from calc.machining.reach.described import described_tool
from calc.machining.reach.tool import Hold
from tests.machining.reach.seats import cutter


@pytest.mark.parametrize(
    ("insert", "holder", "nose"),
    [
        ("CNMG 120404", "PCLNR 2525M12", 0.4),
        ("DNMG 150608", "PDHNR 2525M15", 0.8),
        ("DNMG 150608", "PDJNR 2525M15", 0.8),
    ],
)
def test_an_entering_angle_gives_the_edges_of_the_insert_that_is_held_so(insert: str, holder: str, nose: float) -> None:
    """93 degrees leave 7 behind a C: the strongest shape is assumed, the leading edge is the same all the same."""
    held = cutter(insert, holder)
    assert held.hold is not None
    found = described_tool(nose, held.hold).tool
    assert found.high == pytest.approx(held.tool.high)
    assert found.point_number == held.tool.point_number
    assert described_tool(nose, held.hold, held.shape.angle).tool.low == pytest.approx(held.tool.low)


def test_the_assumption_is_said_with_its_numbers() -> None:
    said = described_tool(0.4, Hold(math.radians(95.0))).assumed.say()
    assert "included angle of 80° and an inscribed circle of 12.7 mm, its edge at the entering angle of 95°" in said


def test_a_large_nose_gets_an_insert_that_bears_it() -> None:
    assert len(described_tool(6.0, Hold(math.radians(95.0))).tool.core) == 4


def test_an_angle_that_no_usual_insert_has_is_refused() -> None:
    with pytest.raises(Impossible, match="No usual insert has an edge at 150°"):
        described_tool(0.4, Hold(math.radians(150.0)))
