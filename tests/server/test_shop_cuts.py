"""Further cuts of a turning shop, from `shop_cuts.txt`: ordinary ones without a caution, slipped figures with one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.server.test_shop_cases import fields

Ask = Callable[..., Any]
CUTS = [
    line.split(" | ")
    for line in Path(__file__).with_name("shop_cuts.txt").read_text(encoding="utf-8").splitlines()
    if not line.startswith("#")
]
FINE = [cut for cut in CUTS if len(cut) < 3]
SLIPPED = [cut for cut in CUTS if len(cut) == 3]
UNMARKED = ("how-far-out", "work-deflection", "bar-deflection", "chip")
"""Pages that do not ask for a chuck's marking."""


def of_a_shop(call: str, given: str) -> dict[str, str]:
    """What is asked, on a machine whose chuck is marked 3200 1/min."""
    marked = {} if call in UNMARKED else {"chuck_limit": "3200"}
    return {name: text.replace("_", " ") for name, text in (marked | fields(given)).items()}


def test_ordinary_cuts_are_warned_of_nothing(ask: Ask) -> None:
    """One was warned of 100 m/min beside a range from 102 on, one of a rule of thumb that it kept to."""
    assert len(FINE) >= 25
    warned = [(cut, found) for cut in FINE if (found := ask(f"speed-feed/{cut[0]}", **of_a_shop(*cut))["cautions"])]
    assert warned == []


@pytest.mark.parametrize("cut", SLIPPED, ids=lambda cut: f"{cut[0]}: {cut[2][:20]}")
def test_a_slipped_figure_is_told_by_how_much(ask: Ask, cut: list[str]) -> None:
    call, given, said = cut
    cautions = ask(f"speed-feed/{call}", **fields(given))["cautions"]
    assert any(said in each for each in cautions), cautions


def test_a_speed_a_little_outside_a_range_and_a_chip_as_thick_as_the_least_are_no_news(ask: Ask) -> None:
    """A range is no sharper than a tenth: 100 beside 102 to 162 m/min; "0.030 mm thick, less than 0.030 mm" is none."""
    bored = "bore_diameter=25 depth=0.5 feed=0.12 nose_radius=4 surface_speed=150 tool_bar_diameter=16 stick_out=50"
    said = ask("speed-feed/boring-cut", material="C45", **fields(bored))["cautions"]
    assert not [each for each in said if "0.030 mm thick, less than 0.030" in each]
    slow = "bore_diameter=30 depth=0.5 feed=0.12 nose_radius=0.4 surface_speed=100 tool_bar_diameter=20 stick_out=60"
    assert ask("speed-feed/boring-cut", material="1.4301", **fields(slow))["cautions"] == []
    slower = ask("speed-feed/boring-cut", material="1.4301", **fields(slow.replace("=100", "=80")))["cautions"]
    assert "80 m/min is below the 102 m/min" in slower[0]
