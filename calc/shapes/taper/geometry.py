"""From what the print gives of a taper to the whole of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from calc.language.checks import require
from calc.language.fields import Declared, choice, given, part, word
from calc.language.given import Given
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.shapes.blanks import Solved, System, Term, Way, require_settled, solve
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.taper import formulas
from calc.shapes.taper.formulas import PER_FOOT, TAPER
from calc.shapes.taper.standards import StandardTaper, standard_taper

STEEPEST = math.radians(89.5)
SLOPES = ("taper_ratio", "half_angle", "included_angle", "taper_per_foot", "standard")
SIZES = ("large_diameter", "small_diameter", "length")


class ByNameInputs(Declared):
    """A standard taper, where it is cut, and how long the work between centres is."""

    standard: str | None = word("Standard taper", hint="Morse 3, 7/24 40, Jarno 8, 1:50 ...: gives taper and gauge Ø")
    where: Literal["outside", "bore"] = choice(
        "It is cut", {"outside": "on the outside", "bore": "in a bore"}, "outside"
    )
    work_length: float | None = given(
        LENGTH, "Work between centres", "L_w", above=0.0, hint="whole length, for the set-over of the tailstock"
    )


class TaperInputs(Declared):
    """What a print gives of a taper: sizes (mm), and its slope in any of the ways of writing it (rad, 1)."""

    large_diameter: float | None = given(DIAMETER, "Large diameter", "D", above=0.0)
    small_diameter: float | None = given(DIAMETER, "Small diameter", "d", least=0.0)
    length: float | None = given(LENGTH, "Length", "L", above=0.0, hint="along the axis")
    taper_ratio: float | None = given(
        TAPER, "Taper", "C", above=0.0, least=1e-6, most=200.0, hint="on diameter per length: 1:10 or 0.1"
    )
    half_angle: float | None = given(ANGLE, "Half angle", "α", above=0.0, most=STEEPEST, hint="between side and axis")
    included_angle: float | None = given(ANGLE, "Included angle", "β", above=0.0, most=2 * STEEPEST)
    taper_per_foot: float | None = given(
        PER_FOOT, "Taper per foot", "T", above=0.0, least=1e-6, most=200.0, hint="inches on diameter in a foot"
    )
    more: ByNameInputs = part(ByNameInputs, "By name, and how it is cut")


@dataclass(frozen=True, slots=True)
class Cone:
    """What is known of a taper: `found` has all dimensions that the given ones settle; the standard one it follows."""

    found: Solved
    standard: StandardTaper | None
    table_length: bool
    in_bore: bool

    @property
    def is_whole(self) -> bool:
        """Whether both ends and the length are known."""
        return all(name in self.found.values for name in SIZES)


def solve_cone(inputs: TaperInputs) -> Cone:
    """The taper that the print describes, as far as it goes: a slope alone gives all angles, no ends.

    Raises `Missing` without a slope or three sizes, `Contradiction`, `Impossible`, `OutOfRange`.

    >>> cone = solve_cone(TaperInputs(large_diameter=22.0, length=22.0, taper_ratio=0.1))
    >>> round(cone.found["small_diameter"], 9), round(math.degrees(cone.found["half_angle"]), 6)
    (19.8, 2.862405)
    """
    require(inputs)
    require_sizes(inputs)
    standard = standard_taper(inputs.more.standard) if inputs.more.standard else None
    values = {name: getattr(inputs, name) for name in (*SIZES, *SLOPES[:-1])}
    table_length = _fill_from(standard, values)
    values["standard"] = Given(standard.ratio, standard.slack) if standard else None
    require_settled(SYSTEM, values, ("taper_ratio",))
    found = solve(SYSTEM, values)
    _require_possible(found)
    return Cone(found, standard, table_length, inputs.more.where == "bore")


def _fill_from(standard: StandardTaper | None, values: dict[str, float | None]) -> bool:
    """Gauge diameter and length of the standard where the print leaves them open; whether the length was taken."""
    if standard is None or standard.gauge is None or values["large_diameter"] is not None:
        return False
    if values["small_diameter"] is not None and values["length"] is not None:
        return False
    values["large_diameter"] = standard.gauge
    if standard.length is None or values["small_diameter"] is not None or values["length"] is not None:
        return False
    values["length"] = standard.length
    return True


def _require_possible(found: Solved) -> None:
    large, small, length = (found.get(name) for name in SIZES)
    if large is not None and small is not None and length is not None:
        if small < 0.0:
            raise _to_a_point(large, length, found["taper_ratio"])
        if length < SMALLEST or large - small < SMALLEST:
            text = "Between {large} and {small} there is no taper: it is practically a cylinder or a step."
            values = {"large": Quantity(large, DIAMETER), "small": Quantity(small, DIAMETER)}
            raise Impossible(Fault("small_diameter", Message(text, values)))


def _to_a_point(large: float, length: float, taper: float) -> Impossible:
    values = {
        "large": Quantity(large, DIAMETER, brief=True),
        "length": Quantity(length, LENGTH, brief=True),
        "most": Quantity(large / taper, LENGTH),
    }
    text = "From {large} this taper comes to a point after {most}: it cannot be {length} long."
    return Impossible(Fault("length", Message(text, values)))


def _require_falling(D: float, d: float) -> None:
    if d >= D:
        values = {"small": Quantity(d, DIAMETER, brief=True), "large": Quantity(D, DIAMETER, brief=True)}
        text = "The small end {small} must be smaller than the large end {large}. Are the two swapped?"
        raise Impossible(Fault("small_diameter", Message(text, values)))


def _taper(D: float, d: float, L: float) -> float:
    _require_falling(D, d)
    return formulas.taper_from_ends(D, d, L)


def _length(D: float, d: float, C: float) -> float:
    _require_falling(D, d)
    return formulas.length_from_ends(D, d, C)


def _small(D: float, L: float, C: float) -> float:
    if C * L > D * (1 + 1e-12):
        raise _to_a_point(D, L, C)
    return max(formulas.small_from_large(D, L, C), 0.0)


SYSTEM = System(
    (
        Term("large_diameter", DIAMETER, "large diameter"),
        Term("small_diameter", DIAMETER, "small diameter"),
        Term("length", LENGTH, "length"),
        Term("taper_ratio", TAPER, "taper"),
        Term("half_angle", ANGLE, "half angle"),
        Term("included_angle", ANGLE, "included angle"),
        Term("taper_per_foot", PER_FOOT, "taper per foot"),
        Term("standard", TAPER, "standard taper"),
    ),
    (
        Way("taper_ratio", ("standard",), float),
        Way("half_angle", ("included_angle",), formulas.half_angle_from_included),
        Way("taper_ratio", ("half_angle",), formulas.taper_from_half_angle),
        Way("taper_ratio", ("taper_per_foot",), formulas.taper_from_per_foot),
        Way("taper_ratio", SIZES, _taper),
        Way("half_angle", ("taper_ratio",), formulas.half_angle_from_taper),
        Way("included_angle", ("half_angle",), formulas.included_angle),
        Way("taper_per_foot", ("taper_ratio",), formulas.taper_per_foot),
        Way("standard", ("taper_ratio",), float),
        Way("large_diameter", ("small_diameter", "length", "taper_ratio"), formulas.large_from_small),
        Way("small_diameter", ("large_diameter", "length", "taper_ratio"), _small),
        Way("length", ("large_diameter", "small_diameter", "taper_ratio"), _length),
    ),
    "Give a taper (ratio, angle, per foot or a standard's name), or both diameters and the length.",
)
