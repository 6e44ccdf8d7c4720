"""What each line of a sketch means, in words beside a piece of the line."""

from __future__ import annotations

from calc.answer.drawing import Drawing
from calc.language.messages import say_text
from calc.language.quantities import METRIC, View
from server.sketch.marks import OUTLINE_CLASSES
from server.sketch.markup import circle, path, words

ROLES = {
    "stock": ("s", "raw bar"),
    "pass": ("p1", "passes, solid and dashed"),
    "nose centre": ("nc", "path of the nose centre"),
    "tool point": ("tp", "path of the tool point"),
    "mate": ("nc", "the mating part"),
    "work": ("nc", "the work that is held"),
    "left": ("lf", "what is left uncompensated"),
    "turned": ("lf", "what comes out"),
}


def draw_legend(drawing: Drawing, view: View = METRIC) -> str:
    """A list of what is on the sketch beside the part, "" when there is nothing to explain.

    Each line of the list bears a piece of its line (hidden from those who hear the page) and its meaning in words.
    """
    roles = {way.role for way in drawing.paths} | ({"stock"} if drawing.stock_face is not None else set())
    lines = [
        legend_item(path(cls, "M0 8H40"), say_text(meaning, view))
        for role, (cls, meaning) in ROLES.items()
        if role in roles
    ]
    outlined = {outline.role for outline in drawing.outlines if not drawing.seen_from_above}
    lines += [
        legend_item(path(cls, "M8 3H32V13H8z"), say_text(role, view))
        for role, cls in OUTLINE_CLASSES.items()
        if role in outlined
    ]
    if drawing.noses and not drawing.seen_from_above:
        lines.append(legend_item(circle("n", 20.0, 8.0, 6.5), say_text("nose of the insert", view)))
        lines.append(legend_item(path("m", "M20 3.5l4.5 4.5l-4.5 4.5l-4.5 -4.5z"), say_text("tool point", view)))
    return f'<ul class="sketch-legend">{"".join(lines)}</ul>' if lines else ""


def legend_item(mark: str, meaning: str) -> str:
    """One line of a legend: a piece of the line as it is drawn, and what it means."""
    return (
        f'<li><svg class="sketch" viewBox="0 0 40 16" width="40" height="16" aria-hidden="true">{mark}</svg> '
        f"{words(meaning)}</li>"
    )
