"""What a line can be a question about: tagged values that a page takes, or a designation that a reader knows."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from calc.cutting.materials import material
from calc.language.limited import limited
from calc.language.problems import Problem
from calc.language.quantities import DIAMETER, View
from calc.language.reading import ReadingError, read
from calc.shapes.taper.standards import standard_taper
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert
from server.line.tags import Tagged, tagged


@dataclass(frozen=True, slots=True)
class Form:
    """A page that takes these tags under these names; all of `needs` must be there, one of `needs_one` if it names any.

    `plain` are the names that numbers without a tag fill in their order, when there are exactly so many.
    """

    page: str
    takes: Mapping[str, str]
    needs: frozenset[str] = frozenset()
    least: int = 1
    plain: tuple[str, ...] = ()
    word_needed: bool = False


FORMS: tuple[Form, ...] = (
    Form(
        "/dish",
        {"radius": "radius", "depth": "depth", "mouth_diameter": "mouth_diameter", "diameter": "mouth_diameter"},
        least=2,
    ),
    Form(
        "/crown",
        {"radius": "radius", "height": "height", "diameter": "edge_diameter"},
        frozenset({"radius"}),
        least=2,
    ),
    Form(
        "/spindle",
        {"surface_speed": "surface_speed", "diameter": "diameter", "rpm": "max_rpm"},
        frozenset({"surface_speed", "diameter"}),
    ),
    Form("/finish-feed", {"ra": "ra", "nose_radius": "nose_radius", "radius": "nose_radius"}, frozenset({"ra"}), 2),
    Form("/finish", {"feed": "feed", "nose_radius": "nose_radius", "radius": "nose_radius"}, frozenset({"feed"}), 2),
    Form("/taper", {}, plain=("large_diameter", "small_diameter", "length"), word_needed=True),
    Form("/knurl", {"diameter": "diameter", "pitch": "pitch"}, least=2, word_needed=True),
    Form(
        "/ring-groove",
        {"diameter": "diameter"},
        frozenset({"diameter"}),
        plain=("diameter",),
        word_needed=True,
    ),
)


def known(reader: Callable[[str], object], line: str) -> bool:
    """Whether a reader of designations knows the line."""
    try:
        reader(line)
    except Problem:
        return False
    return True


_RATIO = re.compile(r"1\s?:\s?\d+(?:[.,]\d+)?")
_THREAD = re.compile(
    r"(?:(?:M|Tr|Rd|G|Rc|Rp)\s?\d|R\s\d/\d|NPT|ACME|#?\d+[\d/ -]*-\d+\s*(?:UN|UNC|UNF|UNEF|UNS)?\b)", re.IGNORECASE
)
_INSERT = re.compile(r"[A-Z]{4}\s?[\d.]{3,}", re.IGNORECASE)
_HOLDER = re.compile(r"(?:[A-Z]\d{2}[A-Z]\s?-\s?)?[A-Z]{5}\s?-?\s?\d", re.IGNORECASE)


def designations(line: str) -> Iterator[tuple[str, dict[str, str]]]:
    """The pages whose reader of designations knows the whole line, with the field that it goes into.

    >>> list(designations("24 g6")), list(designations("Morse 3"))
    ([('/limits', {'size': '24 g6'})], [('/taper', {'standard': 'Morse 3'})])
    """
    bare = line.strip()
    if _has_limits(bare):
        yield "/limits", {"size": bare}
    if _RATIO.fullmatch(bare):
        yield "/taper", {"taper_ratio": bare}
    elif known(standard_taper, bare):
        yield "/taper", {"standard": bare}
    if _THREAD.match(bare):
        yield "/thread", {"designation": bare}
    if _INSERT.match(bare) and known(read_insert, bare):
        yield "/insert", {"designation": bare}
    if _HOLDER.match(bare) and known(read_holder, bare):
        yield "/holder", {"holder": bare}
    if known(material, bare):
        yield "/material", {"material": bare}


def designations_with_a_word(line: str, subjects: Mapping[str, frozenset[str]]) -> Iterator[tuple[str, dict[str, str]]]:
    """The same for a designation beside words of its page: the thread of `thread M24x2`, the size of `fit 24 H7`.

    >>> list(designations_with_a_word("Thread M24x2", {"/thread": frozenset({"thread"})}))
    [('/thread', {'designation': 'M24x2'})]
    """
    words = line.split()
    for page, subject in subjects.items():
        left = [word for word in words if word.casefold().rstrip(":") not in subject]
        if left and len(left) < len(words):
            yield from (found for found in designations(" ".join(left)) if found[0] == page)


def _has_limits(line: str) -> bool:
    """Whether the line is a size with a tolerance class or deviations."""
    try:
        return limited(read(line, DIAMETER, View())) is not None
    except ReadingError:
        return False


def questions(
    line: str, subjects: Mapping[str, frozenset[str]], *, whole: bool = True
) -> Iterator[tuple[str, dict[str, str]]]:
    """The pages that the line's tagged values are a question for; `subjects` are words that may stand beside them.

    Without `whole` a page is named, too, that needs more than the line gives.

    >>> list(questions("R90 4.5 deep", {}))
    [('/dish', {'depth': '4.5', 'radius': '90'})]
    """
    found = tagged(line)
    for form in FORMS:
        fields = _filled(form, found, subjects.get(form.page, frozenset()), whole=whole)
        if fields is not None:
            yield form.page, fields


def _filled(form: Form, found: Tagged, subject: frozenset[str], *, whole: bool) -> dict[str, str] | None:
    """The fields of a form; None where a value, a number or a word of the line has no place in it."""
    words = set(found.words)
    if not (words <= subject and set(found.values) <= set(form.takes)):
        return None
    if whole and not form.needs <= set(found.values):
        return None
    if form.word_needed and not words:
        return None
    if found.numbers and len(found.numbers) != len(form.plain):
        return None
    fields = {form.takes[tag]: text for tag, text in found.values.items()}
    fields |= dict(zip(form.plain, found.numbers, strict=True)) if found.numbers else {}
    enough = len(fields) >= (form.least if whole else 1) and len(fields) == len(found.values) + len(found.numbers)
    return fields if enough else None
