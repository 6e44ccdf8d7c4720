"""A contour with its blanks as one short text, one word an element: an address can hold it and a person read it.

    s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24*t_z-38*f_x31*t_dz-15*a_r8_smooth*l_ha30_x41_z-90_smooth

Words stand between stars: `s` is the start, `f` a face (Z stays), `t` a cylinder (X stays), `l` any line, `a` an arc,
`c1` a chamfer with legs of 1 (`c1x45°`, `cC1`: as the print has it, 1 along Z) and `e0.8` an edge radius or fillet at
the end of the element before, `uF 0.8x0.3` an undercut there, `vA` the relief of the thread on the cylinder beside it
(`vB M24x2-6g`: of that thread), `g` a groove that runs on toward the chuck, `h` a thread with what belongs to it.
A word's parts stand between underscores:
`x`, `z` its end, `dx`, `dz` the step to it, `at` a line's angle from +Z, `tp` its diametral taper (1:10), `ha` its
half angle to the axis, `down` that it falls toward the axis on its way to the chuck, `len` its length, `r` an arc's
radius, `cx`, `cz` its centre, `cw` or `ccw` its turn, `smooth` that it joins the element before smoothly. A groove's
`w` is its width, `x` its bottom, `dep` its depth, `r` the radius in its bottom, `br` the break of both edges, and
`outward` says that it goes away from the axis; `namedDIN 471`, `namedO-ring 2.65` call it as the print does. A thread's
`named` is its designation, which gives the diameter to turn or to bore, `relief` the form of its relief before a
shoulder (`reliefA`), `br` the chamfer at its start. A cylinder's `x` is its diameter, also where the face before it has
none; `xM24x2-6g` is the diameter to turn for that thread. Limits of a Z are those of the length from Z0: `z-28 +0.1/0`
is 28.0 to 28.1 long.
What follows a name is what somebody typed, to the digit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from calc.language.quantities import ANGLE, LENGTH, RADIUS, RATIO, Kind, X, Z

RowKind = Literal[
    "start", "face", "cylinder", "line", "arc", "chamfer", "radius", "undercut", "relief", "groove", "thread",
]  # fmt: skip

LETTERS: Mapping[str, RowKind] = {
    "s": "start", "f": "face", "t": "cylinder", "l": "line", "a": "arc", "c": "chamfer", "e": "radius",
    "u": "undercut", "v": "relief", "g": "groove", "h": "thread",
}  # fmt: skip
KINDS: Mapping[str, Kind] = {
    "dx": X, "dz": Z, "cx": X, "cz": Z, "at": ANGLE, "tp": RATIO, "ha": ANGLE, "len": LENGTH, "x": X, "z": Z,
    "r": RADIUS, "size": LENGTH, "w": LENGTH, "dep": LENGTH, "br": LENGTH,
}  # fmt: skip
OF_ROW: Mapping[RowKind, tuple[str, ...]] = {
    "start": ("x", "z"),
    "face": ("x", "dx"),
    "cylinder": ("z", "dz", "x"),
    "line": ("x", "z", "dx", "dz", "tp", "ha", "at", "len"),
    "arc": ("r", "x", "z", "dx", "dz", "cx", "cz"),
    "chamfer": ("size",),
    "radius": ("size",),
    "undercut": ("named",),
    "relief": ("named",),
    "groove": ("named", "w", "x", "dep", "r", "br"),
    "thread": ("named", "z", "dz", "relief", "br"),
}
CORNERS: Mapping[RowKind, str] = {"chamfer": "size", "radius": "size", "undercut": "named", "relief": "named"}
"""What breaks a corner: it stands between two elements and has one text, under this name."""
FLAGS = ("cw", "ccw", "smooth", "down", "outward")
MOST_ROWS = 1000
MOST_TEXT = 30_000

# The two separators, if somebody types them, as look-alikes that the text may hold.
_AWAY = str.maketrans("*_", "∗ˍ")
_BACK = str.maketrans("∗ˍ", "*_")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the contour: its kind, the typed texts by name, its flags (an arc's turn, joins smoothly, falls)."""

    kind: RowKind
    texts: Mapping[str, str] = field(default_factory=dict)
    flags: frozenset[str] = frozenset()

    def word(self) -> str:
        """The row as a word.

        >>> Row("arc", {"r": "8", "x": ""}, frozenset({"smooth", "cw"})).word()
        'a_r8_cw_smooth'
        """
        letter = next(letter for letter, kind in LETTERS.items() if kind == self.kind)
        if self.kind in CORNERS:
            return letter + self.texts.get(CORNERS[self.kind], "").translate(_AWAY)
        parts = [name + text.strip().translate(_AWAY) for name, text in self.texts.items() if text.strip()]
        return "_".join([letter, *parts, *(flag for flag in FLAGS if flag in self.flags)])


class BadWord(ValueError):
    """A word that belongs to no contour text, or one too many; `position` counts the words from 1."""

    def __init__(self, position: int, word: str) -> None:
        self.position = position
        self.word = word
        super().__init__(f"word {position}: {word!r}")


class TooLong(BadWord):
    """A contour text of more rows or letters than a part can have."""


def rows_of(text: str) -> tuple[Row, ...]:
    """The rows of a contour text; without a start of its own it has a blank one. Raises `BadWord`, `TooLong`.

    >>> [row.kind for row in rows_of("s_x0_z0*l_x20*c1")], rows_of("l_x20")[0]
    (['start', 'line', 'chamfer'], Row(kind='start', texts={}, flags=frozenset()))
    """
    words = [word for word in text.split("*", MOST_ROWS + 1) if word]
    if len(words) > MOST_ROWS or len(text) > MOST_TEXT:
        raise TooLong(MOST_ROWS + 1, words[-1])
    rows = [_row(position, word) for position, word in enumerate(words, 1)]
    for position, row in enumerate(rows[1:], 2):
        if row.kind == "start":
            raise BadWord(position, words[position - 1])
    return (*([Row("start")] if rows and rows[0].kind != "start" else []), *rows)


def text_of(rows: Iterable[Row]) -> str:
    """The contour text of the rows, the reverse of `rows_of`.

    >>> text_of(rows_of("s_x0_z0*a_r8_cw_smooth*e0.8"))
    's_x0_z0*a_r8_cw_smooth*e0.8'
    """
    return "*".join(row.word() for row in rows)


def _row(position: int, word: str) -> Row:
    kind = LETTERS.get(word[:1])
    if kind is None:
        raise BadWord(position, word)
    if kind in CORNERS:
        return Row(kind, {CORNERS[kind]: word[1:].translate(_BACK)})
    first, *parts = word.split("_")
    if len(first) > 1:
        raise BadWord(position, word)
    texts = {}
    for part in parts:
        name = next((name for name in OF_ROW[kind] if part.startswith(name)), None)
        if part not in FLAGS and name is None:
            raise BadWord(position, word)
        if name is not None and part not in FLAGS:
            texts[name] = part[len(name) :].translate(_BACK)
    return Row(kind, texts, frozenset(part for part in parts if part in FLAGS))
