"""What a nose leaves, in the words of every page that says it."""

from __future__ import annotations

from collections.abc import Sequence

from calc.contour import Chain, Point
from calc.language.messages import Message, Quantity, Value, in_a_row, joined
from calc.language.quantities import LENGTH, RADIUS
from calc.tool.nose_path.unreached import Unreached


def corner_of(chain: Chain, gap: Unreached) -> Point:
    """The sharp point of a concave corner that the nose does not reach: the joint of its two elements."""
    return chain.elements[gap.elements[-1]].start


def left_in_corners(chain: Chain, nose: float, gaps: Sequence[Unreached]) -> Message | None:
    """What a nose (mm) leaves in concave corners, the worst of them by its place; None without any.

    >>> from calc.contour import Line
    >>> from calc.tool.nose_path.path import nose_path
    >>> shoulder = Chain((Line(Point(0.0, 10.0), Point(-28.0, 10.0)), Line(Point(-28.0, 10.0), Point(-28.0, 20.0))))
    >>> left_in_corners(shoulder, 0.8, nose_path(shoulder, 0.8, "right").unreached).say()[:59]
    'The nose leaves R0.8 mm in the inside corner at X20.000 Z-2'
    """
    corners = [(gap.left, gap) for gap in gaps if gap.reason == "corner" and gap.left is not None]
    if not corners:
        return None
    left, worst = max(corners, key=lambda each: each[0])
    said = left_in_corner(nose, corner_of(chain, worst), left, worst.size)
    others = len(corners) - 1
    if not others:
        return said
    more = (
        "{more} more inside corners keep as much or less."
        if others > 1
        else "One more inside corner keeps as much or less."
    )
    return in_a_row(said, Message(more, {"more": others}))


def left_in_corner(nose: float, at: Point, left: float, size: float) -> Message:
    """What a nose (mm) leaves in the corner `at`: `left` square to the nearest wall, `size` to the sharp corner (mm).

    >>> left_in_corner(0.8, Point(-28.0, 10.0), 0.234315, 0.331371).say()[66:]
    'at most 0.234 mm, square to the nearest wall, and 0.331 mm to the sharp corner.'
    """
    values: dict[str, Value] = {
        "nose": Quantity(nose, RADIUS, brief=True),
        "at": at,
        "left": Quantity(left, LENGTH),
        "size": Quantity(size, LENGTH),
    }
    text = (
        "The nose leaves {nose} in the inside corner at {at}: at most {left}, square to the nearest wall, and {size} "
        "to the sharp corner."
    )
    return Message(text, values)


def span_of(chain: Chain, gap: Unreached) -> str:
    """The elements of a gap as the page's rows are counted: `2`, `2 to 4`."""
    names = [chain.name_of(index) for index in (gap.elements[0], gap.elements[-1])]
    return names[0] if len(gap.elements) == 1 else joined(names, " to ")
