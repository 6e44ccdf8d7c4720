"""Drawings of dishes made by hand, and a strategy for any number of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hypothesis import strategies as st

from calc.answer.drawing import Detail, Dimension, Drawing, Nose, Path
from calc.contour import Arc, Chain, Line, Point
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, View

EDGE = "edge at the mouth"


@dataclass(frozen=True)
class Case:
    """A dish of `radius` and `depth` in a bar, mm; edge radius or chamfer (its leg on the face), hole, nose, passes."""

    radius: float = 75.0
    depth: float = 4.5
    bar: float | None = 30.0
    edge: float = 0.0
    chamfer: float = 0.0
    hole: float = 0.0
    stock: float | None = None
    nose: float = 0.0
    passes: int = 0
    known: bool = True

    @property
    def mouth(self) -> float:
        """Radius of the mouth, from the right-angled triangle of centre, pole and mouth."""
        return math.sqrt(self.depth * (2.0 * self.radius - self.depth))

    @property
    def centre(self) -> Point:
        """Centre of the dish's arc."""
        return Point(self.radius - self.depth, 0.0)

    @property
    def end(self) -> Point:
        """Where the arc ends: at the axis or the hole."""
        return Point(self.centre.z - math.sqrt(self.radius**2 - self.hole**2), self.hole)

    def on_arc(self, r: float) -> Point:
        """The point of the dish at radius `r`."""
        return Point(self.centre.z - math.sqrt(self.radius**2 - r**2), r)

    @property
    def edge_centre(self) -> Point:
        """Centre of the edge radius, which joins face and dish smoothly."""
        away = self.centre.z + self.edge
        return Point(-self.edge, math.sqrt((self.radius + self.edge) ** 2 - away**2))

    @property
    def cut(self) -> Chain:
        """From the face over the edge and along the dish."""
        if self.edge:
            face = Point(0.0, self.edge_centre.r)
            share = self.radius / (self.radius + self.edge)
            on_arc = Point(self.centre.z + (self.edge_centre.z - self.centre.z) * share, face.r * share)
            edge: Arc | Line = Arc(face, on_arc, self.edge_centre, "cw")
            return Chain((edge, Arc(on_arc, self.end, self.centre, "ccw")))
        if self.chamfer:
            on_arc = self.on_arc(self.mouth - self.chamfer / 3.0)
            edge = Line(Point(0.0, self.mouth + self.chamfer), on_arc)
            return Chain((edge, Arc(on_arc, self.end, self.centre, "ccw")))
        return Chain((Arc(Point(0.0, self.mouth), self.end, self.centre, "ccw"),))

    @property
    def outside(self) -> float:
        """Radius at which the face starts."""
        return self.bar or 1.15 * self.cut.start.r

    def drawing(self, title: str = "Dish in a face", description: str = "A section.") -> Drawing:
        """The whole drawing."""
        face = Line(Point(0.0, self.outside), self.cut.start)
        return Drawing(
            title=title,
            description=description,
            part=Chain((face, *self.cut)),
            bar_radius=self.bar,
            hole_radius=self.hole,
            stock_face=self.stock,
            dimensions=(*self._dimensions(), *self._edge_dimensions()),
            paths=self._paths(),
            noses=self._noses(),
            spots=tuple((f"P{i}", p) for i, p in enumerate((self.cut.start, *(e.end for e in self.cut)), 1)),
            details=self._details(),
        )

    def _dimensions(self) -> list[Dimension]:
        corner = Point(0.0, self.mouth)
        mouth, depth, radius = (2 * self.mouth, self.depth, self.radius) if self.known else (None, math.nan, None)
        drawn = [
            Dimension("diameter", corner, corner.mirrored(), mouth, DIAMETER, "mouth_diameter", "D"),
            Dimension("length", corner, Point(-self.depth, 0.0), depth, LENGTH, "depth", "h"),
            Dimension("radius", self.cut.elements[-1].start, self.centre, radius, RADIUS, "radius", "R"),
        ]
        if self.bar:
            bar = Point(0.0, self.bar)
            drawn.append(Dimension("diameter", bar, bar.mirrored(), 2 * self.bar, DIAMETER, "bar_diameter", "B"))
        if self.hole:
            drawn.append(Dimension("diameter", self.end, self.end.mirrored(), 2 * self.hole, DIAMETER, "hole_diameter"))
        if self.stock:
            raw = Point(self.stock, self.outside)
            drawn.append(Dimension("length", Point(0.0, self.outside), raw, self.stock, LENGTH, "stock"))
        return drawn

    def _edge_dimensions(self) -> list[Dimension]:
        edge = self.cut.elements[0]
        if isinstance(edge, Arc) and self.edge:
            start, end = edge.start, edge.end
            return [
                Dimension(
                    "diameter", start, start.mirrored(), 2 * start.r, DIAMETER, "break_face_diameter", detail=EDGE
                ),
                Dimension("diameter", end, end.mirrored(), 2 * end.r, DIAMETER, "break_arc_diameter", detail=EDGE),
                Dimension("length", start, end, -end.z, LENGTH, "break_arc_z", detail=EDGE),
                Dimension("radius", start, edge.centre, self.edge, RADIUS, "break_size", detail=EDGE),
            ]
        if isinstance(edge, Line):
            down = edge.start.shifted(0.0, -1.0)
            slope = math.atan2(-edge.end.z, edge.start.r - edge.end.r)
            return [Dimension("angle", down, edge.end, slope, ANGLE, "break_angle", vertex=edge.start, detail=EDGE)]
        return []

    def _details(self) -> tuple[Detail, ...]:
        edge = self.cut.elements[0]
        return (Detail(edge.point_at(edge.length / 2.0), 3.0 * edge.length, EDGE),) if len(self.cut) > 1 else ()

    def _nose_path(self) -> Chain:
        return Chain((self.cut.elements[-1].offset(self.nose, "left"),))

    def _noses(self) -> tuple[Nose, ...]:
        if not self.nose:
            return ()
        way, step = self._nose_path(), Point(-self.nose, -self.nose)
        places = (("mouth", way.start), ("axis", way.end))
        return tuple(Nose(p, self.nose, p.shifted(*step), name) for name, p in places)

    def _paths(self) -> tuple[Path, ...]:
        arc = self.cut.elements[-1]
        depths = [self.depth * (1.0 - i / self.passes) for i in range(1, self.passes)]
        passes = tuple(Path("pass", Chain((arc.shifted(dz, 0.0),))) for dz in depths)
        if not self.nose:
            return passes
        way = self._nose_path()
        return (*passes, Path("nose centre", way), Path("tool point", way.shifted(-self.nose, -self.nose)))


