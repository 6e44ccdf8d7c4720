"""Lines as setters, leads and trainees type them: the right number, several readings, or nothing; never a guess.

The numbers are from the tables and definitions named beside them.
"""

from __future__ import annotations

import pytest

from calc.language.quantities import View
from calc.language.translating import Language
from server.line.reading import Reading, readings

PI = 3.14159265358979

# Each line with its page and its number.
ANSWERED = [
    # n = 1000 v / (pi D), definition of surface speed
    ("200 m/min 60", "/spindle", 1000 * 200 / (PI * 60)),
    ("vc 200 d 60", "/spindle", 1000 * 200 / (PI * 60)),
    ("vc=200 d=60", "/spindle", 1000 * 200 / (PI * 60)),
    ("what rpm for 60 mm at 200 m/min?", "/spindle", 1000 * 200 / (PI * 60)),
    ("Drehzahl bei 50 mm und 200 m/min", "/spindle", 1000 * 200 / (PI * 50)),
    ("revoluciones 200 m/min Ø60", "/spindle", 1000 * 200 / (PI * 60)),
    ("rpm drill 8.5 mm 30 m/min", "/spindle", 1000 * 30 / (PI * 8.5)),
    ("180 m/min dia 40 max 1000", "/spindle", 1000),
    # 12 v / (pi D) with v in ft/min and D in inches
    ('600 sfm 2-1/2"', "/spindle", 12 * 600 / (PI * 2.5)),
    ("600 ft/min 1 1/2 in", "/spindle", 12 * 600 / (PI * 1.5)),
    # v = pi D n / 1000
    ("surface speed 50 mm 1200 rpm", "/spindle", PI * 50 * 1.2),
    ("1200rpm 50mm", "/spindle", PI * 50 * 1.2),
    ("Schnittgeschwindigkeit 1200 U/min Ø50", "/spindle", PI * 50 * 1.2),
    ("vc 1500 rpm Ø40", "/spindle", PI * 40 * 1.5),
    ("sfm 1200 rpm 40 mm", "/spindle", PI * 40 * 1.2),
    # the material changes nothing about what surface speed and diameter give
    ("C45 200 m/min 50", "/spindle", 1000 * 200 / (PI * 50)),
    ("rpm for 4140 at 2 inch 350 sfm", "/spindle", 12 * 350 / (PI * 2)),
    # DIN 336: M10 8.5, M24x2 22.0; 1/4-20: No. 7 = 0.201 in, Machinery's Handbook, tap drill sizes
    ("M24x2 tap drill", "/thread", 22.0),
    ("drill for M10", "/thread", 8.5),
    ("broca para M8", "/thread", 6.8),
    ("kernloch m12x1.5", "/thread", 10.5),
    ("1/4-20 tap drill", "/thread", 0.201 * 25.4),
    ("M12 6H tap drill", "/thread", 10.2),
    # D / (2 tan(half of the point's angle)), geometry; 118 degrees: 0.3004 D, Machinery's Handbook, drill points
    ("drill point 10 118", "/drill-point", 3.004303),
    ("118° drill point 10 mm", "/drill-point", 3.004303),
    # DIN 332-1, form A: d 4 has D2 8.5, from memory; A4 is a steel too
    ("centre drill A4", "/centre-hole", 8.5),
    # L sin(angle), definition of the sine bar
    ("sine bar 100 7.5°", "/sine-bar", 13.052619),
    # sphere over a ring: r^2 / (2 h) + h / 2
    ("spherometer 50 1.2", "/spherometer", 261.016667),
    # pi D^2 / (4000 v f), maker's catalogue
    ("facing 100 0 200 0.2", "/facing-time", 0.196350),
    # numbers before their words; ISO 1302:1992: N7 is Ra 1.6
    ("1.6 Ra 0.8 nose", "/finish-feed", 0.199454),
    ("0.2 feed r0.8", "/finish", 1.608794),
    ("0.8 nose 0.2 feed", "/finish", 1.608794),
    ("n 1200 d 50", "/spindle", PI * 50 * 1.2),
    # R - sqrt(R^2 - (D/2)^2), the other way round: D = 2 sqrt(2 R h - h^2)
    ("4.5 depth R75", "/dish", 51.176166),
    # ISO 261: M8 has a pitch of 1.25; ISO 2903: Tr 40x14 P7 has a lead of 14
    ("pitch M8", "/thread", 1.25),
    ("lead of Tr 40x14 P7", "/thread", 14.0),
    ("drill size M8", "/thread", 6.8),
    ("core hole M8", "/thread", 6.8),
    ("pitch diameter M8-6g", "/thread", 7.101),
    ("Ra N7 nose 0.8", "/finish-feed", 0.199454),
    # ISO 724: pitch diameter d - 0.649519 P, here in the middle of 6g
    ("thread M24x2-6g", "/thread", 22.578),
    # ISO 286-2, middle of the limits: 24 g6 23.980/23.993, 25 H7 25.000/25.021, 40 h7 39.975/40.000, 40 H7 40.000/.025
    ("24g6", "/limits", 23.9865),
    ("25 H 7", "/limits", 25.0105),
    ("Ø40 h7", "/limits", 39.9875),
    ("Passung 40 H7", "/limits", 40.0125),
    ("24 H7/g6", "/limits", 23.9865),
    ("24 H7, 24 g6", "/limits", 23.9865),
    # 1:10 is 1 mm of diameter on 10 mm of length (ISO 3040)
    ("taper 1:10 from 30 long 50", "/taper", 25.0),
    ("Kegel 1:10 D30 L50", "/taper", 25.0),
    ("cono 1:10 30 largo 50", "/taper", 25.0),
    # ISO 7388-1: 7/24, half of it 8.297 degrees
    ("taper 7/24", "/taper", 8.297145),
    ("taper Ø30 to Ø25 over 40", "/taper", 3.576334),
    ("30 to 25 over 40", "/taper", 3.576334),
    ("compound slide angle 1:10", "/taper", 2.862405),
    # d = D - 2 L tan(half the angle); degrees with minutes: 100 sin 12.5
    ("taper 5° half angle 30 long 50", "/taper", 21.251134),
    ("taper Ø40 15° included 30 long", "/taper", 32.100850),
    ("sine bar 100 12°30'", "/sine-bar", 21.643961),
    # h = R - sqrt(R^2 - (D/2)^2)
    ("crown R90 on Ø50", "/crown", 90 - (90**2 - 25**2) ** 0.5),
    # DIN 471 and DIN 472: shaft 30 has d2 = 28.6 -0.21, bore 30 has d2 = 31.4 +0.25
    ("circlip 30", "/ring-groove", 28.495),
    ("DIN 472 30", "/ring-groove", 31.525),
    # ISO 4287 as the trade uses it, Ra close to f^2 / (8 r) / 4.05, here exact for the arc
    ("f0.2 r0.8", "/finish", 1.61),
    # hexagon: across corners is 2 / sqrt(3) of across flats
    ("SW 17", "/polygon", 17 * 2 / 3**0.5),
    ("hex 17", "/polygon", 17 * 2 / 3**0.5),
    ("SW 17 über eck", "/polygon", 17 * 2 / 3**0.5),
    ("17 AF across corners", "/polygon", 17 * 2 / 3**0.5),
    # ISO 6411, form A 2.5: D2 = 5.3
    ("centre drill A2.5", "/centre-hole", 5.3),
    # DIN 76-1, table for M10: dg = d - 2.3 = 7.7
    ("thread relief M10", "/thread-passes", 7.7),
    # an inch is 25.4 mm
    ('1-1/4"', "/ask", 31.75),
    ("1/2 inch in mm", "/ask", 12.7),
    ("25.4 mm in inch", "/ask", 1.0),
    # an inch is 25.4 mm and a foot 304.8 mm exactly; the horsepower of 550 ft lbf/s is 745.6999 W (NIST SP 811, B.8)
    ("5 thou", "/ask", 0.127),
    ("3 feet in mm", "/ask", 914.4),
    ("600 sfpm", "/ask", 182.88),
    ("2 h.p.", "/ask", 1.4914),
    ("20 Nm in lbf ft", "/ask", 14.7512),
    ("200 psi", "/ask", 1.37895),
    ("0.0005 in to um", "/ask", 12.7),
    ("63 microinch", "/ask", 1.6002),
    # ISO 286-2: p6 at 25 is +0.022/+0.035, h9 from 6 to 10 is 0/-0.036
    ("25 H7/p6 press fit", "/limits", 25.0285),
    ("25 H7/p6 ajuste a presión", "/limits", 25.0285),
    ("1/4 in h9", "/limits", 6.332),
    # limits in inches: 24 g6 is 23.980 to 23.993
    ("24 g6 in inch", "/limits", 23.9865 / 25.4),
    # ASME B1.1, 1/4-20 UNC-2A: 0.2127 to 0.2164; Machinery's Handbook, tap drills: 3/8-24 letter Q, #10-32 No. 21
    ("UNC 1/4", "/thread", 0.21455 * 25.4),
    ("3/8 UNF tap drill", "/thread", 0.332 * 25.4),
    ("unf 10 tap drill", "/thread", 0.159 * 25.4),
    ("M10 coarse tap drill", "/thread", 8.5),
    # ISO 228-1 and ISO 7-1: pitch diameter of 3/4 is 25.279, of R 1/2 19.793
    ("bspt 1/2", "/thread", 19.793),
    # number and letter drills: ASME B94.11M, No. 7 is 0.2010 in, F 0.2570
    ("#7 drill size", "/ask", 0.201 * 25.4),
    ("letter F drill", "/ask", 0.257 * 25.4),
    ("0.001 in mm", "/ask", 0.0254),
    # DIN 228: Morse 3 has d2 of 19.76 at its small end, from memory
    ("3MT", "/taper", 19.761),
    ("No. 3 Morse", "/taper", 19.761),
    ("1/4 Zoll", "/ask", 6.35),
    ("1/4 pulgada en mm", "/ask", 6.35),
    # a hexagon: across flats is across corners times cos 30 degrees
    ("hex 24 across corners", "/polygon", 24 * 3**0.5 / 2),
    ("hexágono 24 entre caras", "/polygon", 24 * 2 / 3**0.5),
    ("Sechskant SW 24 Eckmaß", "/polygon", 24 * 2 / 3**0.5),
    # misspelt
    ("tpaer 30 25 40", "/taper", 3.576334),
    ("theard M24x2", "/thread", 22.578),
]


