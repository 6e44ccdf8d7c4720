"""The taper as a feature: the question, its results, the points to key in."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Chain, Line, Point
from calc.language.fields import Declared, result
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RATIO
from calc.shapes.listing import both_ways, key_points
from calc.shapes.taper import formulas
from calc.shapes.taper.formulas import PER_FOOT, TAPER
from calc.shapes.taper.geometry import SIZES, Cone, TaperInputs, solve_cone
from calc.shapes.taper.sketch import taper_drawing


class TaperResults(Declared):
    """A taper complete; ends and length are None while a slope alone is given."""

    large_diameter: float | None = result(DIAMETER, "Large diameter", "D")
    small_diameter: float | None = result(DIAMETER, "Small diameter", "d")
    length: float | None = result(LENGTH, "Length", "L")
    half_angle: float = result(ANGLE, "Half angle", "α")
    included_angle: float = result(ANGLE, "Included angle", "β")
    taper_ratio: float = result(TAPER, "Taper on diameter per length", "C")
    one_in: float = result(RATIO, "Taper ratio, 1 to", hint="on diameter")
    taper_per_foot: float = result(PER_FOOT, "Taper per foot", "T")
    set_over: float | None = result(LENGTH, "Set-over of the tailstock", "s")


def solve(inputs: TaperInputs) -> Answer[TaperResults]:
    """The taper. Raises `Problem` when too little is given, or what is given has no solution."""
    cone = solve_cone(inputs)
    found = cone.found
    work = inputs.more.work_length
    results = TaperResults(
        large_diameter=found.get("large_diameter"),
        small_diameter=found.get("small_diameter"),
        length=found.get("length"),
        half_angle=found["half_angle"],
        included_angle=found["included_angle"],
        taper_ratio=found["taper_ratio"],
        taper_per_foot=found["taper_per_foot"],
        one_in=1 / found["taper_ratio"],
        set_over=formulas.set_over(work, found["taper_ratio"]) if work else None,
    )
    if not cone.is_whole:
        return Answer(results=results, headline=_headline(cone), notes=tuple(_notes(cone)), drawing=BLANK)
    cut = _cut(cone)
    labels = ("large end", "small end") if cone.in_bore else ("small end", "large end")
    side = "left" if cone.in_bore else "right"
    return Answer(
        results=results,
        headline=_headline(cone),
        points=key_points(cut, labels),
        points_note=both_ways("the free end", "the chuck", side=side, arcs=False),
        contour=cut,
        notes=tuple(_notes(cone)),
        drawing=partial(_drawing, cone),
    )


def _headline(cone: Cone) -> str:
    """The size that was open; without one the slope, in a form in which it was not given."""
    solved = [name for name in (*SIZES[::-1], "half_angle", "taper_ratio") if name in cone.found.solved]
    return solved[0] if solved else "half_angle"


def _cut(cone: Cone) -> Chain:
    large, small, length = (cone.found[name] for name in SIZES)
    first, last = (large, small) if cone.in_bore else (small, large)
    return Chain((Line(Point(0.0, first / 2), Point(-length, last / 2)),))


def _drawing(cone: Cone) -> Drawing:
    large, small, length = (cone.found[name] for name in SIZES)
    return taper_drawing(large, small, length, cone.found["half_angle"], in_bore=cone.in_bore)


def _notes(cone: Cone) -> Iterator[Message]:
    yield from cone.found.notes
    standard = cone.standard
    if standard is not None:
        values: dict[str, Value] = {"name": standard.name, "source": standard.source}
        yield Message("{name} after {source}.", values)
        if standard.gauge is not None and cone.found.get("large_diameter") == standard.gauge:
            values = {"gauge": Quantity(standard.gauge, DIAMETER)}
            yield Message("The large diameter is the standard's gauge diameter, {gauge}.", values)
        if cone.table_length and standard.length is not None:
            values = {"length": Quantity(standard.length, LENGTH)}
            text = "The length is the standard's, {length} from the gauge line; give yours if it differs."
            yield Message(text, values)
    if not cone.is_whole:
        yield Message("For the ends give two of large diameter, small diameter and length.")


BLANK = taper_drawing(60.0, 36.0, 70.0, 0.1697, in_bore=False).with_symbols_only()

FEATURE = Feature(
    path="geometry/taper",
    page="/taper",
    title="Taper",
    summary="Ends, length and slope of a cone from what the print gives: ratio, angle, per foot, or a standard's name.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("half_angle", "included_angle", "one_in", "taper_per_foot"),
    blank=BLANK,
    example={"large_diameter": "22", "length": "22", "taper_ratio": "1:10"},
)
