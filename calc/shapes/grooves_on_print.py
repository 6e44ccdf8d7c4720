"""Grooves that a print calls by what lies in them: a retaining ring of DIN 471 or 472, an O-ring of ISO 3601."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal, NoReturn

from calc.contour.callouts import GrooveCalled
from calc.language.given import LEAST_SLACK, Given
from calc.language.limited import Limited, limited
from calc.language.messages import Digits, Phrase, Quantity, Value
from calc.language.problems import Problem
from calc.language.quantities import DIAMETER, View
from calc.language.reading import ReadingError, read
from calc.shapes.o_rings import gland_depth, groove_diameter, groove_width, section_of
from calc.shapes.retaining_rings import RingGroove, Where, ring_groove

NEAR = 1e-6  # mm
_NUMBER = r"\d+(?:[.,]\d+)?"
_RING = re.compile(
    rf"\s*(?:DIN\s*(?P<standard>47[12]))?[\s-]*(?P<noun>(?:retaining |snap )?ring|circlip|Sicherungsring)?[\s-]*"
    rf"(?:Ø?\s*(?P<size>{_NUMBER})(?:\s*[xX×]\s*{_NUMBER})?)?\s*",
    re.IGNORECASE,
)
_O_RING = re.compile(
    rf"\s*(?:ISO\s*3601(?:-1)?)?[\s-]*O[\s-]?ring[\s-]*(?:{_NUMBER}\s*[xX×]\s*)?(?P<section>{_NUMBER})\s*"
    r"(?P<duty>static|moving)?(?:\s*(?:in|on)\s+(?P<mating>.+))?\s*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class NamedGroove:
    """What a print calls a groove by: a ring's own diameter (mm, None: its cylinder's), or an O-ring's section (mm).

    `mating` is what is typed of the diameter that an O-ring seals against, None for that of its cylinder.
    """

    diameter: float | None = None
    section: float | None = None
    duty: Literal["static", "moving"] = "static"
    mating: str | None = None


def groove_named(text: str) -> NamedGroove | None:
    """The name of a groove as a print calls it, read alone; None for what names no groove of a standard.

    >>> groove_named("DIN 471 - 25 x 1.2").diameter, groove_named("O-ring 36.5x2.65 in 42 H8").mating
    (25.0, '42 H8')
    """
    sealed = _O_RING.fullmatch(text)
    if sealed is not None:
        return NamedGroove(None, _number(sealed["section"]), _duty(sealed), sealed["mating"])
    ring = _RING.fullmatch(text)
    if ring is None or not (ring["standard"] or ring["noun"]):
        return None
    return NamedGroove(_number(ring["size"]) if ring["size"] else None)


def groove_called(text: str, radius: float | None, *, outward: bool) -> GrooveCalled:
    """The groove that a print calls `text`, in a cylinder of `radius` (mm), away from the axis where it is `outward`.

    `DIN 471`, `DIN 472 - 40 x 1.75` and `ring 25` are for retaining rings; `O-ring 2.65`, `O-ring 36.5x2.65 in 42 H8`
    for O-rings, by their section and what they seal against: without it the cylinder's own diameter. Raises
    `ReadingError`. Source: DIN 471, DIN 472; ISO 3601-1 and the gland table that the data name.

    >>> groove = groove_called("DIN 471", 12.5, outward=False)
    >>> groove.words, round(2 * groove.bottom.nominal, 3), round(groove.width.nominal, 3)
    ('DIN 471 - 25 x 1.2', 23.9, 1.3)
    >>> round(2 * groove_called("O-ring 2.65", 21.0, outward=False).bottom, 2)
    37.74
    """
    sealed = _O_RING.fullmatch(text)
    if sealed is not None:
        return _o_ring(text, sealed, radius, outward=outward)
    match = _RING.fullmatch(text)
    if match is None or not (match["standard"] or match["noun"]):
        raise ReadingError(text, _UNKNOWN)
    return _ring(text, match, radius, outward=outward)


def _ring(text: str, match: re.Match[str], radius: float | None, *, outward: bool) -> GrooveCalled:
    where: Where = "inside" if match["standard"] == "472" or (outward and not match["standard"]) else "outside"
    if outward and where == "outside":
        raise ReadingError(text, "DIN 471 is for shafts: a ring in a bore is DIN 472.")
    named = _number(match["size"]) if match["size"] else None
    if named is None and radius is None:
        raise ReadingError(text, "Which ring is it? Write its size, as in DIN 471 25.")
    diameter = named if named is not None else 2.0 * _nominal(radius)
    if radius is not None and abs(2.0 * _nominal(radius) - diameter) > NEAR:
        sizes: dict[str, Value] = {"ring": _diameter(diameter), "here": _diameter(2.0 * _nominal(radius))}
        raise ReadingError(text, "“{typed}” is for {ring}, but the cylinder before it is {here}.", (), **sizes)
    try:
        found = ring_groove(where, diameter)
    except Problem as problem:
        _refused(text, problem)
    return GrooveCalled(
        f"{found.standard} - {found.nominal:g} x {found.ring_thickness:g}",
        _given(_width(found)),
        _halved(_bottom(found)),
        0.0,
        found.nominal / 2.0,
    )


def _o_ring(text: str, match: re.Match[str], radius: float | None, *, outward: bool) -> GrooveCalled:
    duty = _duty(match)
    mating = read(match["mating"], DIAMETER, View()) if match["mating"] else None
    if mating is None and radius is None:
        raise ReadingError(text, "What does the ring seal against? Write it as in O-ring 2.65 in 42 H8.")
    against = float(mating) if mating is not None else 2.0 * _nominal(radius)
    ends = (limited(mating) if mating is not None else None) or Limited(against, against, against, against)
    try:
        ring = section_of(_number(match["section"]), duty)
    except Problem as problem:
        _refused(text, problem)
    bottom = groove_diameter(ends, gland_depth(ring), outside=not outward)
    if bottom is None:
        raise ReadingError(text, "With these mating limits no groove keeps the ring squeezed: tighten the fit.")
    corner = sum(ring.corner_radius) / 2.0
    nominal = against / 2.0 if radius is None else _nominal(radius)
    words = Phrase("O-ring {size}, {duty}", size=Digits(f"{ring.size:g}"), duty=duty)
    return GrooveCalled(words, _given(groove_width(ring)), _halved(bottom), corner, nominal)


def _number(digits: str) -> float:
    return float(digits.replace(",", "."))


def _duty(match: re.Match[str]) -> Literal["static", "moving"]:
    return "moving" if (match["duty"] or "").casefold() == "moving" else "static"


def _bottom(found: RingGroove) -> Limited:
    held = found.diameter_limits
    return Limited.between(found.diameter + held.lower, found.diameter + held.upper, found.diameter)


def _width(found: RingGroove) -> Limited:
    held = found.width_limits
    return Limited.between(found.width + held.lower, found.width + held.upper, found.width)


def _given(size: Limited) -> Given:
    return Given(size.aimed, LEAST_SLACK["mm"], size.value, (size.lower, size.upper))


def _halved(size: Limited) -> Given:
    return Given(size.aimed / 2.0, LEAST_SLACK["mm"], size.value / 2.0, (size.lower / 2.0, size.upper / 2.0))


def _nominal(radius: float | None) -> float:
    """What the print says of a cylinder's radius, in whose limits the points may aim elsewhere."""
    assert radius is not None, "it was asked for"
    nominal = radius.nominal if isinstance(radius, Given) else None
    return radius if nominal is None else nominal


def _diameter(value: float) -> Quantity:
    return Quantity(value, DIAMETER, brief=True)


def _refused(text: str, problem: Problem) -> NoReturn:
    fault = problem.faults[0].message
    raise ReadingError(text, fault.text, (), **fault.values) from problem


_UNKNOWN = (
    "“{typed}” is not a standard groove here: write DIN 471 25 or DIN 472 for a retaining ring, O-ring 2.65 for an "
    "O-ring; or give its width and depth."
)
