"""The table of materials: complete, sourced, findable by any name, and inside the published bands."""

import re

import pytest

from calc.cutting.materials import GROUPS, PLASTIC, Material, material, materials, search
from calc.cutting.tables import source
from calc.cutting.tools import habits, operations, tool_material, tool_materials
from calc.cutting.unit_power import IN_HANDBOOK, unit_power_of
from calc.language.problems import OutOfRange
from calc.language.quantities import DENSITY, View
from tests.many import for_each

EACH = for_each(materials(), lambda one: one.code)


def test_every_group_of_iso_513_is_there_in_its_order() -> None:
    groups = [one.group for one in materials()]
    assert list(dict.fromkeys(groups)) == list(GROUPS)
    assert groups == sorted(groups, key=list(GROUPS).index)
    assert len(groups) >= 45
    assert all(groups.count(group) >= 5 for group in GROUPS)


@EACH
def test_every_number_has_a_source_and_makes_sense(one: Material) -> None:
    sources = [
        one.hardness.source,
        one.density_source,
        *(f.source for f in one.forces),
        *(s.source for s in one.speeds),
    ]
    assert all(len(source) > 10 for source in sources)
    assert 0.0 < one.hardness.low < one.hardness.high
    assert (0.8 if one.group == PLASTIC else 1.5) < DENSITY.shown(one.density) < 20.0
    assert one.forces
    low = 15 if one.group == PLASTIC else 300
    assert all(low <= force.kc11 <= 5000 and 0.1 <= force.mc <= 0.4 for force in one.forces)
    assert one.speeds
    assert all(speed.low < speed.usual < speed.high for speed in one.speeds)


def test_every_material_is_found_by_its_code() -> None:
    assert all(material(one.code).code == one.code for one in materials())


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("c45", "C45"),
        ("1.0503", "C45"),
        ("AISI 1045", "C45"),
        ("1045", "C45"),
        ("g10450", "C45"),
        ("42 CrMo 4", "42CrMo4"),
        ("4140", "42CrMo4"),
        ("6061 t6", "6061-T6"),
        ("EN-GJL-250", "GJL-250"),
        ("GG-25", "GJL-250"),
        ("304", "X5CrNi18-10"),
        ("ti6al4v", "Ti-6Al-4V"),
        ("Alloy 718", "NiCr19Fe19Nb5Mo3"),
        ("N07718", "NiCr19Fe19Nb5Mo3"),
        ("52100", "100Cr6"),
        ("100Cr6 60 HRC", "100Cr6-60HRC"),
    ],
)
def test_a_material_is_found_by_any_of_its_names(typed: str, code: str) -> None:
    assert material(typed).code == code


