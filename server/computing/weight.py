"""Which questions may take long, declared once, and how to see cheaply that one of them does not.

A question that is not named here is light: its cost does not grow with what is typed. A plan is heavy unless it is
named; so is a call with a body that is not named.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qsl

if TYPE_CHECKING:
    from calc.answer.feature import Feature

Texts = Mapping[str, str]

LIGHT_ROWS = 12
LIGHT_BODY = 600
LIGHT_STEPS = 12
_BESIDE = ("units", "x", "zplus", "example", "edition", "version", "saved", "was", "typing", "typed")
_CURVED = re.compile(r"\*a|smooth")


def _always(_: Texts) -> bool:
    return True


def _never(_: Texts) -> bool:
    """However many passes a thread has, or a hole pecks, they are formulas: milliseconds."""
    return False


def _by_contour(texts: Texts) -> bool:
    """A few straight rows are solved in milliseconds; arcs and smooth joints may take a search."""
    contour = texts.get("contour", "")
    as_fields = any(name.startswith("rows.") for name in texts)
    return as_fields or contour.count("*") > LIGHT_ROWS or _CURVED.search(contour) is not None


def _by_shape(texts: Texts) -> bool:
    """A straight contour of one's own is light; a shape to choose from has arcs."""
    return texts.get("shape", "") != "own" or _by_contour(texts)


def _by_nose(texts: Texts) -> bool:
    """Passes over a dish are swept as soon as there is a nose, and a depth or a feed to plan them with."""
    nose, passes = (texts.get(name, "") for name in ("insert", "nose_radius")), ("pass_depth", "feed", "ra")
    return any(nose) and any(texts.get(name, "") for name in passes)


HEAVY: Mapping[str, Callable[[Texts], bool]] = {
    "plan/dish": _by_nose,
    "plan/batch": _never,
    "plan/hole": _never,
    "plan/thread": _never,
    "measure/part": _always,
    "measure/first-part": _by_shape,
    "measure/error-by-cause": _always,
    "geometry/contour": _by_contour,
    "geometry/fit-curve": _always,
    "nose-radius/path": _by_shape,
    "nose-radius/reach-contour": _always,
    "nose-radius/tools": _always,
    "speed-feed/speed-along": _always,
    "speed-feed/force-along": _always,
    "speed-feed/compare": _always,
}
LIGHT_POSTS: tuple[str, ...] = ("measure/arc",)


def is_heavy(path: str, items: Iterable[tuple[str, str]]) -> bool:
    """Whether a feature's question goes to a process of its own.

    >>> is_heavy("plan/contour", [("shape", "pad")]), is_heavy("speed-feed/spindle", [("diameter", "60")])
    (True, False)
    >>> is_heavy("plan/contour", [("units", "inch")])
    False
    """
    texts = {name: text.strip() for name, text in items if name not in _BESIDE}
    if not any(texts.values()):
        return False
    declared = HEAVY.get(path)
    return path.startswith("plan/") if declared is None else declared(texts)


def is_heavy_address(address: str) -> bool:
    """Whether a page's address, as a sheet's step keeps it, asks a heavy question.

    >>> is_heavy_address("/plan?shape=pad"), is_heavy_address("/dish?radius=75&depth=4.5&nose_radius=6")
    (True, False)
    """
    page, _, query = address.partition("?")
    feature = _pages().get(page)
    return feature is not None and is_heavy(feature.path, parse_qsl(query))


def are_heavy(addresses: Sequence[str]) -> bool:
    """Whether so many steps, or one of them, take longer than a page does."""
    return len(addresses) > LIGHT_STEPS or any(map(is_heavy_address, addresses))


def _pages() -> Mapping[str, Feature[Any, Any]]:
    from server.catalogue import PAGES  # noqa: PLC0415 - the calls in it are declared with the help of this module

    return PAGES


def is_heavy_body(path: str, body: bytes) -> bool:
    """Whether a call's body goes to a process of its own.

    >>> is_heavy_body("plan/contour", b"{}"), is_heavy_body("measure/arc", b"{}")
    (True, False)
    """
    if path.startswith(LIGHT_POSTS):
        return len(body) > 10 * LIGHT_BODY
    declared = path.startswith("plan/") or HEAVY.get(path) is _always
    return declared or len(body) > LIGHT_BODY or b"arc" in body or b"tangent" in body
