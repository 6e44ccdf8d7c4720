"""Lines as people type them, and what they can mean."""

from __future__ import annotations

import pytest

from calc.language.quantities import View
from server.line.reading import Reading, readings

MM, INCH = View(), View(units="inch")


def first(line: str, view: View = MM) -> Reading:
    return readings(line, view)[0]


@pytest.mark.parametrize(
    ("line", "page", "number"),
    [
        # 2 sqrt(2 R h - h^2), circular segment, Machinery's Handbook 31, p. 83
        ("R90 4.5 deep", "/dish?depth=4.5&radius=90", 56.20498198558558),
        ("r 90, depth 4.5", "/dish?depth=4.5&radius=90", 56.20498198558558),
        ("Mulde R90 Tiefe 4,5", "/dish?depth=4,5&radius=90", 56.20498198558558),
        # n = 1000 v / (pi D)
        ("220 m/min Ø60", "/spindle?surface_speed=220%20m/min&diameter=60", 1167.136),
        ("Ø60 220 m/min", "/spindle?surface_speed=220%20m/min&diameter=60", 1167.136),
        # tan of the half angle is (30 - 25) / 2 / 40
        ("taper 30 25 40", "/taper?large_diameter=30&small_diameter=25&length=40", 3.5763),
        # ISO 3040: 1:10 has a half angle of 2.862405 degrees
        ("1:10", "/taper?taper_ratio=1:10", 2.862405),
        # ISO 286-2: 24 g6 is 23.980 to 23.993, 36 H7 is 36.000 to 36.025
        ("24 g6", "/limits?size=24%20g6", 23.9865),
        ("36 H7", "/limits?size=36%20H7", 36.0125),
        ("28 +0.1/0", "/limits?size=28%20%2B0.1/0", 28.05),
        # beside a word of its page; 24 H7 is 24.000 to 24.021
        ("fit 24 H7", "/limits?size=24%20H7", 24.0105),
        # ISO 965-2: the pitch diameter of M24x2-6g is 22.493 to 22.663
        ("Thread: M24x2", "/thread?designation=M24x2", 22.578),
        # DIN 336: 6.8 for M8
        ("tap drill M8", "/thread?designation=M8", 6.8),
        ("Kernloch M8", "/thread?designation=M8", 6.8),
        ("broca para roscar M8", "/thread?designation=M8", 6.8),
        ("R90 4.5 de profundidad", "/dish?depth=4.5&radius=90", 56.20498198558558),
    ],
)
def test_a_line_is_answered_in_place(line: str, page: str, number: float) -> None:
    found = first(line)
    assert found.page == page
    assert found.headline is not None
    assert found.headline.value == pytest.approx(number, rel=1e-4)


def test_where_a_comma_is_the_decimal_mark_the_link_has_a_point() -> None:
    found = first("R1,500 0,250 tief", View(language="de"))
    assert found.page == "/dish?depth=0.250&radius=1.500"
    assert found.headline is not None
    assert found.headline.text == "Ø1,658 mm"


@pytest.mark.parametrize(
    ("line", "page"),
    [
        ("Morse 3", "/taper"),
        ("MT3", "/taper"),
        ("304", "/material"),
        ("42CrMo4", "/material"),
        ("DNMG 150608", "/insert"),
        ("PCLNR 2525M12", "/holder"),
        ("Ra 0.8 nose 0.4", "/finish-feed"),
        ("f 0.2 nose 0.8", "/finish"),
        ("M24x2", "/thread"),
        ("1/2-13 UNC", "/thread"),
        ("Tr 40x7", "/thread"),
        ("retaining ring Ø20", "/ring-groove"),
        ("knurl Ø42 pitch 1", "/knurl"),
    ],
)
def test_a_designation_leads_to_its_page_answered(line: str, page: str) -> None:
    found = first(line)
    assert found.page.partition("?")[0] == page
    assert found.headline is not None


@pytest.mark.parametrize(
    ("word", "page"),
    [
        ("rpm", "/spindle"),
        ("radius in face", "/dish"),
        ("wear offset", "/nose"),
        ("chatter", "/bar"),
        ("tap drill", "/thread"),
        ("three wires", "/thread"),
        ("Drehzahl", "/spindle"),
        ("Freistich", "/shoulder"),
        ("Rattern", "/bar"),
        ("rosca", "/thread"),
        ("rugosidad", "/finish"),
        ("job sheet", "/sheet"),
        ("tool list", "/shop"),
    ],
)
def test_a_word_of_the_trade_finds_its_page(word: str, page: str) -> None:
    assert page in [each.page for each in readings(word, MM)]


def test_a_line_with_two_meanings_offers_both_and_guesses_neither() -> None:
    titles = [each.question for each in readings("R75 Ø51", MM)]
    assert titles[:2] == ["Dish", "Crown"]


def test_what_is_too_little_says_what_is_missing() -> None:
    dish = first("R90")
    assert dish.headline is None
    assert "the depth or the mouth diameter" in dish.needs


def test_conventions_go_into_the_address_and_the_number() -> None:
    found = first("R2.9375 Ø2.000", INCH)
    assert "units=inch" in found.page
    assert found.headline is not None
    assert found.headline.unit == "in"


@pytest.mark.parametrize(
    "line", ["", "   ", "x" * 5000, "hello there", "🙂", "24 zz9", "<script>", "%%%", "1/0 deep R9"]
)
def test_what_means_nothing_here_gets_nothing(line: str) -> None:
    assert all(each.headline is None for each in readings(line, MM))


def test_a_size_whose_class_is_unknown_is_not_taken_for_another() -> None:
    assert [each.page for each in readings("24 q6", MM) if each.headline] == []
