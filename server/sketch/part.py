"""The part as a section: outline, hatch, the bar's break, raw stock, centre line, work zero."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.contour import Chain, Element
from server.sketch.boxes import Box
from server.sketch.frame import Frame
from server.sketch.markup import FINE, Plane, circle, elements_path, line, move, num, path
from server.sketch.scene import Scene

WAVE = 4.0
"""How far a break line swings, px."""

ON_AXIS = 1e-9
"""A contour that ends within this of the axis ends on it, mm."""

PAST = 6.0
"""How far the centre line runs on past the break, px."""

RIM_LEAST = 3.0
"""A recess shallower than this shows no rim line, px."""


def definitions(key: str, content: str) -> str:
    """The hatch and the window (a shape element) that the drawing is cut to, with ids that begin with `key`."""
    return (
        f'<defs><pattern id="{key}-h" width="8" height="8" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path class="h" d="M4 0V8"/></pattern>'
        f'<clipPath id="{key}-c">{content}</clipPath></defs>'
    )


def window(box: Box) -> str:
    """A rectangle to cut the drawing to."""
    return (
        f'<rect x="{num(box.left)}" y="{num(box.top)}" width="{num(box.right - box.left)}" '
        f'height="{num(box.bottom - box.top)}"/>'
    )


def wave(x1: float, y1: float, x2: float, y2: float) -> str:
    """Path data of a break line that goes on from the pen at (x1, y1): a freehand wave of half-waves near 22 px."""
    dx, dy = x2 - x1, y2 - y1
    size = max(abs(dx), abs(dy))
    halves = max(2, 2 * round(size / 44.0))
    sx, sy = dx / halves, dy / halves
    swing_x, swing_y = (2.0 * WAVE * dy / size, 2.0 * WAVE * dx / size) if size else (0.0, 0.0)
    first = f"q{num(sx / 2 + swing_x)} {num(sy / 2 + swing_y)} {num(sx)} {num(sy)}"
    return first + f"t{num(sx)} {num(sy)}" * (halves - 1)


@dataclass(frozen=True, slots=True)
class _Outside:
    """The way from the break to the face's start and back from its mirror image, for the outline and the hatch."""

    opening: str
    fill_opening: str
    closing: str
    fill_closing: str
    top: float


def section(key: str, scene: Scene, frame: Frame) -> str:
    """The hatched section with its outline; both sides of the axis, cut to the frame's window."""
    face = scene.face
    outside = _outside(scene, frame)
    outline, fill = (_halves if face[-1].end.r > ON_AXIS else _whole)(face, frame, outside)
    return (
        path("f", fill, f' fill="url(#{key}-h)"')
        + path("t", rims(scene, frame.plane))
        + path("o", outline)
        + path("t", _breaks(scene, frame, outside.top))
    )


def _outside(scene: Scene, frame: Frame) -> _Outside:
    plane, left = frame.plane, frame.content.left
    x, y = plane.xy(*scene.face[0].start)
    if scene.is_open:
        top, bottom = plane.y(scene.outer_radius), plane.y(-scene.outer_radius)
        upper = move(left, top) + wave(left, top, x, top) + f"V{num(y)}"
        return _Outside(line(x, top, x, y), upper, f"V{num(bottom)}", f"V{num(bottom)}H{num(left)}", top)
    opening = move(left, y) + f"H{num(x)}"
    return _Outside(opening, opening, f"H{num(left)}", f"H{num(left)}", y)


def _there_and_back(face: Sequence[Element], plane: Plane) -> tuple[str, str]:
    """Path data along the face, and back along its mirror image."""
    back = [element.reversed() for element in reversed(face)]
    return elements_path(face, plane), elements_path(back, plane, mirrored=True)


def _whole(face: Sequence[Element], frame: Frame, outside: _Outside) -> tuple[str, str]:
    """Outline and hatched area of a section without a hole, over the axis."""
    left, top = frame.content.left, outside.top
    contour = "".join(_there_and_back(face, frame.plane))
    back = wave(left, 2.0 * frame.plane.y0 - top, left, top) + "z"
    return outside.opening + contour + outside.closing, outside.fill_opening + contour + outside.fill_closing + back


