"""From the text on a holder or a bar to what it holds and how it cuts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple, cast

from calc.language.messages import Digits, Message, Phrase, Quantity
from calc.language.problems import Fault, Missing
from calc.language.quantities import LENGTH
from calc.tool.holder.model import Hand, Holder
from calc.tool.holder.tables import styles, table
from calc.tool.insert.errors import cleaned, refused, wrong
from calc.tool.insert.model import Form, Position
from calc.tool.insert.numbers import inch_codes, inch_size, metric_sizes, round_sizes
from calc.tool.insert.tables import Shape, clearances, shapes

INCH = 25.4
_BAR = re.compile(r"(?P<kind>[A-Z])(?P<diameter>\d\d)(?P<length>[A-Z])? *-? *(?P<head>[A-Z].*)")


class _Head(NamedTuple):
    """The five letters of a head, what follows them, and their positions in words."""

    clamping: str
    shape: Shape
    style: str
    clearance: str
    hand: str
    rest: str
    positions: tuple[Position, ...]


class _Shank(NamedTuple):
    """What follows the letters of a holder."""

    form: Form
    height: float | None
    width: float | None
    length: float | None
    code: str
    positions: tuple[Position, ...]


def read_holder(text: str, field: str = "holder") -> Holder:
    """The holder or boring bar that a designation names; case and spaces do not matter.

    Raises Missing for a blank text, OutOfRange for a letter or number that its position does not have, at `field`.

    >>> holder = read_holder("sdjcr 2020k11")
    >>> holder.style.letter, holder.shank_width, holder.length, holder.insert_size
    ('J', 20.0, 125.0, 9.525)
    >>> bar = read_holder("S16R-SDUCR11")
    >>> bar.is_bar, bar.bar_diameter, bar.style.cuts
    (True, 16.0, 'end')
    """
    plain = cleaned(text, field)
    if not plain.strip(" -."):
        raise Missing(Fault(field, Message("Type the holder's designation, such as PCLNR 2525M12 or S16R-SDUCR11.")))
    match = _BAR.fullmatch(plain)
    return _read_bar(match, field) if match else _read_shank(plain, field)


def _read_bar(match: re.Match[str], field: str) -> Holder:
    kind = match["kind"]
    if kind not in table()["bar"]:
        raise wrong(field, 1, table()["titles"]["bar"], kind, table()["bar"])
    head = _head(match["head"], 4, field)
    form: Form = "inch" if re.fullmatch(r"[ -]*\d(\.\d)?(?!\d).*", head.rest) else "metric"
    code, own = _insert_code(head.rest, form, field, 9)
    diameter = float(match["diameter"]) * (INCH / 16 if form == "inch" else 1.0)
    if diameter == 0.0:
        raise refused(field, "Position 2, bar diameter: it cannot be 00.")
    length = _bar_length(match["length"], form, field)
    rows = [
        _row(1, "bar", kind, table()["bar"][kind]),
        _row(2, "diameter", match["diameter"], "sixteenths of an inch" if form == "inch" else "millimetres", diameter),
    ]
    if match["length"]:
        rows.append(_row(3, "length", match["length"], "overall length", length))
    rows += [*head.positions, *_code_rows(code, own, form, 9)]
    bar = _holder(head, form, code, field, 9, is_bar=True, bar_diameter=diameter, length=length, positions=tuple(rows))
    if bar.insert_size is not None and bar.insert_size > diameter:
        raise refused(field, "Position 9, insert size: “{typed}” is an inscribed circle of {size}, more than the bar's "
                      "{bar}. Is a digit missing, such as 0{typed}?", typed=code,
                      size=Quantity(bar.insert_size, LENGTH), bar=Quantity(diameter, LENGTH))  # fmt: skip
    return bar


def _bar_length(letter: str | None, form: Form, field: str) -> float | None:
    if letter in (None, "X"):
        return None
    rows = table()["length" if form == "metric" else "length_inch_bar"]
    if letter not in rows:
        raise wrong(field, 3, table()["titles"]["length"], str(letter), rows)
    return float(rows[letter]) * (INCH if form == "inch" else 1.0)


def _read_shank(plain: str, field: str) -> Holder:
    head = _head(plain, 1, field)
    shank = _shank(head.rest, field)
    rows = (*head.positions, *shank.positions)
    return _holder(
        head, shank.form, shank.code, field, 9, is_bar=False, shank_height=shank.height, shank_width=shank.width,
        length=shank.length, positions=rows,
    )  # fmt: skip


def _head(text: str, first: int, field: str) -> _Head:
    """The five letters from position `first` on."""
    letters, index = "", 0
    while index < len(text) and len(letters) < 5:
        if text[index] not in " -.":
            letters += text[index]
        index += 1
    tables: dict[str, Mapping[str, Any]] = {
        "clamping": table()["clamping"], "shape": shapes(), "style": styles(),
        "clearance": clearances(inch=True), "hand": table()["hand"],
    }  # fmt: skip
    rows = []
    for offset, (title, allowed) in enumerate(tables.items()):
        letter = letters[offset : offset + 1]
        if not letter:
            text = "The designation ends before position {position}, {title}: one of {allowed}."
            raise refused(field, text, position=first + offset, title=table()["titles"][title],
                          allowed=", ".join(allowed))  # fmt: skip
        if letter not in allowed:
            raise wrong(field, first + offset, table()["titles"][title], letter, allowed)
        rows.append(_row(first + offset, title, letter, _words(title, letter, allowed[letter])))
    clamping, shape, style, clearance, hand = tuple(letters)
    return _Head(clamping, shapes()[shape], style, clearance, hand, text[index:], tuple(rows))


def _words(title: str, letter: str, row: Any) -> str:
    if title == "style" and row.angle is not None:
        return Phrase(
            "{words}, entering angle {title}°", words=row.words, title=Digits(f"{table()['style'][letter]['angle']:g}")
        )
    return row if isinstance(row, str) else str(row.words)


def _shank(rest: str, field: str) -> _Shank:
    text = rest.strip(" -")
    metric = re.match(r"(\d\d)[ X]?(\d\d) ?-?([A-Z])?", text)
    if metric:
        return _metric_shank(metric, text, field)
    inch = re.match(r"(\d\d) ?-? ?(\d(?:\.\d)?)? ?-?([A-Z])?", text)
    if inch:
        return _inch_shank(inch, text, field)
    if text:
        example = "2525M12 (height, width, length letter, insert size) or 16-4D"
        raise refused(field, "After the hand comes the shank, such as {example}; “{typed}” is not one.",
                      example=example, typed=text[:12])  # fmt: skip
    return _Shank("metric", None, None, None, "", ())


def _metric_shank(match: re.Match[str], text: str, field: str) -> _Shank:
    height, width, letter = float(match[1]), float(match[2]), match[3]
    if not height or not width:
        raise refused(field, "Positions 6 and 7, the shank's height and width, cannot be 00.")
    length = None
    if letter and letter != "X":
        if letter not in table()["length"]:
            raise wrong(field, 8, table()["titles"]["length"], letter, [*table()["length"], "X"])
        length = float(table()["length"][letter])
    code, own = _insert_code(text[match.end() :], "metric", field, 9)
    rows = [
        _row(6, "height", match[1], "millimetres", height),
        _row(7, "width", match[2], "millimetres", width),
    ]
    if letter:
        rows.append(_row(8, "length", letter, "special" if length is None else "overall length", length))
    return _Shank("metric", height, width, length, code, (*rows, *_code_rows(code, own, "metric", 9)))


def _inch_shank(match: re.Match[str], text: str, field: str) -> _Shank:
    """Two digits from 05 up in sixteenths for a square shank; of other pairs width in eighths, height in quarters."""
    number = int(match[1])
    if not number or (match[1][1] == "0" and number not in (10, 20, 40)):
        raise refused(field, "Position 6, the shank: “{typed}” is not a size of the inch form.", typed=match[1])
    square = number in (8, 10, 12, 16, 20, 24, 32, 40) or match[1][0] == "0"
    width, height = (number * INCH / 16,) * 2 if square else (int(match[1][0]) * INCH / 8, int(match[1][1]) * INCH / 4)
    if number == 91:
        width, height = 1.25 * INCH, 1.5 * INCH
    lengths, letter = table()["length_inch"], match[3]
    if letter and letter not in lengths:
        raise wrong(field, 8, table()["titles"]["length"], letter, lengths)
    length = lengths[letter]["inches"] * INCH if letter else None
    code, own = match[2] or "", text[match.end() :].strip(" -")
    if not code or re.match(r"[ -]*\d", text[match.end() :]):
        half = (
            "“{typed}” is half a shank: a metric one has height, width, length and insert size, such as 2525M12; an "
            "inch one size and insert, such as 16-4D; a bar starts with its own size, such as S16R-SCLCR09."
        )
        raise refused(field, half, typed=text[:12])
    words = "square, sixteenths of an inch" if square else "width in eighths, height in quarters of an inch"
    rows = [_row(6, "width", match[1], words, width), *_code_rows(code, "", "inch", 7)]
    if letter:
        rows.append(_row(8, "length", letter, lengths[letter]["words"], length))
    if own:
        rows.append(_row(9, "own", own, "not from the standard"))
    return _Shank("inch", height, width, length, code, tuple(rows))


def _insert_code(rest: str, form: Form, field: str, position: int) -> tuple[str, str]:
    """The insert's size code and the maker's own mark."""
    text = rest.strip(" -")
    if not text:
        return "", ""
    match = re.match(r"\d\d|L3" if form == "metric" else r"\d(?:\.\d)?", text)
    if not match:
        raise wrong(field, position, table()["titles"]["edge"], text[:4], ["the insert's size code, such as 11"])
    return match[0], text[match.end() :].strip(" -")


def _code_rows(code: str, own: str, form: Form, position: int) -> list[Position]:
    words = "edge length code of the insert" if form == "metric" else "inscribed circle in eighths of an inch"
    rows = [_row(position, "edge", code, words)] if code else []
    return [*rows, _row(position + 1, "own", own, "not from the standard")] if own else rows


def _row(number: int, title: str, code: str, says: str, amount: float | None = None) -> Position:
    return Position(number=str(number), title=table()["titles"][title], code=code, says=says, amount=amount)


def _holder(head: _Head, form: Form, code: str, field: str, position: int, **more: Any) -> Holder:
    return Holder(
        form=form,
        clamping=head.clamping,
        shape=head.shape,
        style=styles()[head.style],
        clearance=clearances(inch=True)[head.clearance],
        hand=cast("Hand", head.hand),
        insert_code=code,
        insert_size=_insert_size(head.shape, form, code, field, position),
        **more,
    )


def _insert_size(shape: Shape, form: Form, code: str, field: str, position: int) -> float | None:
    """The inscribed circle that the code stands for; None where it is left open or does not give it."""
    if not code or shape.kind == "parallelogram":
        return None
    if form == "inch":
        codes = inch_codes()
        if code not in codes:
            raise wrong(field, position, table()["titles"]["edge"], code, codes)
        return inch_size(code)
    series = metric_sizes(shape)
    allowed = {**round_sizes(), **series} if shape.is_round else series
    if code not in allowed:
        raise wrong(
            field,
            position,
            Phrase("{title} for a {words}", title=table()["titles"]["edge"], words=shape.words),
            code,
            sorted(allowed),
        )
    return None if shape.is_round else allowed[code]
