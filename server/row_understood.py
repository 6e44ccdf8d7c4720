"""How a field of a contour's row was read, in words beside it: limits, a thread, a broken corner, an undercut."""

from __future__ import annotations

from calc.contour import Arc
from calc.contour.solving import GivenCorner
from calc.contour.text import KINDS, ContourGiven
from calc.contour.undercut import Undercut
from calc.language.limited import limited
from calc.language.messages import Message, Quantity, Value, say_text
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, View
from calc.threads.on_print import NAMES

_TURNED = "X before threading {size}; a chamfer of {chamfer} reaches the root"
_TURNED_BY_USUAL = "X before threading {size}, by the usual class; a chamfer of {chamfer} reaches the root"


def understood(key: str, name: str, given: ContourGiven, view: View) -> str:
    """Both limits of a value that has some and what is aimed at; how a corner was read."""
    if key in given.breaks:
        return _corner(given.breaks[key], view)
    if name == "named":
        return _thread(key, given, view)
    limits = limited(given.typed.get(key))
    if limits is None:
        return ""
    values: dict[str, Value] = {
        "limits": limits.say(KINDS[name], view), "aim": Quantity(limits.aimed, KINDS[name])
    }  # fmt: skip
    return Message("{limits}; aims at mid-limit, {aim}", values).say(view)


def _thread(key: str, given: ContourGiven, view: View) -> str:
    """What is turned or bored for a thread, and the chamfer that reaches its root."""
    text = given.threads.get(int(key.split(".")[1]))
    if text is None:
        return ""
    called = NAMES.thread(text)
    limits, kind = limited(called.radius), KINDS["x"]
    said = kind.say(called.radius, view) if limits is None else limits.say(kind, view)
    text = _TURNED if called.has_class else _TURNED_BY_USUAL
    return Message(text, {"size": said, "chamfer": Quantity(called.chamfer, LENGTH)}).say(view)


def _corner(corner: GivenCorner, view: View) -> str:
    if corner.undercut is not None:
        return _undercut(corner.undercut, view)
    if corner.kind == "radius":
        return ""
    if corner.angle is None:
        return say_text("equal legs, measured along both elements", view)
    values = {"size": Quantity(corner.size, LENGTH, True), "angle": Quantity(corner.angle, ANGLE, True)}
    return Message("{size} along Z, at {angle} to it", values).say(view)


def _undercut(undercut: Undercut, view: View) -> str:
    """Its designation, its length and what its smallest radius asks of a nose."""
    radius = min(e.radius for e in undercut.profile if isinstance(e, Arc))
    low = min(element.end.r for element in undercut.profile)
    text, bottom = "{undercut}: {bottom} deep, {size} long, {radius}", Quantity(-low, LENGTH, True)
    if undercut.diameter is not None:
        way = 1.0 if undercut.outside else -1.0
        text = "{undercut}: bottom {bottom}, {size} long, {radius}"
        bottom = Quantity(undercut.diameter + 2.0 * way * low, DIAMETER)
    size, nose = Quantity(undercut.profile.start.z, LENGTH, True), Quantity(radius, RADIUS, True)
    values: dict[str, Value] = {"undercut": undercut.words, "bottom": bottom, "size": size, "radius": nose}
    return Message(text, values).say(view)
