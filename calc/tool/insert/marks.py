"""Positions 8 and 9, cutting edge condition and direction, and whatever the maker adds."""

from __future__ import annotations

import re
from dataclasses import replace

from calc.language.messages import Digits, Message, Phrase, Value
from calc.tool.insert.errors import refused
from calc.tool.insert.model import Insert, Position
from calc.tool.insert.numbers import Codes
from calc.tool.insert.tables import table


def read_marks(insert: Insert, codes: Codes, field: str) -> Insert:
    """The insert with what follows the corner radius.

    Letters of the two positions stand without a hyphen; everything else is the maker's. Raises OutOfRange, at `field`,
    for digits that follow the corner radius at once, and for signs that no designation has.
    """
    rest = codes.rest.strip()
    if not rest:
        return insert
    if rest[0].isdigit() and codes.rest[:1] != " ":
        text = "After the corner radius come letters; “{typed}” has no place there."
        raise refused(field, text, typed=rest[:12])
    if not re.fullmatch(r"[A-Z0-9 ./+()-]*", rest):
        raise refused(field, "“{typed}” is not part of a designation.", typed=rest[:12])
    groups = [group for group in re.split(r"( |(?=-))", rest) if group.strip()]
    rows, notes = list(insert.positions), list(insert.notes)
    own: list[str] = []
    seen: set[str] = set()
    for group in groups:
        found = _standard(group, insert) if not own else None
        if found is None or seen & {row.number for row in found}:
            own.append(group.lstrip("-"))
            if not group.startswith("-") and group.isalpha():
                notes.append(_taken(group, insert))
        else:
            rows += found
            seen |= {row.number for row in found}
    if any(own):
        says = "not from the standard: chip breaker, grade and the like"
        rows.append(Position(number="10", title=table()["titles"]["own"], code=" ".join(own), says=says))
    return replace(insert, positions=tuple(rows), notes=tuple(notes))


def _edges(insert: Insert) -> dict[str, str]:
    return dict(table()["edge"]) | (table()["edge_inch"] if insert.form == "inch" else {})


def _standard(group: str, insert: Insert) -> list[Position] | None:
    """The positions that a group of letters fills, None when it is not of the standard."""
    edges = _edges(insert)
    match = re.fullmatch(rf"(?P<edge>[{''.join(edges)}])?(?P<chamfer>\d{{5}})?(?P<hand>[RLN])?", group)
    if match is None or (match["chamfer"] and not match["edge"]):
        return None
    rows = []
    if match["edge"]:
        says = edges[match["edge"]]
        if match["chamfer"]:
            width, angle = int(match["chamfer"][:3]) / 100, int(match["chamfer"][3:])
            says = Phrase("{edge}, {width} mm wide at {angle}°", edge=says, width=Digits(f"{width:.2f}"), angle=angle)
        rows.append(_row(8, "edge", match["edge"] + (match["chamfer"] or ""), says))
    if match["hand"]:
        rows.append(_row(9, "direction", match["hand"], table()["direction"][match["hand"]]))
    return rows


def _row(number: int, title: str, code: str, says: str) -> Position:
    return Position(number=str(number), title=table()["titles"][title], code=code, says=says)


def _taken(group: str, insert: Insert) -> Message:
    values: dict[str, Value] = {
        "typed": group[:12],
        "edges": ", ".join(_edges(insert)),
        "hands": ", ".join(table()["direction"]),
    }
    text = (
        "“{typed}” is not of positions 8 ({edges}) and 9 ({hands}) and is taken as the maker's own mark, "
        "which a hyphen should set off."
    )
    return Message(text, values)
