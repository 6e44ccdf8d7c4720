"""What people type into a field, as an internal value, and how the text lives on when the page's conventions switch.

Text goes one way: `text` cleans it and cuts it into tokens; `amounts`, `values`, `limits` and `grammar` take these
apart; this module turns the exact result into mm, min, N, rad. `units` holds the spellings of units, `errors` what is
raised when a text does not say exactly one thing.
"""

from __future__ import annotations

import math
from fractions import Fraction

from calc.language.factor import ONE, Factor
from calc.language.given import LEAST, LEAST_SLACK, Given
from calc.language.quantities import Kind, UnitSystem, View
from calc.language.reading.classed import Classed, sizes_of_fit, split_class, with_class
from calc.language.reading.errors import Ambiguous, NotANumber, ReadingError, WrongUnit
from calc.language.reading.grammar import LONGEST, Typed, parse
from calc.language.reading.text import clean
from calc.language.translating import pointed
from calc.language.unit import Unit

__all__ = [
    "Ambiguous",
    "NotANumber",
    "ReadingError",
    "WrongUnit",
    "read",
    "rewrite_for_switch",
    "says_unit",
    "strip_unit",
]

_HALF = Factor(Fraction(1, 2))
_MINUS = Factor(Fraction(-1))
_LEAST_RATIO_SLACK = 5e-6  # 0.0005 mm over 100 mm
_LEAST_SHARE = Fraction(5, 10_000)  # of the metric unit, for what is neither a length nor a ratio


def read(text: str, kind: Kind, view: View) -> Given | None:
    """The value of what was typed, in internal units; None for a blank field.

    A typed unit wins over the page's, a typed Ø or R over what X means on the page. With limits of size, or the
    tolerance class that stands for them (`24 g6`, ISO 286-1:2010), the value is the middle of the limits and
    `nominal`, `lower` and `upper` keep what the print says. `slack` is half of the last typed decimal and half of the
    limits' span; fractions and whole numbers have the least slack.

    A comma is the decimal mark for a reader whose language has it. Raises `ReadingError` where the text does not say
    exactly one thing.

    >>> from calc.language.quantities import ANGLE, LENGTH, X
    >>> read("3-1/4", LENGTH, View("inch")), read("7°30'", ANGLE, View()) == math.radians(7.5)
    (82.55, True)
    >>> read("60 +0.1/0", X, View(x="diameter")), read("R30", X, View(x="diameter")), read(" ", X, View())
    (30.025, 30.0, None)
    >>> aim = read("24 g6", X, View())
    >>> aim, aim.nominal, aim.lower, aim.upper
    (11.99325, 12.0, 11.99, 11.9965)
    """
    text = pointed(text, view.language)
    if not _is_typed(text):
        return None
    if both := sizes_of_fit(text, kind):
        sentence = "“{typed}” is a fit of two parts. Type the size of the one that is meant: {hole} or {shaft}."
        raise Ambiguous(text, sentence, both, hole=both[0], shaft=both[1])
    found = split_class(text, kind)
    size = None if found is None else _size_before(found, text, kind, view)
    if found is None or size is None or size.nominal is not None:
        return _read(text, kind, view)
    return with_class(size, found.tolerance, kind, text)


def _size_before(found: Classed, text: str, kind: Kind, view: View) -> Given:
    """The size before a class. An error is one of the whole `text`, and what may have been meant keeps the class."""
    try:
        return _read(found.size, kind, view)
    except ReadingError as error:
        values = {name: value for name, value in error.message.values.items() if name != "typed"}
        meant = tuple(_joined(each, found) for each in error.candidates)
        raise type(error)(text, error.message.text, meant, **values) from None


def _read(text: str, kind: Kind, view: View) -> Given:
    typed = parse(text, kind, view)
    if kind.dimension == "count" and typed.value.value.denominator != 1:
        raise NotANumber(text, "“{typed}” is not a whole number. Type one such as 4.")
    try:
        given = _given(typed, kind, view)
    except OverflowError:
        given = None
    if given is None or 0.0 < abs(given) < LEAST:
        raise NotANumber(text, "“{typed}” is too large or too small to compute with.")
    return given


def rewrite_for_switch(text: str, kind: Kind, old_view: View, new_view: View) -> str:
    """The text for a page whose conventions change from `old_view` to `new_view`: same meaning, same digits.

    Only what the switch would change is written out: the old unit, Ø or R before an X, the other sign of a Z. What
    says so already, what is blank and what cannot be read stays as it is.

    >>> from calc.language.quantities import LENGTH, X, Z
    >>> rewrite_for_switch("90", LENGTH, View("mm"), View("inch"))
    '90mm'
    >>> rewrite_for_switch("60", X, View(x="diameter"), View(x="radius"))
    'Ø60'
    >>> rewrite_for_switch("-4.5 +0.1/0", Z, View(zplus="out"), View(zplus="in"))
    '4.5 -0.1/0'
    >>> rewrite_for_switch("24 g6", X, View("mm"), View("inch"))
    '24mm g6'
    """
    found = split_class(text, kind)
    if found is not None:
        return _joined(rewrite_for_switch(found.size, kind, old_view, new_view), found)
    typed = _readable(text, kind, old_view)
    if typed is None:
        return text
    edits = _x_edits(typed, kind, old_view, new_view) + _z_edits(typed, kind, old_view, new_view)
    if _units_differ(kind) and typed.unit is None and old_view.units != new_view.units:
        edits.append((len(typed.text), len(typed.text), _page_unit(kind, old_view.units).label))
    return _edited(typed.text, edits) if edits else text


