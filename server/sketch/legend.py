"""What each line of a sketch means, in words beside a piece of the line."""

from __future__ import annotations

from calc.drawing import Drawing
from server.sketch.markup import circle, path, words

ROLES = {
    "stock": ("s", "raw bar"),
    "pass": ("p1", "passes, every second one dashed"),
    "nose centre": ("nc", "way of the nose centre"),
    "tool point": ("tp", "way of the tool point"),
    "left": ("lf", "left when the tool point follows the print uncompensated"),
}


def draw_legend(drawing: Drawing) -> str:
    """A list of what is on the sketch beside the part, "" when there is nothing to explain.

    Each line of the list bears a piece of its line (hidden from those who hear the page) and its meaning in words.
    """
    roles = {way.role for way in drawing.paths} | ({"stock"} if drawing.stock_face is not None else set())
    lines = [_item(path(cls, "M0 8H40"), meaning) for role, (cls, meaning) in ROLES.items() if role in roles]
    if drawing.noses:
        lines.append(_item(circle("n", 20.0, 8.0, 6.5), "nose"))
        lines.append(_item(path("m", "M20 3.5l4.5 4.5l-4.5 4.5l-4.5 -4.5z"), "tool point"))
    return f'<ul class="sketch-legend">{"".join(lines)}</ul>' if lines else ""


def _item(mark: str, meaning: str) -> str:
    return (
        f'<li><svg class="sketch" viewBox="0 0 40 16" width="40" height="16" aria-hidden="true">{mark}</svg> '
        f"{words(meaning)}</li>"
    )
