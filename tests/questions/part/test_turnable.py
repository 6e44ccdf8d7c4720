"""What a print must be before a part is turned from it: cases that people type, each answered by one sentence."""

from __future__ import annotations

import math

import pytest

from calc.language.problems import Problem
from calc.questions.part.asking import prints_of
from calc.questions.part.declared import PartInputs
from calc.questions.part.turnable import rib_cautions
from server.query import read_query
from server.rows import gathered

BAR = {"bar_diameter": "60", "material": "C45", "face_stock": "1"}


def inputs_of(texts: dict[str, str]) -> PartInputs:
    inputs: PartInputs = read_query({**BAR, **texts}.items(), PartInputs).inputs(PartInputs)
    return inputs


@pytest.mark.parametrize(
    ("outside", "inside", "field", "said"),
    [
        ("s_x0_z0*f_x20*t_z-10*f_x30*t_z40", "", "outside", "The outside stands 40 mm in front of Z zero"),
        ("s_x0_z0*f_x30*t_z-20", "s_x40_z0*t_z-20", "inside", "At X40.000 Z0.000 the bore is outside of the part"),
        ("s_x0_z0*f_x30*t_z-10*f_x50*t_z-20", "s_x32_z0*t_z-20", "inside", "At X32.000 Z0.000 the bore is outside"),
        ("s_x0_z0*f_x50*t_z-20", "s_x20_z-20*t_z0", "inside", "The bore runs from its mouth in"),
        ("s_x0_z0*f_x50*t_z-20", "s_x20_z0*t_z-15*f_x30*t_z-30*f_x0", "inside", "The bore goes 10 mm beyond"),
        ("s_x0_z0*f_x50*t_z-20", "s_x20_z5*t_z-10", "inside", "The bore stands 5 mm in front of Z zero"),
        ("s_x0_z0*f_x50*t_z-10*g_w3_dep8*t_z-30", "s_x36_z0*t_z-30", "inside", "the part falls in pieces"),
    ],
)  # fmt: skip
def test_a_print_that_is_no_part_is_answered_by_what_is_wrong_with_it(
    outside: str, inside: str, field: str, said: str
) -> None:
    """A hole of Ø39 was drilled out of a bar of Ø32; a Z of the wrong sign ended in a trace."""
    with pytest.raises(Problem) as caught:
        prints_of(inputs_of({"outside": outside, **({"inside": inside} if inside else {})}))
    assert caught.value.faults[0].field == field
    assert said in caught.value.faults[0].message.say()


@pytest.mark.parametrize(
    ("start", "inside", "bore", "ring"),
    [("s_x40_z0", "", "", 0.0), ("s_x40_z0", "s_x30_z0*t_z-40", "", 15.0), ("s_x40_z0", "", "30", 15.0)],
)
def test_a_print_that_begins_beside_the_axis_has_its_face(start: str, inside: str, bore: str, ring: float) -> None:
    """Begun at its first cylinder the part had no front: facing it cut 17.8 mm into it."""
    texts = {"outside": f"{start}*t_z-10*f_x50*t_z-40", "inside": inside, "stock_bore": bore}
    outside, _ = prints_of(inputs_of({name: text for name, text in texts.items() if text}))
    assert (outside.chain.start.z, outside.chain.start.r) == (0.0, ring)
    assert outside.numbers == (1, 1, 2, 3)


def test_a_bore_that_overruns_the_part_ends_at_its_far_face() -> None:
    """Drawn 20 too long it was bored out of the solid behind the part, 9.7 mm deep in one pass with 16 kW."""
    _, inside = prints_of(inputs_of({"outside": "s_x0_z0*f_x40*t_z-30", "inside": "s_x20_z0*t_z-50"}))
    assert inside is not None
    assert math.isclose(inside.chain.end.z, -30.0)


@pytest.mark.parametrize(("groove", "ribs"), [("g_w3.6_dep1.9", 1), ("g_w3.6_dep1.9_outward", 0), ("g_w3.6_x26", 0)])
def test_a_groove_of_the_bore_that_narrows_it_is_named(groove: str, ribs: int) -> None:
    """Read as elsewhere a groove goes toward the axis: the bore of Ø22 was drilled with 17 for the Ø18.2 of its rib."""
    inputs = inputs_of({"outside": "s_x0_z0*f_x38*t_z-50", "inside": f"s_x22_z0*t_z-32*{groove}*t_z-50"})
    _, inside = prints_of(inputs)
    found = list(rib_cautions(inside, inputs.inside))
    assert len(found) == ribs
    assert all("row 2 of the bore goes toward the axis" in each.message.say() for each in found)


def test_a_groove_that_is_added_to_the_bore_goes_into_its_wall() -> None:
    """That of the outside goes toward the axis as before."""
    for prefix, name, flag in (("inside", "inside", "_outward"), ("rows", "outside", "")):
        items = [(f"{prefix}.0.kind", "start"), (f"{prefix}.0.x", "22"), ("do", f"{prefix}:add-groove")]
        assert dict(gathered(items, name, prefix).items)[name] == f"s_x22*g{flag}"
