"""What a whole part gives to practise: the single questions that stand in it, each with the part's own numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calc.language.fields import specs
from server.catalogue import PAGES
from server.links import address
from server.query import CONVENTIONS
from server.row_texts import texts_of
from server.sheets.addresses import Question

Texts = Mapping[str, str]


def drawn_from(question: Question) -> tuple[str, ...]:
    """The addresses of the questions in a part, in the order of its operations, each once.

    >>> from server.sheets.addresses import question_at
    >>> rows = "kind:face~surface_speed:180*kind:thread~thread:M24x2-6g"
    >>> part = question_at(f"/part?bar_diameter=60&max_rpm=2000&operations={rows}")
    >>> drawn_from(part) if not isinstance(part, str) else ()
    ('/spindle?surface_speed=180&diameter=60&max_rpm=2000', '/thread?designation=M24x2-6g')
    """
    texts = question.query.texts
    conventions = {name: text for name, text in question.parameters if name in CONVENTIONS}
    plan = next(spec for spec in specs(question.feature.inputs) if spec.rows is not None)
    rows = texts_of(texts[plan.name], plan.repeated.row)
    found = (asked for row in rows if row.get("use") != "off" for asked in _of_row(row, texts))
    return tuple(dict.fromkeys(address(page, {**given, **conventions}) for page, given in found if page in PAGES))


def _of_row(row: Texts, part: Texts) -> Iterator[tuple[str, Texts]]:
    """The questions of one operation: page and texts."""
    if row.get("thread"):
        yield "/thread", {"designation": row["thread"]}
    elif row.get("kind") == "drill" and row.get("size"):
        given = {"drill_diameter": row["size"], "hole_depth": row.get("hole_depth", ""), "material": part["material"]}
        if given["hole_depth"] and given["material"]:
            yield "/drilling", given
    elif row.get("surface_speed"):
        bar = part["bar_diameter"]
        yield "/spindle", {"surface_speed": row["surface_speed"], "diameter": bar, "max_rpm": part["max_rpm"]}
        if row.get("kind") == "finish" and row.get("nose_radius") and row.get("feed"):
            yield "/finish", {"feed": row["feed"], "nose_radius": row["nose_radius"]}
