"""Feed and depth to start with: inside what printed turning guides start with, and in their order."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.chip import Edge
from calc.cutting.materials import GROUPS, materials
from calc.cutting.materials import material as named
from calc.cutting.starting import Start, StartingCut, starting_cut
from calc.cutting.thickest_chip import thickest_chip


def cut(material: str, operation: str, nose: float, edge: float | None = None) -> StartingCut:
    found = starting_cut(named(material), operation, nose, edge)
    assert found is not None
    return found


def within(start: Start, low: float, high: float) -> bool:
    return low <= start.low <= start.usual <= start.high <= high


def test_an_ordinary_roughing_cut_in_steel_starts_where_printed_guides_do() -> None:
    # common practice, from memory: CNMG 1204-08, medium roughing of carbon steel, 0.2 to 0.5 mm/rev, 0.5 to 5 mm deep
    found = cut("C45", "rough", 0.8, 12.9)
    assert within(found.feed, 0.2, 0.5)
    assert within(found.depth, 0.5, 5.3)


@pytest.mark.parametrize(
    ("material", "operation", "nose", "feeds", "depths"),
    # common practice, from memory: the middle of what printed guides start with for a pointed insert of 12 mm
    [
        ("C45", "finish", 0.4, (0.05, 0.2), (0.1, 1.5)),
        ("X5CrNi18-10", "rough", 0.8, (0.15, 0.45), (0.6, 4.0)),
        ("GJL-250", "rough", 1.2, (0.25, 0.75), (1.0, 5.0)),
        ("6082-T6", "finish", 0.4, (0.05, 0.2), (0.1, 1.5)),
        ("Ti-6Al-4V", "rough", 0.8, (0.1, 0.32), (0.5, 2.5)),
        ("NiCr19Fe19Nb5Mo3", "finish", 0.8, (0.05, 0.2), (0.2, 1.0)),
        ("100Cr6-60HRC", "finish", 0.8, (0.05, 0.15), (0.05, 0.3)),
        ("POM", "rough", 0.8, (0.15, 0.5), (0.5, 5.0)),
        ("C45", "bore", 0.4, (0.05, 0.2), (0.2, 3.1)),
    ],
)
def test_each_group_starts_in_its_usual_range(
    material: str, operation: str, nose: float, feeds: tuple[float, float], depths: tuple[float, float]
) -> None:
    found = cut(material, operation, nose)
    assert within(found.feed, *feeds)
    assert within(found.depth, *depths)


def test_a_round_insert_starts_by_its_chip() -> None:
    # the scenario: roughing at most 0.25 thick, 1.0 deep with a nose of 6
    found = cut("C45", "rough", 6.0)
    assert thickest_chip(found.feed.usual, found.depth.usual, Edge(6.0)) <= 0.25
    assert found.depth.high <= 3.0
    assert "largest chip" in found.feed.why.say()


@given(st.sampled_from(materials()), st.sampled_from(["rough", "finish", "bore"]), st.floats(0.1, 16.0))
def test_every_start_is_in_order_and_below_half_the_nose_or_the_least_feed(
    work: object, operation: str, nose: float
) -> None:
    found = starting_cut(work, operation, nose)  # type: ignore[arg-type]  # drawn from the materials
    assert found is not None
    assert 0.0 < found.feed.low <= found.feed.usual <= found.feed.high <= max(0.62 * nose, 0.05) + 1e-9
    assert 0.0 < found.depth.low <= found.depth.usual <= found.depth.high


def test_finishing_feeds_less_than_roughing_and_hard_work_is_only_skimmed() -> None:
    assert (
        cut("C45", "finish", 0.8).feed.usual < cut("C45", "bore", 0.8).feed.usual < cut("C45", "rough", 0.8).feed.usual
    )
    assert cut("100Cr6-60HRC", "rough", 0.8).depth.high < cut("C45", "rough", 0.8).depth.low


def test_a_larger_insert_may_cut_deeper_and_other_operations_have_no_such_start() -> None:
    assert cut("C45", "rough", 0.8, 16.0).depth.high > cut("C45", "rough", 0.8, 9.0).depth.high
    assert starting_cut(named("C45"), "drill", 0.8) is None
    assert starting_cut(named("C45"), "rough", 0.0) is None


def test_each_start_gives_its_reason_in_words() -> None:
    for group in GROUPS:
        work = next(one for one in materials() if one.group == group)
        for nose in (0.8, 6.0):
            found = cut(work.code, "rough", nose)
            assert "common practice" in found.feed.why.say()
            assert found.depth.why.say().startswith("Depth: ")
            assert "{" not in found.feed.why.say() + found.depth.why.say()
