"""O-ring grooves, held to printed gland tables."""

from __future__ import annotations

import csv
from math import pi, sqrt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.fields import build
from calc.language.given import Given
from calc.language.limited import Limited
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.shapes.o_ring_groove import GrooveIn, Joint, ORingGrooveInputs, WarmInputs, solve
from calc.shapes.o_rings import Duty, section_of

DATA = Path(__file__).parents[2] / "shapes" / "data"
SECTIONS = [1.78, 1.80, 2.62, 2.65, 3.53, 3.55, 5.33, 5.30, 6.99, 7.00]


def table(name: str) -> dict[float, dict[str, str]]:
    with (DATA / name).open(encoding="utf-8") as file:
        return {float(row["w"]): row for row in csv.DictReader(file)}


@pytest.mark.parametrize(
    ("duty", "file", "low", "high"),
    [
        ("static", "o-ring_static_gland_parameters.csv", "d_r_min", "d_r_max"),
        ("face", "o-ring_static_gland_parameters.csv", "d_a_min", "d_a_max"),
        ("moving", "o-ring_dynamic_gland_parameters.csv", "d_min", "d_max"),
    ],
)
@pytest.mark.parametrize("size", [1.78, 2.62, 3.53, 5.33, 6.99])
def test_depths_as_a_printed_gland_table_has_them(size: float, duty: Duty, file: str, low: str, high: str) -> None:
    """Gland depths of the file, which prints hundredths; its squeeze is in whole per cent."""
    inputs = {"section": size, "where": "face" if duty == "face" else "outside"}
    inputs |= {"duty": "moving" if duty == "moving" else "static", "mating_diameter": 80.0}
    found = solve(build(ORingGrooveInputs, inputs)).results.gland_depth
    assert found.lower == pytest.approx(float(table(file)[size][low]), abs=0.011 * size)
    assert found.upper == pytest.approx(float(table(file)[size][high]), abs=0.011 * size)


@given(size=st.sampled_from(SECTIONS), where=st.sampled_from(["outside", "inside"]), mating=st.floats(12.0, 300.0))
def test_every_mating_size_and_ring_within_its_limits_is_squeezed_within_the_limits_shown(
    size: float, where: GrooveIn, mating: float
) -> None:
    """The four corners of the tolerances, worked out from the groove that comes out."""
    found = solve(ORingGrooveInputs(section=size, where=where, mating_diameter=mating)).results
    ring = section_of(size, "static")
    assert found.groove_diameter is not None
    for groove in (found.groove_diameter.lower, found.groove_diameter.upper):
        depth = abs(mating - groove) / 2
        for section in (size - ring.tolerance, size + ring.tolerance):
            share = (section - depth) / section
            assert found.squeeze.lower - 1e-9 <= share <= found.squeeze.upper + 1e-9
    assert ring.least_squeeze == pytest.approx(found.squeeze.lower)
    assert ring.most_squeeze == pytest.approx(found.squeeze.upper)


def test_limits_of_the_mating_bore_narrow_the_groove() -> None:
    plain = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0)).results.groove_diameter
    bore = Given(42.0195, 0.0005, 42.0, limits=(42.0, 42.039))
    fitted = solve(ORingGrooveInputs(section=2.65, mating_diameter=bore)).results.groove_diameter
    assert plain is not None
    assert fitted is not None
    assert fitted.upper == pytest.approx(plain.upper)
    assert fitted.lower == pytest.approx(plain.lower + 0.039)


def test_a_fit_wider_than_the_gland_is_refused() -> None:
    bore = Given(42.5, 0.0005, 42.0, limits=(42.0, 43.0))
    with pytest.raises(Impossible, match="tighten the fit"):
        solve(ORingGrooveInputs(section=2.65, mating_diameter=bore))


def test_fill_is_the_ring_in_the_rectangle() -> None:
    found = solve(ORingGrooveInputs(section=3.53, mating_diameter=80.0)).results
    area, depth, width = pi / 4 * 3.53**2, found.gland_depth.aimed, found.groove_width.aimed
    assert found.fill.value == pytest.approx(area / (depth * width))
    assert found.fill.lower < found.fill.value < found.fill.upper < 1.0


