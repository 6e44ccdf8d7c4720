"""A drawing with its words in the reader's language."""

from __future__ import annotations

from dataclasses import replace

from calc.answer.drawing import Drawing, Turning
from calc.language.messages import say_text
from calc.language.quantities import View


def worded_drawing(drawing: Drawing, view: View) -> Drawing:
    """The same drawing for a reader with `view`: title, description, and what noses, spots and details are called."""
    if view.language == "en":
        return drawing
    return replace(
        drawing,
        title=say_text(drawing.title, view),
        description=say_text(drawing.description, view),
        noses=tuple(replace(nose, label=say_text(nose.label, view)) for nose in drawing.noses),
        spots=tuple((say_text(name, view), spot) for name, spot in drawing.spots),
        details=tuple(replace(detail, label=say_text(detail.label, view)) for detail in drawing.details),
        dimensions=tuple(replace(each, detail=say_text(each.detail, view)) for each in drawing.dimensions),
        turning=drawing.turning and _turning(drawing.turning, view),
    )


def _turning(turning: Turning, view: View) -> Turning:
    ways = tuple(
        (forward, to_chuck, tuple(say_text(line, view) for line in lines)) for forward, to_chuck, lines in turning.ways
    )
    return replace(turning, ways=ways)
