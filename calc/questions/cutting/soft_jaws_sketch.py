"""Soft jaws in section, with the work that they hold."""

from __future__ import annotations

from calc.answer.drawing import Dimension, Drawing, Path
from calc.contour import Chain, Line, Point
from calc.language.quantities import DIAMETER, LENGTH


def jaw_sketch(bore: float, depth: float, ring: float | None, gripped: str) -> Drawing:
    """The work in a step of a jaw, in section: `bore` of the step, its `depth`, the `ring` diameter behind it [mm].

    >>> jaw_sketch(42.0, 12.0, 36.0, "outside").title
    'Soft jaws'
    """
    outside = gripped == "outside"
    stands = ring if ring is not None else bore * (0.8 if outside else 1.2)
    behind = 0.8 * depth
    far = (1.0 if outside else -1.0) * 0.3 * bore
    step = Chain(
        (
            Line(Point(0.0, bore / 2 + far), Point(0.0, bore / 2)),
            Line(Point(0.0, bore / 2), Point(-depth, bore / 2)),
            Line(Point(-depth, bore / 2), Point(-depth, stands / 2)),
            Line(Point(-depth, stands / 2), Point(-depth - behind, stands / 2)),
        )
    )
    reach = max(bore, stands) / 2
    return Drawing(
        title="Soft jaws",
        description="A jaw in section with the axis across the page; the work goes in from the right onto the ledge.",
        part=step,
        bar_radius=max(reach, bore / 2 + far),
        paths=(Path("work", _work(bore, depth, outside=outside), "the work"),),
        dimensions=(
            Dimension("diameter", Point(-depth / 2, bore / 2), Point(-depth / 2, -bore / 2), bore, DIAMETER,
                      "jaw_bore", "D_j"),
            Dimension("diameter", Point(-depth - behind, stands / 2), Point(-depth - behind, -stands / 2), ring,
                      DIAMETER, "boring_diameter", "D_p"),
            Dimension("length", Point(-depth, bore / 2), Point(0.0, bore / 2), depth, LENGTH, "step_depth", "t_j"),
        ),
    )  # fmt: skip


def _work(bore: float, depth: float, *, outside: bool) -> Chain:
    """The held end of the work, standing out of the step as far again."""
    inner = bore / 2
    if not outside:
        outer = 1.3 * inner
        return Chain((Line(Point(-depth, outer), Point(depth, outer)), Line(Point(depth, outer), Point(depth, inner))))
    return Chain((Line(Point(-depth, inner), Point(depth, inner)), Line(Point(depth, inner), Point(depth, 0.0))))
