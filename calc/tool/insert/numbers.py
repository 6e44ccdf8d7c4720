"""The numbers of a designation: size, thickness and corner radius, in the metric and in the inch form."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calc.tool.insert.errors import refused, wrong
from calc.tool.insert.formulas import polygon_edge, rhombus_edge, trigon_edge
from calc.tool.insert.model import Form
from calc.tool.insert.tables import Shape, table

_SEPARATORS = " -"
SPECIAL_TYPE = "X"
_METRIC_WITH_T = re.compile(r"\d\dT\d|L3")
_INCH_NUMBERS = re.compile(r"[\d.()/ -]*")


@dataclass(frozen=True, slots=True)
class Codes:
    """The codes of positions 5 to 7, "" where the designation ends before, and what comes after them."""

    form: Form
    size: str = ""
    thickness: str = ""
    corner: str = ""
    rest: str = ""
    type_: str = ""


def split_codes(rest: str, shape: Shape, *, has_type: bool, field: str) -> Codes:
    """The codes in the text that follows the letters. Raises OutOfRange where a number has no place.

    >>> from calc.tool.insert.tables import shapes
    >>> split_codes("11T304E-PM", shapes()["D"], has_type=True, field="designation")
    Codes(form='metric', size='11', thickness='T3', corner='04', rest='E-PM', type_='')
    >>> split_codes("3(2.5)1", shapes()["D"], has_type=True, field="designation")
    Codes(form='inch', size='3', thickness='2.5', corner='1', rest='', type_='')
    """
    text = rest.lstrip(_SEPARATORS)
    if _is_inch(text, shape, has_type=has_type):
        return _inch(text, shape, field)
    size, text = _two(text)
    thickness, text = _two(text)
    corner, text = _corner(text)
    return Codes("metric", size, thickness, corner, text)


def _is_inch(text: str, shape: Shape, *, has_type: bool) -> bool:
    """By the form: three numbers without leading zeros, decimals, or no letter for the type."""
    compact = re.sub(r"[ -]", "", text)
    digits = re.match(r"\d*", compact)
    count = len(digits[0]) if digits else 0
    if re.match(r"[\d ()-]*[.(]", text) or (not has_type and count < 4):
        return True
    if _METRIC_WITH_T.match(compact) or count == 0:
        return False
    if count in (2, 4) and compact[:2] not in metric_sizes(shape):
        return _best_split(_chunks(text), shape)[1] == ""
    return count in (1, 3)


def _two(text: str) -> tuple[str, str]:
    text = text.lstrip(" ") if text[:1] == " " else text
    if re.match(r"-T?\d", text):
        text = text[1:]
    return text[:2], text[2:]


def _corner(text: str) -> tuple[str, str]:
    """The corner's code; letters that stand for a planing edge only where the table has both."""
    code, rest = _two(text)
    if code == "MO":
        return "M0", rest
    planing = table()["planing"], table()["planing_clearance"]
    letters = len(code) == 2 and code.isalpha()
    if letters and not (code[0] in planing[0] and code[1] in planing[1]):
        return "", text
    return ("", text) if code[:1] in ("-", "") or (code.isalpha() and not letters) else (code, rest)


def _inch(text: str, shape: Shape, field: str) -> Codes:
    found = _INCH_NUMBERS.match(text)
    numbers = found[0] if found else ""
    best, left = _best_split(_chunks(numbers), shape)
    if left:
        position = 5 + len(best)
        if position > 7:
            raise refused(field, "After the corner radius come letters; “{typed}” has no place there.", typed=left[:12])
        title = table()["titles"][("size", "thickness", "corner")[len(best)]]
        raise wrong(field, position, title, left.strip("|"), _inch_tables()[len(best)])
    size, thickness, corner = (*best, "", "", "")[:3]
    marked = "-" if numbers.rstrip(" ").endswith("-") else ""
    return Codes("inch", size, thickness, corner, marked + text[len(numbers) :])


