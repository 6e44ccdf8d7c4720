"""The dish worked out again at 50 digits, by conditions on distances and angles instead of the program's formulas."""

from __future__ import annotations

from dataclasses import dataclass

from mpmath import mp, mpf

from calc.contour import Point

DIGITS = 50


def exact(value: float) -> mpf:
    """A float as it is, at 50 digits."""
    mp.dps = DIGITS
    return mpf(float(value))


def distance(a: Point, b: Point) -> mpf:
    """The straight distance of two points, without rounding."""
    dz, dr = exact(a.z) - exact(b.z), exact(a.r) - exact(b.r)
    return mp.sqrt(dz * dz + dr * dr)


@dataclass(frozen=True)
class Bowl:
    """Everything of the sharp dish from two of its dimensions, by angles: no difference of near numbers is left."""

    radius: mpf
    depth: mpf
    mouth: mpf

    @classmethod
    def by_radius_and_depth(cls, radius: float, depth: float) -> Bowl:
        R, h = exact(radius), exact(depth)
        return cls(R, h, 2 * R * mp.sin(mp.acos(1 - h / R)))

    @classmethod
    def by_radius_and_mouth(cls, radius: float, mouth: float) -> Bowl:
        R, D = exact(radius), exact(mouth)
        return cls(R, R * (1 - mp.cos(mp.asin(D / (2 * R)))), D)

    @classmethod
    def by_depth_and_mouth(cls, depth: float, mouth: float) -> Bowl:
        """The chord from the mouth to the deepest point leans by half the slope."""
        h, D = exact(depth), exact(mouth)
        slope = 2 * mp.atan(2 * h / D)
        return cls(D / (2 * mp.sin(slope)), h, D)

    @property
    def slope(self) -> mpf:
        return 2 * mp.atan(2 * self.depth / self.mouth)

    @property
    def arc_length(self) -> mpf:
        return self.radius * self.slope

    @property
    def centre_z(self) -> mpf:
        return self.radius * mp.cos(self.slope)

    @property
    def volume(self) -> mpf:
        """Of the slices of the ball from the deepest point up, integrated at 50 digits."""
        return mp.quad(lambda z: mp.pi * (self.radius**2 - (self.radius - z) ** 2), [0, self.depth])