@pytest.mark.parametrize(("line", "page", "number"), ANSWERED)
def test_what_is_asked_is_answered(line: str, page: str, number: float) -> None:
    found = readings(line, View())[0]
    assert path(found) == page
    assert found.headline is not None
    assert found.headline.value == pytest.approx(number, rel=2e-3)


def path(reading: Reading) -> str:
    return reading.page.partition("?")[0]


@pytest.mark.parametrize(
    ("line", "pages"),
    [
        ("R90 4.5", ["/dish", "/dish", "/crown", "/crown"]),
        ("R75 Ø56", ["/dish", "/crown"]),
        ("speed for 304", ["/material"]),
        ("what rpm for 50mm 1.4301", ["/material"]),
        ("DNMG 15 06 08", ["/insert"]),
        ("rauheit 0.2 0.8", ["/finish", "/finish-feed"]),
        ("M24x2 and 24 g6", ["/thread", "/limits"]),
        ("C45 and 1.4301", ["/material", "/material"]),
        ("rpm 50mm 200 m/min and Ra 0.8 nose 0.4", ["/spindle", "/finish-feed"]),
    ],
)
def test_every_reading_is_offered_with_an_answer(line: str, pages: list[str]) -> None:
    found = [each for each in readings(line, View()) if each.headline]
    assert [path(each) for each in found] == pages


