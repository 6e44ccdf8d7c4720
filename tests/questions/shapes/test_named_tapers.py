"""Standard tapers by the names of the shop."""

from __future__ import annotations

import pytest

from calc.shapes.taper.standards import standard_taper, standard_tapers
from tests.questions.shapes.test_taper import INCH, results


def test_every_brown_and_sharpe_taper_is_given_to_five_decimals() -> None:
    # Machinery's Handbook, Brown & Sharpe taper shanks, from memory: taper per foot and small end
    shanks = [each for each in standard_tapers() if each.name.startswith("Brown")]
    assert [each.name for each in shanks] == [f"Brown & Sharpe {number}" for number in range(1, 19)]
    assert all(each.slack < 5e-7 for each in shanks)
    assert [round(12 * each.ratio, 5) for each in shanks[6:12]] == [0.50147, 0.501, 0.50085, 0.51612, 0.501, 0.49973]
    assert results(standard="B&S 10").small_diameter == pytest.approx(1.04465 * INCH, abs=1e-5 * INCH)


@pytest.mark.parametrize(
    ("typed", "name"),
    [("BT40", "7/24 40"), ("SK 40", "7/24 40"), ("NT30", "7/24 30"), ("JT33", "Jacobs 33"), ("MT 4 1/2", "Morse 4 1/2"),
     ("DIN 238 B16", "B16"), ("b18", "B18"), ("r8", "R8"), ("5C", "5C"), ("1/100", "1:100"),
     ("B and S 7", "Brown & Sharpe 7")],
)  # fmt: skip
def test_a_taper_is_found_by_the_names_of_the_shop(typed: str, name: str) -> None:
    assert standard_taper(typed).name == name


def test_every_standard_taper_is_found_by_each_of_its_names() -> None:
    for taper in standard_tapers():
        for name in (taper.name, *taper.aliases, taper.name.upper(), taper.name.replace(" ", "-")):
            found = standard_taper(name)
            assert found.ratio == pytest.approx(taper.ratio), name
        assert taper.source
