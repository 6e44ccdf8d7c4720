"""The arc through readings from its declared inputs."""

import math
from typing import Any

import numpy as np
import pytest

from calc.contour import Point
from calc.language.given import Given
from calc.language.problems import Impossible, Missing
from calc.measuring.deviation import MeasuredArc, PrintedArc, Surface, meaning
from calc.questions.measuring.arc import ArcInputs, ArcReading, solve


def around(radius: float, centre: tuple[float, float], *degrees: float) -> tuple[ArcReading, ...]:
    """Readings on a circle about (z, r), at angles from +Z."""
    z, r = centre
    return tuple(
        ArcReading(x=r + radius * math.sin(math.radians(each)), z=z + radius * math.cos(math.radians(each)))
        for each in degrees
    )


SEAT = around(75.0, (70.5, 0.0), 180.0, 175.0, 170.0, 165.0, 161.0)


@pytest.mark.parametrize(("surface", "side"), [("concave", -1.0), ("convex", 1.0)])
def test_a_balls_centres_lead_to_the_surface(surface: Surface, side: float) -> None:
    """A probe of 6 in a dish of R75 has its centre on R72, on a crown on R78 (parallels of a circle)."""
    centres = around(75.0 + side * 3.0, (70.5, 0.0), 180.0, 175.0, 170.0, 165.0)
    found = solve(ArcInputs(readings=centres, ball_diameter=6.0, surface=surface))
    assert found.results.radius == pytest.approx(75.0, abs=1e-9)
    assert [found.results.centre_x, found.results.centre_z] == pytest.approx([0.0, 70.5], abs=1e-9)
    for row in found.tables["readings"]:
        assert math.hypot(row.x, row.z - 70.5) == pytest.approx(75.0, abs=1e-9)


def test_what_was_read_along_z_is_larger_than_what_is_off_square_to_the_arc() -> None:
    moved = (*SEAT[:-1], ArcReading(x=SEAT[-1].x, z=SEAT[-1].z + 0.01))
    rows = solve(ArcInputs(readings=moved, along="z")).tables["readings"]
    for row in rows:
        slope = abs(row.z - 70.5) / 75.0
        assert row.along == pytest.approx(row.residual / slope, rel=1e-3)


def test_the_ring_is_never_wider_than_the_form_error() -> None:
    rng = np.random.default_rng(3)
    rough = tuple(ArcReading(x=each.x, z=each.z + float(rng.normal(0, 0.004))) for each in SEAT)
    found = solve(ArcInputs(readings=rough)).results
    assert 0.0 < found.zone <= found.form_error


def test_it_is_held_against_the_prints_limits() -> None:
    nominal = Given(75.0, limits=(74.9, 75.1))
    within = solve(ArcInputs(readings=SEAT, spread=0.001, nominal_radius=nominal)).results
    assert within.within == "within the limits"
    off = solve(ArcInputs(readings=around(75.2, (70.5, 0.0), 180, 170, 160, 150), spread=0.001, nominal_radius=nominal))
    assert off.results.within == "above the upper limit"
    assert off.results.radius_off == pytest.approx(0.2)


def test_a_nose_smaller_than_believed_and_an_x_offset_are_told_from_what_was_turned() -> None:
    """A nose 0.1 smaller leaves a hollow arc 0.1 smaller; its centre moved beyond the axis comes to a point there."""
    turned = around(74.9, (70.4, -0.05), 179, 174, 169, 164, 160)
    found = solve(
        ArcInputs(
            readings=turned,
            surface="concave",
            spread=0.0001,
            nominal_radius=75.0,
            nominal_centre_x=0.0,
            nominal_centre_z=70.5,
        )
    )
    said = " ".join(note.say() for note in found.notes)
    assert "the true nose is smaller by that much" in said
    assert "a hollow that comes to a point" in said
    assert "a Z offset" in said


@pytest.mark.parametrize(
    ("off", "surface", "said"),
    [
        (0.1, "concave", "true nose is larger"),
        (0.1, "convex", "true nose is smaller"),
        (-0.1, "convex", "true nose is larger"),
        (0.1, None, "a nose radius that is off"),
    ],
)
def test_which_way_the_nose_is_off_follows_from_the_surface(off: float, surface: Any, said: str) -> None:
    """A nose on a hollow arc cuts R less r plus r of the true nose; on a crowned one R plus r less the true one."""
    arc = MeasuredArc(75.0 + off, Point(70.5, 0.0), 0.01, None, surface)
    assert said in next(meaning(arc, PrintedArc(75.0))).say()


def test_what_lies_within_the_spread_means_nothing() -> None:
    arc = MeasuredArc(75.02, Point(70.5, 0.01), 0.05, Point(0.05, 0.05), "concave")
    assert list(meaning(arc, PrintedArc(75.0, centre_r=0.0, centre_z=70.5))) == []


def test_a_short_arc_is_told_to_say_little() -> None:
    """Five readings over 4 degrees of R75, each to 5 um: the radius is known to several mm."""
    short = solve(ArcInputs(readings=around(75.0, (70.5, 0.0), 180, 179, 178, 177, 176), spread=0.005))
    assert short.results.spread is not None
    assert short.results.spread > 3.75
    assert "span only 4.0° of the arc" in short.cautions[0].message.say()


def test_three_readings_leave_the_form_open() -> None:
    found = solve(ArcInputs(readings=SEAT[:3]))
    assert found.results.spread is None
    assert "take two more" in found.cautions[0].message.say()


@pytest.mark.parametrize(
    ("given", "kind", "field", "said"),
    [
        ({}, Missing, "readings", "at least three readings"),
        ({"readings": SEAT[:2], "nominal_radius": 75.0}, Missing, "readings", "two and a radius fit two circles"),
        ({"readings": SEAT, "ball_diameter": 6.0}, Missing, "surface", "concave (hollow) or convex"),
        (
            {"readings": around(2.0, (0.0, 9.0), 0, 90, 180), "ball_diameter": 6.0, "surface": "convex"},
            Impossible,
            "surface",
            "larger than the arc of its centres",
        ),
        (
            {"readings": tuple(ArcReading(x=5.0, z=-float(k)) for k in range(4))},
            Impossible,
            "readings",
            "straight line",
        ),
    ],
)
def test_what_cannot_be_is_said_at_its_field(given: Any, kind: Any, field: str, said: str) -> None:
    with pytest.raises(kind) as raised:
        solve(ArcInputs(**given))
    (fault,) = raised.value.faults
    assert fault.field == field
    assert said in fault.message.say()