def test_a_size_with_a_class_is_answered_with_its_limits() -> None:
    """ISO 286-2: 30 h6 is 0 / -0.013."""
    (found,) = readings("30 h6", View())
    assert found.headline
    assert found.headline.text == "Ø29.994 mm, 29.987 to 30.000 mm, nominal 30 mm"


def test_each_reading_says_what_the_numbers_were_taken_for() -> None:
    taken = [each.taken for each in readings("R90 4.5", View())]
    assert taken[0] == (("Dish radius", "R90.000 mm"), ("Depth", "4.500 mm"))
    assert len({*taken}) == len(taken)


@pytest.mark.parametrize("line", ["650 fpm dia 1-1/4", "Ra 32 nose 1/64", "R2 15/16 on dia 2"])
def test_a_line_in_inches_is_read_in_inches_and_offered_in_the_units_of_the_page_too(line: str) -> None:
    first, *others = readings(line, View())
    assert "units=inch" in first.page
    assert any("units=inch" not in each.page for each in others)


def test_the_seconds_of_an_angle_are_no_inches() -> None:
    assert [each.page.count("units=inch") for each in readings("taper Ø40 Ø30 8°30'15\"", View())] == [0, 0]


@pytest.mark.parametrize(
    ("line", "page"),
    [
        ("DIN 509 F 0.8x0.3", "/shoulder"),
        ("chamfer 2x45", "/corner"),
        ("boring bar 16 overhang 64", "/bar"),
        ("220 m/min", "/spindle"),
        ("Ø60", "/spindle"),
        ("power 2 mm 0.25 mm/rev 180 m/min C45", "/force"),
    ],
)
def test_what_lacks_something_is_offered_with_what_it_needs(line: str, page: str) -> None:
    found = readings(line, View())[0]
    assert path(found) == page
    assert found.needs
    assert found.taken


def test_what_two_fields_lack_is_said_once() -> None:
    assert readings("R0.4", View())[0].needs == "With the radius, one more is needed: the depth or the mouth diameter."