@pytest.mark.parametrize(
    ("where", "ring", "words"),
    [
        ("outside", 36.5, ""),
        ("outside", 33.0, "stretched by 14"),
        ("outside", 39.0, "hangs loose"),
        ("inside", 41.5, ""),
        ("inside", 39.0, "outside of 0 to -3 %"),
        ("inside", 46.0, "outside of 0 to -3 %"),
    ],
)
def test_a_ring_that_does_not_go_with_the_groove_is_warned_of(where: GrooveIn, ring: float, words: str) -> None:
    """A ring is stretched by at most 5 % on a shaft, pressed by at most 3 % in a bore (common practice, no source)."""
    answer = solve(ORingGrooveInputs(section=2.65, where=where, mating_diameter=42.0, ring_diameter=ring))
    said = " ".join(caution.message.say() for caution in answer.cautions if caution.about == "ring_diameter")
    assert words in said
    assert bool(said) == bool(words)


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({}, Missing),
        ({"section": 2.65}, Missing),
        ({"section": 0.0, "mating_diameter": 42.0}, OutOfRange),
        ({"section": 4.0, "mating_diameter": 42.0}, OutOfRange),
        ({"section": 6.99, "mating_diameter": 8.0}, Impossible),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, float], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        solve(build(ORingGrooveInputs, values))


def test_a_warm_and_swollen_ring_fills_more_of_its_groove() -> None:
    """Nitrile grows by 112e-6 of its length for a degree in each of three directions (data sheets, from memory): over
    80 degrees by 2.7 % of its volume; a tenth of swell comes on top. Cold it is the largest ring, smallest groove.
    """
    cold = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0)).results
    assert cold.fill_warm is None
    warm = WarmInputs(working_temperature=100.0, swell=0.1)
    answer = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0, warm=warm))
    grown = (1 + 112e-6 * 80.0) ** 3
    assert grown == pytest.approx(1.027, abs=0.0005)
    assert answer.results.fill_warm == pytest.approx(cold.fill.upper * grown * 1.1)
    assert "fill_warm" not in [caution.about for caution in answer.cautions]
    full = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0, warm=WarmInputs(swell=0.25)))
    assert "fill_warm" in [caution.about for caution in full.cautions]


def test_a_stretched_ring_keeps_its_volume_and_is_squeezed_less() -> None:
    """A torus of the mean diameter D and section w has the volume pi^2 D w^2 / 4, before and after."""
    answer = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0, ring_diameter=36.5)).results
    assert answer.groove_diameter is not None
    assert answer.stretch is not None
    before = 2.65 - 0.09
    after = before / sqrt(1 + answer.stretch)
    assert pi**2 / 4 * (1 + answer.stretch) * after**2 == pytest.approx(pi**2 / 4 * before**2)
    assert answer.least_squeeze_stretched == pytest.approx((after - answer.gland_depth.upper) / after)
    assert answer.least_squeeze_stretched is not None
    assert answer.least_squeeze_stretched < answer.squeeze.lower
    far = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0, ring_diameter=33.0, duty="moving"))
    assert "least_squeeze_stretched" in [caution.about for caution in far.cautions]


@pytest.mark.parametrize(("duty", "sealed", "groove"), [("static", 1.6, 3.2), ("moving", 0.4, 1.6)])
def test_the_surfaces_are_those_of_the_standard(duty: Joint, sealed: float, groove: float) -> None:
    # ISO 3601-2, from memory
    found = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0, duty=duty)).results
    assert (found.surface_sealed, found.surface_groove) == pytest.approx((sealed / 1000, groove / 1000))


def test_a_face_groove_needs_no_mating_diameter() -> None:
    found = solve(ORingGrooveInputs(section=3.53, where="face")).results
    assert found.groove_diameter is None
    assert isinstance(found.gland_depth, Limited)
