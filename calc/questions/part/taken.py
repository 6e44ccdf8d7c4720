"""What a part takes over from the question of another page: its contour, bar, machine, and how it cuts."""

from __future__ import annotations

from collections.abc import Mapping

from calc.contour import Chain
from calc.contour.text import contour_text
from calc.language.quantities import View

CUT = ("insert", "holder", "nose_radius")
OWN = "own"


def taken(texts: Mapping[str, str], found: Chain | None, view: View) -> dict[str, str]:
    """The part's texts from those of another page, and from the contour that it found, for a reader with `view`.

    >>> asked = {"contour": "s_x0_z0*f_x20*t_z-5", "bar_diameter": "22", "insert": "DCMT 11T304", "feed": "0.1"}
    >>> part = taken(asked, None, View())
    >>> part["outside"], part["bar_diameter"], part["operations"]
    ('s_x0_z0*f_x20*t_z-5', '22', 'kind:finish~insert:DCMT 11T304~feed:0.1')
    """
    contour = _contour(texts, found, view)
    where = "inside" if texts.get("where") == "bore" and contour else "outside"
    operations = [each for each in (_cut(texts, "rough"), _cut(texts, "finish"), _thread(texts)) if each]
    return {**texts, where: contour, "operations": "*".join(operations)}


def _contour(texts: Mapping[str, str], found: Chain | None, view: View) -> str:
    """The contour as it was typed, else as it was found: from the axis out, a dish with the face up to the bar."""
    if texts.get("contour") and texts.get("shape", OWN) == OWN:
        return texts["contour"]
    if found is None:
        return ""
    chain = found if found.start.r <= found.end.r else found.reversed()
    text, bar = contour_text(chain, view), texts.get("bar_diameter")
    return f"{text}*f_x{bar}" if "depth" in texts and bar else text


def _cut(texts: Mapping[str, str], kind: str) -> str:
    """Roughing or finishing with the page's tool, speeds and feeds; "" where it says nothing of them."""
    rough = kind == "rough"
    if rough and (not texts.get("pass_depth") or texts.get("roughing") == "none"):
        return ""
    named = {name: texts.get(name, "") for name in CUT}
    for name in ("surface_speed", "feed"):
        named[name] = (rough and texts.get(f"rough_{name}")) or texts.get(name, "")
    if rough:
        named |= {"depth": texts["pass_depth"]}
        named |= {name: texts.get(name, "") for name in ("allowance_z", "allowance_x")}
    given = {name: text for name, text in named.items() if text}
    return "~".join([f"kind:{kind}", *(f"{name}:{text}" for name, text in given.items())]) if given else ""


def _thread(texts: Mapping[str, str]) -> str:
    return f"kind:thread~thread:{texts['designation']}" if texts.get("designation") else ""
