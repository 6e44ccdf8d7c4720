"""What a line can be a question about: the pages that take its values, as `words.toml` says for each of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from calc.cutting.materials import read as read_material
from calc.language.tables import read_table
from calc.shapes.taper.standards import standard_taper
from calc.threads.designation import read_designation
from server.line.named import has_limits, known, named
from server.line.tags import Tagged, tagged

WORDS = Path(__file__).parent / "words.toml"


@dataclass(frozen=True, slots=True)
class Form:
    """A page that takes these tags under these names of its fields, as `takes` says.

    `subject` are the words that may stand beside its values, `naming` those of them that name the page or its subject.
    `plain` are the fields that numbers without a tag fill, in each of these orders that has as many left to fill.
    `needs` are fields that must be there, `least` is how many. Where `bare` is false a word of the page must stand
    beside the values, unless one of the tags `telling` does. `choose` are choices that words make, `wanted` results
    that words ask for.
    """

    page: str
    subject: frozenset[str]
    naming: frozenset[str]
    takes: Mapping[str, str]
    plain: tuple[tuple[str, ...], ...]
    needs: frozenset[str]
    least: int
    bare: bool
    telling: frozenset[str]
    choose: Mapping[str, Mapping[str, tuple[str, ...]]]
    wanted: Mapping[str, tuple[str, ...]]


class Asked(NamedTuple):
    """A page that the line can be a question for, its fields, and how many of the line's words are words of it."""

    page: str
    fields: dict[str, str]
    words: int


@cache
def rows() -> dict[str, dict[str, Any]]:
    """What `words.toml` says of each page."""
    return read_table(WORDS)


@cache
def forms() -> tuple[Form, ...]:
    """The pages that take values of a line, in the order in which they are offered."""
    return tuple(_form(page, row) for page, row in rows().items() if "takes" in row)


@cache
def _page_words() -> frozenset[str]:
    """The words that find a page by themselves, which are no designation."""
    return frozenset(word for row in rows().values() for word in row["page"])


def _form(page: str, row: Mapping[str, Any]) -> Form:
    choose, wanted = row.get("choose", {}), [one for each in row.get("wanted", {}).values() for one in each]
    chosen = [word for codes in choose.values() for words in codes.values() for word in words]
    naming = _single((*row["page"], *row.get("subject", ()), *chosen))
    return Form(
        page,
        naming | _single(wanted),
        naming,
        row["takes"],
        tuple(tuple(each) for each in row.get("plain", ())),
        frozenset(row.get("needs", ())),
        row.get("least", 1),
        row.get("bare", False),
        frozenset(row.get("telling", ())),
        choose,
        row.get("wanted", {}),
    )


def _single(phrases: Iterable[str]) -> frozenset[str]:
    """The phrases, and their words one by one."""
    return frozenset(word for phrase in phrases for word in (phrase, *phrase.split()))


def designations(line: str) -> Iterator[tuple[str, dict[str, str]]]:
    """The pages whose reader of designations knows the whole line, with the field that it goes into.

    >>> list(designations("24 g6")), list(designations("Morse 3"))
    ([('/limits', {'size': '24 g6'})], [('/taper', {'standard': 'Morse 3'})])
    """
    bare = line.strip()
    if bare.casefold() in _page_words():
        return
    if has_limits(bare):
        yield "/limits", {"size": bare}
    if not bare.isdigit() and known(standard_taper, bare):
        yield "/taper", {"standard": bare}
    if not bare.isdigit() and known(read_designation, bare):
        yield "/thread", {"designation": bare}
    if read_material(bare).one is not None:
        yield "/material", {"material": bare}


def questions(line: str, *, whole: bool = True) -> list[Asked]:
    """The pages that the line's values are a question for, those first whose words stand beside them.

    Without `whole` a page is named, too, that needs more than the line gives.

    >>> [(each.page, each.fields) for each in questions("dish R90 4.5 deep")]
    [('/dish', {'depth': '4.5', 'radius': '90'})]
    """
    found: list[Asked] = []
    for each in named(line):
        taken = tagged(each.rest, each.values)
        for form in forms():
            for asked in _asked(form, taken, whole=whole):
                found += [asked] if asked not in found else []
    return sorted(found, key=lambda one: -one.words)


def _asked(form: Form, found: Tagged, *, whole: bool) -> Iterator[Asked]:
    """The form filled in each way that takes every value, number and word of the line."""
    words, own = set(found.words), set(found.words) & form.subject
    if words != own or not set(found.values) <= set(form.takes):
        return
    told = bool(own & form.naming or form.telling & set(found.values))
    if not (told or form.bare) or (found.numbers and not told):
        return
    tagged_fields: dict[str, str] = {}
    for tag, text in found.values.items():
        if form.takes[tag] in tagged_fields:
            return
        tagged_fields |= {form.takes[tag]: text} if form.takes[tag] else {}
    for order in form.plain if found.numbers else ((),):
        left = [field for field in order if field not in tagged_fields]
        if len(left) == len(found.numbers):
            fields = {**tagged_fields, **dict(zip(left, found.numbers, strict=True))}
            enough = form.needs <= set(fields) and len(fields) >= form.least
            if fields and (enough if whole else told or form.needs & set(fields)):
                yield Asked(form.page, {**_chosen(form, words), **fields}, len(own))


def _chosen(form: Form, words: set[str]) -> dict[str, str]:
    """The choices that the line's words make."""
    return {
        field: code
        for field, codes in form.choose.items()
        for code, those in codes.items()
        if any(set(phrase.split()) <= words or phrase in words for phrase in those)
    }
