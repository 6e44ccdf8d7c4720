"""A field's text keeps its meaning and its digits when the page's conventions switch."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from calc.language.given import Given
from calc.language.quantities import (
    ANGLE,
    DIAMETER,
    FEED,
    FORCE,
    KINDS,
    LENGTH,
    RADIUS,
    ROUGHNESS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    Kind,
    View,
    X,
    Z,
)
from calc.language.reading import ReadingError, read, rewrite_for_switch, strip_unit
from tests.language.quantities.strategies import kinds, texts_for, views
from tests.tries import tries

MM, INCH = View("mm"), View("inch")


@pytest.mark.parametrize(
    ("text", "kind", "old", "new", "rewritten"),
    [
        ("90", RADIUS, MM, INCH, "90mm"),
        ("90", RADIUS, INCH, MM, "90in"),
        ("90", RADIUS, MM, MM, "90"),
        ("R 90", RADIUS, MM, INCH, "R 90mm"),
        ("3-1/4", LENGTH, INCH, MM, "3-1/4in"),
        ("5.", LENGTH, MM, INCH, "5.mm"),
        ("2,50", LENGTH, MM, INCH, "2,50mm"),
        ("60 +0.1/0", DIAMETER, MM, INCH, "60 +0.1/0mm"),
        ("90mm", RADIUS, MM, INCH, "90mm"),
        ("1in", RADIUS, MM, INCH, "1in"),
        ('1/2"', RADIUS, INCH, MM, '1/2"'),
        ("0.2", FEED, MM, INCH, "0.2mm/rev"),
        ("1.6", ROUGHNESS, MM, INCH, "1.6µm"),
        ("Ra 1.6", ROUGHNESS, MM, INCH, "Ra 1.6µm"),
        ("220", SURFACE_SPEED, MM, INCH, "220m/min"),
        ("100", FORCE, INCH, MM, "100lbf"),
        ("7.5", ANGLE, MM, INCH, "7.5"),
        ("2500", SPINDLE_SPEED, MM, INCH, "2500"),
        ("", LENGTH, MM, INCH, ""),
        ("  ", LENGTH, MM, INCH, "  "),
        ("abc", LENGTH, MM, INCH, "abc"),
        ("1,500", LENGTH, MM, INCH, "1,500"),
        ("60", X, View(x="diameter"), View(x="radius"), "Ø60"),
        ("60", X, View(x="radius"), View(x="diameter"), "R60"),
        ("-12", X, View(x="diameter"), View(x="radius"), "Ø-12"),
        ("X-12", X, View(x="diameter"), View(x="radius"), "Ø-12"),
        ("60", X, View("mm", "diameter"), View("inch", "radius"), "Ø60mm"),
        ("60mm", X, View(x="diameter"), View(x="radius"), "Ø60mm"),
        ("Ø60", X, View(x="diameter"), View(x="radius"), "Ø60"),
        ("R30", X, View(x="diameter"), View(x="radius"), "R30"),
        ("60", DIAMETER, View(x="diameter"), View(x="radius"), "60"),
        ("-4.5", Z, View(zplus="out"), View(zplus="in"), "4.5"),
        ("4.5", Z, View(zplus="in"), View(zplus="out"), "-4.5"),
        ("+4.5", Z, View(zplus="in"), View(zplus="out"), "-4.5"),
        ("0", Z, View(zplus="in"), View(zplus="out"), "0"),
        ("Z4.5", Z, View(zplus="in"), View(zplus="out"), "Z-4.5"),
        ("4.5mm", Z, View(zplus="in"), View(zplus="out"), "-4.5mm"),
        ("-4.5 +0.1/0", Z, View(zplus="out"), View(zplus="in"), "4.5 -0.1/0"),
        ("-4.5 ±0.1", Z, View(zplus="out"), View(zplus="in"), "4.5 ±0.1"),
        ("-4.5", Z, View("mm", zplus="out"), View("inch", zplus="in"), "4.5mm"),
    ],
)
def test_a_switch_writes_out_what_it_would_change(text: str, kind: Kind, old: View, new: View, rewritten: str) -> None:
    assert rewrite_for_switch(text, kind, old, new) == rewritten


def outcome(text: str, kind: Kind, view: View) -> Given | None:
    try:
        return read(text, kind, view)
    except ReadingError:
        return None


@settings(max_examples=tries(400))
@given(st.data(), kinds, views, views)
def test_a_switch_of_conventions_never_changes_a_value(data: st.DataObject, kind: Kind, old: View, new: View) -> None:
    text = data.draw(texts_for(kind))
    before = outcome(text, kind, old)
    assume(before is not None)
    after = outcome(rewrite_for_switch(text, kind, old, new), kind, new)
    assert before is not None
    assert after is not None
    assert (after, after.slack, after.nominal) == (before, before.slack, before.nominal)


@given(st.data(), kinds, views, views)
def test_a_switch_keeps_every_digit(data: st.DataObject, kind: Kind, old: View, new: View) -> None:
    text = data.draw(texts_for(kind))
    assume(outcome(text, kind, old) is not None)
    added = "23" if kind.name in ("area", "volume", "density", "specific force", "removal rate") else ""
    digits = [c for c in text if c.isascii() and c.isdigit()]
    kept = [c for c in rewrite_for_switch(text, kind, old, new) if c.isascii() and c.isdigit()]
    assert kept[: len(digits)] == digits
    assert set(kept[len(digits) :]) <= set(added)


@given(kinds, views, views, st.text())
def test_text_that_is_no_number_stays_as_typed(kind: Kind, old: View, new: View, text: str) -> None:
    assume(outcome(text, kind, old) is None)
    assert rewrite_for_switch(text, kind, old, new) == text


@settings(suppress_health_check=[HealthCheck.filter_too_much])  # most texts have their unit already
@given(st.data(), st.sampled_from([kind for kind in KINDS if kind.metric != kind.inch]), views)
def test_i_meant_the_new_unit_takes_back_what_the_switch_added(data: st.DataObject, kind: Kind, old: View) -> None:
    new = replace(old, units="inch" if old.units == "mm" else "mm")
    text = data.draw(texts_for(kind))
    rewritten = rewrite_for_switch(text, kind, old, new)
    assume(rewritten != text)
    bare = strip_unit(rewritten, kind, new)
    assert outcome(bare, kind, old) == outcome(text, kind, old)
    assert rewrite_for_switch(bare, kind, old, new) == rewritten


@pytest.mark.parametrize(
    ("text", "kind", "view", "stripped"),
    [
        ("90mm", RADIUS, INCH, "90"),
        ("90 mm", RADIUS, INCH, "90"),
        ("90in", RADIUS, MM, "90"),
        ("90mm", RADIUS, MM, "90mm"),
        ("90", RADIUS, INCH, "90"),
        ("0.2mm/rev", FEED, INCH, "0.2"),
        ("60 +0.1/0mm", DIAMETER, INCH, "60 +0.1/0"),
        ("60mm ±0.1mm", DIAMETER, INCH, "60mm ±0.1mm"),
        ("7.5°", ANGLE, INCH, "7.5°"),
        ("", RADIUS, INCH, ""),
        ("mm", RADIUS, INCH, "mm"),
        ("abc mm", RADIUS, INCH, "abc mm"),
    ],
)
def test_only_the_other_systems_unit_at_the_end_is_taken_off(text: str, kind: Kind, view: View, stripped: str) -> None:
    assert strip_unit(text, kind, view) == stripped
