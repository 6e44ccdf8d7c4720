"""From the text on the box to the insert: position by position, as ISO 1832 and ANSI B212.4 have them."""

from __future__ import annotations

from dataclasses import replace

from calc.language.messages import Message, Phrase, Value
from calc.language.problems import Fault, Missing
from calc.tool.insert.corner import read_corner
from calc.tool.insert.errors import cleaned, refused, wrong
from calc.tool.insert.marks import read_marks
from calc.tool.insert.model import Insert, NoseAs, Position
from calc.tool.insert.numbers import (
    Codes,
    edge_length,
    inch_size,
    is_metric_on_the_box,
    metric_sizes,
    round_sizes,
    split_codes,
)
from calc.tool.insert.tables import Clearance, Shape, clearances, shapes, table, tolerance_of

_LETTERS = ("shape", "clearance", "tolerance", "type")


def read_insert(text: str, field: str = "designation") -> Insert:
    """The insert that a designation names, as far as the designation goes; case and spaces do not matter.

    Raises Missing for a blank text, OutOfRange for a letter or number that its position does not have, both at `field`.

    >>> insert = read_insert("dcmt 11t304")
    >>> insert.shape.words, insert.size, insert.thickness, insert.nose, insert.exact_nose
    ('rhombus, 55°', 9.525, 3.96875, 0.4, 0.396875)
    >>> read_insert("RCMT 1204M0").nose, read_insert("CNMG 432").nose
    (6.0, 0.79375)
    """
    plain = cleaned(text, field)
    if not plain.strip(" -."):
        raise Missing(Fault(field, Message("Type the insert's designation from its box, such as CNMG 120408.")))
    letters, rest = _letters(plain)
    shape = _shape(letters or plain.strip(" -.")[:1], field)
    if rest.strip(" -") and len(letters) < 3:
        raise _stray(letters, rest, field)
    codes = split_codes(rest, shape, has_type=len(letters) == 4, field=field)
    codes = replace(codes, type_=letters[3:])
    if codes.size and len(letters) == 3 and codes.form == "metric":
        raise _stray(letters, rest, field)
    insert = _with_letters(letters, shape, codes, field)
    insert = _with_size(insert, codes, field)
    insert = _with_thickness(insert, codes, field)
    insert = read_corner(insert, codes, field)
    insert = read_marks(insert, codes, field)
    return _with_missing(insert, letters, codes)


def nose_of(text: str, nose_as: NoseAs = "nominal", field: str = "insert") -> float:
    """The nose radius (mm) that a designation names, or the exact one of the inch series.

    Raises what `read_insert` raises, and Missing where the designation ends before its corner radius.

    >>> nose_of("CNMG 120408"), nose_of("CNMG 120408", "exact"), nose_of("RCMT 1204M0")
    (0.8, 0.79375, 6.0)
    """
    radius = read_insert(text, field).nose_radius(nose_as)
    if radius is None:
        raise Missing(Fault(field, Message("This designation does not give the nose radius; type it to its end.")))
    return radius


def _letters(plain: str) -> tuple[str, str]:
    """The letters of the first four positions and what follows them."""
    letters, index = "", 0
    while index < len(plain) and len(letters) < 4:
        char = plain[index]
        if char.isdigit():
            break
        if char not in " -.":
            letters += char
        index += 1
    return letters, plain[index:]


def _shape(letters: str, field: str) -> Shape:
    found = shapes().get(letters[:1])
    if found is None:
        raise wrong(field, 1, table()["titles"]["shape"], letters[:1], shapes())
    return found


def _stray(letters: str, rest: str, field: str) -> Exception:
    """A digit where a letter must stand."""
    number = len(letters) + 1
    title = _LETTERS[number - 1]
    allowed = clearances() if title == "clearance" else table()[title]
    return wrong(field, number, table()["titles"][title], rest.strip(" -")[:1], allowed)


def _with_letters(letters: str, shape: Shape, codes: Codes, field: str) -> Insert:
    inch = codes.form == "inch"
    titles, rows = table()["titles"], [_row(1, "shape", shape.letter, shape.words)]
    clearance: Clearance | None = None
    if len(letters) > 1:
        allowed = clearances(inch=inch)
        clearance = allowed.get(letters[1])
        if clearance is None:
            raise wrong(field, 2, titles["clearance"], letters[1], allowed)
        rows.append(_row(2, "clearance", letters[1], Phrase("clearance {words}", words=clearance.words)))
    if len(letters) > 2:
        if letters[2] not in table()["tolerance"]:
            raise wrong(field, 3, titles["tolerance"], letters[2], table()["tolerance"])
        rows.append(_row(3, "tolerance", letters[2], table()["tolerance_words"][letters[2]]))
    if len(letters) > 3:
        if letters[3] not in table()["type"]:
            raise wrong(field, 4, titles["type"], letters[3], table()["type"])
        rows.append(_row(4, "type", letters[3], table()["type"][letters[3]]))
    elif len(letters) == 3 and codes.size:
        rows.append(_row(4, "type", "blank", "inch form without a letter here: no hole, no chip breaker"))
    return Insert(form=codes.form, shape=shape, clearance=clearance, positions=tuple(rows))


