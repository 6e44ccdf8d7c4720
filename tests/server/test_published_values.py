"""Published values asked as a setter asks them, through the calls; others stand beside the rooms that compute them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Ask = Callable[..., Any]

# Specific force over feed at 45 degrees, in kN/mm2: a chuck works standard, RN-1391, page 43, table 2, printed to 0.05.
FEEDS = (0.16, 0.25, 0.4, 0.63, 1.0, 1.6)
PRINTED = {
    "E295": (3.50, 3.10, 2.75, 2.45, 2.15, 1.95),
    "E335": (3.05, 2.80, 2.60, 2.40, 2.20, 2.05),
    "E360": (4.35, 3.80, 3.30, 2.90, 2.50, 2.20),
    "42CrMo4": (4.35, 3.90, 3.45, 3.10, 2.75, 2.45),
    "16MnCr5": (3.75, 3.30, 2.95, 2.60, 2.30, 2.05),
    "GJL-250": (2.05, 1.80, 1.60, 1.45, 1.30, 1.15),
}
# Groover, Fundamentals of Modern Manufacturing: the example of machining economics, and a problem of it.
TURNED = "diameter=100 cut_length=500 feed=0.25 handling_time=5"
EXAMPLE = f"known_speed=70 known_life=1 exponent=0.125 change_time=2 machine_rate=30 edge_cost=3 {TURNED}"
PROBLEM = f"known_speed=80 known_life=1 exponent=0.13 change_time=3 machine_rate=40.02 edge_cost=3.33 {TURNED}"
VALUES = [
    # Taper per foot 3/4 and 7/24: an old handbook's table 13 and ISO 7388, exact by the arctangent
    ("geometry/taper", "taper_per_foot=0.75", "included_angle", 3.579821, 1e-6),
    ("geometry/taper", "standard=7/24_40", "included_angle", 16.594290, 1e-6),
    ("geometry/taper", "standard=7/24_40", "half_angle", 8.297145, 1e-6),
    # One in so much, ISO 296 for Morse 0 to 6
    *[
        ("geometry/taper", f"standard=Morse_{number}", "taper_ratio", 1.0 / ratio, 3e-6)
        for number, ratio in enumerate((19.212, 20.047, 20.020, 19.922, 19.254, 19.002, 19.180))
    ],
    # Turned at 400 1/min from 75: a tutorial's problem of a titanium rod prints 94.248 m/min
    ("speed-feed/spindle", "surface_speed=94.248 diameter=75", "rpm", 400.0, 0.01),
    ("speed-feed/tool-life", f"surface_speed=50 {EXAMPLE}", "speed_most_parts", 50.3306, 1e-4),  # the book: 50
    ("speed-feed/tool-life", f"surface_speed=42 {EXAMPLE}", "speed_lowest_cost", 42.3228, 1e-4),  # the book: 42
    ("speed-feed/tool-life", f"surface_speed=50 {EXAMPLE}", "cost_per_part", 12.79, 0.01),
    ("speed-feed/tool-life", f"surface_speed=42 {EXAMPLE}", "cost_per_part", 11.32, 0.01),
    ("speed-feed/tool-life", f"surface_speed=42 {PROBLEM}", "life_lowest_cost", 53.488, 1e-3),
    ("speed-feed/tool-life", f"surface_speed=42 {PROBLEM}", "speed_lowest_cost", 47.689, 1e-3),
    # A school laboratory's record prints 11.98 cm for legs 4.5 cm apart; a ring of 50 by the formula
    ("measure/spherometer", "leg_distance=45 sagitta=2.85", "radius", 119.8, 0.05),
    ("measure/spherometer", "base_diameter=50 sagitta=1.2", "radius", 261.016667, 1e-6),
    # Edges by geometry: d / sin of the corner, 0.68404 d of a trigon; nose heights, ISO 3364, from memory
    ("nose-radius/insert", "designation=WNMG_080408", "edge_length", 8.69, 0.005),
    ("nose-radius/insert", "designation=DNMG_150608", "edge_length", 15.50, 0.005),
    ("nose-radius/insert", "designation=VNMG_160408", "edge_length", 16.61, 0.005),
    ("nose-radius/insert", "designation=TNMG_160404", "edge_length", 16.50, 0.005),
    ("nose-radius/insert", "designation=CNMG_120408 nose_as=exact", "nose_height", 3.088, 5e-4),
    ("nose-radius/insert", "designation=DNMG_150608 nose_as=exact", "nose_height", 6.477, 5e-4),
    ("nose-radius/insert", "designation=VNMG_160408 nose_as=exact", "nose_height", 9.229, 5e-4),
    ("nose-radius/insert", "designation=SNMG_120408 nose_as=exact", "nose_height", 2.301, 5e-4),
]


@pytest.mark.parametrize(("call", "asked", "name", "value", "within"), VALUES)
def test_a_published_value_is_answered(ask: Ask, call: str, asked: str, name: str, value: float, within: float) -> None:
    fields = {key: text.replace("_", " ") if key in ("standard", "designation") else text for key, text in (
        each.split("=", 1) for each in asked.split()
    )}  # fmt: skip
    assert ask(call, **fields)["results"][name]["value"] == pytest.approx(value, abs=within)


@pytest.mark.parametrize("material", PRINTED)
def test_the_specific_force_is_that_of_the_printed_row(ask: Ask, material: str) -> None:
    for feed, printed in zip(FEEDS, PRINTED[material], strict=True):
        cut = {"depth": "1", "feed": str(feed), "entering_angle": "45", "nose_radius": "0", "surface_speed": "100"}
        found = ask("speed-feed/force", material=material, **cut)["results"]["specific_force"]["value"]
        assert found / 1000.0 == pytest.approx(printed, abs=0.06)
