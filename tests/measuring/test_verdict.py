"""What a size out of its limits means for the part."""

import pytest

from calc.contour import Arc, Chain, Line, Point
from calc.measuring.limits import Limits, read_limits
from calc.measuring.places import What, find
from calc.measuring.verdict import verdict

SHAFT = Chain((Line(Point(0.0, 0.0), Point(0.0, 12.0)), Line(Point(0.0, 12.0), Point(-30.0, 12.0))))
SHOULDER = Chain((*SHAFT.elements, Line(Point(-30.0, 12.0), Point(-30.0, 16.0))))
BORE = Chain((Line(Point(0.0, 12.0), Point(-30.0, 12.0)),))
DISH = Chain((Arc.from_radius(Point(-4.5, 0.0), Point(0.0, 25.6), 75.0, "cw"),))
CROWN = Chain((Arc.from_radius(Point(0.0, 0.0), Point(-4.5, 25.6), 75.0, "ccw"),))


@pytest.mark.parametrize(
    ("chain", "side", "what", "z", "nominal", "size", "said"),
    [
        (SHAFT, "right", "diameter", -9.0, 24.0, 24.2, "rework"),
        (SHAFT, "right", "diameter", -9.0, 24.0, 23.8, "scrap"),
        (SHAFT, "right", "diameter", -9.0, 24.0, 24.05, "within limits"),
        (BORE, "left", "diameter", -9.0, 24.0, 24.2, "scrap"),
        (BORE, "left", "diameter", -9.0, 24.0, 23.8, "rework"),
        (SHOULDER, "right", "length", -30.0, 30.0, 29.8, "rework"),
        (SHOULDER, "right", "length", -30.0, 30.0, 30.2, "scrap"),
        (DISH, "right", "depth", -4.5, 4.5, 4.3, "rework"),
        (DISH, "right", "depth", -4.5, 4.5, 4.7, "scrap"),
        (DISH, "right", "radius", -2.0, 75.0, 74.8, "rework"),
        (DISH, "right", "radius", -2.0, 75.0, 75.2, "scrap"),
        (CROWN, "right", "radius", -2.0, 75.0, 75.2, "rework"),
        (CROWN, "right", "radius", -2.0, 75.0, 74.8, "scrap"),
        (SHAFT, "right", "runout", -9.0, 0.0, 0.3, "out of limits"),
        (SHAFT, "right", "over_wires", -9.0, 24.0, 24.3, "rework"),
    ],
)
def test_metal_that_is_left_can_be_taken_off(
    chain: Chain, side: str, what: What, z: float, nominal: float, size: float, said: str
) -> None:
    """Common practice: what is too large outside or too small inside gets another cut."""
    place = find(chain, side, what, z, nominal)  # type: ignore[arg-type]
    assert place is not None
    assert verdict(place, size, read_limits(nominal, -0.1, 0.1)) == said


def test_without_limits_there_is_no_verdict() -> None:
    place = find(SHAFT, "right", "diameter", -9.0, 24.0)
    assert place is not None
    assert verdict(place, 30.0, Limits()) is None


@pytest.mark.parametrize(
    ("nominal", "lower", "upper", "limits"),
    [
        (28.0, 0.0, 0.1, (28.0, 28.1)),
        (28.0, 28.0, 28.1, (28.0, 28.1)),
        (24.0, -0.02, -0.007, (23.98, 23.993)),
        (24.0, 23.98, 23.993, (23.98, 23.993)),
        (0.0, 0.0, 0.02, (0.0, 0.02)),
        (25.0, None, 0.021, (None, 25.021)),
        (25.0, 25.1, 24.9, (24.9, 25.1)),
    ],
)
def test_limits_are_sizes_or_deviations(
    nominal: float, lower: float | None, upper: float | None, limits: tuple[float | None, float | None]
) -> None:
    assert list(read_limits(nominal, lower, upper)) == [each and pytest.approx(each) for each in limits]
