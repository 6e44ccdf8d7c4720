"""Sizes that can be had: bars, drills, tool bars, widths across flats, rolls, rings, for fresh numbers of a step."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import cast

from calc.cutting.holes import drill_below
from calc.cutting.insert_widths import USUAL_WIDTHS
from calc.language.factor import INCH
from calc.language.quantities import UnitSystem
from calc.questions.shapes.polygon_stock import bars
from calc.shapes.knurls import pitches
from calc.shapes.o_rings import table as o_rings
from calc.shapes.retaining_rings import Where, ring_grooves

Texts = Mapping[str, str]

TOOL_BARS = {
    "mm": (8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 60.0),  # ISO 6261, from memory
    "inch": (0.3125, 0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 2.0),  # common practice, no source
}
FLATS = {
    "mm": (
        5.0,
        5.5,
        7.0,
        8.0,
        10.0,
        13.0,
        16.0,
        18.0,
        21.0,
        24.0,
        27.0,
        30.0,
        34.0,
        36.0,
        41.0,
        46.0,
        50.0,
        55.0,
        60.0,
    ),
    "inch": (0.25, 0.3125, 0.375, 0.4375, 0.5, 0.5625, 0.75, 0.9375, 1.125, 1.3125, 1.5, 1.6875, 1.875, 2.25),
}
"""Widths across flats: ISO 272 and ASME B18.2.1, from memory."""
ROUGHNESSES = {
    "mm": (0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.3, 12.5),
    "inch": (4.0, 8.0, 16.0, 32.0, 63.0, 125.0, 250.0, 500.0),
}
"""Ra as prints have it, in micrometres or microinches: the preferred values of ISO 1302:1992."""
BLADES = {"mm": USUAL_WIDTHS, "inch": (0.0625, 0.094, 0.125, 0.156, 0.187, 0.25)}
COUNTERSINKS, DOVETAILS = (60.0, 90.0, 120.0), (45.0, 55.0, 60.0)
DRILL_STEP, SIXTY_FOURTHS, LARGEST_DRILL = 0.05, 64, 80.0


def sizes_of(page: str, name: str, units: UnitSystem, texts: Texts) -> tuple[float, ...]:
    """The sizes that a field of a page can have, in the page's units; none where any number can be meant.

    >>> 74.0 in sizes_of("/bar-economy", "stock_diameter", "mm", {}), sizes_of("/dish", "radius", "mm", {})
    (False, ())
    """
    found = _SERIES.get((page, name)) or _SERIES.get(("", name))
    return tuple(found(units, texts)) if found else ()


def _bars(units: UnitSystem, _: Texts) -> Iterable[float]:
    inch = units == "inch"
    return (size / (float(INCH) if inch else 1.0) for size in bars("inch" if inch else "metric").sizes)


def _drills(units: UnitSystem, _: Texts) -> Iterable[float]:
    """Drills on the shelf; in inches those of whole sixty-fourths."""
    if units == "inch":
        return (count / SIXTY_FOURTHS for count in range(1, 2 * SIXTY_FOURTHS))
    return dict.fromkeys(drill_below(count * DRILL_STEP) for count in range(10, int(LARGEST_DRILL / DRILL_STEP)))


def _rings(units: UnitSystem, texts: Texts) -> Iterable[float]:
    where = cast("Where", texts.get("where") or "outside")
    return () if units == "inch" else ring_grooves(where)


def _sections(units: UnitSystem, _: Texts) -> Iterable[float]:
    """Sections of O-rings: the metric series, in inches the other."""
    column = 0 if units == "inch" else 1
    return (
        round(row["sections"][column][0] / (float(INCH) if units == "inch" else 1.0), 3) for row in o_rings()["row"]
    )


def _of(sizes: Mapping[str, Iterable[float]]) -> Callable[[UnitSystem, Texts], Iterable[float]]:
    return lambda units, _: sizes[units]


_SERIES: Mapping[tuple[str, str], Callable[[UnitSystem, Texts], Iterable[float]]] = {
    ("", "stock_diameter"): _bars,
    ("", "bar_diameter"): _bars,
    ("/parting", "outer_diameter"): _bars,
    ("/facing-time", "outer_diameter"): _bars,
    ("", "tool_bar_diameter"): _of(TOOL_BARS),
    ("", "across_flats"): _of(FLATS),
    ("", "ra"): _of(ROUGHNESSES),
    ("", "blade_width"): _of(BLADES),
    ("", "drill_diameter"): _drills,
    ("", "drill"): _drills,
    ("/drill-point", "diameter"): _drills,
    ("/knurl", "pitch"): lambda units, _: pitches() if units == "mm" else (),
    ("/ring-groove", "diameter"): _rings,
    ("/o-ring-groove", "section"): _sections,
    ("/ball-in-cone", "included_angle"): lambda *_: COUNTERSINKS,
    ("/dovetail", "angle"): lambda *_: DOVETAILS,
}
"""By the page ("" for every one) and the field."""
