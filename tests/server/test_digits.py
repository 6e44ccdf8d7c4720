"""No more digits than a value deserves: estimates of microns, angles to spare, short times in seconds."""

import re
from collections.abc import Callable
from typing import Any

import pytest

from calc.language.fields import Spec
from calc.language.kinds import DEFLECTION, MARGIN
from calc.language.quantities import TIME, VOLUME, View
from server.shown import result_view

Ask = Callable[..., Any]


@pytest.mark.parametrize(("value", "said"), [(0.0462, "0.046 mm"), (0.00824, "0.0082 mm"), (0.1262, "0.13 mm")])
def test_a_deflection_is_an_estimate_of_two_figures(value: float, said: str) -> None:
    assert DEFLECTION.say(value) == said


def test_degrees_to_spare_are_told_to_a_tenth() -> None:
    assert MARGIN.say(MARGIN.internal(3.0004)) == "3.0°"
    assert MARGIN.unit(View()).code == "deg"


@pytest.mark.parametrize(
    ("minutes", "said"), [(0.512, "31 s"), (0.1, "6 s"), (0.0283, "1.7 s"), (2.9, "174 s"), (3.5, ""), (0.0, "")]
)
def test_a_short_time_is_told_in_seconds_beside(minutes: float, said: str) -> None:
    assert result_view(Spec("time", "quantity", "Time", kind=TIME), minutes, View()).hint == said


@pytest.mark.parametrize(("mm3", "said"), [(167_878.3, "168 cm³"), (1_234_567.0, "1230 cm³"), (9_999.0, "")])
def test_a_large_volume_is_told_in_cubic_centimetres_beside(mm3: float, said: str) -> None:
    spec = Spec("volume", "quantity", "Volume", kind=VOLUME)
    assert result_view(spec, mm3, View()).hint == said
    assert result_view(spec, mm3, View("inch")).hint == ""


def test_a_factor_of_units_is_a_number_that_can_be_keyed_in(ask: Ask) -> None:
    """60 squared times standard gravity, 9.80665 m/s2 (ISO 80000-3), over a foot or an inch in metres."""
    grip = ask("speed-feed/grip", units="inch", grip="12000", rpm="2000", jaw_moment="1")
    said = re.sub(r"(?<=\d)\s(?=\d)", "", " ".join(step["text"] for step in grip["working"]))
    assert "35303.94" in said
    assert "0.3048" in said
    assert "127" not in said
    bar = ask("speed-feed/bar-deflection", units="inch", tool_bar_diameter="1", stick_out="4", passive_force="50")
    assert "9.80665" in " ".join(step["text"] for step in bar["working"])
