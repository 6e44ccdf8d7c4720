"""What a field wants, in words, for sentences to somebody who typed something else."""

from __future__ import annotations

from calc.language.messages import Phrase
from calc.language.quantities import Kind, View

_EXAMPLES = {"ratio": "1:10", "angle": "7.5°"}


def noun(name: str) -> Phrase:
    """A quantity with its article.

    >>> noun("angle"), noun("z")
    ('an angle', 'a Z coordinate')
    """
    if name in ("x", "z"):
        name = f"{name.upper()} coordinate"
    article = "an" if name[0] in "aeiouX" else "a"
    return Phrase(f"{article} {name}")


def wanted(kind: Kind, view: View) -> Phrase:
    """What a field of `kind` wants of a reader with `view`.

    >>> from calc.language.quantities import COUNT, RATIO, SURFACE_SPEED
    >>> wanted(SURFACE_SPEED, View("inch")), wanted(RATIO, View())
    ('a surface speed, such as ft/min', 'a ratio, such as 1:10')
    """
    if kind.dimension == "count":
        return Phrase("a plain number without a unit")
    example = _EXAMPLES.get(kind.dimension, kind.unit(view).label)
    return Phrase("{noun}, such as {example}", noun=noun(kind.name), example=example) if example else noun(kind.name)