def _row(number: int, title: str, code: str, says: str, amount: float | None = None) -> Position:
    return Position(number=str(number), title=table()["titles"][title], code=code, says=says, amount=amount)


def _with_size(insert: Insert, codes: Codes, field: str) -> Insert:
    shape, code = insert.shape, codes.size
    if not code:
        return insert
    if shape.kind == "parallelogram":
        return _parallelogram(insert, codes, field)
    size = inch_size(code) if codes.form == "inch" else _metric_size(shape, codes, field)
    edge = None if size is None else edge_length(shape, size)
    says = _size_words(insert, code)
    rows = (*insert.positions, _row(5, "size", code, says, size))
    return replace(insert, size=size, edge_length=edge, edge_code=code, positions=rows)


def _parallelogram(insert: Insert, codes: Codes, field: str) -> Insert:
    """The code is the long edge in whole millimetres; the width is not in the designation."""
    if codes.form == "inch":
        raise refused(field, "The inch form of shape {letter} is not read here; use its metric designation.",
                      letter=insert.shape.letter)  # fmt: skip
    if not (codes.size.isdecimal() and len(codes.size) == 2 and int(codes.size) > 2):
        raise wrong(field, 5, table()["titles"]["size"], codes.size, ["the long edge in whole millimetres"])
    length = float(int(codes.size))
    rows = (*insert.positions, _row(5, "size", codes.size, "long edge in whole millimetres", length))
    note = Message("Of a {shape} the designation gives the long edge only, without its part of a millimetre.",
                   {"shape": insert.shape.words})  # fmt: skip
    return replace(insert, edge_length=length, edge_code=codes.size, positions=rows, notes=(*insert.notes, note))


def _metric_size(shape: Shape, codes: Codes, field: str) -> float | None:
    code, title = codes.size, table()["titles"]["size"]
    series = metric_sizes(shape)
    if not shape.is_round:
        if code not in series:
            raise wrong(field, 5, Phrase("{title} of a {words}", title=title, words=shape.words), code, sorted(series))
        return series[code]
    metric = round_sizes()
    wanted = {"M0": metric, "00": series}.get(codes.corner, {**metric, **series})
    if is_metric_on_the_box(shape, codes):
        wanted = metric
    if code not in wanted:
        raise wrong(field, 5, Phrase("{title} of a round insert", title=title), code, sorted(wanted))
    if not codes.corner and metric.get(code) != series.get(code) and code in metric and code in series:
        return None
    return wanted[code]


def _size_words(insert: Insert, code: str) -> str:
    if insert.form == "inch":
        return "inscribed circle, in eighths of an inch"
    return (
        "diameter, in whole millimetres"
        if insert.shape.is_round
        else Phrase("edge length code {code}; inscribed circle", code=code)
    )


def _with_thickness(insert: Insert, codes: Codes, field: str) -> Insert:
    code = codes.thickness
    if not code:
        return insert
    rows = table()["thickness" if codes.form == "metric" else "thickness_inch"]
    if code not in rows:
        raise wrong(field, 6, table()["titles"]["thickness"], code, rows)
    says = "thickness" if codes.form == "metric" else "thickness, in sixteenths of an inch"
    positions = (*insert.positions, _row(6, "thickness", code, says, rows[code]))
    return replace(insert, thickness=rows[code], positions=positions)


def _with_missing(insert: Insert, letters: str, codes: Codes) -> Insert:
    """What the designation leaves open because it ends too early, and the tolerances that it does give."""
    given = {"shape": True, "clearance": len(letters) > 1, "tolerance": len(letters) > 2,
             "type": len(letters) > 3 or bool(codes.size), "size": bool(codes.size),
             "thickness": bool(codes.thickness), "corner": insert.nose is not None or bool(codes.corner)}  # fmt: skip
    absent = [table()["titles"][name] for name, there in given.items() if not there]
    notes = insert.notes
    if absent:
        values: dict[str, Value] = {"absent": ", ".join(absent)}
        notes = (*notes, Message("The designation ends too early to give: {absent}.", values))
    tolerance = tolerance_of(letters[2], insert.shape, insert.size) if len(letters) > 2 else None
    return replace(insert, tolerance=tolerance, notes=notes)
