"""No more digits than a value deserves: estimates of microns, angles to spare, short times in seconds."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.answer.feature import Rows
from calc.language.fields import Spec, result
from calc.language.kinds import DEFLECTION, MARGIN, SECOND_MOMENT
from calc.language.quantities import FORCE, PRESSURE, TIME, VOLUME, Kind, View
from calc.language.reading import read
from server.shown import result_view
from server.tables import rows_table

Ask = Callable[..., Any]


# The force in it is known to a quarter (published pairs of kc1.1 and mc): one figure, two where that one is a 1.
@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.0462, "about 0.05 mm"),
        (0.00824, "about 0.008 mm"),
        (0.1262, "about 0.13 mm"),
        (0.0188, "about 0.019 mm"),
        (0.0962, "about 0.1 mm"),
        (0.1999, "about 0.2 mm"),
        (0.000012, "about 0.0 µm"),
        (1.262, "about 1.3 mm"),
        (12.3, "about 12 mm"),
    ],
)
def test_a_deflection_is_an_estimate_of_one_figure(value: float, said: str) -> None:
    assert DEFLECTION.say(value) == said


def test_a_bore_comes_out_smaller_by_about_what_its_estimate_is_worth(client: TestClient) -> None:
    asked = "tool_bar_diameter=16&stick_out=64&passive_force=178.6"
    found = client.get(f"/api/speed-feed/bar-deflection?{asked}").json()["results"]["diameter_error"]["value"]
    assert found == pytest.approx(2 * 178.6 * 64**3 / (3 * 210_000 * math.pi * 16**4 / 64))
    page = client.get(f"/bar?{asked}").text
    assert "about 0.05 mm" in page
    assert "0.046" not in page


def test_no_digits_of_a_working_stand_for_less_than_a_millionth_of_an_inch(ask: Ask) -> None:
    """A drop of nine millionths moves the diameter by 5e-11 in: `.000000000053 in` was shown for it."""
    asked = {"tool_bar_diameter": "1", "stick_out": "2", "passive_force": "5", "tangential_force": "5"}
    answer = ask("speed-feed/bar-deflection", units="inch", bore_diameter="3", **asked)
    drop = answer["results"]["sinking_error"]["value"]
    assert drop == pytest.approx(5.3e-11, rel=0.01)
    said = next(step["text"] for step in answer["working"] if step["text"].startswith("dD_t"))
    assert said.endswith("= 0.000000 in")
    assert re.search(r"\.0{7}", said) is None


def test_degrees_to_spare_are_told_to_a_tenth() -> None:
    assert MARGIN.say(MARGIN.internal(3.0004)) == "3.0°"
    assert MARGIN.unit(View()).code == "deg"


@pytest.mark.parametrize(
    ("minutes", "said"), [(0.512, "31 s"), (0.1, "6 s"), (0.0283, "1.7 s"), (2.9, "174 s"), (3.5, ""), (0.0, "")]
)
def test_a_short_time_is_told_in_seconds_beside(minutes: float, said: str) -> None:
    assert result_view(Spec("time", "quantity", "Time", kind=TIME), minutes, View()).hint == said


@pytest.mark.parametrize(("mm3", "said"), [(67_878.3, "67.9 cm³"), (99_900.0, "99.9 cm³"), (9_999.0, "")])
def test_a_large_volume_is_told_in_cubic_centimetres_beside(mm3: float, said: str) -> None:
    spec = Spec("volume", "quantity", "Volume", kind=VOLUME)
    assert result_view(spec, mm3, View()).hint == said
    assert result_view(spec, mm3, View("inch")).hint == ""


WRITTEN = [
    (FORCE, 99_900.0, "99900 N", "22500 lbf"),
    (FORCE, 99_960.0, "100 kN", "22500 lbf"),
    (FORCE, 5_920_000.0, "5920 kN", "1330 klbf"),
    (PRESSURE, 2_000.0, "2000 N/mm²", "290 ksi"),
    (VOLUME, 1_234_567.0, "1235 cm³", "75.34 in³"),
    (SECOND_MOMENT, 125_663.7, "12.566 cm⁴", "0.30191 in⁴"),
    (DEFLECTION, 0.00041, "about 0.4 µm", "about 16 µin"),
    (DEFLECTION, 0.041, "about 0.04 mm", "about .0016 in"),
]


@pytest.mark.parametrize(("kind", "value", "metric", "inch"), WRITTEN)
def test_a_result_is_written_in_the_unit_that_people_write_it_in_and_can_be_typed_back(
    kind: Kind, value: float, metric: str, inch: str
) -> None:
    """1 lbf is 4.4482216152605 N, 1 in 25.4 mm (ISO 80000); kN, ksi and µm are the trade's (common practice)."""
    for view, text in ((View(), metric), (View("inch"), inch)):
        shown = result_view(Spec("it", "quantity", "It", kind=kind), value, view)
        assert shown.text == text
        if kind is not SECOND_MOMENT:  # nobody types one
            assert read(shown.digits, kind, view) == pytest.approx(value, rel=0.06)


def test_a_column_is_in_the_unit_of_its_largest_value() -> None:
    @dataclass(frozen=True)
    class Row:
        force: float = result(FORCE, "force")

    table = rows_table("rows", Rows(Row, "Rows", "Rows"), [Row(5_920_000.0), Row(800.0)], View(language="de"))
    assert (table.heads, table.rows) == (("Kraft, kN",), (("5920",), ("0,800",)))


def test_a_factor_of_units_is_a_number_that_can_be_keyed_in(ask: Ask) -> None:
    """60 squared times standard gravity, 9.80665 m/s2 (ISO 80000-3), over a foot or an inch in metres."""
    grip = ask("speed-feed/grip", units="inch", grip="12000", rpm="2000", jaw_moment="1")
    said = re.sub(r"(?<=\d)\s(?=\d)", "", " ".join(step["text"] for step in grip["working"]))
    assert "35303.94" in said
    assert "0.3048" in said
    assert "127" not in said
    bar = ask("speed-feed/bar-deflection", units="inch", tool_bar_diameter="1", stick_out="4", passive_force="50")
    assert "9.80665" in " ".join(step["text"] for step in bar["working"])
