"""What the shop's lists offer on a page: its tools and its proven cuts, each a tap that fills the fields with texts."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from textwrap import shorten
from typing import Any, cast

from calc.answer.feature import Feature
from calc.language.fields import Spec, specs
from calc.language.messages import Listed as ListedWords
from calc.language.messages import Message, Typed, Value
from calc.language.quantities import View
from calc.questions.part.declared import TURNED, KindAsked
from server.context import OffersView, RowOffersView
from server.links import Links
from server.query import Query
from server.row_texts import BadRow, texts_of
from server.shop.entry import Entry, Whole
from server.shop.filling import cut_filling, tool_filling
from server.shop.kept import keeping_address
from server.shop.matching import Wanted, cuts_for, same_material, size_of, tools_for
from server.shop.model import LISTS, USED_FOR
from server.shop.words import facts, title_of

MOST_TOOLS = 24
MOST_CUTS = 3
NOTE = 80
"""Characters of a note that stand in an offer; the rest is in the list."""
KINDS_OF: Mapping[str, tuple[KindAsked, ...]] = {
    "/hole": ("drill",),
    "/drilling": ("drill",),
    "/tapping": ("tap",),
    "/thread-passes": ("thread",),
    "/parting": ("part-off",),
    "/grooving-cut": ("groove",),
    "/face-groove": ("groove",),
    "/boring-cut": ("bore",),
}
"""What operation a page is about; the others are about turning."""

HELD = ("insert", "holder", "nose_radius", "tool_bar_diameter")
"""A page with one of these fields takes a tool."""

CUT = ("surface_speed", "rough_surface_speed", "feed", "rough_feed")
"""A page with one of these fields takes a proven cut."""


def offers_on(feature: Feature[Any, Any], query: Query, whole: Whole, today: datetime.date) -> OffersView | None:
    """What is offered on a page; None where the shop keeps no lists, or the page takes nothing of them."""
    declared = {spec.name: spec for spec in specs(feature.inputs)}
    rows = next(iter(operations_of(feature).values()), None)
    if whole.change == 0 or not takes_something(feature):
        return None
    page = _Offering(query, whole)
    if rows is not None:
        return OffersView(rows=dict(page.of_rows(rows)))
    kinds = KINDS_OF.get(feature.page, TURNED)
    links = Links(feature, query)
    return OffersView(
        proven=tuple(page.proven_links(links, declared, kinds)),
        tools=tuple(page.tool_links(links, declared, kinds)),
        keep=_keeping(query, kinds, links.shared(), today),
    )


def proven_for(
    feature: Feature[Any, Any], query: Query, whole: Whole, missing: Iterable[str]
) -> Iterator[tuple[str, str]]:
    """Proven cuts for fields that are missing, in words with the address that has them: before any starting value."""
    if whole.change == 0:
        return
    page, links = _Offering(query, whole), Links(feature, query)
    operations, asked = operations_of(feature), set(missing)
    for spec in operations.values():
        for row, texts in page.rows_of(spec):
            if asked & {f"{row}.surface_speed", f"{row}.feed"}:
                yield from page.row_links(links, spec, row, texts)
    if not operations and asked & set(CUT):
        declared = {spec.name: spec for spec in specs(feature.inputs)}
        yield from page.proven_links(links, declared, KINDS_OF.get(feature.page, TURNED))


def _keeping(query: Query, kinds: tuple[KindAsked, ...], back: str, today: datetime.date) -> str:
    """Where the page's speed and feed are kept as proven; nowhere while neither is given."""
    if not query.texts.get("surface_speed") and not query.texts.get("feed"):
        return ""
    kind = kinds[0] if len(kinds) == 1 else ""
    more = {"kind": kind, "depth": query.texts.get("pass_depth", "")}
    return keeping_address(query.texts, query.view.units, back, today, more)


def relevant(whole: Whole, items: Iterable[tuple[str, str]]) -> Whole:
    """The lists without the proven cuts of other materials than the one that is asked about."""
    material = dict(items).get("material", "")
    cuts = LISTS["cuts"]
    found = (each for each in whole.entries if each.listed != cuts or _is_of(each, material))
    return Whole(whole.change, tuple(found))


def _is_of(cut: Entry, material: str) -> bool:
    return same_material(cut.content.texts["material"], material)


def operations_of(feature: Feature[Any, Any]) -> dict[str, Spec]:
    """The lists of operations among the inputs of a page, by name."""
    return {spec.name: spec for spec in specs(feature.inputs) if takes_rows(spec)}


def takes_something(feature: Feature[Any, Any]) -> bool:
    """Whether a page can take anything from the shop's lists."""
    return any(spec.name in (*HELD, *CUT) or takes_rows(spec) for spec in specs(feature.inputs))


def takes_rows(spec: Spec) -> bool:
    """Whether a field is a list of operations, each with a tool and a cut."""
    return spec.rows is not None and {"kind", "insert", "surface_speed"} <= {each.name for each in specs(spec.rows.row)}


