"""What every question about a turning cut asks of its edge: without an entering angle it is a round insert's."""

from __future__ import annotations

from collections.abc import Iterator

from calc.cutting.chip import Edge
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Missing
from calc.language.quantities import LENGTH, RADIUS


def edge_of(nose: float, angle: float | None) -> Edge:
    """The edge of a `nose` radius [mm] with an entering `angle` [rad]; without one the edge of a round insert.

    Raises Missing, at `entering_angle`, for a sharp corner without an angle.

    >>> edge_of(6.0, None), edge_of(0.8, 1.5)
    (Edge(nose_radius=6.0, entering_angle=1.5707963267948966), Edge(nose_radius=0.8, entering_angle=1.5))
    """
    if angle is not None:
        return Edge(nose, angle)
    if nose == 0.0:
        said = Message("Give the entering angle, or the nose radius of a round insert.")
        raise Missing(Fault("entering_angle", said))
    return Edge(nose)


def deeper_than_round(depth: float, nose: float, angle: float | None, about: str) -> Iterator[Caution]:
    """A caution where a round insert of a `nose` radius is to cut deeper than that; both in mm.

    One with an entering `angle` [rad] is not round. `about` is the input that gives the depth.

    >>> [len(list(deeper_than_round(depth, 6.0, None, "depth"))) for depth in (6.0, 6.5)]
    [0, 1]
    """
    if angle is None and depth > nose:
        values = {"depth": Quantity(depth, LENGTH), "nose": Quantity(nose, RADIUS)}
        yield Caution(Message(_DEEPER, values), 3, about)


_DEEPER = (
    "{depth} is deeper than a round insert of {nose} can cut; it is calculated as if the edge went on straight. "
    "Give the entering angle, or cut less deep."
)
