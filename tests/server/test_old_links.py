"""Links as the first edition wrote them, letter by letter, and the numbers that it gave: regression values of its own.

Formulas and published values are held elsewhere; here it is the link that must not change its meaning.
"""

from __future__ import annotations

import math

import pytest
from starlette.testclient import TestClient

README = {
    "/api/geometry/dish?radius=90&depth=4.5&units=mm": {"mouth_diameter": 2 * math.sqrt(2 * 90 * 4.5 - 4.5**2)},
    "/api/speed-feed/spindle?surface_speed=220&diameter=56.2&max_rpm=2000": {"rpm": 1000 * 220 / (math.pi * 56.2)},
}
"""What its README showed, by geometry and by definition."""

RENAMED = {
    "/polygon?shape=6&across_flats=36&clean_up=1": (
        "geometry/polygon",
        {"across_corners": 41.569219, "stock_bar": 45.0},
    ),
    "/seat-pair?seat_radius=75&pad_radius=74.6&mouth_diameter=51.176&edge_diameter=50.8&film=0.005": (
        "geometry/seat-pair",
        {"contact_diameter": 23.434620, "rim_diameter": 50.8, "seat_depth": 4.432019},
    ),
    "/shoulder?diameter=24+-0.007%2F-0.020&shoulder_diameter=31&length=60&form=F": (
        "geometry/shoulder",
        {"undercut_diameter": 23.3865, "face_height": 2.279015, "start_z": -57.5},
    ),
    "/dish?radius=75&depth=4.5&surface_speed=220&max_rpm=2000&feed=0.2&inner_feed=0.1&inner_diameter=8": (
        "plan/dish",
        {"mouth_diameter": 51.176166},
    ),
    "/bar?bar_diameter=16&stick_out=56&passive_force=150&tangential_force=400&bore_diameter=24": (
        "speed-feed/bar-deflection",
        {"deflection": 0.012998, "stiffness": 11.540544, "slenderness": 3.5},
    ),
    "/chip?depth=0.9&feed=0.14&nose_radius=3&wanted_chip=0.1&edge_radius=0.03": (
        "speed-feed/chip",
        {"mean_chip": 0.052804, "least_chip": 0.009},
    ),
    "/drilling?material=C45&drill_diameter=12&hole_depth=30&tool=HSS&max_rpm=2000": (
        "speed-feed/drilling",
        {"rpm": 636.619772, "torque": 14.452799, "thrust": 2890.642264},
    ),
    "/tool-life?known_speed=220&known_life=15&exponent=0.25&surface_speed=220&diameter=42&length=90&feed=0.2&batch=200"
    "&max_rpm=2500&change_time=2&handling_time=1.5&machine_rate=60&edge_cost=2.5": (
        "speed-feed/tool-life",
        {"speed_lowest_cost": 225.871821, "life_lowest_cost": 13.5, "parts_per_edge": 55.0},
    ),
    "/unit-power?units=inch&material=AISI+4130&hardness=190&depth=.100&feed=.016&surface_speed=350&wear=normal"
    "&efficiency=0.8": ("speed-feed/unit-power", {"power": 5.091341, "wear_factor": 1.3}),
    "/work-stiffness?held=tailstock&diameter=24&length=110&passive_force=250&tolerance=0.01": (
        "speed-feed/work-deflection",
        {"diameter_error": 0.001909, "stiffness": 261.866595, "slenderness": 4.583333},
    ),
}
"""Pages' links that saved sheets hold, each with a name of before in it, by the call that they ask."""


@pytest.mark.parametrize("link", README)
def test_what_the_readme_of_the_first_edition_showed_answers_the_same_numbers(client: TestClient, link: str) -> None:
    assert_same(client, link, README[link])


@pytest.mark.parametrize("link", RENAMED)
def test_a_link_of_the_first_edition_opens_its_page_and_answers_the_same_numbers(client: TestClient, link: str) -> None:
    path, numbers = RENAMED[link]
    page = client.get(link)
    assert page.status_code == 200
    assert page.history[0].status_code == 301, "a name of before is led to the present one"
    assert_same(client, f"/api/{path}?{link.partition('?')[2]}", numbers)


def assert_same(client: TestClient, link: str, numbers: dict[str, float]) -> None:
    answer = client.get(link)
    assert answer.status_code == 200, answer.text
    found = {name: answer.json()["results"][name]["value"] for name in numbers}
    assert found == pytest.approx(numbers, abs=1e-6)