@pytest.mark.parametrize("typed", ["", "42CrM", "cheese", "x" * 500])
def test_an_unknown_name_is_refused_with_what_begins_like_it_or_what_to_give_instead(typed: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        material(typed)
    fault = raised.value.faults[0]
    assert fault.field == "material"
    assert len(fault.message.say()) < 200
    assert "steel 250 HB" in fault.message.say()
    assert fault.offers == (("42CrMo4", "42CrMo4-A") if typed == "42CrM" else ())


def test_a_stray_sign_at_the_end_does_not_hide_a_name() -> None:
    assert material("C45;").code == "C45"


def test_search_finds_parts_of_names_and_puts_beginnings_first() -> None:
    found = [one.code for one in search("crmo")]
    assert {"25CrMo4", "34CrMo4", "42CrMo4", "X40CrMoV5-1", "42CrMo4-50HRC"} <= set(found)
    assert found.index("42CrMo4") < found.index("X40CrMoV5-1") < found.index("X40CrMoV5-1-52HRC")
    assert search("100c")[0].code == "100Cr6"
    assert search("cheese") == ()
    assert search("") == materials()


@pytest.mark.parametrize(
    ("code", "low", "high"),
    [
        ("C45", 1500, 2220),
        ("42CrMo4", 1563, 2500),
        ("16MnCr5", 1775, 2100),
        ("100Cr6", 1410, 1775),
        ("X5CrNi18-10", 1800, 2350),
        ("GJL-250", 890, 1350),
        ("6061-T6", 400, 800),
        ("CuZn39Pb3", 500, 1180),
        ("Ti-6Al-4V", 1245, 2110),
        ("NiCr19Fe19Nb5Mo3", 2900, 3300),
    ],
)
def test_specific_forces_lie_in_the_band_of_published_tables(code: str, low: float, high: float) -> None:
    assert all(low <= force.kc11 <= high for force in material(code).forces)


def test_c45_starts_as_the_shop_starts_it() -> None:
    # common practice, no source
    rough, finish = material("C45").speed("rough"), material("C45").speed("finish", "coated carbide")
    assert rough is not None
    assert finish is not None
    assert [s / 1000 for s in (rough.low, rough.usual, rough.high)] == pytest.approx([150, 180, 220])
    assert [s / 1000 for s in (finish.low, finish.usual, finish.high)] == pytest.approx([180, 220, 260])
    assert material("C45").speed("finish", "diamond") is None


def test_density_reads_in_both_systems() -> None:
    # 7.85 kg/dm3 is 0.2836 lb/in3
    assert DENSITY.shown(material("C45").density, View("inch")) == pytest.approx(0.2836, abs=5e-5)


NOT_IN_HARD = {"drill", "part", "thread"}  # common practice, no source: ground or eroded instead
STRUCTURAL = {"E295", "E335", "E360", "18CrNi8"}  # no AISI, UNS or ASTM name that is known as the same
AMERICAN = ("AISI", "UNS", "ASTM", "AA ", "alloy ", "A-286")


@EACH
def test_each_has_an_american_name_beside_its_european_one(one: Material) -> None:
    hardened_here = "HRC" in one.code or one.code == "42CrMo4-A"  # the soft material bears the standards' names
    american = any(name.startswith(AMERICAN) for name in one.names)
    assert american or hardened_here or one.code in STRUCTURAL or one.group == PLASTIC
    assert one.code in one.names


@EACH
def test_each_has_starting_speeds_for_every_operation_that_is_done_in_it(one: Material) -> None:
    done = {speed.operation for speed in one.speeds}
    assert done == set(operations()) - (NOT_IN_HARD if one.group == "H" else set())
    assert {speed.tool for speed in one.speeds} <= {tool.name for tool in tool_materials()}
    assert "HSS" in one.tools or one.group == "H"


@EACH
def test_each_operation_starts_in_its_order_and_each_tool_in_its_place(one: Material) -> None:
    for tool in one.tools:
        rough, finish = one.speed("rough", tool), one.speed("finish", tool)
        if rough and finish:
            assert rough.usual < finish.usual
        for operation in ("groove", "part", "thread"):
            slower = one.speed(operation, tool)
            assert slower is None or (rough is not None and slower.usual < rough.usual)
    usual = {tool: (one.speed("finish", tool) or one.speed("rough", tool)) for tool in one.tools}
    hss, bare, coated = (usual.get(tool) for tool in ("HSS", "uncoated carbide", "coated carbide"))
    if hss and bare and coated:
        assert hss.usual < bare.usual < coated.usual


@EACH
def test_diamond_cuts_no_iron_and_hard_tools_cut_no_aluminium(one: Material) -> None:
    # common practice, no source: carbon goes into iron; ceramic and CBN are for iron, nickel and hard steel
    assert one.group in ("N", "S", PLASTIC) or "PCD" not in one.tools
    assert one.group not in ("N", PLASTIC) or not {"ceramic", "CBN", "cermet"} & set(one.tools)


@EACH
def test_the_unit_power_agrees_with_the_specific_force_within_what_tables_differ(one: Material) -> None:
    # handbook unit power holds for 0.012 in/rev; tables of the two kinds differ by up to a factor of 2.6 here
    found = unit_power_of(one)
    if one.group in ("H", PLASTIC):
        assert found is None
        return
    assert found is not None
    assert found.low <= found.usual <= found.high
    forces = [force.kc11 * (0.012 * 25.4) ** -force.mc for force in one.forces]
    assert min(forces) / 2.6 < found.usual < 2.6 * max(forces)


@EACH
def test_the_published_pairs_of_a_material_spread_no_wider_than_published_tables_do(one: Material) -> None:
    # the widest spread among the published tables is brass, 500 to 1180; plastics: half to twice, a rough guide
    values = [force.kc11 for force in one.forces]
    assert max(values) <= (4.0 if one.group == PLASTIC else 2.4) * min(values)


@pytest.mark.parametrize(
    ("group", "low", "high"),
    [("P", 1200, 2600), ("M", 1600, 2600), ("K", 850, 1500), ("N", 380, 1350), ("S", 1100, 3400), ("H", 3800, 4800)],
)
def test_specific_forces_of_a_group_lie_in_the_band_of_vdi_3323_and_the_printed_tables(
    group: str, low: float, high: float
) -> None:
    values = [force.kc11 for one in materials() if one.group == group for force in one.forces]
    assert low <= min(values)
    assert max(values) <= high


# VDI 3323 groups in a printed catalogue of 2022: group, kc1.1, mc (38 and above: the table gives no exponent)
VDI_3323 = {
    1: (1350, 0.21), 2: (1500, 0.22), 3: (1675, 0.24), 4: (1700, 0.24), 5: (1900, 0.24), 6: (1775, 0.24),
    7: (1675, 0.24), 8: (1725, 0.24), 9: (1800, 0.24), 10: (2450, 0.23), 11: (2500, 0.23), 12: (1875, 0.21),
    13: (1875, 0.21), 14: (2150, 0.20), 15: (1150, 0.20), 16: (1350, 0.28), 17: (1225, 0.25), 18: (1350, 0.28),
    19: (1225, 0.25), 20: (1420, 0.30), 21: (700, 0.25), 22: (800, 0.25), 23: (700, 0.25), 24: (700, 0.25),
    25: (750, 0.25), 26: (700, 0.27), 27: (700, 0.27), 28: (700, 0.27), 31: (2600, 0.24), 32: (3100, 0.24),
    33: (3300, 0.24), 34: (3300, 0.24), 35: (3300, 0.24), 36: (1160, 0.24), 37: (1245, 0.24), 38: (4600, None),
    39: (4700, None), 40: (4600, None), 41: (4500, None),
}  # fmt: skip


@EACH
def test_pairs_by_vdi_3323_are_those_of_the_printed_catalogue(one: Material) -> None:
    for force in one.forces:
        found = re.fullmatch(r"VDI 3323 group (\d+) in a printed catalogue of 2022(;.*)?", force.source)
        if found:
            kc11, mc = VDI_3323[int(found[1])]
            assert force.kc11 == kc11
            assert mc in (None, force.mc)
            assert (mc is None) == bool(found[2])


@pytest.mark.parametrize(
    ("code", "brinell", "printed"),
    [
        ("AISI 4130", 190, 0.62),
        ("AISI 1045", 190, 0.82),
        ("AISI 1015", 110, 0.66),
        ("AISI 4140", 310, 0.91),
        ("AISI 8620", 170, 0.59),
        ("AISI 52100", 190, 0.83),
        ("AISI 1213", 130, 0.42),
        ("AISI 1146", 210, 0.55),
        ("AISI 1045", 250, 0.92),
        ("AISI 4340", 250, 0.80),
        ("AISI 4130", 250, 0.74),
        ("AISI 1137", 250, 0.62),
    ],
)
def test_unit_power_is_that_of_machinerys_handbook_31_page_1147_table_1b(
    code: str, brinell: float, printed: float
) -> None:
    found = unit_power_of(material(code), brinell)
    assert found is not None
    assert IN_HANDBOOK.over(found.usual) == pytest.approx(printed)


@pytest.mark.parametrize(("inch", "metric"), [(0.63, 1.72), (0.82, 2.24), (1.14, 3.11), (0.41, 1.12), (0.89, 2.43)])
def test_both_columns_of_the_handbooks_unit_power_agree(inch: float, metric: float) -> None:
    # Machinery's Handbook 31, p. 1147, Table 1b: hp/(in3/min) and kW/(cm3/s)
    assert IN_HANDBOOK.times(inch) / 1000 == pytest.approx(metric, abs=0.006)


def test_tool_materials_carry_the_exponents_of_the_textbook() -> None:
    # Fundamentals of Modern Manufacturing, table of n and C, from memory
    assert tool_material("HSS").taylor.usual == 0.125
    assert tool_material("uncoated carbide").taylor.usual == 0.25
    assert tool_material("ceramic").taylor.usual == 0.6
    for tool in tool_materials():
        assert 0.0 < tool.taylor.low <= tool.taylor.usual <= tool.taylor.high < 1.0
        assert tool.life > 0.0
        assert tool.taylor.source
        assert tool.life_source


def test_what_goes_by_group_is_told_for_each_with_its_source() -> None:
    for group in GROUPS:
        for spread in (habits(group).thrust, habits(group).drill_feed, habits(group).plunge_feed):
            assert 0.0 < spread.low < spread.usual < spread.high
            assert spread.source


def test_a_source_that_is_not_listed_is_refused() -> None:
    with pytest.raises(KeyError):
        source("hearsay")
