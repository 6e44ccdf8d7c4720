"""Fresh numbers for practice come from sizes that exist: nobody turns a bar of 74 mm or drills Ø17.3."""

from __future__ import annotations

import pytest

from server.sheets.practice import Case, case_of

BARS_OF_3_M = "/bar-economy?bar_length=3000&part_length=40&blade_width=3&stock_diameter=45&density=7.85"
FORCE = "/force?material=C45&depth=2&feed=0.3&surface_speed=180&entering_angle=95"
RING = "/thin-ring?outer_diameter=100&ring_bore=90&ring_width=20&grip_force=6000&modulus=210000"
EN_10060 = [
    *(
        20,
        22,
        24,
        25,
        26,
        27,
        28,
        30,
        32,
        35,
        36,
        38,
        40,
        42,
        45,
        48,
        50,
        52,
        55,
        60,
        63,
        65,
        70,
        73,
        75,
        80,
        85,
        90,
        95,
    ),
    *range(100, 181, 5),
]


def case(path: str, seed: int | None = None) -> Case:
    """The case of a step that can be practised."""
    found = case_of(path, seed)
    assert isinstance(found, Case), found
    return found


@pytest.mark.parametrize(
    ("path", "name", "exist"),
    [
        # EN 10060, preferred diameters, from memory: no bar of 74 or 109 mm; in inches sixteenths and eighths
        ("/bar-economy?bar_length=3000&part_length=40&blade_width=3&stock_diameter=90", "stock_diameter", EN_10060),
        ("/parting?material=C45&outer_diameter=95&insert_width=4", "outer_diameter", EN_10060),
        ("/facing-time?surface_speed=180&outer_diameter=80&feed=0.25", "outer_diameter", EN_10060),
        ("/polygon?bar_diameter=40", "bar_diameter", EN_10060),
        ("/bar-whip?stock_diameter=1.75&free_length=40&units=inch", "stock_diameter", [k / 16 for k in range(4, 97)]),
        # DIN 338: tenths up to 14, quarters up to 32; in inches whole sixty-fourths
        ("/drilling?material=C45&drill_diameter=22&hole_depth=40", "drill_diameter", [k / 4 for k in range(57, 129)]),
        ("/drill-point?diameter=.5&point_angle=118&full_depth=1&units=inch", "diameter", [k / 64 for k in range(99)]),
        # ISO 6261, ISO 272, ISO 1302, DIN 403, ISO 3601, DIN 471: from memory
        ("/bar?tool_bar_diameter=20&stick_out=60&passive_force=150", "tool_bar_diameter", [12, 16, 25, 32]),
        ("/polygon?across_flats=36", "across_flats", [24, 27, 30, 34, 41, 46]),
        ("/finish-feed?ra=1.6&nose_radius=0.8", "ra", [0.8, 3.2]),
        ("/knurl?diameter=42&pitch=1.0&form=straight", "pitch", [0.8, 1.2]),
        ("/o-ring-groove?where=outside&section=2.65&mating_diameter=42+H8", "section", [1.8, 3.55]),
        ("/ring-groove?where=outside&diameter=30", "diameter", [*range(20, 31), 32, 34, 35, 36, 38, 40]),
        ("/ball-in-cone?ball_diameter=8&height=4.2&included_angle=90", "included_angle", [60, 120]),
        ("/dovetail?measured=80&roller=10&angle=60", "angle", [45, 55]),
    ],
)  # fmt: skip
def test_fresh_numbers_are_sizes_that_exist(path: str, name: str, exist: list[float]) -> None:
    own = float(dict(case(path).question.parameters)[name])
    drawn = {float(dict(case(path, seed).question.parameters)[name]) for seed in range(12)} - {own}
    assert drawn
    assert [size for size in drawn if size not in exist] == []


@pytest.mark.parametrize("name", ["bar_length", "density", "entering_angle", "modulus"])
def test_what_no_print_gives_stays_as_it_is(name: str) -> None:
    """Bars come in 3 and 6 m, steel has one density, a holder one angle: another number would be no other case."""
    path = {"bar_length": BARS_OF_3_M, "density": BARS_OF_3_M, "entering_angle": FORCE, "modulus": RING}[name]
    own = dict(case(path).question.parameters)[name]
    assert {dict(case(path, seed).question.parameters)[name] for seed in range(6)} == {own}
