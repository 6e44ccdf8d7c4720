"""Names that people type for a material: each leads to the right grade or family, none to a wrong one.

The pairs are from memory of EN 10020 ff., EN 573, EN 1412, EN 1560, SAE J403, J404 and J405, UNS, BS 970, JIS G, GB/T,
AFNOR and of the cross-reference lists in mechanical trade handbooks; the words are those of the shop.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from calc.cutting.grades import grades, trade_names, words
from calc.cutting.materials import Material, material, materials, read
from calc.language.problems import OutOfRange
from tests.many import for_each

# In each line the group of ISO 513, what the title must hold ("1": anything), and names.
GRADES = Path(__file__).with_name("material_names.txt").read_text("utf-8")
# Words that mean a family: what is offered, all of one group.
FAMILIES = {
    "aluminium": "N", "aluminum": "N", "ali": "N", "Alu": "N", "alluminio": "N", "brass": "N", "Messing": "N",
    "laiton": "N", "ottone": "N", "bronze": "N", "Bronze": "N", "copper": "N", "Kupfer": "N", "magnesium": "N",
    "stainless": "M", "stainless steel": "M", "inox": "M", "Edelstahl": "M", "rostfrei": "M", "acier inoxydable": "M",
    "steel": "P", "Stahl": "P", "acier": "P", "tool steel": "P", "Werkzeugstahl": "P", "cast iron": "KH",
    "Gusseisen": "KH", "fonte": "KH", "titanium": "S", "Titan": "S", "nickel alloy": "S", "cobalt": "S",
    "plastic": "plastic", "Kunststoff": "plastic", "duplex": "M", "cast aluminium": "N", "light alloy": "N",
}  # fmt: skip

ROWS = [[cell.strip() for cell in line.split("|")] for line in GRADES.strip().splitlines()]
TYPED = [(name.strip(), group, part) for group, part, names in ROWS for name in names.split(";")]


def test_the_list_is_as_long_as_it_should_be() -> None:
    assert len({name for name, _, _ in TYPED}) > 900


@for_each(TYPED, lambda case: case[0])
def test_a_name_leads_to_its_grade(case: tuple[str, str, str]) -> None:
    typed, group, part = case
    found = material(typed)
    assert found.group == group
    assert part == "1" or part in found.title


@pytest.mark.parametrize(("typed", "groups"), FAMILIES.items())
def test_a_word_for_a_family_offers_grades_of_that_family_and_takes_none(typed: str, groups: str) -> None:
    found = read(typed)
    assert found.one is None
    assert len(found.several) >= 2
    assert all(one.group in groups for one in found.several)
    with pytest.raises(OutOfRange) as raised:
        material(typed)
    assert raised.value.faults[0].offers == tuple(one.code for one in found.several[:6])


@pytest.mark.parametrize(
    ("typed", "codes"),
    [("1050", {"C50", "EN AW-1050A"}), ("A2", {"X100CrMoV5", "X5CrNi18-10"}), ("MS", {"S235JR", "CuZn39Pb3"})],
)
def test_a_number_of_two_standards_offers_both(typed: str, codes: set[str]) -> None:
    assert {one.code for one in read(typed).several} == codes


def test_the_word_beside_such_a_number_decides() -> None:
    assert [material(name).code for name in ("1050 steel", "1050 aluminium")] == ["C50", "EN AW-1050A"]
    assert [material(name).code for name in ("A2 tool steel", "A2 stainless")] == ["X100CrMoV5", "X5CrNi18-10"]


@pytest.mark.parametrize(
    ("typed", "never"),
    # each was answered with the other one, as the only name near to it
    [("S7", "GJS-700"), ("PB2", "CuZn40Pb2"), ("380", "GJL-300"), ("A36", "AlSi7Mg0.3"), ("Ms58", "CuZn40Pb2")],
)
def test_what_was_once_mistaken_is_not_any_more(typed: str, never: str) -> None:
    assert material(typed).code != never


NOT_HERE = ("oak", "unobtainium", "C46", "1.9999", "X99", "brass 304", "aluminium C45", "99")
# Words read one by one: a stranger among them, two grades, a kind that the grade is not of, a bare size.
NOT_TOGETHER = ("304 oak", "C45 6082", "stainless brass", "dural 1.4301", "rostfreier Stahl C45", "steel 30", "C45 10")


@pytest.mark.parametrize("typed", [*NOT_HERE, *NOT_TOGETHER, "Ø30"])
def test_what_is_not_here_is_offered_nothing_and_told_what_works(typed: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        material(typed)
    assert raised.value.faults[0].offers == ()
    assert "steel 250 HB" in raised.value.faults[0].message.say()


def test_what_is_near_is_of_one_group() -> None:
    for typed in ("42CrM", "X5Cr", "Incnel 625", "CuZn", "AlSi", "EN-GJ"):
        with pytest.raises(OutOfRange) as raised:
            material(typed)
        offered = raised.value.faults[0].offers
        assert offered, typed
        assert len({grades()[code].group for code in offered}) == 1


def test_every_name_that_is_listed_leads_to_its_own_grade() -> None:
    for code, one in grades().items():
        for name in one.names:
            found = read(name)
            readings = {each.code for each in (*found.several, found.one) if each}
            assert code in readings or found.family, f"{name} should lead to {code}, not to {readings}"


def test_a_trade_name_is_read_and_never_shown() -> None:
    shown = " ; ".join(f"{one.title} ; {' ; '.join(one.names)}" for one in grades().values()).casefold()
    traded = {name for read_as in trade_names().values() for name in read_as} | {n for w in words() for n in w.read}
    assert len(traded) > 300
    long = {name for name in traded if len(name) > 5 and " " not in name}
    assert {name for name in long if f" {name.casefold()} " in shown} == set()
    note = material("Inconel 718").notes[0].say()
    assert note.startswith("“Inconel 718” is read as NiCr19Fe19Nb5Mo3")


def test_a_grade_without_numbers_of_its_own_says_whose_it_has() -> None:
    assert "calculated with those of C45 carbon steel, normalised" in material("EN8").notes[0].say()
    assert material("C45").notes == ()
    for one in grades().values():
        assert one.notes or one.code in {own.code for own in materials()}


def test_mild_steel_is_read_and_the_others_are_named() -> None:
    assert material("mild steel").notes[0].say() == (
        "“mild steel” is read as S235JR structural steel; it may also mean S275JR, C22, AISI 1018, S355J2."
    )


@pytest.mark.parametrize(
    ("typed", "kc11", "group"),
    [
        ("kc 1900", 1900, "P"),
        ("kc1.1 = 2150 mc 0.2", 2150, "P"),
        ("brass kc 800", 800, "N"),
        ("kc 1900 N/mm2", 1900, "P"),
    ],
)
def test_a_force_of_ones_own_is_used(typed: str, kc11: float, group: str) -> None:
    found = material(typed)
    assert [(force.kc11, found.group) for force in found.forces] == [(kc11, group)]
    assert found.forces[0].mc == (0.2 if "mc" in typed else 0.25)


@pytest.mark.parametrize(
    ("typed", "group", "low", "high"),
    [
        ("steel 250 HB", "P", 250, 250),
        ("stainless 220 HB", "M", 220, 220),
        ("cast iron 200HB", "K", 200, 200),
        ("42CrMo4 28-32 HRC", "P", 28, 32),
        ("EN24 HRC 30", "P", 30, 30),
        ("1.2344 52 HRC", "H", 52, 52),
        ("O1 58 HRC", "H", 58, 58),
        ("H13 46 HRC", "H", 46, 46),
        ("C45 300 HV", "P", 300, 300),
    ],
)
def test_a_hardness_of_ones_own_is_taken(typed: str, group: str, low: float, high: float) -> None:
    found = material(typed)
    assert (found.group, found.hardness.low, found.hardness.high) == (group, low, high)


def test_a_hardness_alone_offers_what_it_can_be_of() -> None:
    with pytest.raises(OutOfRange) as raised:
        material("250 HB")
    offers = raised.value.faults[0].offers
    assert offers == ("steel 250 HB", "stainless steel 250 HB", "cast iron 250 HB")
    assert [material(offer).group for offer in offers] == ["P", "M", "K"]


@pytest.mark.parametrize("typed", ["steel 9000 HB", "HRC 99", "kc 0", "kc 1e9", "oak 200 HB"])
def test_a_hardness_or_a_force_that_cannot_be_is_not_taken(typed: str) -> None:
    with pytest.raises(OutOfRange):
        material(typed)


def kc(one: Material, chip: float) -> float:
    return float(one.forces[0].kc11 * chip ** -one.forces[0].mc)


@pytest.mark.parametrize(
    "orderly",
    # softer to harder, each of one kind
    [
        ["C15", "C22", "C35", "C45", "C45+QT"],
        ["S235JR", "S355J2"],
        ["34CrMo4", "42CrMo4-A", "42CrMo4", "34CrNiMo6", "36NiCrMo16"],
        ["25CrMo4", "34CrMo4", "34CrMo4+QT"],
        ["16MnCr5", "20MnCr5"],
        ["X5CrNi18-10", "X5CrNiCuNb16-4"],
        ["X20Cr13", "X17CrNi16-2"],
        ["X5CrNi18-10", "X2CrNiMoN22-5-3", "X2CrNiMoN25-7-4"],
        ["42CrMo4", "42CrMo4 40 HRC", "42CrMo4-50HRC", "X40CrMoV5-1-52HRC", "GJN-HV550", "100Cr6-60HRC"],
        ["GJL-200", "GJL-250", "GJL-300"],
        ["GJS-400", "GJS-500", "GJS-700", "EN-GJS-800-10", "EN-GJS-1000-5"],
        ["steel 150 HB", "steel 200 HB"],
        ["steel 240 HB", "steel 300 HB", "steel 350 HB", "steel 48 HRC", "steel 60 HRC"],
    ],
    ids=lambda codes: codes[0],
)
@pytest.mark.parametrize("chip", [0.05, 0.1, 0.25, 0.5])
def test_a_harder_one_never_reads_softer(orderly: list[str], chip: float) -> None:
    found = [kc(material(name), chip) for name in orderly]
    assert found == sorted(found)


def test_the_square_root_of_the_hardness_follows_the_handbooks_steels_within_a_seventh() -> None:
    # Machinery's Handbook 31, p. 1147, Table 1b: unit power over hardness within a class
    carbon = {90: 0.63, 130: 0.69, 190: 0.82, 250: 0.92, 310: 1.03, 350: 1.14}
    alloy = {150: 0.62, 190: 0.69, 230: 0.76, 270: 0.84, 310: 0.91, 350: 1.00}
    for rows in (carbon, alloy):
        middle = 190
        for hardness, power in rows.items():
            assert (hardness / middle) ** 0.5 == pytest.approx(power / rows[middle], rel=1 / 7)
