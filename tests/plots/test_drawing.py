"""What a reader sees of a plot: well-formed, named, every number also in the table, small, and in every view."""

from __future__ import annotations

import re

import pytest

from calc.answer.plotting import Axis, Curve, Level, Mark, Plot
from calc.language.messages import Message
from calc.language.quantities import LENGTH, METRIC, View, X
from server.plots import draw_plot, draw_plot_legend, plot_json, plot_table
from server.plots.scale import Scale, ends_of, ticks
from tests.plots.pages import CASES, plots_of, query_of
from tests.sketch.svg import NS, parsed

VIEWS = [View(), View("inch"), View(x="radius"), View("inch", zplus="in")]


@pytest.mark.parametrize("name", CASES)
def test_a_plot_is_an_image_with_a_name_a_description_and_axes_with_units(name: str) -> None:
    for plot in plots_of(name):
        view = query_of(name).view
        svg = parsed(draw_plot(plot, view))
        assert svg.get("role") == "img"
        title, desc = svg.find(f"{NS}title"), svg.find(f"{NS}desc")
        assert title is not None
        assert title.text == plot.title
        assert desc is not None
        assert desc.text == plot.description.say(view)
        words = ["".join(text.itertext()) for text in svg.iter(f"{NS}text")]
        for axis in (plot.x, plot.y):
            assert f"{axis.label}, {axis.kind.unit(view).label}".rstrip(", ") in words


@pytest.mark.parametrize("name", CASES)
def test_a_plot_has_no_style_or_colour_of_its_own_and_stays_small(name: str) -> None:
    for plot in plots_of(name):
        markup = draw_plot(plot, query_of(name).view)
        assert not re.search(r"style=|#[0-9a-fA-F]{3}\b|rgb|stroke=|fill=\"(?!url)", markup)
        assert len(markup) < 30_000
        assert "nan" not in markup.lower()


@pytest.mark.parametrize("name", CASES)
def test_everything_that_is_drawn_lies_within_the_picture(name: str) -> None:
    for plot in plots_of(name):
        svg = parsed(draw_plot(plot, query_of(name).view))
        _, _, width, height = map(float, svg.attrib["viewBox"].split())
        for path in svg.iter(f"{NS}path"):
            if path.get("class") == "h":
                continue  # the hatch's own tile
            numbers = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", path.attrib["d"])]
            assert all(-0.5 <= number <= max(width, height) + 0.5 for number in numbers)


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("view", VIEWS, ids=str)
def test_every_reader_gets_a_plot_a_table_and_numbers(name: str, view: View) -> None:
    for plot in plots_of(name):
        parsed(draw_plot(plot, view))
        table = plot_table(plot, view)
        assert table.rows
        assert all(len(row) == len(table.heads) for row in table.rows)
        assert all(row[0] for row in table.rows)
        body = plot_json(plot, view)
        assert body["x"]["unit"] == plot.x.kind.unit(view).code


@pytest.mark.parametrize("name", [name for name in CASES if "field" not in name and CASES[name][0] != "compare"])
def test_every_mark_of_a_plot_stands_in_its_table(name: str) -> None:
    view = query_of(name).view
    for plot in plots_of(name):
        table = plot_table(plot, view)
        cells = {cell for row in table.rows for cell in row}
        for mark in plot.marks:
            shown = plot.x.kind.text(mark.x, view)
            assert shown in cells or shown.rstrip("0").rstrip(".") in cells or shown == "0.000"
            assert plot.y.kind.text(mark.y, view) in cells
        for level in plot.levels:
            kind = plot.y.kind if level.axis == "y" else plot.x.kind
            assert (
                kind.text(level.value, view) in table.note
                or kind.text(level.value, view) in cells
                or (level.label.say() == "marked")
            )


def test_a_field_is_hatched_only_where_a_limit_is_broken() -> None:
    (allowed,) = plots_of("a flat field")
    (nothing,) = plots_of("nothing allowed")
    assert "hatched" in draw_plot_legend(nothing, METRIC)
    hatched = [path for path in parsed(draw_plot(nothing, METRIC)).iter(f"{NS}path") if path.get("class") == "bh"]
    assert len(hatched) == 1
    numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", hatched[0].attrib["d"])]
    assert max(numbers[::2]) - min(numbers[::2]) > 200.0  # all across
    assert allowed.field is not None


def test_lines_and_limits_differ_by_their_strokes_and_bear_their_names() -> None:
    (plot,) = plots_of("compare")
    svg = parsed(draw_plot(plot, METRIC))
    classes = [path.get("class") for path in svg.iter(f"{NS}path")]
    words = ["".join(text.itertext()) for text in svg.iter(f"{NS}text")]
    assert {"b1", "b2", "b3", "b4", "b5", "bh", "bv"} <= set(classes)
    assert {"1 power", "2 finish"} <= set(words)
    assert {"5.0", "10.0"} & set(words)


def test_a_single_curve_needs_no_legend_and_several_are_told_apart() -> None:
    assert draw_plot_legend(plots_of("grip")[0], METRIC) == ""
    legend = draw_plot_legend(plots_of("bar-deflection")[0], METRIC)
    assert [cls in legend for cls in ("k1", "k2", "k3")] == [True, True, True]


def test_an_x_axis_shows_diameters_or_radii_and_a_bad_key_is_refused() -> None:
    plot = Plot(
        key="p", title="T", description=Message("D"), x=Axis("X", X), y=Axis("Length", LENGTH),
        curves=(Curve("c", [0.0, 30.0], [1.0, 2.0]),), marks=(Mark(30.0, 2.0, Message("here")),),
        levels=(Level(1.5, "y", Message("level")), Level(10.0, "x", Message("at"))),
    )  # fmt: skip
    assert ">60<" in draw_plot(plot, View())
    assert ">60<" not in draw_plot(plot, View(x="radius"))
    with pytest.raises(ValueError, match="key"):
        draw_plot(plot, View(), "1 bad")


def test_a_curve_breaks_where_it_has_no_value() -> None:
    plot = Plot(
        key="p", title="T", description=Message("D"), x=Axis("x", LENGTH), y=Axis("y", LENGTH),
        curves=(Curve("c", [0.0, 1.0, 2.0, 3.0, 4.0], [1.0, 2.0, float("nan"), 2.0, 1.0]),),
    )  # fmt: skip
    (curve,) = [path for path in parsed(draw_plot(plot, View())).iter(f"{NS}path") if path.get("class") == "k1"]
    assert curve.attrib["d"].count("M") == 2


@pytest.mark.parametrize("high", [1e-6, 0.37, 1.0, 9.99, 61.0, 2500.0, 7.3e6])
def test_ticks_are_few_round_and_cover_the_axis(high: float) -> None:
    unit = LENGTH.unit(METRIC)
    low_end, high_end = ends_of([0.0, high], unit, 5, tight=False)
    found = ticks(low_end, high_end, unit, 5)
    assert low_end == 0.0
    assert high_end >= high * (1 - 1e-9)
    assert 3 <= len(found) <= 7
    assert all(float(tick.text) == pytest.approx(tick.value, abs=1e-12) for tick in found)


def test_a_scale_runs_either_way() -> None:
    assert Scale(0.0, 10.0, 300.0, 50.0).px(2.0) == 250.0
