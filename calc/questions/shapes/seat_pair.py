"""The spherical seat pair: a crown that rocks in a dish; where the two touch, and how wide they gap elsewhere.

The face of the seat is Z 0, the seat lies behind it; the pad comes from +Z and rests in it on the common axis.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from calc.answer.drawing import Detail, Dimension, Drawing, Path
from calc.answer.feature import Answer, Feature
from calc.contour import Arc, Chain, Line, Point
from calc.language.checks import require
from calc.language.fields import Declared, given, result, word
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH, RADIUS
from calc.shapes.blanks import System, Term, Way, require_settled
from calc.shapes.blanks import solve as solve_system
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.pair import (
    film_depth,
    film_diameter,
    gap,
    pad_from_difference,
    radius_difference,
    sagitta,
    seat_from_difference,
)

RIM = "rim"


class SeatPairInputs(Declared):
    """What the two prints give (mm): any two of the radii and their difference, and the diameters of both rims."""

    seat_radius: float | None = given(RADIUS, "Seat radius", "R_s", above=0.0, hint="the dish")
    pad_radius: float | None = given(RADIUS, "Pad radius", "R_p", above=0.0, hint="the crown")
    difference: float | None = given(
        LENGTH, "Seat less pad", "δ", least=-10_000.0, hint="negative: the pad is the flatter one"
    )
    seat_mouth_diameter: float | None = given(DIAMETER, "Seat's mouth", "D_s", above=0.0)
    pad_edge_diameter: float | None = given(DIAMETER, "Pad's edge", "D_p", above=0.0, blank="reaches the seat's mouth")
    film: float = given(
        LENGTH,
        "Marking film",
        "s",
        least=0.0,
        most=1.0,
        hint="thickness of the blue",
        blank="bare contact",
        default=0.0,
    )


class SeatPairResults(Declared):
    """How seat and pad meet."""

    seat_radius: float = result(RADIUS, "Seat radius", "R_s")
    pad_radius: float = result(RADIUS, "Pad radius", "R_p")
    difference: float = result(LENGTH, "Seat less pad", "δ")
    touches: str = word("They touch")
    contact_diameter: float = result(DIAMETER, "Contact reaches out to")
    contact_inner_diameter: float | None = result(DIAMETER, "Contact begins at")
    rim_diameter: float = result(DIAMETER, "Common rim", "D_r")
    rim_gap: float = result(LENGTH, "Gap at the rim", "g")
    centre_gap: float = result(LENGTH, "Gap in the centre")
    seat_depth: float = result(LENGTH, "Seat depth at the rim", "h_s")
    pad_height: float = result(LENGTH, "Pad height at the rim", "h_p")


@dataclass(frozen=True, slots=True)
class Pair:
    """Seat and pad (mm): radii, common rim, the depths of both there, and their largest gap."""

    seat: float
    pad: float
    rim: float
    seat_depth: float
    pad_height: float
    gap: float

    @property
    def in_centre(self) -> bool:
        """Whether the two touch on the axis rather than at the rim."""
        return self.pad <= self.seat

    @property
    def is_one(self) -> bool:
        """Whether they have one radius, so that they touch all over."""
        return abs(self.seat - self.pad) < SMALLEST


def solve_pair(inputs: SeatPairInputs) -> Pair:
    """How the two prints meet. Raises `Missing`, `Contradiction`, `Impossible`, `OutOfRange`.

    >>> pair = solve_pair(SeatPairInputs(seat_radius=75.0, pad_radius=74.5, seat_mouth_diameter=50.0))
    >>> pair.in_centre, round(pair.gap, 5)
    (True, 0.03055)
    """
    require(inputs)
    _require_sizes(inputs)
    values = {name: getattr(inputs, name) for name in ("seat_radius", "pad_radius", "difference")}
    require_settled(SYSTEM, values, ("seat_radius", "pad_radius", "difference"))
    found = solve_system(SYSTEM, values)
    seat, pad = found["seat_radius"], found["pad_radius"]
    _require_radius(found["pad_radius"])
    _require_radius(found["seat_radius"])
    rim = _rim(inputs, seat, pad)
    depth = sagitta.at("of the seat", R="R_s", result="h_s")(seat, rim)
    height = sagitta.at("of the pad", R="R_p", result="h_p")(pad, rim)
    return Pair(seat, pad, rim, depth, height, gap.at("largest", h_1="h_p", h_2="h_s")(height, depth))


def _require_sizes(inputs: SeatPairInputs) -> None:
    """A difference may be as small as it likes, and negative; all other lengths are lengths."""
    plain = {
        name: getattr(inputs, name)
        for name in ("seat_radius", "pad_radius", "seat_mouth_diameter", "pad_edge_diameter")
    }
    require_sizes(SeatPairInputs(**plain))


def _require_radius(radius: float) -> None:
    if radius < SMALLEST:
        text = "With this difference the other radius would be {radius}: check its sign and the radius."
        raise Impossible(Fault("difference", Message(text, {"radius": Quantity(radius, RADIUS)})))


def _rim(inputs: SeatPairInputs, seat: float, pad: float) -> float:
    given_ = [size for size in (inputs.seat_mouth_diameter, inputs.pad_edge_diameter) if size is not None]
    if not given_:
        message = Message("Give the diameter of the seat's mouth or of the pad's edge: the smaller is their rim.")
        raise Missing(Fault("seat_mouth_diameter", message), Fault("pad_edge_diameter", message))
    sides = (
        ("seat_mouth_diameter", "seat's mouth", inputs.seat_mouth_diameter, seat),
        ("pad_edge_diameter", "pad's edge", inputs.pad_edge_diameter, pad),
    )
    for field, noun, size, radius in sides:
        if size is not None and size > 2 * radius:
            raise _too_wide(field, noun, size, radius)
    rim, least = min(given_), min(seat, pad)
    if rim > 2 * least:
        field = "seat_mouth_diameter" if inputs.seat_mouth_diameter == rim else "pad_edge_diameter"
        raise _too_wide(field, "common rim", rim, least)
    return rim


def _too_wide(field: str, noun: str, size: float, radius: float) -> Impossible:
    values: dict[str, Value] = {
        "noun": noun,
        "size": Quantity(size, DIAMETER, brief=True),
        "ball": Quantity(2 * radius, DIAMETER),
    }
    text = "The {noun} {size} is wider than the whole ball of this radius, {ball}."
    return Impossible(Fault(field, Message(text, values)))


SYSTEM = System(
    (
        Term("seat_radius", RADIUS, "seat radius"),
        Term("pad_radius", RADIUS, "pad radius"),
        Term("difference", LENGTH, "difference"),
    ),
    (
        Way("difference", ("seat_radius", "pad_radius"), radius_difference),
        Way("pad_radius", ("seat_radius", "difference"), pad_from_difference),
        Way("seat_radius", ("pad_radius", "difference"), seat_from_difference),
    ),
    "Give any two of seat radius, pad radius and their difference.",
)


def solve(inputs: SeatPairInputs) -> Answer[SeatPairResults]:
    """Contact and gaps of the pair. Raises `Problem` when the prints give none."""
    pair = solve_pair(inputs)
    inner, outer = _contact(pair, inputs.film)
    return Answer(
        results=SeatPairResults(
            seat_radius=pair.seat,
            pad_radius=pair.pad,
            difference=pair.seat - pair.pad,
            touches=_touches(pair),
            contact_diameter=outer,
            contact_inner_diameter=inner,
            rim_diameter=pair.rim,
            rim_gap=pair.gap if pair.in_centre else 0.0,
            centre_gap=0.0 if pair.in_centre else pair.gap,
            seat_depth=pair.seat_depth,
            pad_height=pair.pad_height,
        ),
        headline="rim_gap" if pair.in_centre else "centre_gap",
        notes=tuple(_notes(pair, inputs.film)),
        drawing=partial(pair_drawing, pair, inputs.seat_mouth_diameter),
    )


def _touches(pair: Pair) -> str:
    if pair.is_one:
        return "all over"
    return "in the centre, open toward the rim" if pair.in_centre else "at the rim, open in the centre"


def _contact(pair: Pair, film: float) -> tuple[float | None, float]:
    """From which diameter out to which one the two are at most a film apart; the first is None on the axis."""
    if pair.is_one or film >= pair.gap:
        return None, pair.rim
    if pair.in_centre:
        return None, min(_apart(film, pair.seat, pair.pad), pair.rim)
    return min(_apart(pair.gap - film, pair.pad, pair.seat), pair.rim), pair.rim


def _apart(distance: float, flatter: float, rounder: float) -> float:
    return film_diameter(flatter, film_depth(distance, flatter, rounder))


def _notes(pair: Pair, film: float | None) -> Iterator[Message]:
    if pair.is_one:
        yield Message("With one radius the two touch all over; in practice where form and finish let them.")
    elif film is None and pair.in_centre:
        yield Message("Bare, the two touch in one point. Give the marking film for the spot that shows when blued.")
    yield Message("Rigid parts without load; gaps are measured along the axis.")


def pair_drawing(pair: Pair, mouth: float | None) -> Drawing:
    """The seat as a section with its `mouth` (diameter; None: the rim), the pad in it as a line, the rim enlarged."""
    half = (mouth or pair.rim) / 2
    deep = sagitta.function(pair.seat, 2 * half)
    deepest = Point(-deep, 0.0)
    dish = Arc(Point(0.0, half), deepest, Point(pair.seat - deep, 0.0), "ccw")
    outside = Point(0.0, 1.2 * half)
    at_rim = Point(pair.seat_depth - deep, pair.rim / 2)
    return Drawing(
        title="The pad in its seat",
        description="The seat in section, the pad as a dashed line; the axis across the page.",
        part=Chain((Line(outside, dish.start), dish)),
        bar_radius=outside.r,
        dimensions=tuple(_dimensions(pair, dish, half)),
        paths=(Path("mate", _pad(pair, deepest)),),
        details=(Detail(at_rim, max(8.0 * pair.gap, 0.04 * pair.rim), RIM),),
    )


def _pad(pair: Pair, deepest: Point) -> Chain:
    """The pad's crown where it rests, with a piece of its outside."""
    apex = deepest.shifted(0.0 if pair.in_centre else pair.gap, 0.0)
    edge = Point(apex.z + pair.pad_height, pair.rim / 2)
    crown = Arc(edge, apex, apex.shifted(pair.pad, 0.0), "ccw")
    return Chain((Line(edge.shifted(0.3 * pair.rim, 0.0), edge), crown))