def _chunks(numbers: str) -> str:
    """The numbers with one bar wherever something separates them."""
    return re.sub(r"[()/ |-]+", "|", numbers).strip("|")


def _inch_tables() -> tuple[list[str], list[str], list[str]]:
    rows = table()
    return [row["inch"] for row in rows["size"]], list(rows["thickness_inch"]), rows["corner_inch"]["codes"]


def _best_split(text: str, shape: Shape) -> tuple[tuple[str, ...], str]:
    """The split that leaves least, then the one into three numbers (two if round): the codes and what is left over."""
    wanted = 2 if shape.is_round else 3
    return min(_splits(text, 0), key=lambda found: (len(found[1]), abs(len(found[0]) - wanted)))


def _splits(text: str, depth: int) -> Iterator[tuple[tuple[str, ...], str]]:
    text = text.removeprefix("|")
    yield (), text
    if depth == 3:
        return
    for code in _inch_tables()[depth]:
        if text.startswith(code):
            for codes, left in _splits(text[len(code) :], depth + 1):
                yield (code, *codes), left


def metric_sizes(shape: Shape) -> Mapping[str, float]:
    """The inscribed circles of the inch series (mm) by the metric code of an insert of this shape.

    >>> from calc.tool.insert.tables import shapes
    >>> metric_sizes(shapes()["D"])["11"], metric_sizes(shapes()["E"])["13"]
    (9.525, 12.7)
    """
    found: dict[str, float] = {}
    for row in table()["size"]:
        code = row["codes"].get(shape.letter, "")
        if not code and shape.kind in ("rhombus", "polygon") and shape.letter not in "CDSTV":
            code = f"{int(_edge(shape, row['ic'])):02d}"
        if code:
            found.setdefault(code, row["ic"])
    return found


def round_sizes() -> Mapping[str, float]:
    """The diameters (mm) of round inserts of the metric series by their code.

    >>> round_sizes()["12"]
    12.0
    """
    return {f"{diameter:02d}": float(diameter) for diameter in table()["round_metric"]["diameters"]}


def is_metric_on_the_box(shape: Shape, codes: Codes) -> bool:
    """Whether a round insert's 00 stands beside a metric diameter all the same.

    So for a diameter that the inch series lacks, and for the special type X (RCMX), whose boxes carry 120400 for 12 mm
    (common practice, no source).

    >>> from calc.tool.insert.tables import shapes
    >>> [is_metric_on_the_box(shapes()["R"], Codes("metric", "12", "04", "00", "", type_)) for type_ in "XG"]
    [True, False]
    """
    if not shape.is_round or codes.form == "inch" or codes.corner != "00" or codes.size not in round_sizes():
        return False
    return codes.size not in metric_sizes(shape) or codes.type_ == SPECIAL_TYPE


def inch_codes() -> list[str]:
    """The codes of inscribed circles in the inch form.

    >>> inch_codes()[:5]
    ['1.2', '1.5', '1.8', '2', '2.5']
    """
    return _inch_tables()[0]


def inch_size(code: str) -> float:
    """The inscribed circle (mm) of an inch code.

    >>> inch_size("4")
    12.7
    """
    return float(next(row["ic"] for row in table()["size"] if row["inch"] == code))


def edge_length(shape: Shape, size: float) -> float | None:
    """Edge length (mm) between sharp corners; None for a round insert and a parallelogram.

    >>> from calc.tool.insert.tables import shapes
    >>> round(edge_length(shapes()["T"], 9.525), 3)
    16.498
    """
    angle = shape.angle
    if angle is None or shape.kind == "parallelogram":
        return None
    if shape.kind == "trigon":
        return trigon_edge(size, angle)
    return polygon_edge(size, shape.corners) if shape.corners else rhombus_edge(size, angle)


def _edge(shape: Shape, size: float) -> float:
    """The same without a step of the working."""
    formula, second = (polygon_edge, shape.corners) if shape.corners else (rhombus_edge, shape.included)
    return formula.function(size, second)
