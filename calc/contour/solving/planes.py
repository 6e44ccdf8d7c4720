"""Cones over a plane: each side is affine in two parameters, and two cones of one shape differ by a line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeAlias

from calc.contour.solving.roots import Cone

Sides: TypeAlias = tuple[list[complex], list[complex]]
"""The two sides of a cone over a plane, each as [constant, factors ...]."""


class NotAlike(Exception):
    """Two cones are not of one shape, so that they differ by more than a line."""


def cone_on(cone: Sides, at: Sequence[float], way: Sequence[float]) -> Cone:
    """A cone over the plane, restricted to the line through `at` along `way`."""
    d, s = (
        (side[0] + sum(f * x for f, x in zip(side[1:], at, strict=True)), _weighted(side[1:], way)) for side in cone
    )
    return Cone(d[0], d[1], s[0], s[1])


def gap_of_circles(cones: Sequence[Sides]) -> float:
    """By how much two circles of the plane miss each other, in units of the plane; negative: one inside the other."""
    (one, p), (other, q) = (_circle_of(cone) for cone in cones)
    apart = abs(one - other)
    return apart - p - q if apart > p + q else apart - abs(p - q)


def _circle_of(cone: Sides) -> tuple[complex, float]:
    """Centre and radius of a cone with a constant right side, seen as a circle of the plane."""
    (constant, along_x, along_y), (radius, *_) = cone
    determinant = along_x.real * along_y.imag - along_x.imag * along_y.real
    x = (-constant.real * along_y.imag + constant.imag * along_y.real) / determinant
    y = (-along_x.real * constant.imag + along_x.imag * constant.real) / determinant
    return complex(x, y), abs(radius) / math.sqrt(form_of(cone, 1, 1))


def refined_on(cones: Sequence[Sides], place: tuple[float, float]) -> Sequence[float]:
    """One step of Newton on two cones; where they touch, the place stays."""
    x, y = ([cone_on(cone, place, way) for cone in cones] for way in ((1.0, 0.0), (0.0, 1.0)))
    (a, c), (b, d) = ([one.slope(0.0) for one in axis] for axis in (x, y))
    determinant = a * d - b * c
    if abs(determinant) <= 1e-6 * math.hypot(a, b) * math.hypot(c, d):
        return place
    p, q = (one.value(0.0) for one in x)
    return (place[0] - (p * d - q * b) / determinant, place[1] - (a * q - c * p) / determinant)


def _weighted(factors: Sequence[complex], by: Sequence[float]) -> complex:
    return sum((f * x for f, x in zip(factors, by, strict=True)), 0j)


def difference(first: Sides, second: Sides) -> tuple[float, float, float]:
    """Coefficients and right side of the plane in which two cones of one shape meet. Raises `NotAlike` for others."""
    a, b = (_quadratic(cone) for cone in (first, second))
    weight = max(map(abs, a[:3]))
    factor = _ratio(a[:3], b[:3])
    if any(abs(x - factor * y) > 1e-10 * weight for x, y in zip(a[:3], b[:3], strict=True)):
        raise NotAlike
    return (a[3] - factor * b[3], a[4] - factor * b[4], factor * b[5] - a[5])


def _ratio(a: Sequence[float], b: Sequence[float]) -> float:
    largest = max(range(3), key=lambda i: abs(b[i]))
    if abs(b[largest]) <= 1e-10:
        raise NotAlike
    return a[largest] / b[largest]


def _quadratic(cone: Sides) -> list[float]:
    """|D|^2 - |S|^2 as coefficients of xx, xy, yy, x, y, 1."""
    return [form_of(cone, i, j) * (1.0 if i == j else 2.0) for i, j in ((1, 1), (1, 2), (2, 2), (0, 1), (0, 2), (0, 0))]


def form_of(cone: Sides, i: int, j: int) -> float:
    """The product of factors i and j in |D|^2 - |S|^2."""
    d, s = cone
    return (d[i] * d[j].conjugate()).real - (s[i] * s[j].conjugate()).real