def _dimensions(pair: Pair, dish: Arc, half: float) -> Iterator[Dimension]:
    yield Dimension("diameter", dish.start, dish.start.mirrored(), 2 * half, DIAMETER, "seat_mouth_diameter", "D_s")
    yield Dimension("radius", dish.point_at(dish.length / 2), dish.centre, pair.seat, RADIUS, "seat_radius", "R_s")
    if pair.in_centre and pair.gap > SMALLEST:
        seat = Point(dish.end.z + pair.seat_depth, pair.rim / 2)
        pad = Point(dish.end.z + pair.pad_height, pair.rim / 2)
        yield Dimension("length", seat, pad, pair.gap, LENGTH, "rim_gap", "g", detail=RIM)


FEATURE = Feature(
    path="geometry/seat-pair",
    page="/seat-pair",
    title="Seat pair",
    summary="A crown in a dish of another radius: where they touch, how wide they gap, what shows when blued.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("touches", "contact_diameter", "contact_inner_diameter", "difference"),
    blank=pair_drawing(
        solve_pair(SeatPairInputs(seat_radius=50.0, pad_radius=40.0, seat_mouth_diameter=64.0)), 64.0
    ).with_symbols_only(),
    example={
        "seat_radius": "75",
        "pad_radius": "74.6",
        "seat_mouth_diameter": "51.176",
        "pad_edge_diameter": "50.8",
        "film": "0.005",
    },
)
