"""Random elements and chains, of the size of turned parts, for all tests of the contour."""

import math

from hypothesis import strategies as st

from calc.contour import Arc, Chain, Element, Line, Point, Turn

coordinates = st.floats(-200.0, 200.0).map(lambda x: round(x, 6))
points = st.builds(Point, coordinates, coordinates)
headings = st.floats(-math.pi, math.pi)
radii = st.floats(0.2, 150.0)
turns: st.SearchStrategy[Turn] = st.sampled_from(["cw", "ccw"])
sides = st.sampled_from(["left", "right"])
fractions = st.floats(0.02, 0.98)


@st.composite
def lines(draw: st.DrawFn) -> Line:
    """A line of 0.2 to 200 mm."""
    return Line.at_angle(draw(points), draw(headings), draw(st.floats(0.2, 200.0)))


@st.composite
def arcs(draw: st.DrawFn, most: float = 6.2) -> Arc:
    """An arc of a thousandth of a radian up to ``most``."""
    turn = draw(turns)
    start, angle = draw(headings), draw(st.floats(1e-3, most))
    return Arc.from_angles(draw(points), draw(radii), start, start + (angle if turn == "ccw" else -angle), turn)


elements: st.SearchStrategy[Element] = st.one_of(lines(), arcs())


def next_line(start: Point, heading: float, length: float) -> Line:
    return Line.at_angle(start, heading, length)


def next_arc(start: Point, heading: float, radius: float, angle: float) -> Arc:
    """The arc that leaves ``start`` at ``heading`` and turns by ``angle``, counter-clockwise positive."""
    to_centre = heading + math.copysign(math.pi / 2.0, angle)
    centre = Point(start.z + radius * math.cos(to_centre), start.r + radius * math.sin(to_centre))
    end_angle = to_centre + math.pi + angle
    end = Point(centre.z + radius * math.cos(end_angle), centre.r + radius * math.sin(end_angle))
    return Arc(start, end, centre, "ccw" if angle > 0.0 else "cw")


@st.composite
def chains(draw: st.DrawFn, most: int = 6, sharpest: float = 2.5) -> Chain:
    """A chain of up to ``most`` elements; it may cross itself."""
    point, heading = draw(points), draw(headings)
    made: list[Element] = []
    for _ in range(draw(st.integers(1, most))):
        heading += draw(st.sampled_from([0.0, 1.0])) * draw(st.floats(-sharpest, sharpest))
        element: Element
        if draw(st.booleans()):
            element = next_line(point, heading, draw(st.floats(1.0, 60.0)))
        else:
            angle = draw(st.floats(0.05, 3.0)) * draw(st.sampled_from([-1.0, 1.0]))
            element = next_arc(point, heading, draw(st.floats(1.0, 40.0)), angle)
        made.append(element)
        point, heading = element.end, heading + element.sweep
    return Chain(tuple(made))


def samples(element: Element, count: int = 200) -> list[Point]:
    """Points evenly along an element, both ends included."""
    return [element.point_at(element.length * i / count) for i in range(count + 1)]
