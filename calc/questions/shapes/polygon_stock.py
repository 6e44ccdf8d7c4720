"""Flats on a round bar: square, hexagon and their like, across corners, and the bar to order for them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, partial
from math import cos, pi, sqrt, tan
from pathlib import Path
from typing import Literal, cast

from calc.answer.drawing import Dimension, Drawing, EndView
from calc.answer.feature import Answer, Feature
from calc.contour import Chain, Line, Point
from calc.cutting import nouns
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result
from calc.language.messages import Message, Phrase, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import COUNT, DIAMETER, LENGTH, METRIC, Count, Diameter, Length
from calc.language.reading import read
from calc.language.tables import read_table
from calc.language.working import formula
from calc.shapes.blanks import Solved, System, Term, Way, require_settled
from calc.shapes.blanks import solve as solve_system
from calc.shapes.dish.sizes import SMALLEST, require_sizes

TABLE = Path(__file__).parent / "data" / "bars.toml"
POLYGON = "regular polygon: Machinery's Handbook, formulas for regular polygons"
SideCount = Literal["4", "6", "8", "12"]
SHAPES: dict[SideCount, str] = {"4": "square", "6": "hexagon", "8": "octagon", "12": "twelve sides"}


@formula(means="across corners", source=POLYGON, result="e")
def corners_from_flats(s: Length, n: Count) -> Diameter:
    """Width across corners (mm) of a regular bar of n sides, s across flats (mm); n is even.

    Source: Machinery's Handbook.

    >>> round(corners_from_flats(1.0, 6), 9)
    1.154700538
    """
    return s / cos(pi / n)


@formula(means="across flats", source=POLYGON, result="s")
def flats_from_corners(e: Diameter, n: Count) -> Length:
    """Width across flats (mm) of a regular bar of n sides, e across corners (mm); n is even.

    Source: Machinery's Handbook.

    >>> round(flats_from_corners(1.4142135624, 4), 9)
    1.0
    """
    return e * cos(pi / n)


@formula(means="width of one side", source=POLYGON, result="a")
def side_from_flats(s: Length, n: Count) -> Length:
    """Width (mm) of each side of a regular bar of n sides, s across flats (mm).

    Source: Machinery's Handbook.

    >>> round(side_from_flats(1.0, 4), 9)
    1.0
    """
    return s * tan(pi / n)


@formula(means="across flats from one side", source=POLYGON, result="s")
def flats_from_side(a: Length, n: Count) -> Length:
    """Width across flats (mm) of a regular bar of n sides that are a wide (mm).

    Source: Machinery's Handbook.

    >>> round(flats_from_side(1.0, 4), 9)
    1.0
    """
    return a / tan(pi / n)


@formula(means="smallest bar", source="the corners, and what cleaning up takes", result="B_min")
def smallest_bar(e: Diameter, c: Length) -> Diameter:
    """Diameter (mm) of the smallest round bar for e across corners that loses c on diameter in cleaning up (mm).

    Source: definition.

    >>> smallest_bar(41.57, 1.0)
    42.57
    """
    return e + c


@formula(means="largest width across corners", source="the bar, without what cleaning up takes", result="e")
def corners_from_bar(B: Diameter, c: Length) -> Diameter:
    """Largest width across corners (mm) that a round bar B (mm) holds once it has lost c on diameter (mm).

    Source: definition.

    >>> corners_from_bar(42.57, 1.0)
    41.57
    """
    return B - c


@formula(means="depth of each flat", source="half of what the flats take from the bar", result="t")
def flat_depth(B: Diameter, s: Length) -> Length:
    """Depth (mm) of each flat, s across (mm), below the round bar B (mm).

    Source: definition.

    >>> flat_depth(45.0, 36.0)
    4.5
    """
    return (B - s) / 2


@formula(means="width of each flat on this bar", source="chord of a circle", result="w")
def flat_width(B: Diameter, s: Length, a: Length) -> Length:
    """Width (mm) of each flat, s across, on the round bar B: a whole side a, or less where the bar is too small (mm).

    Source: chord of a circular segment, Machinery's Handbook 31, p. 83.

    >>> flat_width(5.0, 4.0, 9.0)
    3.0
    """
    return min(a, sqrt(B**2 - s**2))


@dataclass(frozen=True, slots=True)
class Bars:
    """Diameters (mm) that a stockist keeps, from small to large, and where they are from."""

    sizes: tuple[float, ...]
    source: str

    def next_from(self, diameter: float) -> float | None:
        """The smallest that is not below the diameter (mm); None beyond the largest."""
        return next((size for size in self.sizes if size >= diameter - SMALLEST), None)


@cache
def bars(series: str) -> Bars:
    """The "metric" or the "inch" bars of the table; read on first use.

    >>> bars("metric").next_from(41.57)
    42.0
    """
    row = read_table(TABLE)[series]
    sizes = (read(f"{size} {row['unit']}", DIAMETER, METRIC) for size in row["sizes"])
    return Bars(tuple(float(size) for size in sizes if size is not None), str(row["source"]))


class PolygonInputs(Declared):
    """What a print gives of the flats (mm): any one width; the bar at hand, or what cleaning up takes."""

    sides: SideCount = choice("Shape", SHAPES, "6")
    across_flats: float | None = given(LENGTH, "Across flats", "s", above=0.0)
    across_corners: float | None = given(DIAMETER, "Across corners", "e", above=0.0)
    side_length: float | None = given(LENGTH, "One side", "a", above=0.0)
    bar_diameter: float | None = nouns.BAR_DIAMETER.given(blank="the next one in stock")
    clean_up: float = given(LENGTH, "Cleaning up", "c", least=0.0, hint="on diameter", blank="0", default=0.0)
    series: Literal["metric", "inch"] = choice("Stock", {"metric": "metric bars", "inch": "inch bars"}, "metric")


class PolygonResults(Declared):
    """Flats and bar complete."""

    sides: float = result(COUNT, "Sides", "n")
    across_flats: float = result(LENGTH, "Across flats", "s")
    across_corners: float = result(DIAMETER, "Across corners", "e")
    side_length: float = result(LENGTH, "One side", "a")
    smallest_bar: float = result(DIAMETER, "Smallest round bar", "B_min")
    stock_bar: float | None = result(DIAMETER, "Next bar in stock")
    flat_depth: float | None = result(LENGTH, "Depth of each flat", "t", hint="below the bar")
    flat_width: float | None = result(LENGTH, "Width of each flat", "w", hint="on this bar")


def solve_polygon(inputs: PolygonInputs) -> Solved:
    """The flats from any one of their widths. Raises `Missing`, `Contradiction`, `OutOfRange`.

    >>> round(solve_polygon(PolygonInputs(across_flats=36.0))["across_corners"], 4)
    41.5692
    """
    require(inputs)
    require_sizes(inputs)
    system = _system(int(inputs.sides))
    values = {term.name: getattr(inputs, term.name) for term in system.terms}
    if inputs.bar_diameter is not None and not any(value is not None for value in values.values()):
        values["across_corners"] = _largest_corners(inputs.bar_diameter, inputs.clean_up)
    require_settled(system, values, ("across_flats",))
    return solve_system(system, values)


def _largest_corners(bar: float, clean_up: float) -> float:
    """What a bar (mm) holds with sharp corners. Raises `Impossible` where cleaning up takes all of it."""
    if clean_up >= bar - SMALLEST:
        values: dict[str, Value] = {
            "c": Quantity(clean_up, LENGTH, brief=True),
            "bar": Quantity(bar, DIAMETER, brief=True),
        }
        raise Impossible(Fault("clean_up", Message("Cleaning up by {c} leaves nothing of {bar}.", values)))
    return corners_from_bar(bar, clean_up)


def _system(n: int) -> System:
    return System(
        (
            Term("across_flats", LENGTH, "width across flats"),
            Term("across_corners", DIAMETER, "width across corners"),
            Term("side_length", LENGTH, "side"),
        ),
        (
            Way("across_flats", ("across_corners",), partial(flats_from_corners, n=n)),
            Way("across_flats", ("side_length",), partial(flats_from_side, n=n)),
            Way("across_corners", ("across_flats",), partial(corners_from_flats, n=n)),
            Way("side_length", ("across_flats",), partial(side_from_flats, n=n)),
        ),
        "Give the width across flats, across corners, or of one side; or the bar, for the largest that it holds.",
    )


def solve(inputs: PolygonInputs) -> Answer[PolygonResults]:
    """Flats and bar. Raises `Problem` when what is given settles none, or the bar is too small."""
    found = solve_polygon(inputs)
    s, e = found["across_flats"], found["across_corners"]
    least = smallest_bar(e, inputs.clean_up)
    stock = bars(inputs.series).next_from(least)
    bar = inputs.bar_diameter or stock
    if inputs.bar_diameter is not None:
        _require_flats(inputs.bar_diameter, s)
    results = PolygonResults(
        sides=float(inputs.sides),
        across_flats=s,
        across_corners=e,
        side_length=found["side_length"],
        smallest_bar=least,
        stock_bar=stock,
        flat_depth=flat_depth(bar, s) if bar else None,
        flat_width=flat_width(bar, s, found["side_length"]) if bar else None,
    )
    return Answer(
        results=results,
        headline="across_flats" if _is_largest(inputs) else "smallest_bar",
        notes=(*found.notes, *_notes(inputs, results)),
        drawing=partial(polygon_drawing, int(inputs.sides), s, e, bar or least),
    )


def _is_largest(inputs: PolygonInputs) -> bool:
    """Whether nothing is given but the bar: then the largest that it holds is asked."""
    return inputs.bar_diameter is not None and (inputs.across_flats, inputs.across_corners, inputs.side_length) == (
        None,
        None,
        None,
    )


def _require_flats(bar: float, s: float) -> None:
    if bar <= s:
        values = {"bar": Quantity(bar, DIAMETER, brief=True), "s": Quantity(s, LENGTH, brief=True)}
        text = "A bar of {bar} has no flats at {s} across: it must be larger."
        raise Impossible(Fault("bar_diameter", Message(text, values)))


def _notes(inputs: PolygonInputs, found: PolygonResults) -> Iterator[Message]:
    bar, series = inputs.bar_diameter, bars(inputs.series)
    if bar is not None and bar < found.across_corners - SMALLEST:
        values: dict[str, Value] = {
            "bar": Quantity(bar, DIAMETER, brief=True),
            "e": Quantity(found.across_corners, DIAMETER),
        }
        yield Message("On {bar} the corners stay round: sharp ones need {e}.", values)
    if found.stock_bar is None:
        yield Message("The bars listed here end at {largest}.", {"largest": Quantity(series.sizes[-1], DIAMETER)})
    if _is_largest(inputs):
        text = "The largest {shape} with sharp corners from a bar of {bar}."
        yield Message(
            text, {"shape": SHAPES[inputs.sides], "bar": Quantity(found.across_corners + inputs.clean_up, DIAMETER)}
        )
    yield Message("Bars: {source}.", {"source": series.source})


def polygon_drawing(sides: int, flats: float, corners: float, bar: float) -> Drawing:
    """The bar with so many `sides`, seen from its end: over `flats`, over `corners`, and the `bar` around it (mm)."""
    middle = Point(0.0, 0.0)

    def dimension(value: float, field: str, symbol: str) -> Dimension:
        kind = DIAMETER if field == "bar_diameter" else LENGTH
        return Dimension("length", middle, middle, value, kind, field, symbol)

    return Drawing(
        title=Phrase("The {shape} on its round bar", shape=SHAPES[cast("SideCount", str(sides))]),
        description="Seen from the end of the bar: the flats, the round bar as a dashed circle.",
        part=Chain((Line(Point(0.0, bar / 2), middle),)),
        bar_radius=bar / 2,
        end_view=EndView(
            sides,
            flats,
            bar,
            across_flats=dimension(flats, "across_flats", "s"),
            across_corners=dimension(corners, "across_corners", "e"),
            bar_diameter=dimension(bar, "bar_diameter", "B"),
        ),
    )


FEATURE = Feature(
    path="geometry/polygon",
    page="/polygon",
    title="Hexagon",
    summary="Hexagon, square and other flats on a round bar: corners, smallest bar, next in stock, depth of flats.",
    solve=solve,
    supporting=("across_corners", "stock_bar", "flat_depth", "flat_width"),
    blank=polygon_drawing(6, 50.0, 50.0 / math.cos(math.pi / 6), 62.0).with_symbols_only(),
    example={"sides": "6", "across_flats": "36", "clean_up": "1"},
)