SEAT = Case(edge=0.8, stock=1.0, nose=6.0, passes=5)
CASES = {
    "the seat": SEAT,
    "a hole": Case(hole=4.0, stock=1.0, nose=6.0),
    "a chamfer": Case(chamfer=1.0, nose=6.0),
    "an inch part": Case(radius=76.2, depth=10.16, bar=50.8, edge=25.4 / 32, nose=3.175, passes=6),
    "too flat to see": Case(radius=1000.0, depth=0.05, nose=6.0),
    "a hemisphere": Case(radius=20.0, depth=20.0, nose=6.0),
    "tiny": Case(radius=0.9, depth=0.3, bar=1.0, stock=0.1, nose=0.2),
    "huge": Case(radius=3000.0, depth=100.0, bar=1000.0, edge=5.0, nose=6.0, stock=2.0),
    "a nose larger than half the dish": Case(radius=30.0, depth=3.0, bar=20.0, nose=25.0),
    "no bar": Case(bar=None),
    "nothing known": Case(bar=None, known=False),
}


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Dishes of every size and shape that a lathe's page accepts."""
    size = 10.0 ** draw(st.floats(-0.5, 3.3))
    radius = size * draw(st.floats(0.3, 100.0))
    depth = min(radius, size) * draw(st.floats(0.0005, 1.0))
    mouth = math.sqrt(depth * (2.0 * radius - depth))
    bar = draw(st.one_of(st.none(), st.floats(1.1, 3.0).map(lambda share: share * mouth)))
    edge, chamfer, hole = draw(
        st.sampled_from(((0.0, 0.0, 0.0), (0.02, 0.0, 0.0), (0.0, 0.03, 0.0), (0.0, 0.0, 0.3), (0.03, 0.0, 0.1)))
    )
    nose = draw(st.sampled_from((0.0, 0.02, 0.3, 0.95))) * radius
    stock = draw(st.one_of(st.none(), st.floats(0.01, 0.5).map(lambda share: share * size)))
    passes = draw(st.integers(0, 6))
    return Case(
        radius, depth, bar, edge * depth, chamfer * depth, hole * mouth, stock, nose, passes, draw(st.booleans())
    )


def views() -> st.SearchStrategy[View]:
    """Every way of reading a sketch."""
    return st.builds(
        View, st.sampled_from(("mm", "inch")), st.sampled_from(("diameter", "radius")), st.sampled_from(("out", "in"))
    )