@pytest.mark.parametrize(
    ("line", "page"),
    [
        ("boering bar", "/bar"),
        ("drehzal", "/spindle"),
        ("knrul", "/knurl"),
        ("my part is tapered", "/first-part"),
        ("how do I set tool offset", "/nose"),
        ("Gewindefreistich", "/thread-passes"),
        ("G41", "/nose"),
        ("DIN 332", "/centre-hole"),
        ("MRR", "/force"),
    ],
)
def test_words_lead_to_their_page(line: str, page: str) -> None:
    assert path(readings(line, View())[0]) == page


def test_a_misspelt_word_is_named_as_it_was_read() -> None:
    assert readings("knrul Ø20 pitch 0.8", View())[0].read_as == "knurl Ø20 pitch 0.8"
    assert readings("knurl Ø20 pitch 0.8", View())[0].read_as == ""


@pytest.mark.parametrize("line", ["asdfgh", "-5", "1/0", "50", "Ø0", "1e9 m/min Ø60", "25 7", "R", "???"])
def test_what_means_nothing_is_answered_with_nothing(line: str) -> None:
    assert [each for each in readings(line, View()) if each.headline] == []


def test_a_spindle_speed_beside_a_surface_speed_is_the_limit() -> None:
    assert readings("200 m/min Ø60 900 rpm", View())[0].fields == {
        "surface_speed": "200 m/min",
        "diameter": "60",
        "max_rpm": "900",
    }


@pytest.mark.parametrize(
    ("line", "threads"),
    [
        ("M12 fine", ["M12x1.5", "M12x1.25", "M12x1"]),
        ("M10 fino", ["M10x1.25", "M10x1", "M10x0.75"]),
        ("BSP 3/4", ["G 3/4", "R 3/4"]),
        ("4 UNC", ["4-4 UNC", "#4-40 UNC"]),
    ],
)
def test_what_a_line_leaves_open_of_a_thread_is_offered(line: str, threads: list[str]) -> None:
    """ISO 261 has several fine pitches of a diameter; the trade's name of pipe threads is of ISO 228-1 and ISO 7-1."""
    assert [each.fields.get("designation") for each in readings(line, View()) if path(each) == "/thread"] == threads


@pytest.mark.parametrize(
    ("line", "page"),
    [
        ("1/4 BSW", "/thread"),
        ("PG 16", "/thread"),
        ("HSK63", "/taper"),
        ("58 HRC in HB", "/material"),
        ("M8 clearance hole", "/hole"),
        ("Durchgangsloch M8", "/hole"),
    ],
)
def test_what_is_in_no_table_here_is_said_plainly(line: str, page: str) -> None:
    (found,) = readings(line, View())
    assert path(found) == page
    assert found.headline is None
    assert "not" in found.needs


@pytest.mark.parametrize(
    ("line", "language"), [("1.500 U/min Ø20", "de"), ("1.500 rpm Ø20", "es"), ("1,500 rpm Ø20", "en")]
)
def test_marks_between_thousands_of_a_speed_are_read_as_such_first(line: str, language: Language) -> None:
    """At 1500 1/min Ø20 runs at 94.2 m/min: 1.500 was taken for one and a half."""
    first, *others = readings(line, View(language=language))
    assert first.headline is not None
    assert first.headline.value == pytest.approx(PI * 20 * 1.5)
    assert first.read_as.startswith("1500 ")
    assert len(others) == (language != "en")


@pytest.mark.parametrize("line", ["3° 25", "20 af a/c"])
def test_what_is_no_question_has_no_number(line: str) -> None:
    assert [each for each in readings(line, View()) if each.headline] == []


def test_a_grade_before_the_speed_that_is_asked_for_is_offered_beside_that_speed() -> None:
    """4140 rpm is a speed, or what 4140 turns at: 4140 1/min on Ø10 is 130 m/min."""
    found = readings("10 mm drill 4140 rpm", View())
    assert [path(each) for each in found] == ["/spindle", "/material"]
    assert found[0].headline is not None
    assert found[0].headline.value == pytest.approx(PI * 10 * 4.14)
    assert [path(each) for each in readings("50 mm 1200 rpm", View())] == ["/spindle"]


def test_a_pressure_is_no_hexagon() -> None:
    """200 bar was offered as a hexagon of 200 across flats."""
    assert not any(path(each) == "/polygon" for each in readings("200 bar", View()))
    assert path(readings("hex bar 17", View())[0]) == "/polygon"


@pytest.mark.parametrize("line", ["5° taper 30 long 50", "Kegel 5° Ø30 lang 50", "cono 5° 30 largo 50"])
def test_the_angle_of_a_taper_is_offered_as_the_half_and_as_the_included_one(line: str) -> None:
    """30 - 2 x 50 tan 5 is 21.251, with the half of 5 it is 25.634."""
    found = readings(line, View())
    assert [each.headline and each.headline.value for each in found] == pytest.approx([21.251134, 25.633906])
