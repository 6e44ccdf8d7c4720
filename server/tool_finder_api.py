"""`POST /api/plan/tools`: which insert in which holder reaches a contour, the strongest first."""

from __future__ import annotations

import re
from typing import Any, cast

from calc.contour import Chain, Side
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, ROUGHNESS, View, X, Z
from calc.machining.finding import Found, Hand, Wanted, find_tools, place_at
from calc.tool.catalogue import Place
from server.answers import framed
from server.contour_chain import chain_of
from server.contour_json import BodyReader, read_contour
from server.posting import Post

Json = dict[str, Any]
FIELDS = ("contour", "stock", "roughness", "hand", "where", "side")
STOCK = ("bar_diameter", "bore_diameter")
HANDS = {"right": "R", "left": "L", "either": "either"}
SIDES = {"outside": "right", "bore": "left"}
LARGEST_ROUGHNESS = 0.1
"""mm: no turned finish is as rough."""


def answer(body: Json, view: View) -> Json:
    """The tools for a body's contour. Raises `Problem` with the body's field names.

    >>> line = {"start": {"x": 30, "z": 0}, "elements": [{"kind": "line", "x": 30, "z": -20}]}
    >>> found = answer({"contour": line, "hand": "right", "roughness": 1.6}, View())
    >>> found["tools"][0]["reaches"], found["results"]["reaches"]
    (True, True)
    """
    wanted, inputs = _read(body, view)
    found = find_tools(wanted)
    notes = [] if found else ["No tool of the common ones reaches this contour: look at its smallest inside radius."]
    return {
        "inputs": inputs,
        "results": {"reaches": any(each.reaches for each in found), "count": len(found)},
        "tools": [_tool(each, wanted, view) for each in found],
        "cautions": [],
        "notes": [*notes, COMMON],
        "working": [],
        **framed(view),
    }


COMMON = (
    "Searched among common pairs of insert and holder. Outlines of holders are simplified, edges keep 2° off walls: "
    "check the real tool against the part."
)


def _read(body: Json, view: View) -> tuple[Wanted, Json]:
    reader = BodyReader(view)
    reader.named(body, FIELDS, "")
    where = reader.one_of(body.get("where", "outside"), tuple(SIDES), "where") or "outside"
    hand = reader.one_of(body.get("hand", "either"), tuple(HANDS), "hand") or "either"
    side = reader.one_of(body.get("side", SIDES[where]), ("left", "right"), "side")
    roughness = reader.number(body.get("roughness"), ROUGHNESS, "roughness")
    if roughness is not None and not 0.0 < roughness <= LARGEST_ROUGHNESS:
        reader.fault("roughness", "Ra must be more than 0 and at most 100 um.")
    bar, bore = _stock(body.get("stock"), reader)
    start, elements = read_contour(body.get("contour"), reader, "contour.")
    reader.done()
    chain = chain_of(start, elements, "contour.")
    _require_stock(chain, bar)
    wanted = Wanted(
        chain, cast("Side", side), cast("Place", where), roughness, cast("Hand", HANDS[hand]), _hole(where, chain, bore)
    )
    return wanted, {"where": where, "hand": hand, "side": side, "roughness": body.get("roughness")}


def _stock(stock: Any, reader: BodyReader) -> tuple[float | None, float | None]:
    if stock is None:
        return None, None
    if not isinstance(stock, dict):
        reader.fault("stock", "The stock is an object with bar_diameter, bore_diameter or both.")
        return None, None
    reader.named(stock, STOCK, "stock")
    bar, bore = (reader.number(stock.get(name), DIAMETER, f"stock.{name}") for name in STOCK)
    for name, value in zip(STOCK, (bar, bore), strict=True):
        if value is not None and value <= 0.0:
            reader.fault(f"stock.{name}", "This must be more than 0.")
    return bar, bore


def _require_stock(chain: Chain, bar: float | None) -> None:
    needed = 2.0 * chain.bounds.r_max
    if bar is not None and bar < needed * (1.0 - 1e-9):
        values = {"bar": Quantity(bar, DIAMETER, brief=True), "needed": Quantity(needed, DIAMETER)}
        text = "The bar {bar} is smaller than the contour, {needed}."
        raise Impossible(Fault("stock.bar_diameter", Message(text, values)))


def _hole(where: str, chain: Chain, bore: float | None) -> float | None:
    """The radius of the hole that a bar has to go into: that of the stock, else the contour's smallest."""
    if where != "bore":
        return None
    return chain.bounds.r_min if bore is None else bore / 2.0


def _tool(found: Found, wanted: Wanted, view: View) -> Json:
    chain = wanted.chain
    ends = (None, None) if found.reaches else (_row(chain, found.first), _row(chain, found.last))
    places = [place_at(wanted, along) for along in (found.stretch.start, found.stretch.end)]
    return {
        "insert": found.insert,
        "holder": found.holder,
        "reaches": found.reaches,
        "from": ends[0],
        "to": ends[1],
        "reason": found.reason.say(view),
        "nose_radius": {"value": RADIUS.shown(found.cutter.nose, view), "unit": LENGTH.unit(view).code},
        "from_place": {"x": X.shown(places[0].r, view) + 0.0, "z": Z.shown(places[0].z, view) + 0.0},
        "to_place": {"x": X.shown(places[1].r, view) + 0.0, "z": Z.shown(places[1].z, view) + 0.0},
    }


def _row(chain: Chain, index: int) -> int:
    """The number of the row that an element comes from; a corner has that of the element it ends."""
    return int(re.findall(r"\d+", chain.name_of(index))[-1])


POST = Post(
    path="/api/plan/tools",
    title="Find a tool",
    summary="Inserts in holders or bars that reach all of it, strongest first; else two that do it together.",
    body={
        "contour": {"type": "object"},
        "stock": {"type": "object", "properties": {name: {"type": "number"} for name in STOCK}},
        "roughness": {"type": "number", "description": "Ra, um or uin"},
        "hand": {"type": "string", "enum": list(HANDS), "default": "either"},
        "where": {"type": "string", "enum": list(SIDES), "default": "outside"},
        "side": {"type": "string", "enum": ["left", "right"]},
    },
    lists=("tools",),
    answer=answer,
)
