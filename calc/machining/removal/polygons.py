"""Lines and arcs as polygons of the geometry library: arcs by points on them, no farther from them than `FINE`.

The library is loaded when the first polygon is asked for: the rest of the package does without it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import reduce
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Element, Line, Point

Area: TypeAlias = Any
"""A polygon or several, of the geometry library (which brings no types)."""

Places: TypeAlias = NDArray[np.complex128]

AREAS = ("Polygon", "MultiPolygon")
"""What an area may be; touching leaves lines and points beside it, which are none."""

FINE = 2.5e-4
"""mm: how far a chord may be from its arc."""

GRID = 1e-7
"""mm: coordinates are rounded to this where the geometry library went wrong without."""

AT_ONCE = 32
"""Up to so many areas are united one after the other: all at once the library has lost parts of what a tool sweeps."""

LEAST_STEPS = 3


def places_of(element: Element, fine: float = FINE) -> Places:
    """Points along an element as z + i r, ends included; of an arc so many that chords keep within `fine` (mm).

    >>> from calc.contour import Line
    >>> places_of(Line(Point(0.0, 1.0), Point(2.0, 1.0))).tolist()
    [1j, (2+1j)]
    """
    start, end = complex(*element.start), complex(*element.end)
    if not isinstance(element, Arc):
        return np.array([start, end])
    steps = steps_of(element.radius, element.angle, fine)
    turned = np.exp(1j * element.sweep * np.arange(steps + 1) / steps)
    centre = complex(*element.centre)
    found = centre + (start - centre) * turned
    found[-1] = end
    return np.asarray(found, dtype=complex)


def steps_of(radius: float, angle: float, fine: float) -> int:
    """In how many chords an arc (mm, rad) is to be cut.

    >>> steps_of(10.0, math.pi / 2, 0.1), steps_of(0.0, math.pi / 2, 0.1)
    (6, 3)
    """
    step = 2.0 * math.acos(1.0 - fine / radius) if radius > fine else math.pi
    return max(LEAST_STEPS, math.ceil(angle / step))


def points_along(elements: Iterable[Element], fine: float = FINE) -> Places:
    """Points along contiguous elements, each joint once, within `fine` (mm) of them.

    >>> corners = [Point(0.0, 1.0), Point(2.0, 1.0), Point(2.0, 3.0)]
    >>> points_along([Line(corners[0], corners[1]), Line(corners[1], corners[2])]).tolist()
    [1j, (2+1j), (2+3j)]
    """
    parts = [places_of(element, fine) for element in elements]
    return np.concatenate([parts[0], *(part[1:] for part in parts[1:])])


def disc(centre: complex, radius: float, fine: float = FINE) -> Places:
    """The points of the circle of `radius` about `centre`, mm, within `fine` of it: on both axes, else few.

    >>> disc(5j, 1.0, 0.1).round(3).tolist()[:3], len(disc(0j, 1.0, 0.01))
    ([(1+5j), (0.707+5.707j), 6j], 24)
    """
    steps = 4 * math.ceil(steps_of(radius, math.tau, fine) / 4)
    return np.asarray(centre + radius * np.exp(2j * math.pi * np.arange(steps) / steps))


def pairs(places: Places) -> NDArray[np.float64]:
    """The points as rows of z and r.

    >>> pairs(np.array([1 + 2j])).tolist()
    [[1.0, 2.0]]
    """
    return np.ascontiguousarray(places).view(np.float64).reshape(*places.shape, 2)


def polygon(places: Places) -> Area:
    """The area within a closed run of points (the last one is led back to the first)."""
    import shapely  # noqa: PLC0415 - loaded on first use: a third of the package's time to start

    return shapely.polygons(shapely.linearrings(pairs(places)))


def polygons(rims: Places) -> Sequence[Area]:
    """The same for several runs of points, one a row.

    >>> [area.area for area in polygons(np.array([[0j, 1 + 0j, 1j], [0j, 2 + 0j, 2j]]))]
    [0.5, 2.0]
    """
    import shapely  # noqa: PLC0415 - see above

    return list(shapely.polygons(pairs(rims)))


def hull(places: Places) -> Area:
    """The convex area around points."""
    import shapely  # noqa: PLC0415 - see above

    return shapely.convex_hull(shapely.multipoints(pairs(places)))


def ring(area: Area) -> Places:
    """The corners of an area without holes, counter-clockwise.

    >>> ring(hull(np.array([0j, 1j, 1 + 0j, 0.2 + 0.2j]))).size
    3
    """
    import shapely  # noqa: PLC0415 - see above

    rows = np.asarray(shapely.orient_polygons(area).exterior.coords[:-1])
    return np.asarray(rows[:, 0] + 1j * rows[:, 1], dtype=complex)


def united(areas: Sequence[Area]) -> Area:
    """The union of areas, an empty one of none."""
    import shapely  # noqa: PLC0415 - see above

    if len(areas) == 1 and areas[0].geom_type in AREAS:
        return areas[0]
    every = shapely.make_valid(np.array(areas, dtype=object))
    try:
        union = reduce(shapely.union, every) if 0 < len(every) <= AT_ONCE else shapely.union_all(every)
    except shapely.errors.GEOSException:  # nearly the same edges: on a grid the library is sure of its result
        union = shapely.union_all(every, grid_size=GRID)
    return union if union.geom_type in AREAS else shapely.union_all(parts_of(union))


def rings(area: Area) -> list[list[Point]]:
    """All rings of an area, holes included, each as its points.

    >>> from calc.machining.removal.polygons import polygon
    >>> [len(ring) for ring in rings(polygon(np.array([0j, 1 + 0j, 1 + 1j])))]
    [3]
    """
    found = []
    for part in parts_of(area):
        for ring in (part.exterior, *part.interiors):
            found.append([Point(float(z), float(r)) for z, r in ring.coords[:-1]])
    return found


def parts_of(area: Area) -> list[Area]:
    """The single polygons of an area, without lines and points that touching leaves."""
    return [part for part in getattr(area, "geoms", [area]) if part.geom_type == "Polygon" and not part.is_empty]


def only_areas(area: Area) -> Area:
    """The area without the lines and points that touching leaves.

    >>> import shapely
    >>> both = [shapely.box(0, 0, 1, 1), shapely.LineString([(1, 0), (2, 0)])]
    >>> only_areas(shapely.GeometryCollection(both)).geom_type
    'Polygon'
    """
    return area if area.geom_type in AREAS else united(parts_of(area))


def valid(area: Area) -> Area:
    """The area without the lines and points that touching leaves, mended where it meets itself.

    >>> valid(polygon(np.array([0j, 1 + 1j, 1 + 0j, 1j]))).area
    0.5
    """
    import shapely  # noqa: PLC0415 - see above

    if shapely.is_valid(area):
        return only_areas(area)
    mended = only_areas(shapely.make_valid(area))
    return mended if shapely.is_valid(mended) else only_areas(mended.buffer(0.0))  # slivers can stay folded over


def areas_behind(areas: Sequence[Area], line: Line, places: Sequence[float]) -> NDArray[np.float64]:
    """How much of all areas, mm2, lies behind each of the places along a line along an axis, mm from its start.

    By Green's theorem: the integral of the lesser of position and place over the rims, each edge in closed form.

    >>> square = polygon(np.array([0j, 2 + 0j, 2 + 2j, 2j]))
    >>> areas_behind([square], Line(Point(3.0, 1.0), Point(-1.0, 1.0)), [0.5, 1.5, 9.0]).tolist()
    [0.0, 1.0, 4.0]
    """
    import shapely  # noqa: PLC0415 - see above

    parts = np.array([part for area in areas for part in parts_of(area)], dtype=object)
    rings = shapely.get_rings(shapely.orient_polygons(parts))  # outer ones counter-clockwise, holes clockwise
    corners, of = shapely.get_coordinates(rings, return_index=True)
    spots = (corners[:, 0] + 1j * corners[:, 1] - complex(*line.start)) * complex(*line.direction).conjugate()
    is_edge, along, step = of[1:] == of[:-1], spots.real, np.diff(spots)
    low, wide = np.minimum(along[:-1], along[1:])[is_edge], np.abs(step.real)[is_edge]
    rest = np.asarray(places)[:, None] - low
    within = np.clip(rest, 0.0, wide)
    mean = low + np.minimum(rest, 0.0) + within - within**2 / (2.0 * np.where(wide > 0.0, wide, 1.0))
    found: NDArray[np.float64] = mean @ step.imag[is_edge]
    return found


def volume(area: Area) -> float:
    """What an area of the half plane makes about the axis, mm3 (Pappus).

    >>> unit = polygon(np.array([0 + 1j, 1 + 1j, 1 + 2j, 2j]))
    >>> round(volume(unit) / math.pi, 9)
    3.0
    """
    return math.tau * area.centroid.y * area.area if area.area else 0.0
