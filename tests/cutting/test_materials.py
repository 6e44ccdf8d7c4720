"""The table of materials: complete, sourced, findable by any name, and inside the published bands."""

import pytest

from calc.cutting.materials import GROUPS, Material, material, materials, search
from calc.problems import OutOfRange
from calc.quantities import DENSITY, View

EACH = pytest.mark.parametrize("one", materials(), ids=lambda one: one.code)


def test_every_group_of_iso_513_is_there_in_its_order() -> None:
    groups = [one.group for one in materials()]
    assert list(dict.fromkeys(groups)) == list(GROUPS)
    assert groups == sorted(groups, key=list(GROUPS).index)
    assert len(groups) >= 14


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
    assert 1.5 < DENSITY.shown(one.density) < 20.0
    assert one.forces
    assert all(300 <= force.kc11 <= 5000 and 0.1 <= force.mc <= 0.4 for force in one.forces)
    assert one.speeds
    assert all(speed.low < speed.usual < speed.high for speed in one.speeds)


def test_no_two_materials_share_a_name() -> None:
    names = [name for one in materials() for name in {one.code, *one.names}]
    assert len(names) == len(set(names))
    assert all(material(name) is one for one in materials() for name in (one.code, *one.names))


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


@pytest.mark.parametrize("typed", ["", "C4", "cheese", "C45;", "x" * 500])
def test_an_unknown_name_is_refused_with_the_nearest_ones(typed: str) -> None:
    if typed == "C45;":
        assert material(typed).code == "C45"
        return
    with pytest.raises(OutOfRange) as raised:
        material(typed)
    assert raised.value.faults[0].field == "material"
    said = raised.value.faults[0].message.say()
    assert len(said) < 200
    assert ("C45" in said) == (typed == "C4")


def test_search_finds_parts_of_names_and_puts_beginnings_first() -> None:
    assert [one.code for one in search("crmo")] == ["34CrMo4", "42CrMo4"]
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