@dataclass(frozen=True, slots=True)
class _Offering:
    """One page that is offered something."""

    query: Query
    whole: Whole

    @property
    def view(self) -> View:
        return self.query.view

    def of_rows(self, spec: Spec) -> Iterator[tuple[str, RowOffersView]]:
        """What each row of a list of operations is offered, by its name."""
        for name, row in self.rows_of(spec):
            yield name, self._of_row(row)

    def rows_of(self, spec: Spec) -> Iterator[tuple[str, Mapping[str, str]]]:
        """The texts of each operation that is done with a tool, by the name of its row."""
        try:
            rows = texts_of(self.query.texts[spec.name], spec.repeated.row)
        except BadRow:
            return
        for number, row in enumerate(rows):
            if row.get("kind", "") in USED_FOR:
                yield f"{spec.name}.{number}", row

    def row_links(self, links: Links, spec: Spec, name: str, row: Mapping[str, str]) -> Iterator[tuple[str, str]]:
        """Proven cuts of one operation, each with its reason and the address with it filled in."""
        declared = {each.name: each for each in specs(spec.repeated.row)}
        for cut in self._cuts_of_row(row):
            filling = cut_filling(cut, declared, self.view, row)
            yield self.reason(cut), links.with_text(**{f"{name}.{field}": text for field, text in filling.items()})

    def _cuts_of_row(self, row: Mapping[str, str]) -> list[Entry]:
        return self._cuts(self._wanted((cast("KindAsked", row["kind"]),), row))

    def _wanted(self, kinds: tuple[KindAsked, ...], texts: Mapping[str, str]) -> Wanted:
        """What the texts of an operation, or of a page about one, say of the tool."""
        made_of = texts.get("tool", "") or (MADE_OF[texts.get("drill_material", "")] if _is_drilled(texts) else "")
        size, material = size_of(texts.get("size", ""), self.view), self.query.texts.get("material", "")
        insert, holder = texts.get("insert", ""), texts.get("holder", "")
        return Wanted(kinds, material, insert, holder, size, made_of)

    def _of_row(self, row: Mapping[str, str]) -> RowOffersView:
        kinds = (cast("KindAsked", row["kind"]),)
        tools = tools_for(kinds, self.whole.standing(LISTS["tools"]), self._wanted(kinds, row))
        return RowOffersView(
            proven=tuple((f"cut-{each.key}", self.reason(each)) for each in self._cuts_of_row(row)),
            tools=tuple((f"tool-{each.key}", self._title(each)) for each in tools[:MOST_TOOLS]),
            more=max(0, len(tools) - MOST_TOOLS),
            keeps=bool(row.get("surface_speed") or row.get("feed")),
        )

    def proven_links(
        self, links: Links, declared: Mapping[str, Spec], kinds: tuple[KindAsked, ...]
    ) -> Iterator[tuple[str, str]]:
        """Proven cuts of the material, each with its reason and the address with it filled in."""
        for cut in self._cuts(self._wanted(kinds, self.query.texts)):
            filling = cut_filling(cut, declared, self.view, self.query.texts)
            if filling and any(self.query.texts[name] != text for name, text in filling.items()):
                yield self.reason(cut), links.with_text(**filling)

    def tool_links(
        self, links: Links, declared: Mapping[str, Spec], kinds: tuple[KindAsked, ...]
    ) -> Iterator[tuple[str, str]]:
        """The shop's tools for the page, each with the address with it filled in."""
        if not set(declared) & set(HELD):
            return
        starts = {name: spec.start_text(self.view.units) for name, spec in declared.items() if spec.kind is not None}
        for tool in tools_for(kinds, self.whole.standing(LISTS["tools"]))[:MOST_TOOLS]:
            filling = tool_filling(tool, declared, self.view)
            if any(filling.values()):
                yield self._title(tool), links.with_text(**{**(starts if self.query.is_bare else {}), **filling})

    def _cuts(self, wanted: Wanted) -> list[Entry]:
        return cuts_for(wanted, self.whole.standing(LISTS["cuts"]))[:MOST_CUTS]

    def _title(self, entry: Entry) -> str:
        return title_of(entry.listed, entry.content, self.view.language)

    def reason(self, cut: Entry) -> str:
        """Why a cut is offered: when it was proven, on what, with which tool, what it is, and the shop's note on it."""
        texts = cut.content.texts
        given = facts(cut.listed, cut.content, self.view.language)
        values: dict[str, Value] = {
            "day": Typed(texts.get("proved_out", "")),
            "material": Typed(texts["material"]),
            "tool": Typed(texts.get("insert") or texts.get("holder") or given.get("size", ("", ""))[1]),
            "cut": ListedWords(
                tuple(Typed(given[name][1]) for name in ("surface_speed", "feed", "depth") if name in given), last=", "
            ),
        }
        said = Message(_REASONS[bool(values["day"]), bool(values["tool"])], values)
        note = " ".join(texts.get("note", "").split())
        if not note:
            return said.say(self.view)
        return Message("{reason} ({note})", {"reason": said, "note": Typed(shorten(note, NOTE, placeholder=" …"))}).say(
            self.view
        )


MADE_OF: Mapping[str, str] = {
    "": "HSS",
    "HSS": "HSS",
    "coated carbide": "coated carbide",
    "indexable": "coated carbide",
}
"""What the edge of an operation's drill is made of, as a proven cut says it; blank is the usual drill."""


def _is_drilled(texts: Mapping[str, str]) -> bool:
    return texts.get("kind", "") == "drill" and texts.get("drill_material", "") in MADE_OF


_REASONS = {
    (True, True): "Proven {day} on {material} with {tool}: {cut}",
    (True, False): "Proven {day} on {material}: {cut}",
    (False, True): "Proven on {material} with {tool}: {cut}",
    (False, False): "Proven on {material}: {cut}",
}