def says_unit(text: str, kind: Kind, view: View) -> bool:
    """Whether a typed text bears its own unit; False for one that cannot be read.

    >>> from calc.language.quantities import LENGTH
    >>> says_unit("90mm", LENGTH, View("inch")), says_unit("3-1/4", LENGTH, View("inch"))
    (True, False)
    """
    found = split_class(text, kind)
    typed = _readable(text if found is None else found.size, kind, view)
    return typed is not None and typed.unit is not None


def strip_unit(text: str, kind: Kind, view: View) -> str:
    """The text without the other system's unit at its end: "I meant inches" right after a switch to inch.

    >>> from calc.language.quantities import LENGTH
    >>> strip_unit("90mm", LENGTH, View("inch")), strip_unit("90mm", LENGTH, View("mm"))
    ('90', '90mm')
    >>> strip_unit("24mm g6", LENGTH, View("inch"))
    '24 g6'
    """
    found = split_class(text, kind)
    if found is not None:
        return _joined(strip_unit(found.size, kind, view), found)
    other = _page_unit(kind, "inch" if view.units == "mm" else "mm").label
    if not _units_differ(kind) or not text.rstrip().endswith(other):
        return text
    bare = text.rstrip().removesuffix(other).rstrip()
    typed = _readable(bare, kind, view)
    return bare if typed is not None and typed.unit is None else text


def _joined(size: str, found: Classed) -> str:
    return f"{size} {found.tolerance}"


def _is_typed(text: str) -> bool:
    return text.strip() != "" and (len(text) > LONGEST or clean(text) != "")


def _readable(text: str, kind: Kind, view: View) -> Typed | None:
    """The text taken apart where it has a value for a reader with `view`."""
    try:
        return None if read(text, kind, view) is None else parse(text, kind, view)
    except ReadingError:
        return None


# --- from exact numbers to internal values -------------------------------------------------------------------------


def _given(typed: Typed, kind: Kind, view: View) -> Given:
    size = _size(typed, kind, view)
    half_decimal = abs(_internal((typed.value.place or Fraction(0)) / 2, size))
    slack = max(half_decimal, _least_slack(typed, kind, view))
    if typed.limits is None:
        return Given(_internal(typed.value.value, size), slack)
    lower, upper = typed.limits.lower, typed.limits.upper
    middle = _internal(typed.value.value + (lower + upper) / 2, size)
    half_span = abs(_internal((upper - lower) / 2, size))
    ends = _internal(typed.value.value + lower, size), _internal(typed.value.value + upper, size)
    return Given(middle, half_span + slack, _internal(typed.value.value, size), ends)


def _internal(number: Fraction, size: Factor) -> float:
    """The internal value, exact but for pi and one rounding at the end; never -0."""
    return float(number * size.ratio) * math.pi**size.pi_power + 0.0


def _size(typed: Typed, kind: Kind, view: View) -> Factor:
    """How many internal units one typed unit is, signed, with Ø or R and the page's conventions in it."""
    unit = _page_unit(kind, view.units).size if typed.unit is None else typed.unit.size
    return unit * _role_factor(typed.mark, kind, view)


def _role_factor(mark: str, kind: Kind, view: View) -> Factor:
    if kind.role == "z":
        return _MINUS if view.zplus == "in" else ONE
    means_diameter = mark == "Ø" or (mark != "R" and view.x == "diameter")
    return _HALF if kind.role == "x" and means_diameter else ONE


def _least_slack(typed: Typed, kind: Kind, view: View) -> float:
    if kind.dimension == "length":
        return LEAST_SLACK[view.units if typed.unit is None else typed.unit.system]
    if kind.dimension == "ratio":
        return _LEAST_RATIO_SLACK
    return _internal(_LEAST_SHARE, kind.metric.size)


def _page_unit(kind: Kind, units: UnitSystem) -> Unit:
    return kind.metric if units == "mm" else kind.inch


# --- edits for a switch of conventions -----------------------------------------------------------------------------

_Edit = tuple[int, int, str]  # from, to, what is put there


def _units_differ(kind: Kind) -> bool:
    return kind.metric.size != kind.inch.size


def _x_edits(typed: Typed, kind: Kind, old: View, new: View) -> list[_Edit]:
    if kind.role != "x" or old.x == new.x or typed.mark in ("Ø", "R"):
        return []
    return [(*typed.mark_span, "Ø" if old.x == "diameter" else "R")]


def _z_edits(typed: Typed, kind: Kind, old: View, new: View) -> list[_Edit]:
    if kind.role != "z" or old.zplus == new.zplus:
        return []
    signs = () if typed.limits is None else typed.limits.signs
    turned: list[_Edit] = [(at, at + 1, "-" if typed.text[at] == "+" else "+") for at in signs]
    if typed.value.value == 0:
        return turned
    if typed.sign_at is None:
        return [*turned, (typed.number_at, typed.number_at, "-")]
    return [*turned, (typed.sign_at, typed.sign_at + 1, "" if typed.text[typed.sign_at] == "-" else "-")]


def _edited(text: str, edits: list[_Edit]) -> str:
    for start, end, instead in sorted(edits, reverse=True):
        text = text[:start] + instead + text[end:]
    return text.strip()
