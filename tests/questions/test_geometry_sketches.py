"""Every geometric feature draws whatever it answers, and answers its own example."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc.answer.feature import Feature
from calc.language.fields import Spec, build, specs
from calc.language.problems import Problem
from calc.language.quantities import METRIC, View
from calc.questions.shapes.ball import FEATURE as BALL
from calc.questions.shapes.corner import FEATURE as CORNER
from calc.questions.shapes.crown import FEATURE as CROWN
from calc.questions.shapes.drill_point import FEATURE as DRILL_POINT
from calc.questions.shapes.groove import FEATURE as GROOVE
from calc.questions.shapes.polygon_stock import FEATURE as POLYGON
from calc.questions.shapes.seat_pair import FEATURE as SEAT_PAIR
from calc.questions.shapes.shoulder import FEATURE as SHOULDER
from calc.questions.shapes.taper import FEATURE as TAPER
from server.query import read_query
from server.sketch import draw, draw_details
from tests.tries import tries

FEATURES = (CROWN, TAPER, CORNER, SHOULDER, GROOVE, BALL, DRILL_POINT, SEAT_PAIR, POLYGON)
named = pytest.mark.parametrize("feature", FEATURES, ids=lambda feature: feature.path)


def values_of(spec: Spec) -> st.SearchStrategy[Any]:
    if spec.role == "choice":
        return st.sampled_from(sorted(spec.choices))
    if spec.role != "quantity":
        return st.none()
    if spec.quantity.dimension == "angle":
        return st.none() | st.floats(-180.0, 180.0).map(math.radians)
    if spec.quantity.dimension == "ratio":
        return st.none() | st.floats(1e-4, 2.0)
    return st.none() | st.floats(-3.0, 3.5).map(lambda power: 10.0**power)


@named
@settings(max_examples=tries(50), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_whatever_is_answered_can_be_drawn(feature: Feature[Any, Any], data: st.DataObject) -> None:
    declared = specs(feature.inputs)
    values = data.draw(st.fixed_dictionaries({spec.name: values_of(spec) for spec in declared}))
    try:
        answer = feature.solve(build(feature.inputs, values))
    except Problem:
        return
    drawing = answer.drawn()
    assert drawing is not None
    assert draw(drawing, METRIC).startswith("<svg")
    assert all(detail.startswith("<svg") for detail in draw_details(drawing, METRIC))


@named
def test_the_example_is_answered_in_its_own_units_with_every_step_shown(feature: Feature[Any, Any]) -> None:
    query = read_query(feature.example.items(), feature.inputs)
    assert query.faults == ()
    assert query.unknown == ()
    answer, steps = feature.answer(query.inputs(feature.inputs))
    assert steps
    for view in (METRIC, View("inch"), View("mm", "radius", "in")):
        assert all("nan" not in str(step.plain(view)) for step in steps)
    names = {spec.name for spec in specs(feature.results)}
    assert answer.headline in names
    assert set(feature.supporting) <= names


@named
def test_the_blank_sketch_shows_symbols_of_fields_that_there_are(feature: Feature[Any, Any]) -> None:
    assert feature.blank is not None
    fields = {spec.name for spec in (*specs(feature.inputs), *specs(feature.results))}
    for dimension in feature.blank.dimensions:
        assert not dimension.is_known
        assert dimension.field in fields | {""}
    assert draw(feature.blank, METRIC).startswith("<svg")
