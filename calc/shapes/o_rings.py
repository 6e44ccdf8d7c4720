"""Grooves for O-rings: sections of the standard, depth from squeeze, stretch, fill, from `data/o_rings.toml`."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi
from pathlib import Path
from typing import Any, Literal

from calc.language.limited import Limited
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import LENGTH, Area, Diameter, Length, Ratio
from calc.language.tables import read_table
from calc.language.working import formula

TABLE = Path(__file__).parent / "data" / "o_rings.toml"
WIDTH_TOLERANCE = 0.25
"""mm on the groove's width (common practice, no source)."""
NEAR = 0.005
"""mm: a section is meant when it is typed within this."""

Duty = Literal["static", "face", "moving"]


@dataclass(frozen=True, slots=True)
class Section:
    """A cross section (mm) and its tolerance, the squeeze it takes (shares) and the groove width (mm) for a duty."""

    size: float
    tolerance: float
    least_squeeze: float
    most_squeeze: float
    width: float
    corner_radius: tuple[float, float]


@cache
def table() -> dict[str, Any]:
    """All that the data holds: rows of sections, ring materials, surfaces.

    >>> sorted(table())
    ['row', 'rubber', 'surface']
    """
    return read_table(TABLE)


def section_of(size: float, duty: Duty) -> Section:
    """The section of `size` (mm) for a duty. Raises `OutOfRange` for one that the standard does not list.

    Source: ISO 3601-1 for the sections; gland table named in the data for squeeze and width.

    >>> section_of(2.65, "static").tolerance, section_of(2.62, "static").width
    (0.09, 3.56)
    """
    listed = [(each[0], each[1], row) for row in table()["row"] for each in row["sections"]]
    found = next((one for one in listed if abs(one[0] - size) < NEAR), None)
    if found is None:
        near = sorted(listed, key=lambda one: abs(one[0] - size))[0][0]
        values = {"size": Quantity(size, LENGTH, brief=True), "near": Quantity(near, LENGTH, brief=True)}
        text = "ISO 3601-1 has no section of {size}; the nearest is {near}."
        raise OutOfRange(Fault("section", Message(text, values)))
    nominal, tolerance, row = found
    least, most, width = row[duty]
    return Section(
        nominal, tolerance, least, most, width * (nominal / row["sections"][0][0]), tuple(row["corner_radius"])
    )


@formula(means="gland depth for a squeeze", source="the squeeze is the share of the section pressed away", result="E")
def depth_for(w: Length, s: Ratio) -> Length:
    """Depth (mm) from the groove's bottom to the mating surface at which a section w (mm) is squeezed by the share s.

    Source: definition of squeeze.

    >>> round(depth_for(2.54, 0.142), 3)
    2.179
    """
    return w * (1 - s)


def gland_depth(ring: Section) -> Limited:
    """Least and most depth (mm) of the gland: from the squeeze at both ends of the ring's own tolerance.

    >>> depth = gland_depth(section_of(2.65, "static"))
    >>> round(depth.lower, 3), round(depth.upper, 3)
    (2.055, 2.202)
    """
    low = depth_for.at("largest ring")(ring.size + ring.tolerance, ring.most_squeeze)
    high = depth_for.at("smallest ring")(ring.size - ring.tolerance, ring.least_squeeze)
    return Limited.between(low, high)


def groove_width(ring: Section) -> Limited:
    """The width (mm) of the groove, from the table on upward.

    >>> groove_width(section_of(2.62, "static")).lower
    3.56
    """
    return Limited.between(ring.width, ring.width + WIDTH_TOLERANCE, ring.width)


def groove_diameter(mating: Limited, depth: Limited, *, outside: bool) -> Limited | None:
    """The groove's diameter (mm) for which every mating diameter (mm) leaves a depth (mm) within its own limits.

    None where the mating limits are wider than the depth allows.

    >>> ends = Limited(42.0, 42.0, 42.0, 42.0)
    >>> found = groove_diameter(ends, gland_depth(section_of(2.65, "static")), outside=True)
    >>> round(found.lower, 3), round(found.upper, 3)
    (37.597, 37.89)
    """
    sign = -1.0 if outside else 1.0
    first, second = (mating.upper, mating.lower) if outside else (mating.lower, mating.upper)
    deep, shallow = first + sign * 2 * depth.upper, second + sign * 2 * depth.lower
    if sign * (deep - shallow) <= 0.0 or min(deep, shallow) <= 0.0:
        return None
    return Limited.between(deep, shallow)


@formula(means="squeeze", source="definition", result="s")
def squeeze(w: Length, E: Length) -> Ratio:
    """Share by which a section w is squeezed in a gland of depth E (mm).

    Source: definition of squeeze.

    >>> round(squeeze(2.70, 2.03), 3)
    0.248
    """
    return (w - E) / w


@formula(means="stretch of the ring", source="definition", result="e")
def stretch(d_g: Diameter, d_1: Diameter) -> Ratio:
    """Share by which a ring of inside diameter d_1 is stretched on a groove bottom of d_g (mm).

    Source: definition.

    >>> round(stretch(30.0, 29.0), 4)
    0.0345
    """
    return (d_g - d_1) / d_1


@formula(means="section of the ring", source="area of a circle", result="A_r")
def ring_area(w: Length) -> Area:
    """Area (mm2) of a round section w (mm).

    Source: area of a circle.

    >>> round(ring_area(2.0), 4)
    3.1416
    """
    return pi / 4 * w**2


@formula(means="fill of the groove", source="section of the ring by that of the groove", result="phi")
def fill(A_r: Area, b: Length, E: Length) -> Ratio:
    """Share of a groove b wide and E deep (mm, to the mating surface) that a ring of section A_r (mm2) takes up.

    Source: definition.

    >>> round(fill(5.39, 3.56, 2.1), 3)
    0.721
    """
    return A_r / (b * E)
