"""The groove as a feature: the question, its results, its points and its sketch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, KeyPoint, named_as
from calc.contour import Arc, Chain, Line, enclosed_volume
from calc.language.fields import Declared, result
from calc.language.messages import Caution, Digits, Message, Phrase, Value
from calc.language.quantities import DIAMETER, LENGTH, VOLUME, Z
from calc.shapes.groove.geometry import Groove, GrooveInputs, solve_groove
from calc.shapes.groove.sketch import groove_drawing, is_bottom
from calc.shapes.listing import both_ways, key_points

DEEP = 2.0  # depth in bottom widths beyond which a groove is cut in steps; common practice, no source
WAYS = {
    "outside": ("the free end", "the chuck", "right"),
    "bore": ("the free end", "the chuck", "left"),
    "face": ("the outside", "the axis", "left"),
}


class GrooveResults(Declared):
    """A groove complete."""

    diameter: float = result(DIAMETER, "Diameter", "D")
    bottom_diameter: float = result(DIAMETER, "Bottom (or smaller) diameter", "d")
    depth: float = result(LENGTH, "Depth", "t")
    width: float = result(LENGTH, "Width at the surface", "w")
    bottom_width: float = result(LENGTH, "Bottom width", "b", hint="the widest tool that fits")
    flat: float = result(LENGTH, "Straight part of the bottom")
    far_edge_z: float | None = result(Z, "Far edge, Z")
    volume: float = result(VOLUME, "Volume to cut", "V")


def solve(inputs: GrooveInputs) -> Answer[GrooveResults]:
    """The groove and its points. Raises `Problem` when the print's dimensions give none."""
    groove = solve_groove(inputs)
    start, end, side = WAYS[groove.where]
    has_arcs = any(isinstance(element, Arc) for element in groove.cut)
    return Answer(
        results=_results(groove),
        headline=groove.sizes.first or "bottom_width",
        points=_points(groove.cut),
        points_note=both_ways(start, end, side=side, arcs=has_arcs),
        contour=groove.cut,
        cautions=tuple(_cautions(groove)),
        notes=groove.sizes.notes,
        drawing=partial(groove_drawing, groove),
    )


def _results(groove: Groove) -> GrooveResults:
    sizes = groove.sizes
    return GrooveResults(
        diameter=sizes["diameter"],
        bottom_diameter=sizes["bottom_diameter"],
        depth=sizes["depth"],
        width=sizes["width"],
        bottom_width=sizes["bottom_width"],
        flat=_flat(groove),
        far_edge_z=None if groove.where == "face" else -groove.from_end - sizes["width"],
        volume=_volume(groove),
    )


def _flat(groove: Groove) -> float:
    """Length of the line along the bottom."""
    deepest = (p for p in groove.cut if isinstance(p, Line) and is_bottom(groove, p))
    return sum(element.length for element in deepest)


def _volume(groove: Groove) -> float:
    """Of everything between the contour and the surface, edge radii included."""
    return enclosed_volume([*groove.cut, Line(groove.cut.end, groove.cut.start)])


def _points(cut: Chain) -> tuple[KeyPoint, ...]:
    labels = ["first edge" if isinstance(cut.elements[0], Line) else "first edge radius begins"]
    for index, element in enumerate(cut):
        is_last = index == len(cut) - 1
        name = "radius ends" if isinstance(element, Arc) else "line ends"
        labels.append("second edge" if is_last else name)
    return key_points(cut, labels)


def _cautions(groove: Groove) -> Iterator[Caution]:
    bottom, depth = groove.sizes["bottom_width"], groove.sizes["depth"]
    if bottom and depth > DEEP * bottom:
        values: dict[str, Value] = {"ratio": Phrase("{depth} times", depth=Digits(f"{depth / bottom:.1f}"))}
        text = (
            "The groove is {ratio} deeper than its bottom is wide: chips jam and the blade bends. Cut it in steps, "
            "clear the chips, and check the blade's reach."
        )
        yield Caution(Message(text, values), 2, "depth")


def _blank() -> Drawing:
    inputs = GrooveInputs(diameter=60.0, depth=10.0, width=20.0, from_end=20.0)
    return replace(groove_drawing(solve_groove(inputs)).with_symbols_only(), details=())


FEATURE = Feature(
    path="geometry/groove",
    page="/groove",
    takes=named_as({"diameter": "start_diameter", "width": "groove_width"}),
    title="Groove",
    summary="A groove in the outside, a bore or a face: depth or diameters, widths, leaning walls, radii, every point.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("bottom_diameter", "bottom_width", "flat", "far_edge_z"),
    blank=_blank(),
    example={
        "where": "outside",
        "diameter": "40",
        "depth": "4",
        "width": "8",
        "from_end": "12",
        "first_wall": "5",
        "second_wall": "5",
        "bottom_radius": "0.8",
        "edge_radius": "0.4",
    },
)
