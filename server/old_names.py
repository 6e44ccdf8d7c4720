"""Names that fields had before: links, saved sheets and calls that hold one are read as if they had the present one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

OLD_NAMES: Mapping[str, Mapping[str, str]] = {
    "geometry/polygon": {"shape": "sides", "side": "side_length"},
    "geometry/seat-pair": {"mouth_diameter": "seat_mouth_diameter", "edge_diameter": "pad_edge_diameter"},
    "geometry/shoulder": {"length": "end_to_shoulder", "form": "undercut_form"},
    "nose-radius/feed": {"edge_radius": "edge_rounding"},
    "nose-radius/finish": {"edge_radius": "edge_rounding"},
    "plan/contour": {"bore_diameter": "stock_bore"},
    "plan/dish": {"inner_diameter": "inner_feed_diameter"},
    "speed-feed/bar-deflection": {"bar_diameter": "tool_bar_diameter", "bar_material": "tool_bar_material"},
    "speed-feed/chip": {"edge_radius": "edge_rounding"},
    "speed-feed/compare": {
        "bar_diameter": "tool_bar_diameter",
        "bar_material": "tool_bar_material",
        "length": "cut_length",
    },
    "speed-feed/drilling": {"tool": "drill_material"},
    "speed-feed/tool-life": {"length": "cut_length"},
    "speed-feed/unit-power": {"wear": "edge_state"},
    "speed-feed/work-deflection": {
        "bore_diameter": "work_bore",
        "diameter": "work_diameter",
        "length": "length_out",
        "material": "work_material",
    },
}
"""By question, the name of before and the present one. An entry stays for good: somebody has the link."""

NEITHER = {"measure/arc": {"along": "x,z"}}
"""By question, the choice that a body may name by all of its codes, which is the blank one."""


BORED = frozenset({"plan/contour", "geometry/taper", "geometry/groove", "measure/taper-by-balls"})
"""Questions whose `where` calls the inside `bore`; all others call it `inside`. Each takes the other's word too."""

_SIDES = ("bore", "inside")
_IN_ROW = re.compile(r"(?<=where:)(?:bore|inside)(?=[~*]|$)")


def _sided(path: str, name: str, text: str) -> str:
    """The text with the question's own word for the inside, where the field says on which side something is."""
    own = "bore" if path in BORED else "inside"
    if name == "where" or name.endswith(".where"):
        return own if text.strip() in _SIDES else text
    return _IN_ROW.sub(own, text) if "where:" in text else text


def present(path: str, items: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """The items of a question with present names, in their order, and its own word for the inside.

    >>> present("speed-feed/tool-life", [("length", "90"), ("feed", "0.2")])
    [('cut_length', '90'), ('feed', '0.2')]
    >>> present("geometry/taper", [("where", "inside")]), present("geometry/thread", [("where", "bore")])
    ([('where', 'bore')], [('where', 'inside')])
    """
    names = OLD_NAMES.get(path, {})
    return [(names.get(name, name), _sided(path, name, text)) for name, text in items]


def present_body(path: str, body: Mapping[str, Any]) -> dict[str, Any]:
    """A body with present names; of a name that is there in both ways the present one counts.

    >>> present_body("speed-feed/tool-life", {"length": 90})
    {'cut_length': 90}
    """
    names = OLD_NAMES.get(path, {})
    renamed = {names[name]: value for name, value in body.items() if name in names}
    kept = {name: value for name, value in body.items() if name not in names}
    blank = {name: "" for name, codes in NEITHER.get(path, {}).items() if kept.get(name) == codes}
    sided = {"where": _sided(path, "where", kept["where"])} if isinstance(kept.get("where"), str) else {}
    return renamed | kept | sided | blank