def _halves(face: Sequence[Element], frame: Frame, outside: _Outside) -> tuple[str, str]:
    """Outline and hatched area of the two halves beside a hole."""
    plane, left, end = frame.plane, frame.content.left, face[-1].end
    hole, mirror = plane.y(end.r), plane.y(-end.r)
    there, back = _there_and_back(face, plane)
    upper = there + f"H{num(left)}"
    lower = f"{move(left, mirror)}H{num(plane.x(end.z))}" + back
    top, bottom = outside.top, 2.0 * plane.y0 - outside.top
    fill = outside.fill_opening + upper + wave(left, hole, left, top) + "z"
    fill += lower + outside.fill_closing + wave(left, bottom, left, mirror) + "z"
    return outside.opening + upper + lower + outside.closing, fill


def _breaks(scene: Scene, frame: Frame, top: float) -> str:
    """Path data of the freehand lines where the bar (and a face without a known bar) goes on."""
    plane, left, hole = frame.plane, frame.content.left, scene.face[-1].end.r
    bottom = 2.0 * plane.y0 - top
    if hole > ON_AXIS:
        upper, lower = plane.y(hole), plane.y(-hole)
        data = move(left, upper) + wave(left, upper, left, top) + move(left, bottom) + wave(left, bottom, left, lower)
    else:
        data = move(left, bottom) + wave(left, bottom, left, top)
    if scene.is_open:
        data += move(left, top) + wave(left, top, plane.x(scene.face[0].start.z), top)
    return data


def rims(scene: Scene, plane: Plane) -> str:
    """Path data of the edges seen beyond the section: the rim of the recess and the mouth of the hole."""
    data = ""
    rim = _rim(scene.face)
    if rim is not None and (rim.start.z - scene.bounds.z_min) * plane.scale > RIM_LEAST:
        x, y = plane.xy(*rim.start)
        data = line(x, y, x, plane.y(-rim.start.r))
    end = scene.face[-1].end
    if end.r > ON_AXIS:
        x, y = plane.xy(*end)
        data += line(x, y, x, plane.y(-end.r))
    return data


def _rim(elements: Sequence[Element]) -> Element | None:
    """The element with which the recess begins: the first that goes back from the face toward the chuck."""
    for element in elements:
        if element.end.z < element.start.z and element.end.r <= element.start.r:
            return element
    return None


def raw_stock(scene: Scene, frame: Frame) -> str:
    """The raw bar ahead of the face."""
    raw = scene.drawing.stock_face
    if raw is None:
        return ""
    plane, outer = frame.plane, scene.outer_radius
    start = scene.face[0].start
    x, y = plane.xy(start.z, outer)
    if not scene.is_open and start.r < outer:
        x = frame.content.left
    face = plane.x(raw)
    if face <= plane.x(start.z):
        return ""
    return path("s", f"{move(x, y)}H{num(face)}V{num(plane.y(-outer))}H{num(x)}")


def chain_path(chain: Chain, plane: Plane, places: int = FINE) -> str:
    """Path data of a whole chain."""
    return move(*plane.xy(*chain.start), places) + elements_path(chain, plane, places=places)


def centre_line(frame: Frame) -> str:
    """The axis, a little longer than what is drawn."""
    y = frame.plane.y(0.0)
    return path("c", line(frame.content.left - PAST, y, frame.content.right, y))


def work_zero(plane: Plane) -> str:
    """The mark of the work zero: a circle with two opposite quarters filled."""
    x, y = plane.xy(0.0, 0.0)
    quarters = f"{move(x, y)}v-6a6 6 0 0 1 6 6zM{num(x)} {num(y)}v6a6 6 0 0 1 -6 -6z"
    return f'<g class="w">{circle("", x, y, 6.0)}{path("a", quarters)}</g>'.replace(' class=""', "")
