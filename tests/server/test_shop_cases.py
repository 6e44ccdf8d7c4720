"""Ordinary cuts of a turning shop, asked as a setter asks them: what each is warned of, by how much, and what not.

The cases are judgement, common practice without a source; what a number among them rests on is said beside it. A case
that an experienced setter would run without a second thought has no caution at all.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

Ask = Callable[..., Any]
LATHE = "max_rpm=2500 motor_power=11 base_rpm=1000 chuck_limit=3200"
BAR = "nose_radius=0.8 entering_angle=95"

# The call, what is asked, and for each caution what it must hold, in order.
FINE: list[tuple[str, str]] = [
    ("force", f"material=42CrMo4 depth=2 feed=0.25 surface_speed=160 diameter=50 {BAR} {LATHE}"),
    ("force", f"material=C45 depth=1 feed=0.2 surface_speed=220 diameter=50 {BAR} {LATHE}"),
    ("force", f"material=1.4301 depth=1.5 feed=0.25 surface_speed=160 diameter=40 {BAR} {LATHE}"),
    ("force", f"material=6061-T6 depth=2 feed=0.25 surface_speed=400 diameter=60 {BAR} {LATHE}"),
    ("force", f"material=GJL-250 depth=2 feed=0.3 surface_speed=180 diameter=80 {BAR} {LATHE}"),
    (
        "boring-cut",
        "material=1.4301 bore_diameter=30 depth=0.5 feed=0.12 nose_radius=0.4 surface_speed=130 "
        "tool_bar_diameter=20 stick_out=60",
    ),
    (
        "boring-cut",
        "material=C45 bore_diameter=40 depth=1 feed=0.15 nose_radius=0.4 surface_speed=160 "
        "tool_bar_diameter=25 stick_out=75",
    ),
    ("grooving-cut", f"material=C45 start_diameter=40 bottom_diameter=34 insert_width=3 {LATHE}"),
    ("grooving-cut", f"material=42CrMo4 start_diameter=60 bottom_diameter=52 insert_width=3 {LATHE}"),
    ("drilling", f"material=C45 drill_diameter=8 hole_depth=20 {LATHE}"),
    ("drilling", "material=6061-T6 drill_diameter=6 hole_depth=15"),
    ("tapping", "material=C45 designation=M10-6H length=20"),
    ("spindle", "surface_speed=200 diameter=50 max_rpm=2500 chuck_limit=3200"),
    ("facing-time", "surface_speed=200 outer_diameter=50 inner_diameter=0 feed=0.2 max_rpm=2500 chuck_limit=3200"),
    ("work-deflection", "held=tailstock work_diameter=50 length_out=150 passive_force=200 tolerance=0.02"),
]
WARNED: list[tuple[str, str, list[str]]] = [
    # 6.5 kN at 160 m/min is 17.3 kW: an 11 kW motor gives 8.8 of it at the spindle
    (
        "force",
        f"material=42CrMo4 depth=5 feed=0.4 surface_speed=160 diameter=50 {BAR} {LATHE}",
        [r"takes 17\.3 kW.*gives 8\.80 kW.*Cut less deep"],
    ),
    # pi 40 2500 / 1000 = 314 m/min
    (
        "force",
        f"material=1.4301 depth=1.5 feed=0.25 surface_speed=400 diameter=40 {BAR} {LATHE}",
        [r"400 m/min is 1\.7 times the 230 m/min", r"limit holds.*314 m/min, not 400 m/min"],
    ),
    (
        "force",
        f"material=C45 depth=2 feed=1.6 surface_speed=200 diameter=50 {BAR}",
        [r"1\.600 mm/rev is 2\.0 times the R0\.800 mm nose"],
    ),
    (
        "force",
        f"material=C45 depth=2 feed=0.02 surface_speed=200 diameter=50 {BAR}",
        [r"chip is 0\.0\d+ mm thick, less than 0\.030 mm.*rubs"],
    ),
    (
        "boring-cut",
        "material=1.4301 bore_diameter=20 depth=0.5 feed=0.12 nose_radius=0.4 surface_speed=130 "
        "tool_bar_diameter=12 stick_out=72",
        [r"sticks out 6\.0 times its diameter; one of steel should stay within 4"],
    ),
    (
        "boring-cut",
        "material=C45 bore_diameter=40 depth=0.2 feed=0.15 nose_radius=0.8 surface_speed=160",
        [r"0\.200 mm is less than two thirds of the R0\.800 mm nose.*comes out small"],
    ),
    (
        "grooving-cut",
        "material=C45 start_diameter=60 bottom_diameter=26 insert_width=3",
        [r"17\.000 mm deep with an insert 3\.000 mm wide is more than 5 widths"],
    ),
    (
        "grooving-cut",
        "material=C45 start_diameter=40 bottom_diameter=34 insert_width=3 feed=1.2",
        [r"1\.200 mm/rev is 6\.7 times the 0\.180 mm/rev"],
    ),
    (
        "parting",
        "material=C45 outer_diameter=80 insert_width=3 max_rpm=2000 chuck_limit=3200",
        [r"40\.000 mm deep with an insert 3\.000 mm wide is more than 8 widths.*5\.000 mm or wider", r"never by hand"],
    ),
    (
        "drilling",
        "material=42CrMo4 drill_diameter=25 hole_depth=50 surface_speed=80",
        [
            r"80 m/min is 4\.4 times the 18 m/min.*start between 10 m/min and 18 m/min",
            r"pushes with 12600 N.*pilot hole",
        ],
    ),
    # full power from 1000 1/min on: 8.8 kW 178 / 1000
    (
        "drilling",
        f"material=42CrMo4 drill_diameter=25 hole_depth=50 {LATHE}",
        [r"takes 2\.46 kW.*gives 1\.57 kW", r"pilot hole of about Ø5\.000 mm"],
    ),
    ("drilling", "material=C45 drill_diameter=8 hole_depth=80", [r"10\.0 diameters deep.*Peck"]),
    (
        "drilling",
        "material=C45 drill_diameter=10.2 hole_depth=25 feed=1.8",
        [r"1\.800 mm/rev is 7\.1 times the 0\.255 mm/rev"],
    ),
    (
        "tapping",
        "material=1.4301 designation=M10-6H length=15 surface_speed=60",
        [r"60 m/min is 10\.0 times 6 m/min, the usual start for a tap"],
    ),
    ("tapping", "material=C45 designation=M6-6H length=20", [r"3\.3 diameters deep, more than 2\.5"]),
    # 1000 200 / (pi 12) = 5305
    ("spindle", "surface_speed=200 diameter=12 chuck_limit=3200", [r"At 5305 1/min.*marked 3200 1/min"]),
    ("spindle", "surface_speed=200 diameter=12 max_rpm=2500 chuck_limit=3200", [r"leaves 94 m/min of the 200 m/min"]),
    (
        "spindle",
        "surface_speed=200 diameter=30 max_rpm=2500 length_out=250",
        [r"250\.000 mm out of the chuck on Ø30\.000 mm is 8\.3 diameters, more than 3"],
    ),
    # 1000 500 / (pi 3200) = 49.7
    (
        "facing-time",
        "surface_speed=500 outer_diameter=80 inner_diameter=0 feed=0.2 chuck_limit=3200",
        [r"1989 1/min at Ø80\.000 mm.*inside Ø49\.736 mm.*3200 1/min"],
    ),
    # F L^3 / (3 E I) with 210 000 N/mm2, twice on the diameter: 0.2728
    (
        "work-deflection",
        "held=chuck work_diameter=20 length_out=150 passive_force=200 tolerance=0.02",
        [r"7\.5 diameters", r"about 0\.3 mm larger.*0\.020 mm allowed"],
    ),
    (
        "grip",
        "gripped=inside grip=3000 rpm=500 jaw_moment=0.4 cutting_force=1500 "
        "cut_diameter=60 grip_diameter=60 friction=0.15",
        [r"needs 10000 N of grip, 22500 N with its reserve.*only 3000 N", r"may burst"],
    ),
    (
        "compare",
        f"material=C45 surface_speed=900 feed=0.01 feed_to=0.4 depth=1 depth_to=3 power_limit=11 {BAR}",
        [r"900 m/min is 3\.5 times the 260 m/min", r"down to 0\.0\d+ mm, less than 0\.030 mm.*hatched"],
    ),
]


def fields(asked: str) -> dict[str, str]:
    """What is asked, by field."""
    return dict(each.split("=", 1) for each in asked.split())


@pytest.mark.parametrize(("call", "asked"), FINE, ids=[f"{call} {asked.split()[0]}" for call, asked in FINE])
def test_an_ordinary_cut_is_not_warned_of_anything(ask: Ask, call: str, asked: str) -> None:
    assert ask(f"speed-feed/{call}", **fields(asked))["cautions"] == []


@pytest.mark.parametrize(("call", "asked", "said"), WARNED, ids=[f"{call} {said[0][:20]}" for call, _, said in WARNED])
def test_a_risky_cut_is_told_by_how_much_and_what_to_do(ask: Ask, call: str, asked: str, said: list[str]) -> None:
    cautions = ask(f"speed-feed/{call}", **fields(asked))["cautions"]
    for words in said:
        assert any(re.search(words, each) for each in cautions), (words, cautions)
    assert re.search(said[0], cautions[0]), "the worst one stands first"


def test_there_are_cases_enough() -> None:
    assert len(FINE) + len(WARNED) >= 30


@pytest.mark.parametrize("call", ["force", "drilling", "tapping", "grooving-cut", "parting", "boring-cut"])
def test_a_plastic_is_cut_by_every_tool_without_an_error_of_the_program(ask: Ask, call: str) -> None:
    """Tapping had no speed for plastics and broke off."""
    asked = {
        "force": {"depth": "1", "feed": "0.2", "nose_radius": "0.8", "entering_angle": "95", "surface_speed": "300"},
        "drilling": {"drill_diameter": "8", "hole_depth": "20"},
        "tapping": {"designation": "M10-6H", "length": "15"},
        "grooving-cut": {"start_diameter": "40", "bottom_diameter": "34", "insert_width": "3"},
        "parting": {"outer_diameter": "40", "insert_width": "3"},
        "boring-cut": {"bore_diameter": "30", "depth": "0.5", "feed": "0.1", "nose_radius": "0.4"},
    }[call]
    assert ask(f"speed-feed/{call}", material="POM", **asked)["results"]
